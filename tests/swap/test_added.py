"""What is added to a rig later: everything that comes alive by it is read before it is used."""

from functools import lru_cache
from pathlib import Path

import pytest

from helpers.forgotten import cache, keeping
from helpers.home import RIGS
from rigfolio.folio.versions import compared
from rigfolio.job import Again
from rigfolio.judgement.result import Result, check, understood
from rigfolio.operating import MeterPoint, numbered_points, short_stages, stages
from rigfolio.study import Study
from rigfolio.swap.retest import touched, wanted_since

BAR = """\
dc-dc   E8 "Supply for the mast" 10 A from {volts} V to 24 V
busbar  D8 "Mast bar" 30 A
busbar  D9 "Mast head bar" 30 A
wire P1 to E8.in 10 AWG red 3 ft, fuse 30 A at P1
wire E8- to {minus} 10 AWG black 3 ft
wire E8.out to D8 12 AWG red 2 ft, fuse 15 A at E8.out
wire D8 to D9 12 AWG red 9 ft
load M8 "Mast lamp" 1 A
wire D9 to M8+ 14 AWG red 4 ft, fuse 5 A at D9
wire M8- to E8- 14 AWG black 4 ft
"""
PANEL = """\
dc-dc   E8 "Supply for the mast" 10 A from {volts} V to 24 V
busbar  N8 "Mast minus bar" 30 A
panel   P8 "Mast panel" 4 slots of 10 A, negative N8
wire P1 to E8.in 10 AWG red 3 ft, fuse 30 A at P1
wire E8- to {minus} 10 AWG black 3 ft
wire N8 to E8- 12 AWG black 2 ft
wire E8.out to P8 12 AWG red 2 ft, fuse 15 A at E8.out
circuit P8.1 "Mast lamp" fuse 3 A
    wire 14 AWG red 4 ft
    load "Mast lamp" 1 A
"""
CHARGER = """\
charger C8 "Second charger" 10 A
wire C8+ to B1+ 10 AWG red 3 ft, fuse 15 A at B1+
wire C8- to B1- 10 AWG black 3 ft
"""
KITS = {"bar": BAR, "panel": PANEL, "charger": CHARGER}


@cache
def before(file: Path) -> Result:
    """A rig as it was; no finding has a part in what is read again."""
    return understood(str(file), text=file.read_text(encoding="utf-8"), instead={})


@lru_cache(maxsize=2)
@keeping
def added(file: Path, kit: str) -> tuple[Study, Study, Again]:
    """A rig with something more, the rig as it was, and what that asks for."""
    text = file.read_text(encoding="utf-8")
    was = before(file)
    assert was.study is not None
    panel = was.study.rig.panels[0]
    volts = was.study.volts[panel.bus]
    more = KITS[kit].format(volts=f"{volts:g}", minus=panel.negative)
    now = understood(str(file), text=f"{text}\n{more}", instead={})
    assert now.study is not None
    _, again = compared(was, now)
    return now.study, was.study, again


def read_again(study: Study, again: Again, *, short: bool = True) -> list[MeterPoint]:
    wanted = wanted_since(study, again)
    found = short_stages(study) if short else stages(study)
    return [point for _, _, step, point in numbered_points(found) if wanted(step)]


@pytest.mark.parametrize("short", [True, False], ids=["short", "full"])
@pytest.mark.parametrize("kit", KITS)
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_new_source_and_all_that_it_feeds_are_read(file: Path, kit: str, short: bool) -> None:
    study, was, again = added(file, kit)
    points = read_again(study, again, short=short)
    volts = {point.a for point in points if point.unit == "V" and point.low > 1.0}
    before, rig = was.rig.by_name, study.rig
    new = [source.plus for source in rig.sources if source.about.name not in before.sources]
    new += [panel.feed for panel in rig.panels if panel.about.name not in before.panels]
    new += [
        bar.terminal
        for bar in rig.junctions
        if bar.about.name not in before.junctions and study.side[bar.terminal] == "+"
    ]
    new += [one.plus for one in rig.loads if one.about.label == "Mast lamp"]
    assert new
    assert set(new) <= volts


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_stands_as_it_did_is_not_read_again(file: Path) -> None:
    """A charger on a battery changes no source beside it."""
    study, was, again = added(file, "charger")
    points = read_again(study, again)
    others = {source.plus for source in was.rig.sources if not source.stores}
    alone = {point.a for point in points if point.taken == ", with all off"}
    assert not others & alone


def test_the_mast_is_read_at_its_own_volts() -> None:
    # 24 V from a converter, held to 3 % by the books; a bar behind another one reads the same.
    file = next(file for file in RIGS if "wren" in file.stem)
    study, _, again = added(file, "bar")
    (far,) = [point for point in read_again(study, again) if point.a == "D9"]
    assert far.low < 24.0 < far.high
    assert far.high - far.low < 2.0


def test_a_slot_is_read_against_the_bar_that_its_returns_land_on() -> None:
    text = """\
rig "Plover"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
panel P1 "Panel" 4 slots of 20 A
busbar N1 "Fore bar" 100 A
busbar N2 "Aft bar" 100 A
wire B1+ to P1 10 AWG red 3 ft, fuse 30 A at B1+
wire N1 to B1- 10 AWG black 3 ft
wire N2 to B1- 10 AWG black 9 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 8 ft
    load "Lamp" 2 A
    return to N1 14 AWG black 8 ft
circuit P1.2 "Pump" fuse 10 A
    wire 14 AWG blue 8 ft
    load "Pump" 4 A
    return to N2 14 AWG black 8 ft
"""
    study = check("plover.rig", text=text).study
    assert study is not None
    ohms = [p for _, _, _, p in numbered_points(short_stages(study)) if p.unit == "ohm"]
    assert {(point.a, point.b) for point in ohms} >= {("P1.1", "N1"), ("P1.2", "N2")}


def test_a_disconnect_that_a_circuit_begins_behind_is_no_part_of_it() -> None:
    # S1 feeds the panel too, which is read again when S1 is another one; K1 feeds its circuit only.
    text = """\
rig "Plover"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
disconnect S1 "Main" 100 A
panel P1 "Panel" 4 slots of 20 A, negative N1
busbar N1 "Bar" 100 A
wire B1+ to S1.line 6 AWG red 3 ft, fuse 60 A at B1+
wire S1.load to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG black 3 ft
circuit S1.load "Brakes"
    wire 12 AWG blue 4 ft
    switch K1 "Pin" 20 A
    wire 12 AWG blue 12 ft
    load "Magnets" 1.5 ohm, momentary
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 8 ft
    load "Lamp" 2 A
"""
    for old, new, feeds, circuits in (
        ('"Main" 100 A', '"Main" 150 A', True, set()),
        ('"Pin" 20 A', '"Pin" 30 A', False, {"circuit S1.load"}),
    ):
        was, now = check("plover.rig", text=text), check("plover.rig", text=text.replace(old, new))
        assert now.study is not None
        _, again = compared(was, now)
        held = touched(now.study, again)
        assert (held.feeds, held.circuits) == (feeds, circuits)
        assert held.panels == ({"P1"} if feeds else set())
