"""Expected readings: by hand, within their bounds, and written down so that the log reads them."""

from math import inf
from pathlib import Path

import pytest

from helpers.forgotten import cache
from helpers.home import CORPUS, RIGS
from helpers.kept_pump import PUMP
from helpers.read_off import is_expected
from helpers.studies import numbered, studied, study_from
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.symptoms import edge_of
from rigfolio.findings import Unknown
from rigfolio.isolation import unplugged
from rigfolio.isolation.energised import CLOSED, Open, source_reach
from rigfolio.isolation.rest import unnamed
from rigfolio.isolation.set_to import turned
from rigfolio.judgement.result import understood
from rigfolio.operating import Scene, Wrong
from rigfolio.operating.point import standing
from rigfolio.operating.readings.expected import shut_words, stages
from rigfolio.operating.readings.short_test import short_stages
from rigfolio.operating.readings.test_points import MeterPoint, bounds_words, numbered_points
from rigfolio.reading.logs.meter import read_log
from rigfolio.study import Study

SMALL = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
disconnect S1 "Main" 100 A
panel P1 2 slots of 20 A
busbar N1 100 A
wire B1+ to S1.line 6 AWG red 1 ft, fuse 50 A at B1+
wire S1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Heater" fuse 10 A
    wire 14 AWG red 10 ft
    load "Element" 2 ohm
circuit P1.2 "Lamp" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Lamp" 12 W
circuit B1+ "Detector" fuse 1 A, always on
    wire 18 AWG pink 3 ft
    load "Gas detector" 0.1 A
