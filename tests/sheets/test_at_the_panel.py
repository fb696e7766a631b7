"""At the panel: one page where it can be, every device outside panels, nothing cut."""

import pytest
from hypothesis import given, strategies as st

from helpers.home import FAULTY, RIGS
from helpers.label_rigs import BARE, FEW, NAMES, job_of, marsh_wren, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.draw.page import texts
from rigfolio.isolation import closed_first, in_turn, isolate, readings_at, still_live_words
from rigfolio.labels.devices import device_rows
from rigfolio.sheets import at_the_panel
from rigfolio.swap.spares import fuses_fitted

CONTENTS = tuple((f"Sheet {number}", number) for number in range(2, 9))


@pytest.mark.parametrize("file", RIGS, ids=[file.stem for file in RIGS])
def test_it_says_what_has_to_be_known_before_anything_is_touched(file):
    job = job_from(file)
    pages = at_the_panel.pages(job, CONTENTS)
    assert len(pages) == (2 if "kittiwake" in file.stem else 1)
    seen = words(pages)
    assert "…" not in seen
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    for row in device_rows(job.study):
        assert row.name in seen
        assert all(word in seen for word in row.rating.split())
    for fuse in fuses_fitted(job.study, job.rig.devices):
        assert fuse.rating in seen
    for panel in job.rig.panels:
        assert f"Make {panel.about} dead" in seen
        orders = in_turn(job.study, isolate(job.study, panel.about.name, kind="panel"))
        assert orders
        assert f"Measured at {panel.about.name} feed" in seen
    boxes = [text for page in pages for text in texts(page) if text.text == "☐"]
    plans = [isolate(job.study, panel.about.name, kind="panel") for panel in job.rig.panels]
    count = sum(
        len(in_turn(job.study, plan))
        + len(readings_at(job.study, plan, ""))
        + bool(closed_first(job.study, plan))
        for plan in plans
    )
    assert len(boxes) == count


def test_a_load_is_switched_off_before_a_switch_is_opened():
    for file in RIGS:
        study = job_from(file).study
        for panel in study.rig.panels:
            plan = isolate(study, panel.about.name, kind="panel")
            first, *_ = in_turn(study, plan)
            assert ("switch off" in first.do) == bool(plan.off_first)
            # One fuse is pulled in the same step.
            if plan.off_first and first.part:
                assert first.do.index("switch off") < first.do.index("then pull its fuse")


def test_dangers_are_named_and_the_rest_is_counted():
    seen = words(at_the_panel.pages(marsh_wren()))
    assert "Found under rule book rv: 1 danger, 1 unknown." in seen
    assert "DANGER: P1.4 Roof fan: 20 A fuse, 16 AWG may carry 8 A" in seen
    assert "P1.7 Propane furnace blower: SCORCHED" in seen
    # The fuse of the fan is too large: no spare of it is carried.
    assert "20 A yellow" not in seen


@pytest.mark.parametrize("file", FAULTY[::4], ids=lambda file: file.stem)
def test_a_rig_with_a_hazard_prints(file):
    job = job_from(file)
    for page in at_the_panel.pages(job, CONTENTS):
        assert overlaps(page) == ()
        assert off_paper(page) == []


def test_a_rig_with_nothing_but_a_battery():
    assert "no findings under rule book rv" in words(at_the_panel.pages(job_of(BARE)))


@FEW
@given(
    slots=st.integers(1, 70),
    names=st.lists(NAMES, min_size=1, max_size=8),
    columns=st.integers(1, 3),
    paper=st.sampled_from(["a4", "letter"]),
)
def test_any_names_fit(slots, names, columns, paper):
    job = panel_of(slots, names * 9, columns=columns, paper=paper)
    for page in at_the_panel.pages(job, CONTENTS):
        assert overlaps(page) == ()
        assert off_paper(page) == []


def test_no_danger_is_hidden_where_all_take_no_page_more(tmp_path):
    loads = "".join(
        f'circuit P1.{n} "Lamp {n}" fuse 30 A\n    wire 16 AWG blue 3 ft\n    load "Lamp {n}" 1 A\n'
        for n in range(1, 10)
    )
    file = tmp_path / "many.rig"
    panel = (
        'panel P1 "Panel" 10 slots of 30 A\nbusbar N1 "Minus bar" 200 A\n'
        "wire W1 B1+ to P1 2 AWG red 3 ft, fuse 100 A at B1+\nwire W2 N1 to B1- 2 AWG black 3 ft\n"
    )
    file.write_text(f"{BARE}{panel}{loads}", encoding="utf-8")
    job = job_from(file)
    pages = at_the_panel.pages(job, ())
    assert len(pages) == 1
    seen = words(pages)
    for n in range(1, 10):
        assert f"DANGER: P1.{n} Lamp {n}" in seen
    assert "more: see the sheet of findings" not in seen


def test_a_long_list_of_what_stays_live_says_on_each_piece_what_it_is_live_from() -> None:
    """A piece alone would be read as something that is dead, or live from the one above it."""
    text = 'rig "Long" system 12 V, rules rv\nbattery B1 "House" agm, 90 Ah\n'
    text += 'battery B2 "Tow" agm, 90 Ah\nbusbar N1 100 A\nbusbar D2 100 A\n'
    text += "panel P1 4 slots of 20 A, negative N1\n"
    text += "wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+\nwire B1- to N1 6 AWG black 2 ft\n"
    text += "wire B2+ to D2 6 AWG red 2 ft, fuse 50 A at B2+\nwire B2- to N1 6 AWG black 2 ft\n"
    for number in range(1, 31):
        text += f'load L{number} "Marker lamp {number} of the deck" 1 A\n'
        text += f"wire D2 to L{number}+ 14 AWG red 2 ft, fuse 5 A at D2\n"
        text += f"wire L{number}- to N1 14 AWG black 2 ft\n"
    job = job_of(text)
    plan = isolate(job.study, "P1", kind="panel")
    assert max(map(len, still_live_words(plan.stays_live))) > 700
    (table,) = (
        one for one in at_the_panel._orders(job, job.rig.panels[0], plan, 9.0)
        if one.title == "Stays live all the same"
    )  # fmt: skip
    assert len(table.rows) > 2
    for row in table.rows:
        assert str(row.cells[0]).startswith("from B"), row.cells
