"""Operating points against a circuit simulator and against sums done by hand."""

import math

import pytest

from helpers.circuits import Made, Netlist, Simulated, key
from helpers.home import RIGS
from helpers.studies import study_from
from rigfolio.isolation.energised import Open
from rigfolio.judgement.result import load
from rigfolio.model.graph import Load, Rig
from rigfolio.network.graph import edge_name, ends
from rigfolio.operating.point import Operating, operating, standing
from rigfolio.operating.scenario import at_once, point_in
from rigfolio.study import Study

SEEDS = range(120)
NEAR = {"rel": 1e-6, "abs": 1e-7}


def reached(rig: Rig, on: set[str], *, by_lamps: bool) -> set[str]:
    """Terminals that hang together with a source, by wires, devices and sources that are on.

    By lamps too, if asked: what hangs on a live bar by nothing else has its voltage, and feeds
    nothing.
    """
    pairs = [ends(edge) for edge in (*rig.conductors, *rig.devices)]
    sources = [source for source in rig.sources if source.about.name in on]
    pairs += [(source.plus, source.minus) for source in sources]
    if by_lamps:
        pairs += [(load.plus, load.minus) for load in rig.loads if load.kind == "resistance"]
    found = {source.minus for source in sources}
    while True:
        more = {end for pair in pairs for end in pair if set(pair) & found} - found
        if not more:
            return found
        found |= more


def unfed(rig: Rig, on: set[str]) -> set[str]:
    """The loads that no source reaches with both ends, but through another load."""
    live = reached(rig, on, by_lamps=False)
    return {load.about.name for load in rig.loads if not {load.plus, load.minus} <= live}


def drawing_agrees(ours: Operating, theirs: Simulated, lamp: Load) -> None:
    across = theirs.between(lamp.plus, lamp.minus)
    assert ours.across_v(lamp) == pytest.approx(across, **NEAR), lamp
    drawn = theirs.current_a(lamp.about.name)
    assert ours.drawn_a(lamp.about.name) == pytest.approx(drawn, **NEAR), lamp


def idles(ours: Operating, lamp: Load, hanging: set[str]) -> None:
    """A load that nothing feeds has no volts, or next to none, and draws none."""
    across = ours.across_v(lamp)
    if {lamp.plus, lamp.minus} <= hanging:
        assert across == pytest.approx(0.0, abs=0.05), lamp
    else:
        assert across is None, lamp
    assert ours.drawn_a(lamp.about.name) == pytest.approx(0.0, abs=1e-9), lamp


def agrees(study: Study, on: set[str]) -> int:
    """Compare everything that flows with the simulator; gives the number of figures compared."""
    rig = study.rig
    ours = operating(study, sources=on)
    dead, hanging = unfed(rig, on), reached(rig, on, by_lamps=True)
    # A load of watts at a bar that hangs on a lamp alone draws nothing, and is told as collapsed.
    assert {load.about.name for load in ours.collapsed} <= dead
    limited = [source.about.name for source in ours.at_limit]
    blocked = [source.about.name for source in ours.blocked]
    idle = [s.about.name for s in rig.sources if s.about.name in on and ours.across_v(s) is None]
    # Lamps pass what little flows between bars by way of them; the simulator reckons with that.
    held = {load.about.name for load in rig.loads if load.kind != "resistance"}
    netlist = Netlist(rig, on, limited, [*blocked, *idle], dead & held)
    theirs = netlist.solve()
    compared = 0
    for edge in (*rig.conductors, *rig.devices):
        found = theirs.current_a(key(edge))
        assert ours.current_a(edge_name(edge)) == pytest.approx(found, **NEAR), edge
        compared += 1
    for source in rig.sources:
        if source.about.name in on:
            found = theirs.current_a(source.about.name)
            assert ours.given_a(source.about.name) == pytest.approx(found, **NEAR), source
            across = theirs.between(source.plus, source.minus)
            assert ours.across_v(source) == pytest.approx(across, **NEAR)
            assert theirs.bears_out(source), source
            compared += 2
    for lamp in rig.loads:
        if lamp.about.name in dead & held or not {lamp.plus, lamp.minus} <= hanging:
            idles(ours, lamp, hanging)
            continue
        drawing_agrees(ours, theirs, lamp)
        assert lamp.about.name in dead or theirs.between(lamp.plus, lamp.minus) > netlist.floor_v
        compared += 2
    return compared


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_examples_as_a_simulator_has_them(file):
    _, rig, errors = load(str(file))
    assert rig is not None, errors
    study = Study(rig, rig.book)
    assert agrees(study, set(standing(study))) > 50
    assert agrees(study, {source.about.name for source in rig.sources}) > 50