"""


@cache
def study(name: str = "bench") -> Study:
    return study_from(SMALL) if name == "bench" else studied(Path(name))


def points(study_: Study) -> list[MeterPoint]:
    return [point for *_, point in numbered_points(stages(study_))]


def test_the_stages_come_in_the_order_of_the_trade() -> None:
    assert [stage.title for stage in stages(study())] == [
        "Ohms, all fuses out",
        "The feed alone",
        "One fuse at a time",
        "Each load by itself",
        "All that can run together",
        "What must stay on",
    ]


def test_fuses_go_in_from_the_smallest() -> None:
    stage = stages(study())[2]
    assert [step.do for step in stage.steps] == [
        "circuit B1+ Detector, 1 A fuse in",
        "P1.2 Lamp, 5 A tan fuse in", "P1.1 Heater, 10 A red fuse in",
    ]  # fmt: skip


def test_what_must_not_start_is_what_can_be_switched_off() -> None:
    # The detector has to stay on: it starts with its fuse.
    stage = stages(study())[2]
    assert [step.must_not for step in stage.steps] == ["", "Lamp", "Element"]
    assert [step.must_not for step in stages(study())[1].steps] == ["any load"]


def test_breakers_are_off_and_fuses_are_out() -> None:
    kittiwake = study(str(next(file for file in RIGS if "kittiwake" in file.stem)))
    assert [shut_words(kittiwake, panel.about.name) for panel in kittiwake.rig.panels] == [
        "breakers off", "fuses out",
    ]  # fmt: skip
    done = [step.do for step in stages(kittiwake)[2].steps]
    assert "P1.1 Running lights, bow and stern, 5 A breaker on" in done
    assert "P2.2 Gas detector, 2 A grey fuse in" in done


def test_a_drop_by_hand() -> None:
    # 2 ohm behind some 20 ft of 14 AWG (about 0.06 ohm) and 0.02 ohm of the battery draw about
    # 12.42 / 2.08 = 5.97 A; 10 ft of 14 AWG back lose 5.97 * 0.0258 = 0.154 V at 30 degC, of SAE
    # cable with 4107 / 3702 of the resistance 0.171 V.
    (point,) = [p for p in points(study()) if p.a == "P1.1~1-" and p.b == "N1"]
    assert point.low <= 0.171 <= point.high
    assert point.high < 0.171 * 1.35


def test_a_circuit_of_two_ohms_reads_no_less_than_a_cold_element() -> None:
    (point,) = [p for p in points(study()) if (p.a, p.unit) == ("P1.1", "ohm")]
    assert point.low == pytest.approx(0.2)
    assert point.high == inf
    assert bounds_words(point) == "0.2 ohm or more"


FORMS = {"short": short_stages, "full": stages}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_is_written_down_is_read_back_as_it_was_taken(file: Path, form: str) -> None:
    """Each entry is read, and the rig as the reading has it shows what the sheet expects."""
    one = study(str(file))
    found = [point for *_, point in numbered_points(FORMS[form](one))]
    assert len(found) > 10
    scenes = Scenes(one)
    for point in found:
        value = point.low if point.high == inf else (point.low + point.high) / 2.0
        log, problems = read_log(point.written(f"{value:.4f}"), "r", one.rig)
        assert not problems, (point.written("1"), problems[0].headline)
        (reading,) = log.readings
        if point.unit != "A":
            assert (reading.a, reading.b) == (point.a, point.b)
        if point.unit == "ohm":
            assert reading.on is None
            continue
        assert reading.on is not None
        scene = scenes.of((reading.state, reading.set_to), frozenset(reading.on))
        shown = scene.solve()
        if point.unit == "V":
            assert is_expected(point, shown.between_v(point.a, point.b)), point.written()
        elif reading.kind == "load":
            assert is_expected(point, shown.drawn_a(reading.part)), point.written()
        else:
            assert is_expected(point, shown.current_a(edge_of(one, reading))), point.written()


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_is_expected_to_show_volts_is_live(file: Path, form: str) -> None:
    """`live` and the test sheet agree: volts are expected where a source that is on reaches."""
    one = study(str(file))
    drive, names = source_reach(one), {source.about.name for source in one.rig.sources}
    tried = 0
    for *_, point in numbered_points(FORMS[form](one)):
        if point.unit != "V" or one.side.get(point.a) == one.side.get(point.b):
            continue
        log, _ = read_log(point.written("1"), "r", one.rig)
        opened = turned(one.rig, unnamed(one).opened, log.readings[0].set_to)
        off = names - standing(one, opened)
        alive = drive.alive(Open(opened.edges, frozenset(off)))
        if point.low > 1.0:
            tried += 1
            assert point.a in alive, point.written()
        elif point.high < 1.0:
            assert point.a not in alive, point.written()
    assert tried > 5


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_short_test_has_each_circuit_once_and_every_heavy_load(file: Path) -> None:
    one = study(str(file))
    found = {stage.title: stage for stage in short_stages(one)}
    circuits = found["Each circuit, one fuse at a time"]
    assert [len(step.points) for step in circuits.steps] == [1] * len(circuits.steps)
    with_loads = [c for c in one.rig.circuits if c.loads]
    assert len(circuits.steps) >= len(with_loads)
    heavy = found["Heavy loads, each by itself"]
    volts = {point.a for step in heavy.steps for point in step.points}
    inlets = {source.inlet for source in one.rig.sources}
    for load in one.rig.loads:
        amps = load.current_a(one.volts.get(load.plus, one.rig.system_v))
        if isinstance(amps, float) and amps >= 8.0 and load.about.name not in inlets:
            assert load.plus in volts, load.about.name


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_a_sound_rig_is_as_expected_and_a_bad_holder_is_not(file: Path) -> None:
    one = study(str(file))
    for stage in stages(one):
        for step in stage.steps:
            for point in step.points:
                assert point.low <= point.high
                assert point.words
    circuit = next(
        c for c in one.rig.circuits
        if any(isinstance(load.value, float) and load.duty == "continuous"
               for load in one.rig.loads if load.about.name in c.loads)
        and one.device(c.device) is not None and c.panel
    )  # fmt: skip
    load = next(load for load in one.rig.loads if load.about.name in circuit.loads)
    device = one.device(circuit.device)
    assert device is not None
    scene = Scene(one, CLOSED, frozenset({load.about.name}))
    amps = scene.solve().drawn_a(load.about.name)
    bad = scene.solve(Wrong(ohm=((device.about.name, 2.0 / amps),)))
    holders = {p for p in points(one) if (p.a, p.b) == (device.line, device.load)}
    assert holders
    for holder in holders:
        assert is_expected(holder, scene.solve().between_v(device.line, device.load))
        assert not is_expected(holder, bad.between_v(device.line, device.load))


def test_the_steps_of_each_panel_stand_together() -> None:
    kittiwake = study(str(next(file for file in RIGS if "kittiwake" in file.stem)))
    names = [panel.about.name for panel in kittiwake.rig.panels]
    assert len(names) > 1
    for stage in stages(kittiwake):
        of = [step.of for step in stage.steps]
        runs = [name for place, name in enumerate(of) if place == 0 or of[place - 1] != name]
        assert len(runs) == len(set(runs)), stage.title
    fuses = stages(kittiwake)[2].steps
    assert {step.of for step in fuses} == {*names, "circuit S1.load"}
    assert all(step.do.startswith(step.of) for step in fuses)


def test_a_battery_at_rest_by_hand() -> None:
    # 12 V nominal stands at 1.035 of that, half full to full +-2.5 % (flooded and AGM charts:
    # 12.1 to 12.7 V); the bound of a reading with nothing on is spread by 2.0 to 2.5 % and by the
    # meter, 0.5 % and 20 mV.
    (point,) = [p for p in points(study()) if (p.a, p.b, p.unit) == ("P1", "N1", "V")][:1]
    rest, spread = 12.0 * 1.035, 0.025
    low, high = rest * (1.0 - spread), rest * (1.0 + spread)
    assert point.low == pytest.approx(low - 0.005 * high - 0.02, abs=2e-3)
    assert point.high == pytest.approx(high + 0.005 * high + 0.02, abs=2e-3)


@pytest.mark.parametrize("is_charger", [False, True])
def test_a_converter_holds_the_volts_on_its_plate_where_it_charges_nothing(is_charger) -> None:
    # 12.8 V on the plate, within 2 %; a charger of a lithium battery of 12.8 V gives 14.2 to 14.6 V
    # (common practice), which the share of chargers, from memory, holds.
    spare = (
        "wire E1.out to B2+ 10 AWG red 5 ft, fuse 30 A at B2+\nwire B2- to N1 10 AWG black 1 ft\n"
    )
    text = SMALL + (
        "dc-dc E1 30 A from 12 V to 12.8 V\nwire P1.2 to E1.in 12 AWG red 4 ft\n"
        "wire E1- to N1 10 AWG black 5 ft\n"
    )
    if is_charger:
        text += f"battery B2 lithium, 12.8 V, 100 Ah\n{spare}"
    found = understood("bench", text=text)
    assert found.study is not None, found.findings
    every = Open(sources=frozenset({"none of them"}))
    share, spread = Scene(found.study, every, frozenset()).rest_share("E1")
    low, high = 12.8 * share * (1.0 - spread), 12.8 * share * (1.0 + spread)
    assert low < (14.4 if is_charger else 12.8) < high
    assert (low < 12.8) is not is_charger


def test_the_current_of_a_circuit_by_hand() -> None:
    # An element of 2 ohm behind 20 ft of 14 AWG, 8.451 mohm/m at 20 degC (ASTM B258 with 2 % for
    # the lay of strands), 53.5 mohm at 30 degC; 3 ft of 6 AWG, 1.2 mohm; 20 mohm inside. So
    # 12 V * 1.035 / 2.075 ohm = 5.99 A, the load 15 % either way, the battery 2.5 %, the meter.
    (point,) = [p for p in points(study()) if (p.a, p.unit) == ("P1.1", "A")]
    amps = 12.0 * 1.035 / 2.075
    assert point.low < amps * 0.88 < amps < amps * 1.12 < point.high
    assert amps * 0.80 < point.low
    assert point.high < amps * 1.20


CONVERTED = """
rig "Two systems"
    system 24 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
