"""What a load loses is read to a battery that feeds it, with selectors as the reading says."""

from collections.abc import Iterator

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.isolation import Open, bank_joins, turned
from rigfolio.judgement.result import understood
from rigfolio.model import Source
from rigfolio.operating import MeterPoint, stages
from rigfolio.operating.readings.panel_feed import selections
from rigfolio.study import Study

TEXT = """
rig "Dunlin 22"
    system 12 V
    rules boat
battery B1 "Start" flooded, 90 Ah, internal 6 mohm
battery B2 "House" agm, 100 Ah, internal 4 mohm
battery B3 "House too" agm, 100 Ah, internal 4 mohm
busbar N1 300 A
busbar N2 300 A
selector S2 300 A
load L1 "Winch" 80 A, intermittent
load M1 "Starter" 200 A, momentary
wire W1 B1+ to S2.1 1/0 AWG red 3 ft, fuse 300 A at B1+
wire W2 B2+ to N2 2 AWG red 2 ft
wire W3 B3+ to N2 2 AWG red 6 ft
wire W4 N2 to S2.2 1/0 AWG red 3 ft
wire W5 S2 to M1+ 1/0 AWG red 8 ft
wire W6 M1- to N1 1/0 AWG black 6 ft
wire W7 N2 to L1+ 2 AWG red 20 ft, fuse 150 A at N2
wire W8 L1- to N1 2 AWG black 20 ft
wire W9 B1- to N1 1/0 AWG black 3 ft
wire W10 B2- to N1 2 AWG black 2 ft
wire W11 B3- to N1 2 AWG black 6 ft
circuit B3+ "Gas alarm" fuse 2 A after 5 in
    wire 16 AWG pink 10 ft
    load "Gas detector" 0.2 A, 24 h/day
circuit S2.common "Wash pump" fuse 10 A after 4 in
    wire 14 AWG red 10 ft
    load "Wash pump" 6 A
"""


def dunlin() -> Study:
    study = understood("dunlin.rig", text=TEXT).study
    assert study is not None
    return study


def to_posts(study: Study) -> Iterator[tuple[MeterPoint, Source]]:
    """The readings under load that have a probe on a post of a battery."""
    posts = {end: s for s in study.rig.sources if s.stores for end in (s.plus, s.minus)}
    for stage in stages(study):
        for step in stage.steps:
            for point in step.points:
                if point.on and len(point.on) == 1 and {point.a, point.b} & posts.keys():
                    yield point, posts[point.a if point.a in posts else point.b]


@pytest.mark.parametrize("name", ["", *sorted(path.name for path in EXAMPLES.glob("*.rig"))])
def test_the_battery_of_a_reading_feeds_the_load_as_switches_are_said_to_stand(name: str) -> None:
    study = checked(EXAMPLES / name).study if name else dunlin()
    assert study is not None
    found = list(to_posts(study))
    assert found or name
    for point, bank in found:
        (load,) = (study.rig.by_name.loads[one] for one in point.on)
        states = (
            [turned(study.rig, Open(bank_joins(study.rig)), point.set_to)]
            if point.set_to
            else [one.opened for one in selections(study)]
        )
        for state in states:
            assert bank.plus in study.net.walk([load.plus], state.bars), point.written()
            assert bank.minus in study.net.walk([load.minus], state.bars), point.written()


def test_each_battery_that_a_selector_may_choose_has_its_reading() -> None:
    entries = {point.entry + point.taken for point, _ in to_posts(dunlin())}
    assert {
        "B1+ to M1+ = , with M1 on, S2 1",
        "B2+ to M1+ = , with M1 on, S2 2",
        "B2+ to L1+ = , with L1 on",
        "Gas detector - to B3- = , with circuit B3+ on",
        "Wash pump - to B1- = , with circuit S2.common on, S2 1",
        "Wash pump - to B2- = , with circuit S2.common on, S2 2",
    } <= entries


def test_the_drop_to_the_battery_that_feeds_it_is_that_by_hand() -> None:
    # 2 AWG: 0.1563 ohm in 1000 ft at 20 degC (ASTM B258, from memory); the copper warms, the fuse
    # and its contacts add to it. All 80 A run 20 ft back, of them B2 bears more than half for 2 ft.
    study = dunlin()
    (point,) = (p for p, _ in to_posts(study) if p.entry == "L1- to B2- = ")
    cold_v = 80.0 * 0.1563e-3 * 20.0 + 40.0 * 0.1563e-3 * 2.0
    assert cold_v < point.high < 1.6 * cold_v