@pytest.mark.parametrize("seed", SEEDS)
def test_made_rigs_as_a_simulator_has_them(seed):
    study = study_from(Made(seed).text)
    assert agrees(study, {source.about.name for source in study.rig.sources}) > 10
    agrees(study, set(standing(study)))


def batteries(rig: Rig) -> list[set[str]]:
    """Each battery alone, and all of them, with nothing else switched on."""
    alone = [{source.about.name} for source in rig.sources if source.kind == "battery"]
    return [*alone, set().union(*alone)]


def test_what_no_source_feeds_is_dead_in_the_examples():
    dead = {}
    for file in RIGS:
        _, rig, errors = load(str(file))
        assert rig is not None, errors
        study = Study(rig, rig.book)
        for on in batteries(rig):
            assert agrees(study, on) > 50
            dead[file.stem, *sorted(on)] = len(unfed(rig, on))
    # The van's own starter; all of the house side where its bank is off; the cabin's 12 V side.
    assert dead["heron-van", "B1"] == 2
    assert dead["heron-van", "B2"] == 16
    assert dead["lapwing-cabin", "B1"] == 10


def test_what_no_source_feeds_is_dead_in_made_rigs():
    rigs_with_dead_loads = 0
    for seed in SEEDS[:40]:
        study = study_from(Made(seed).text)
        every = batteries(study.rig)
        for on in every:
            agrees(study, on)
        rigs_with_dead_loads += any(unfed(study.rig, on) for on in every)
    assert rigs_with_dead_loads > 10


def test_made_rigs_hold_what_they_are_made_for():
    texts = [Made(seed).text for seed in SEEDS]
    for word in ("dc-dc", "return to G1", "splice", " W\n", " ohm\n", "parallel", "solar", "B3+"):
        assert sum(word in text for text in texts) > 10, word
    assert len(set(texts)) == len(texts)


LAMP = """rig "One lamp"
    system 12 V
    rules vehicle
    ambient 20 degC
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 6 slots
busbar N1 100 A
wire B1+ to P1 2.5 mm2 5 m
wire N1 to B1- 2.5 mm2 5 m
circuit P1.1 "Lamp" fuse 15 A
    wire 1.5 mm2 10 m
    load "Lamp" {draws}
    return 1.5 mm2 10 m
"""
# IEC 60228 class 5 at 20 °C: 2.5 mm² 7.98 ohm/km, 1.5 mm² 13.3 ohm/km.
LOOP_OHM = 0.010 + 2 * 5 * 7.98e-3 + 2 * 10 * 13.3e-3


@pytest.mark.parametrize(
    ("draws", "amperes"),
    [
        ("6 A", 6.0),
        ("2 ohm", 12.0 / (2.0 + LOOP_OHM)),
        # P = U (12 - U) / R has two roots; the upper one is where a lamp settles.
        ("60 W", (12.0 - math.sqrt(144.0 - 4 * 60.0 * LOOP_OHM)) / (2 * LOOP_OHM)),
    ],
)
def test_one_lamp_by_hand(draws, amperes):
    study = study_from(LAMP.format(draws=draws))
    found = operating(study)
    lamp = study.rig.loads[0]
    assert found.drawn_a(lamp.about.name) == pytest.approx(amperes, rel=1e-9)
    assert found.given_a("B1") == pytest.approx(amperes, rel=1e-9)
    assert found.current_a("P1.1") == pytest.approx(amperes, rel=1e-9)
    assert found.across_v(lamp) == pytest.approx(12.0 - amperes * LOOP_OHM, rel=1e-9)
    assert found.drop_v(lamp) == pytest.approx(amperes * (LOOP_OHM - 0.010), rel=1e-9)
    assert found.doubts(lamp) == ()