panel P1 2 slots of 20 A, negative N1
panel P2 2 slots of 20 A, negative N2
busbar N1 100 A
busbar N2 100 A
dc-dc E1 20 A from 25.6 V to 12.8 V, draws 11 A
wire B1+ to E1.in 6 AWG red 1 ft, fuse 30 A at B1+
wire E1- to B1- 6 AWG black 1 ft
wire E1.out to P1 10 AWG red 2 ft
wire N1 to E1- 6 AWG black 1 ft
wire N2 to N1 8 AWG black 20 ft
circuit P1.2 "Bunkhouse" fuse 15 A
    wire 8 AWG red 20 ft to P2
circuit P2.1 "Lamp" fuse 3 A
    wire 16 AWG blue 10 ft
    load "Lamp" 12 W
"""


def test_a_panel_behind_a_converter_is_read_on_both_sides_of_it() -> None:
    # By hand: what hangs on the output of a converter shows the volts of its plate, 12.8 V, not
    # those of the battery, 24 V by its state of charge.
    result = understood("t", text=CONVERTED)
    assert result.study is not None
    one, two = stages(result.study)[1].steps
    held = {point.a: point for point in one.points}
    assert [point.a for point in one.points][-3:] == ["E1.in", "E1.out", "P1"]
    assert held["E1.in"].low > 22.0
    assert held["E1.out"].low <= 12.8 <= held["E1.out"].high < 13.5
    assert one.do == "feed of P1, all its fuses out"
    # The second panel hangs on a slot of the first, whose fuse has to be in, and no other.
    assert two.do == "feed of P2, all its fuses out; P1.2 Bunkhouse: 15 A blue fuse in"
    assert [point.a for point in two.points] == ["P1.2", "P2"]


def test_a_charger_between_two_batteries_feeds_no_panel() -> None:
    # Chargers stay off while readings are taken, so nothing is to be expected along them.
    text = CONVERTED.replace(
        "rules vehicle\n", "rules vehicle\nbattery B2 agm, 100 Ah, internal 20 mohm\n"
    ).replace("wire E1.out", "wire B2+ to P1 6 AWG red 1 ft, fuse 30 A at B2+\nwire E1.out")
    result = understood("t", text=text)
    assert result.study is not None
    (one, *_) = stages(result.study)[1].steps
    assert one.points[0].a == "B2+"
    assert "E1.in" not in {point.a for point in one.points}


TWO_BANKS = """
rig "Two banks"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 10 mohm
battery B2 agm, 100 Ah, internal 10 mohm
alternator A1 60 A
selector X1 "Main selector" 100 A
combiner Q1 100 A
panel P1 2 slots of 20 A, negative N1
panel P2 2 slots of 20 A, negative N1
busbar N1 100 A
wire A1+ to B1+ 6 AWG red 1 ft, fuse 80 A at B1+
wire A1- to N1 6 AWG black 1 ft
wire B1+ to X1.1 6 AWG red 1 ft, fuse 60 A at B1+
wire B2+ to X1.2 6 AWG red 1 ft, fuse 60 A at B2+
wire B1+ to Q1.1 6 AWG red 1 ft, fuse 60 A at B1+
wire Q1.2 to B2+ 6 AWG red 1 ft, fuse 60 A at B2+
wire X1.common to P1 6 AWG red 1 ft
wire B2+ to P2 6 AWG red 1 ft, fuse 30 A at B2+
wire N1 to B1- 6 AWG black 1 ft
wire N1 to B2- 6 AWG black 1 ft
circuit P1.1 "Heater" fuse 20 A
    wire 12 AWG red 5 ft
    load "Element" 1 ohm
