"""What hangs behind something that rests open is not called dead without a word."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers.live import live_report
from rigfolio.isolation import Cell, cell_words, isolate, live_table, meanings, states_of
from rigfolio.model import Rig
from rigfolio.network import parallel_switches
from rigfolio.record import replace
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

TEXT = """rig "Float"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 5 mohm
fuse F1 60 A, on B1+
disconnect S1 "Main" 100 A
panel P1 "Helm" 2 slots
busbar N1
wire F1 to S1.line 10 mm2 red 1 m
wire S1.load to P1 10 mm2 red 1 m
wire B1- to N1 10 mm2 black 1 m
relay K1 "Contactor" 100 A, rests open
wire F1 to K1.line 10 mm2 red 1 m
wire K1.load to L1+ 10 mm2 red 1 m
load L1 "Windlass" 40 A, intermittent
wire L1- to N1 10 mm2 black 1 m
circuit F1 "Bilge pump" fuse 10 A, always on
    wire 2.5 mm2 brown 3 m
    switch SW1 "Float" 10 A, rests open
    wire 2.5 mm2 brown 1 m
    load "Bilge pump" 5 A, motor, intermittent
circuit P1.1 "Lamp" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 1 A
"""


def closed(rig: Rig) -> Rig:
    """The same with nothing that rests."""
    kept = parallel_switches(rig)
    devices = (d if d.about.name in kept else replace(d, rests="") for d in rig.devices)
    return replace(rig, devices=tuple(devices))


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_dead_is_what_nothing_that_closes_by_itself_brings_to_life(file: Path) -> None:
    """With any switch taken for one that rests open, no part is dead that is live with it closed.

    What the text says of a switch in a state stands.
    """
    study = studied(file)
    stated = {name for state in study.rig.states for name, _ in state.settings}
    for one in study.rig.devices:
        if not (one.traits.starts_load or one.traits.has_coil) or one.about.name in stated:
            continue
        if one.traits.joins_banks or one.about.name in parallel_switches(study.rig):
            continue
        name = one.about.name
        resting = tuple(
            replace(d, rests="open") if d.about.name == name else d for d in study.rig.devices
        )
        rests = Study(replace(study.rig, devices=resting), study.book.name)
        shut = Study(closed(rests.rig), study.book.name)
        now = {row.part.terminals: row.cells for row in live_table(rests).rows}
        then = live_table(shut)
        assert [s.name for s in states_of(rests)] == [s.name for s in states_of(shut)]
        for row in then.rows:
            cells = now.get(row.part.terminals)
            for place, cell in enumerate(row.cells if cells else ()):
                if cell.is_live and not cell.through_loads:
                    assert cells is not None
                    assert cells[place].is_live, (name, str(row.part))


def cells_of(study: Study, end: str) -> tuple[Cell, ...]:
    (row,) = [one for one in live_table(study).rows if end in one.part.terminals]
    return row.cells


def words_of(end: str) -> set[str]:
    return {cell_words(cell) for cell in cells_of(study_from(TEXT), end)}


def test_a_float_and_a_contactor_may_close_at_any_time() -> None:
    float_switch = study_from(TEXT).rig.by_name.devices["SW1"]
    assert words_of(float_switch.load) == {"may come: B1"}
    assert words_of("L1+") == {"may come: B1"}
    text = " ".join(as_text(live_report(study_from(TEXT))).split())
    assert "`may come` marks what is dead only until something closes" in text


def test_what_the_text_says_of_a_state_stands() -> None:
    study = study_from(TEXT + "state safe S1 open, K1 open\nstate haul S1 closed, K1 closed\n")
    cells = cells_of(study, "L1+")
    told = dict(zip([s.name for s in states_of(study)], map(cell_words, cells), strict=True))
    assert told["safe"] == "dead"
    assert told["haul"] == "B1"


def test_sentence_table_and_plan_agree() -> None:
    study = study_from(TEXT)
    (off,) = [one for one in meanings(study) if one.position == "OFF"]
    assert "once switched on, Windlass" in off.words
    alive = {one.part.name for one in isolate(study, "P1").stays_live}
    dead = {
        row.part.name
        for row in live_table(study).rows
        if not any(cell.is_live for cell in row.cells)
    }
    assert "L1" in alive
    assert not alive & dead