def test_hot_copper_takes_more():
    study = study_from(LAMP.format(draws="6 A").replace("20 degC", "40 degC"))
    drops = [operating(study, copper=hot).drop_v(study.rig.loads[0])
             for hot in ("ambient", "loaded", "rated")]  # fmt: skip
    assert drops == sorted(drops)
    # IEC 60028: resistance over temperature is (234.5 + t) / 254.5.
    rated_c = study.heat(study.rig.conductors[0])[1]
    by_hand = 6.0 * (LOOP_OHM - 0.010) / 254.5
    assert drops[0] == pytest.approx(by_hand * (234.5 + 40.0), rel=1e-9)
    assert drops[2] == pytest.approx(by_hand * (234.5 + rated_c), rel=1e-9)


def test_collapse_is_an_answer():
    # The most that any load gets is U² / 4 R, at half the voltage.
    most_w = 144.0 / (4.0 * LOOP_OHM)
    below = study_from(LAMP.format(draws=f"{most_w - 0.01:.2f} W"))
    found = operating(below)
    assert found.collapsed == ()
    assert found.across_v(below.rig.loads[0]) == pytest.approx(6.0, rel=0.02)
    above = study_from(LAMP.format(draws=f"{most_w + 0.01:.2f} W"))
    found = operating(above)
    assert found.collapsed == above.rig.loads
    assert found.drawn_a("Lamp") == 0.0
    assert found.across_v(above.rig.loads[0]) == pytest.approx(12.0)


def test_only_the_load_that_pulls_too_hard_is_left_out():
    text = LAMP.format(draws="500 W") + (
        'circuit P1.2 "Other" fuse 5 A\n    wire 2.5 mm2 2 m\n    load "Other" 12 W\n'
    )
    study = study_from(text)
    found = operating(study)
    assert [load.about.name for load in found.collapsed] == ["Lamp"]
    assert found.across_v(study.rig.loads[1]) > 11.8


def test_what_is_open_is_dead():
    study = study_from(LAMP.format(draws="6 A"))
    found = operating(study, opened=Open(frozenset({"P1.1"})))
    lamp = study.rig.loads[0]
    assert found.volts(lamp.plus) is None
    assert found.across_v(lamp) is None
    assert found.unserved == (lamp,)
    assert found.current_a("P1.1") == 0.0
    assert found.volts("P1") == pytest.approx(12.0)
    assert found.volts("nowhere") is None


def test_a_source_that_is_off_gives_nothing():
    study = study_from(LAMP.format(draws="6 A"))
    found = operating(study, opened=Open(sources=frozenset({"B1"})))
    assert found.on == ()
    assert found.given_a("B1") == 0.0
    assert found.across_v(study.rig.loads[0]) is None


def test_a_load_that_is_off_draws_nothing():
    study = study_from(LAMP.format(draws="6 A"))
    found = operating(study, loads=())
    assert found.across_v(study.rig.loads[0]) == pytest.approx(12.0)
    assert found.drawn_a("Lamp") == 0.0


def test_unknown_wires_and_loads_are_named():
    text = LAMP.format(draws="6 A").replace("return 1.5 mm2", "return ?") + (
        'circuit P1.2 "Other" fuse 5 A\n    wire 2.5 mm2 2 m\n    load "Other" ? W\n'
        'circuit P1.3 "Third" fuse 5 A\n    wire 2.5 mm2 2 m\n    load "Third" 1 W\n'
    )
    study = study_from(text)
    found = operating(study)
    lamp, other, third = study.rig.loads
    assert [wire.name for wire in found.unknown_wires] == list(study.rig.circuits[0].returns)
    assert found.unknown_loads == (other,)
    # The feed carries the unknown load too; the return of the lamp is its own.
    assert set(found.doubts(lamp)) == {*study.rig.circuits[0].returns, other.about.name}
    assert set(found.doubts(third)) == {other.about.name}