circuit P2.1 "Alarm" fuse 2 A, always on
    wire 16 AWG blue 5 ft
    load "Alarm" 0.1 A
"""


def test_a_selector_is_read_in_each_of_its_positions_and_a_combiner_is_open() -> None:
    # By hand: 1 ohm behind 0.01 ohm of the battery, some 0.02 ohm of 12 AWG out and back and 0.002
    # of 6 AWG draws 12.4 / 1.03 = 12 A, all of it from the one battery that the selector is on.
    result = understood("t", text=numbered(TWO_BANKS))
    assert result.study is not None
    found = {stage.title: stage for stage in stages(result.study)}
    steps = found["The feed alone"].steps
    feeds = [(step.do, step.points[0].a) for step in steps if not step.is_plain]
    # The alternator rests: its posts show the bank that it is joined to.
    assert [step.points[0].a for step in steps if step.is_plain] == ["A1+"]
    assert feeds == [
        ("feed of P1, all its fuses out; X1 Main selector on 1", "B1+"),
        ("feed of P1, all its fuses out; X1 Main selector on 2", "B2+"),
        ("feed of P2, all its fuses out", "B2+"),
    ]
    one, two = found["All that can run together"].steps
    assert one.do == "X1 Main selector on 1; on: P1.1 Heater; P2.1 Alarm"
    assert two.do == "X1 Main selector on 2; all else as before"
    for step, name in ((one, "W3 fuse"), (two, "W4 fuse")):
        (amps,) = [point for point in step.points if (point.a, point.unit) == (name, "A")]
        assert 9.0 < amps.low < 12.0 < amps.high < 15.0
    everything = [
        point for stage in found.values() for step in stage.steps for point in step.points
    ]
    assert not any("Q1" in point.a + point.b for point in everything)
    held = {(point.a, point.b) for point in two.points}
    assert ("N1", "B2-") in held
    assert ("N1", "B1-") not in held


def test_what_is_on_is_told_circuit_by_circuit() -> None:
    kittiwake = study(str(next(file for file in RIGS if "kittiwake" in file.stem)))
    (step, *_) = next(s for s in stages(kittiwake) if s.title == "All that can run together").steps
    assert "P1.13 Saloon lights; " in step.do
    assert "P1.5 VHF radio: VHF, listening; " in step.do


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *CORPUS)), ids=lambda one: one.stem)
def test_every_load_that_could_run_for_more_than_a_moment_is_on_or_told_to_be_off(file):
    rig = study(str(file))
    (stage,) = (s for s in stages(rig) if s.title == "All that can run together")
    said = " ".join((stage.about, *(step.do for step in stage.steps)))
    inlets = {source.inlet for source in rig.rig.sources}
    # What a tow vehicle alone feeds is read with that vehicle.
    own = [one.plus for one in rig.rig.sources if one.traits.runs_with != "towing"]
    fed = rig.net.walk(own, Open(unplugged(rig.rig)).bars)
    for load in rig.rig.loads if stage.steps else ():
        is_apart = not load.circuit and load.about.name not in inlets and load.plus in fed
        if is_apart and not load.traits.is_moment:
            assert isinstance(load.value, Unknown) or str(load.about) in said


def test_a_panel_without_a_battery_is_read_from_what_feeds_it() -> None:
    text = """
