"""Panel directory: the list on the door is complete."""

import re

from hypothesis import given, strategies as st

from helpers.label_rigs import (
    BARE,
    FEW,
    MARSH_WREN,
    NAMES,
    job_of,
    marsh_wren,
    off_paper,
    panel_of,
    printed,
    rows_read,
    words,
)
from helpers.page_checks import overlaps
from helpers.sun_rigs import ROOF
from rigfolio.draw.page import texts
from rigfolio.record import replace
from rigfolio.sheets import directory_code, panel_directory


def test_every_slot_has_its_row():
    seen = rows_read(panel_directory.pages(marsh_wren()))
    for phrase in (
        "1 Ceiling lights: Galley lamp; Bunk lamp 7.5 A brown 15 A 14 AWG red/black RD/BK 2 Water",
        "4 Roof fan: Fan 20 A TOO LARGE 7.5 A 16 AWG blue/white BU/WH 5 USB",
        "5 USB sockets, bunk end: Sockets fuse ? 5 A 18 AWG tan",
        "6 not stated", "SCORCHED", "10 BLANK", "12 SPARE: for a second lamp circuit",
        "8 Breakaway brake charger: Trickle charger 5 A, wire ? ? ? size blue BU"
        " MUST STAY ON: IS NOT",
        "circuit S1.line Gas detector: LP/CO 3 A fuse 7.5 A 16 AWG ? not surveyed"
        " S1.line Battery disconnect ALWAYS ON",
    ):  # fmt: skip
        assert phrase in seen


def test_what_can_be_pulled_outside_panels_is_listed():
    seen = words(panel_directory.pages(marsh_wren()))
    for phrase in (
        "F1 Battery fuse 50 A B1+ to S1.line",
        "W4 fuse 50 A on P1 feed cuts off C1 Converter",
    ):
        assert phrase in seen


def test_what_feeds_the_panel_is_named():
    seen = words(panel_directory.pages(marsh_wren()))
    assert "W3 6 AWG black BK from S1.load Battery disconnect" in seen
    assert "W4 6 AWG black BK from C1+ Converter" in seen


def test_ac_breakers_are_listed_and_not_judged():
    seen = words(panel_directory.pages(marsh_wren()))
    assert "AC breakers: listed only, not judged" in seen
    assert "Converter 15 A" in seen


def test_states_rule_book_and_cautions():
    seen = words(panel_directory.pages(marsh_wren()))
    assert "stored S1 open, C1 off" in seen
    assert "rv: towables (NFPA 70 552.10). Found: 1 danger, 1 unknown" in seen
    assert "never fit a larger one" in seen
    nothing = words(panel_directory.pages(replace(marsh_wren(), findings=())))
    assert "No findings under rule book rv." in nothing


def test_a_rig_without_a_panel_says_so():
    assert "no panel and no circuit" in words(panel_directory.pages(job_of(BARE)))


def test_what_was_seen_at_a_slot_or_panel_is_told():
    job = job_of(
        MARSH_WREN + 'note P1.12 "socket cracked"\nnote P1.1 melted\nnote P1 "door hinge loose"\n'
    )
    seen = words(panel_directory.pages(job))
    assert "SPARE: for a second lamp circuit; socket cracked" in seen
    assert "Ceiling lights: Galley lamp; Bunk lamp; MELTED" in seen
    assert "door hinge loose" in seen


def test_mains_breakers_bring_their_caution():
    assert "AC breakers carry mains voltage" in words(panel_directory.pages(marsh_wren()))
    assert "mains voltage" not in words(panel_directory.pages(panel_of(4, ["Pump"])))


def test_a_circuit_of_very_many_loads_loses_none():
    loads = "".join(f'    load "Lamp number {n} above the long bench" 1 W\n' for n in range(60))
    job = job_of(
        'rig "Long"\n    rules rv\nbattery B1\npanel P1 2 slots\nbusbar N1\n'
        "wire B1+ to P1 6 AWG red 3 ft\nwire N1 to B1- 6 AWG black 3 ft\n"
        f'circuit P1.1 "Lamps" fuse 10 A\n    wire 14 AWG red 9 ft\n{loads}'
    )
    pages = panel_directory.pages(job)
    seen = " ".join(text.text for page in pages for text in texts(page))
    for number in range(60):
        assert f"Lamp number {number} above" in seen
    assert "…" not in seen