CHARGED = """rig "Charger"
    system 12 V
    rules vehicle
    ambient 20 degC
battery B1 flooded, 100 Ah, internal 50 mohm
charger C1 {limit} A, 14 V
busbar A1 100 A
busbar N1 100 A
wire B1+ to A1 2.5 mm2 1 m
wire B1- to N1 2.5 mm2 1 m
wire C1+ to A1 2.5 mm2 1 m
wire C1- to N1 2.5 mm2 1 m
circuit A1 "Lamp" fuse 5 A
    wire 2.5 mm2 1 m
    load "Lamp" 4 A
"""


def test_a_charger_gives_no_more_than_its_limit():
    study = study_from(CHARGED.format(limit=10))
    found = operating(study, sources={"B1", "C1"})
    assert found.given_a("C1") == pytest.approx(10.0)
    assert found.given_a("B1") == pytest.approx(-6.0)
    assert [source.about.name for source in found.at_limit] == ["C1"]


def test_a_charger_holds_its_voltage_below_its_limit():
    study = study_from(CHARGED.format(limit=100))
    found = operating(study, sources={"B1", "C1"})
    # 14 V against 12 V through 50 mohm and four times 1 m of 7.98 mohm, 4 A taken off at the bar.
    wire = 2 * 7.98e-3
    into_battery = (14.0 - 12.0 - 4.0 * wire) / (0.050 + 2 * wire)
    assert found.given_a("B1") == pytest.approx(-into_battery, rel=1e-3)
    assert found.given_a("C1") == pytest.approx(into_battery + 4.0, rel=1e-3)
    assert found.at_limit == ()
    assert found.across_v(study.rig.sources[1]) == pytest.approx(14.0, rel=1e-4)


def test_a_charger_takes_nothing_back():
    study = study_from(CHARGED.format(limit=10).replace("14 V", "11 V"))
    found = operating(study, sources={"B1", "C1"})
    assert found.given_a("C1") == 0.0
    assert [source.about.name for source in found.blocked] == ["C1"]


def test_a_charger_alone_feeds_what_it_can():
    study = study_from(CHARGED.format(limit=3))
    found = operating(study, sources={"C1"})
    assert [load.about.name for load in found.collapsed] == ["Lamp"]


def test_a_system_without_a_battery_runs_from_what_it_has():
    study = study_from(CHARGED.format(limit=10))
    assert standing(study) == {"B1"}
    assert standing(study, Open(sources=frozenset({"B1"}))) == {"C1"}


CONVERTED = """rig "Two systems"
    system 48 V
    rules vehicle
    ambient 20 degC
battery B1 lithium, 100 Ah, delivers 1 kA
dc-dc E1 30 A from 48 V to 12 V, draws 8.5 A
busbar N1 100 A
wire B1+ to E1.in 2.5 mm2 5 m, fuse 15 A at B1+
wire E1- to N1 2.5 mm2 1 m
wire N1 to B1- 2.5 mm2 5 m
circuit E1.out "Lamp" fuse 10 A
    wire 2.5 mm2 1 m
    load "Lamp" 5 A
    return 2.5 mm2 1 m to E1-
"""


def test_a_converter_draws_what_it_gives_over_its_efficiency():
    study = study_from(CONVERTED)
    found = operating(study)
    lamp = next(load for load in study.rig.loads if load.about.name != "E1.in")
    # 12 V and 30 A out for 48 V and 8.5 A in.
    efficiency = 12.0 * 30.0 / (48.0 * 8.5)
    way_ohm = 48.0 / 1000.0 + (5 + 1 + 5) * 7.98e-3
    drawn_w = 12.0 * 5.0 / efficiency
    amperes = (48.0 - math.sqrt(48.0**2 - 4 * drawn_w * way_ohm)) / (2 * way_ohm)
    assert found.drawn_a("E1.in") == pytest.approx(amperes, rel=1e-4)
    assert found.across_v(lamp) == pytest.approx(12.0 - 2 * 5.0 * 7.98e-3, rel=1e-4)


