"""Whatever a source reaches is told as live: each end, or the circuit that it is in."""

from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers import isolate_report, live_report
from rigfolio.isolation import in_turn, isolate, isolate_ends, live_table, opened
from rigfolio.isolation.energised import source_reach
from rigfolio.isolation.table import Part
from rigfolio.network import net_among
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

TWO_OUTPUTS = """rig "T"
    system 12 V
    rules boat
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
busbar N1 300 A
charger C1 "Shore charger" 30 A, two outputs
load L1 "Windlass" 80 A
wire C1.1 to B1+ 10 AWG red 5 ft, fuse 30 A at B1+
wire C1.2 to B2+ 10 AWG red 5 ft, fuse 30 A at B2+
wire C1- to N1 10 AWG black 5 ft
wire B2+ to L1+ 2 AWG red 2 ft
wire L1- to N1 2 AWG black 2 ft
wire B1- to N1 2 AWG black 2 ft
wire B2- to N1 2 AWG black 2 ft
"""
WINDLASS = """rig "T"
    system 12 V
    rules boat
battery B1 agm, 100 Ah
busbar N2 250 A
busbar N1 300 A
breaker F3 "Windlass breaker" 100 A
load L1 "Windlass" 80 A
wire B1+ to N2 2 AWG red 2 ft
wire N2 to F3 2 AWG red 22 ft
wire F3 to L1+ 2 AWG red 2 ft
wire L1- to N1 2 AWG black 24 ft
wire B1- to N1 2 AWG black 2 ft
"""


def untold(
    study: Study, alive: Mapping[str, object], told: Iterable[tuple[Part, object]]
) -> set[str]:
    """The live terminals that no part is told of: neither itself, nor its circuit, nor a lead."""
    told = list(told)
    rig = study.rig
    seen = {end for part, _ in told for end in part.terminals}
    places = {part.name for part, _ in told}
    wires = {name for one in rig.circuits if one.place in places for name in one.wires}
    for wire in rig.conductors:
        if wire.name in wires or ((wire.lead or wire.assumed) and {wire.a, wire.b} & seen):
            seen |= {wire.a, wire.b}
    return {end for end in alive if study.side.get(end) == "+"} - seen


def test_the_line_of_a_breaker_beside_the_hands_is_told() -> None:
    study = study_from(WINDLASS)
    told = " ".join(as_text(isolate_report(study, "L1")).split())
    assert "N2; F3.line Windlass breaker" in told.split("Stays live")[1]
    # Both ends of the breaker are alike while it is closed: that is one line.
    assert "\nF3 Windlass breaker  B1\n" in as_text(live_report(study))


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_every_terminal_that_a_source_reaches_in_a_state_is_told(file: Path) -> None:
    study = studied(file)
    table = live_table(study)
    for place, state in enumerate(table.states):
        alive = source_reach(study).alive(opened(study.rig, state))
        told = [(row.part, row.cells[place]) for row in table.rows if row.cells[place].is_live]
        assert untold(study, alive, told) == set()


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_every_terminal_that_stays_live_beside_dead_ones_is_told(file: Path) -> None:
    study = studied(file)
    places = [one.about.name for one in study.rig.panels]
    places += [one.about.name for one in study.rig.loads if not one.circuit]
    for place in places[:4]:
        plan = isolate(study, place)
        cut = {step.action.part for step in plan.steps} | set(plan.stop_first)
        shut = [d for d in study.rig.devices if d.about.name not in cut]
        posts = [s.plus for s in study.rig.sources if s.stores and s.about.name not in cut]
        alive = net_among((*study.rig.conductors, *shut)).walk(posts)
        assert untold(study, alive, [(one.part, one.sources) for one in plan.stays_live]) == set()


def test_the_cord_of_a_charger_ends_all_of_its_outputs() -> None:
    study = study_from(TWO_OUTPUTS)
    plan = isolate(study, "B2")
    assert [one.action.part for one in plan.steps] == ["C1.2", "B2"]
    assert {name for one in plan.stays_live for name in one.sources} == {"B1"}
    assert "C1 Shore charger: pull the shore cord" in as_text(isolate_report(study, "B2"))
    kept_off = isolate_ends(study, "both", ("B1+", "B2+"), ("C1.1", "C1.2"))
    cords = [one.do for one in in_turn(study, kept_off) if "shore cord" in one.do]
    assert len(cords) == 1


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_what_was_stopped_feeds_nothing(file: Path) -> None:
    study = studied(file)
    sources = study.rig.by_name.sources
    for place in [one.about.name for one in (*study.rig.panels, *study.rig.sources)][:5]:
        plan = isolate(study, place)
        names = {one.action.part for one in plan.steps} | {*plan.stop_first, *plan.kept_off}
        # A battery whose lead is lifted is live between its posts.
        off = {sources[name].part for name in names if name in sources and not sources[name].stores}
        assert not off & {sources[name].part for one in plan.stays_live for name in one.sources}