@FEW
@given(slots=st.integers(1, 60), names=st.lists(NAMES, min_size=1, max_size=8))
def test_rows_run_over_pages(slots, names):
    job = panel_of(slots, names * 8, paper="a4")
    pages = panel_directory.pages(job)
    seen = "".join(text.text for page in pages for text in texts(page))
    for name in names[:slots]:
        assert "".join(name.split()) in "".join(seen.split())
    assert "…" not in seen
    rows = {text.text for page in pages for text in texts(page) if text.bold}
    assert {str(number) for number in range(1, slots + 1)} <= rows
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
    assert "Panel directory" in printed(pages)[-1].text
    assert pages == panel_directory.pages(job)


def test_a_panel_is_not_fed_by_what_it_feeds():
    job = job_of(
        'rig "Two"\n    rules rv\nbattery B1\npanel P1 4 slots, main breaker 50 A\n'
        "panel P2 4 slots\n"
        "wire B1+ to P1 6 AWG red 3 ft\nwire P1 to P2 10 AWG black 3 ft, fuse 30 A at P1\n"
    )
    seen = words(panel_directory.pages(job))
    assert seen.count("Fed by: B1+/P1 6 AWG red RD from B1+") == 1
    assert seen.count("Fed by: P1/P2 10 AWG black BK from P1/P2 fuse at P1 feed") == 1
    # Once as what feeds, once behind its fuse, once for its fuse among what can be pulled.
    assert seen.count("P1/P2") == 3


def test_a_load_of_a_circuit_is_told_without_its_place():
    """Two loads of one label have their places in their names, which the slot says already."""
    text = "panel P1 4 slots of 20 A\n"
    for number in (1, 2):
        text += f'circuit P1.{number} "Cabin lamp" fuse 5 A\n    wire 16 AWG red 5 ft\n'
        text += '    load "Cabin lamp" 1 A\n'
    seen = words(panel_directory.pages(job_of(f'rig "Reed"\n    rules rv\n{text}')))
    assert "1 Cabin lamp 5 A tan" in seen
    assert "at P1." not in seen


def test_a_circuit_outside_panels_is_fed_from_where_it_is_written():
    text = ROOF.replace('"Lamp" fuse 5 A', '"Lamp" fuse 5 A after 4 in')
    text = text.replace("busbar N2 100 A", 'busbar N2 "Charge bar" 100 A')
    seen = words(panel_directory.pages(job_of(text)))
    assert "N2 Charge bar" in seen
    assert "fuse.line" not in seen


def test_the_wire_that_is_there_is_printed_and_what_belongs_there():
    text = re.sub(r"(14 AWG +red/black 18 ft)", r"\1, found 16 AWG", MARSH_WREN)
    text = re.sub(r"(wire +S1.load to P1 +6 AWG black)", r"\1, found 8 AWG", text)
    assert text.count("found") == 2 + MARSH_WREN.count("found")
    job = job_of(text)
    seen = words(panel_directory.pages(job))
    assert "16 AWG found, 14 AWG belongs red/black" in seen
    assert "8 AWG found, 6 AWG belongs black BK from S1.load" in seen
    assert "14 AWG red/black" not in seen
    # The code on the door says the same.
    (first,) = (one for one in job.rig.circuits if one.place == "P1.1")
    assert "16 AWG found, 14 AWG belongs red/black" in directory_code._circuits(job, (first,))


def test_what_nobody_knew_before_is_told_as_found():
    job = job_of(re.sub(r"14 AWG( +red/black 18 ft)", r"? AWG\1, found 16 AWG", MARSH_WREN))
    assert "16 AWG found red/black" in words(panel_directory.pages(job))


def test_the_fuse_that_is_there_is_printed_and_what_belongs_there():
    text = re.sub(r'("Ceiling lights" +fuse 7.5 A)', r"\1, found 20 A", MARSH_WREN)
    text = re.sub(r'("Battery fuse" +50 A)', r"\1, found 100 A", text)
    assert text.count("found") == 2 + MARSH_WREN.count("found")
    seen = words(panel_directory.pages(job_of(text)))
    assert "20 A found, 7.5 A" in seen
    assert "100 A found, 50 A" in seen