def test_a_converter_without_input_gives_nothing():
    study = study_from(CONVERTED)
    found = operating(study, opened=Open(frozenset({study.rig.devices[0].about.name})))
    lamp = next(load for load in study.rig.loads if load.about.name != "E1.in")
    assert found.given_a("E1") == 0.0
    assert found.across_v(lamp) is None


def test_converters_that_feed_each_other_are_an_answer(study_of):
    """A loop that does not settle: both are named as left out, and the rest is solved."""
    study = study_of("""rig "Loop"
    rules boat
battery B1 flooded, 100 Ah, 12 V, internal 100 mohm
dc-dc E1 20 A from 12 V to 10.5 V, draws 17.5 A
dc-dc E2 34 A from 12 V to 12.8 V, draws 41 A
busbar A1
busbar A2
busbar N1
load M1 36 ohm
load M2 60 W
wire B1+ to A1 4 AWG red 1 ft, fuse 100 A at B1+
wire N1 to B1- 4 AWG yellow 1 ft
wire A1 to E1.in 8 AWG red 1 ft, fuse 50 A at A1
wire E1.out to A2 8 AWG red 1 ft, fuse 50 A at E1.out
wire A2 to E2.in 8 AWG red 1 ft, fuse 50 A at A2
wire E2.out to A1 8 AWG red 1 ft, fuse 50 A at E2.out
wire E1- to N1 8 AWG yellow 1 ft
wire E2- to N1 8 AWG yellow 1 ft
wire A2 to M1+ 12 AWG red 1 ft, fuse 10 A at A2
wire A1 to M2+ 12 AWG red 1 ft, fuse 10 A at A1
wire M1- to N1 12 AWG yellow 1 ft
wire M2- to N1 12 AWG yellow 1 ft
""")
    point = operating(study, sources={"B1", "E1", "E2"})
    lost = {load.about.name for load in point.collapsed}
    assert lost <= {"E1.in", "E2.in"}
    for name in lost:
        assert point.drawn_a(name) == 0.0
        assert point.given_a(name.removesuffix(".in")) == 0.0
    assert point.drawn_a("M2") == pytest.approx(5.3, abs=0.4)


def test_what_runs_for_a_moment_is_not_on_with_the_rest():
    study = study_from(
        'rig "Two"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah, internal 10 mohm\n'
        'load M1 "Lamp" 2 A\nload M2 "Winch" 50 A, momentary\n'
        "wire B1+ to M1+ 10 mm2 1 m, fuse 10 A at B1+\nwire M1- to B1- 10 mm2 1 m\n"
        "wire B1+ to M2+ 10 mm2 1 m, fuse 60 A at B1+\nwire M2- to B1- 10 mm2 1 m\n"
    )
    assert point_in(study, at_once(study)).drawn_a("M1") == pytest.approx(2.0)
    assert point_in(study, at_once(study)).drawn_a("M2") == 0.0
    # 12 V less what 2 A lose in 10 mohm; the same object is given again.
    assert point_in(study, at_once(study)).volts("B1+") == pytest.approx(11.98)
    assert point_in(study, at_once(study)) is point_in(study, at_once(study))


@pytest.mark.parametrize("frame", ["", "2 mohm", "50 mohm"])
def test_a_frame_as_a_simulator_has_it(frame):
    """A bar and a post bonded to one frame, a lamp that stands on it, a pump with a wire to it."""
    study = study_from(f"""rig "Frame"
    system 12 V
    rules rv
    ambient 20 degC
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 40 A on B1+
panel P1 4 slots of 20 A, negative N1
busbar N1
chassis G1 "Frame" {frame}
wire F1.load to P1 8 AWG red 5 ft
wire N1 to B1- 8 AWG white 5 ft
wire B1- to G1 8 AWG bare 2 ft
wire N1 to G1 8 AWG bare 1 ft
circuit P1.1 "Lamp" fuse 15 A
    wire 14 AWG red 10 ft
    load "Lamp" 60 W
    return to G1
circuit P1.2 "Pump" fuse 15 A
    wire 14 AWG red 10 ft
    load "Pump" 5 A
    return 14 AWG white 1 ft to G1
""")
    assert agrees(study, {"B1"}) > 10