rig "Shed"
    system 12 V
    rules vehicle
charger C1 20 A
panel P1 2 slots of 20 A
busbar N1 100 A
wire C1+ to P1 10 AWG red 3 ft, fuse 25 A at C1+
wire N1 to C1- 10 AWG black 3 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Lamp" 12 W
"""
    result = understood("shed", text=text)
    assert result.study is not None
    found = {stage.title: stage for stage in stages(result.study)}
    (step,) = found["The feed alone"].steps
    assert [point.a for point in step.points] == ["C1+", "C1+/P1.fuse.load", "P1"]
    assert all(point.low > 11.0 for point in step.points)


APART = """rig "Apart"
    system 24 V
    rules boat
battery B1 agm, 180 Ah
battery B2 flooded, 90 Ah
panel P1 4 slots of 30 A
busbar N1 200 A
load L2 180 A, momentary
wire B1+ to P1 16 mm2 red 2 m, fuse 80 A at B1+
wire N1 to B1- 16 mm2 black 1 m
wire B2+ to L2+ 50 mm2 red 1.5 m
wire L2- to B2- 50 mm2 black 1.5 m
circuit P1.2 "Lamp" fuse 5 A
    wire 1.5 mm2 red 4 m
    load "Lamp" 2 A
"""


@pytest.mark.parametrize(
    ("more", "entries"),
    [
        ("", ["N1 to B1- = "]),
        ("wire B2- to N1 35 mm2 black 1 m\n", ["N1 to B1- = ", "N1 to B2- = "]),
    ],
)
def test_a_way_back_is_read_only_to_the_battery_that_it_leads_to(
    more: str, entries: list[str]
) -> None:
    found = stages(study_from(APART + more))[0].steps[0]
    assert (found.do, [point.entry for point in found.points]) == ("the way back", entries)


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_little_ohms_are_asked_only_where_something_joins_the_probes(file: Path) -> None:
    found = understood(str(file)).study
    assert found is not None
    for point in points(found):
        if point.unit == "ohm" and point.high < inf:
            assert point.b in found.net.walk([point.a])


CHARGED = """charger C1 30 A
wire C1+ to P1 10 mm2 red 2 m, fuse 40 A at P1
wire C1- to N1 10 mm2 black 2 m
"""
"""A charger behind the disconnect: it stays off while readings are taken."""


@pytest.mark.parametrize("charger", ["", CHARGED])
@pytest.mark.parametrize("draws", ["3 A", "? A"])
def test_what_must_stay_on_and_is_dead_as_wired_has_no_reading_that_fits(
    draws: str, charger: str
) -> None:
    found = stages(study_from(PUMP.format("P1.1", draws) + charger))[-1]
    assert found.title == "What must stay on"
    (step,) = found.steps
    assert step.do.endswith("Bilge pump: DEAD as wired with S1 open or off: mend the wiring first")
    assert step.points == ()


def test_what_must_stay_on_and_does_is_read_with_the_switch_open() -> None:
    (step,) = stages(study_from(PUMP.format("S1.line", "3 A")))[-1].steps
    assert step.do == "open or off: S1"
    assert [point.low > 20.0 for point in step.points] == [True]
