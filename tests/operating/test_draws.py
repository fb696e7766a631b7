"""What loads draw: by hand, by the nodal solution, by a circuit simulator, the same everywhere."""

import math
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from helpers.circuits import Made, Netlist
from helpers.ringed_rigs import made
from helpers.studies import study_from
from rigfolio.demand.drop import drops_of
from rigfolio.demand.flows import flows_of
from rigfolio.demand.levels import demand_by_level
from rigfolio.figures.calculation import calculation
from rigfolio.judgement.result import load as read
from rigfolio.operating import draws
from rigfolio.operating.draws import homes_of
from rigfolio.operating.point import STIFF_OHM, operating, source_ohm
from rigfolio.operating.scenario import alone, drawn_in, own_circuit, point_in
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.sizing.settled import sizes
from rigfolio.study import Study

EXAMPLES = Path(__file__).parents[2] / "examples"
SOUND = sorted(EXAMPLES.glob("*.rig"))
FAULTY = sorted((EXAMPLES / "faulty").glob("*.rig"))
SEEDS = range(16)

# NFPA 70-2023 chapter 9 table 8, uncoated stranded copper, 12 AWG at 75 °C, ohm per 1000 ft (seen).
TWELVE_OHM_PER_KFT = 1.98
HEATER = """rig "Heater"
    system 12 V
    rules rv
    ambient 30 degC
battery B1 flooded, 100 Ah
load M1 "Heater" 120 W
wire B1+ to M1+ 12 AWG red 28 ft, insulation THHN, fuse 20 A at B1+
wire M1- to B1- 12 AWG black 28 ft, insulation THHN
"""


def heater_by_hand():
    """Amperes and drop of 120 W behind 56 ft of 12 AWG.

    U = (12 + sqrt(12² - 4 P R)) / 2, with R as hot as the current makes it by heat balance: 25 A
    warm 12 AWG from 30 to 75 °C (NFPA 70 Table 310.16, seen); 234.5 for copper.
    """
    current_a = 10.0
    for _ in range(50):
        hot_c = 30.0 + 45.0 * (current_a / 25.0) ** 2
        ohm = TWELVE_OHM_PER_KFT * 0.056 * (234.5 + hot_c) / (234.5 + 75.0)
        volts = (12.0 + math.sqrt(144.0 - 4.0 * 120.0 * ohm)) / 2.0
        current_a = 120.0 / volts
    return current_a, 12.0 - volts


def test_watts_draw_at_their_own_volts_by_hand():
    study = study_from(HEATER)
    (heater,) = study.rig.loads
    current_a, drop_v = heater_by_hand()
    # At 12 V it would draw 10 A and lose 0.98 V; what it loses makes it draw more.
    assert current_a == pytest.approx(10.98, abs=0.05)
    drop = drops_of(study).of(heater)
    # The table is rounded to three figures, and its strands are laid a little differently.
    assert drop.volts == pytest.approx(drop_v, rel=0.015)
    assert drop.share > 0.088
    assert drawn_in(study, heater, alone(study, heater)).current_a == pytest.approx(
        current_a, rel=0.003
    )


def test_every_command_says_what_the_hand_says():
    study = study_from(HEATER)
    current_a, _ = heater_by_hand()
    said = said_of(study, study.rig.loads[0], calculation(study), demand_by_level(study))
    assert len(said) >= 4
    for what, found_a in said.items():
        assert found_a == pytest.approx(current_a, rel=0.003), what


def said_of(study, load, sheet, levels):
    """The amperes that each command has for a load that is all there is in its circuit."""
    name, circuit = load.about.name, study.circuit(load.circuit)
    scenario = alone(study, load)
    found = {"operating": point_in(study, scenario).drawn_a(name)}
    found["calculation"] = next(
        line.current_a for line in sheet.loads if line.load.about.name == name
    )
    if circuit is None:
        edges = [e for e in study.rig.devices if flows_of(study).users(e.about.name) == {name}]
        for edge in edges:
            found[f"check, {edge.about.name}"] = flows_of(study).demand(edge.about.name).loads_a
        (only,) = [level for level in levels if level.level == "source"] or [None]
        if only is not None and len(study.rig.loads) == 1:
            found["demand, source"] = only.connected_a
        return found
    found["demand"] = next(
        level.connected_a
        for level in levels
        if level.level == "circuit" and level.name == circuit.place
    )
    if circuit.device:
        found["check"] = flows_of(study).demand(circuit.device).loads_a
    for wire in circuit.wires:
        found[f"check, {wire}"] = flows_of(study).demand(wire).loads_a
    return found


def is_plain(study, load):
    """Whether a load is all of its circuit and runs from one source within that one's limit."""
    circuit = study.circuit(load.circuit)
    drawn = drawn_in(study, load, alone(study, load))
    if circuit is None or len(circuit.loads) != 1 or load.about.name not in homes_of(study):
        return False
    if circuit.device and flows_of(study).users(circuit.device) != {circuit.place}:
        return False
    point = point_in(study, alone(study, load))
    known = isinstance(drawn.current_a, float) and not drawn.collapses
    return known and not point.at_limit and not point.collapsed and not point.unserved


def all_agree(study):
    compared, sheet, levels = 0, calculation(study), demand_by_level(study)
    for load in study.rig.loads:
        if not is_plain(study, load):
            continue
        said = said_of(study, load, sheet, levels)
        circuit = study.circuit(load.circuit)
        meshed = any(way.stretches for way in flows_of(study).ways[load.about.name])
        if not meshed and flows_of(study).charge_a(circuit.device) == 0.0:
            said["size"] = next(p.demand_a for p in sizes(study) if p.place == circuit.place)
        for what, found_a in said.items():
            assert found_a == pytest.approx(said["operating"], rel=1e-4, abs=1e-7), (what, load)
        compared += 1
    return compared


@pytest.mark.parametrize("file", [*SOUND, *FAULTY], ids=lambda file: file.stem)
def test_all_commands_draw_the_same_in_the_examples(file):
    _, rig, _ = read(str(file))
    if rig is None:
        pytest.skip("it cannot be read")
    compared = all_agree(Study(rig, rig.book))
    assert compared > 2 or file in FAULTY


@pytest.mark.parametrize("seed", range(8))
def test_all_commands_draw_the_same_in_made_rigs(seed):
    all_agree(study_from(Made(seed).text))


def agrees_with_nodes(study):
    """Every load alone, and beside its own circuit, against the nodal solution of the rig."""
    compared = 0
    for load in study.rig.loads:
        if load.about.name not in homes_of(study) or load.about.name.endswith(".in"):
            continue
        for scenario in (alone(study, load), own_circuit(study, load)):
            point, drawn = point_in(study, scenario), drawn_in(study, load, scenario)
            homes = {homes_of(study)[name].source.about.name for name in scenario.loads}
            if point.at_limit or len(homes) > 1:
                continue
            near = {"rel": 1e-4}
            assert drawn.collapses == (load in point.collapsed), load
            if not point.collapsed:
                own_a, own_v = point.drawn_a(load.about.name), point.across_v(load)
                assert drawn.current_a == pytest.approx(own_a, **near), (load, scenario)
                assert drawn.volts == pytest.approx(own_v, **near), (load, scenario)
                compared += 1
    return compared


@pytest.mark.parametrize("seed", SEEDS)
def test_a_way_is_the_nodal_solution_of_the_rig(seed):
    agrees_with_nodes(study_from(Made(seed).text))


@settings(settings.get_profile("study"), max_examples=15)
@given(seed=st.integers(0, 10**6), rings=st.integers(0, 4), watts=st.integers(10, 160))
def test_a_ring_is_the_nodal_solution_of_the_rig(seed, rings, watts):
    study = made(seed, rings=rings)
    loads = tuple(
        replace(load, kind="power", value=watts * (1.0 + place / 3.0))
        for place, load in enumerate(study.rig.loads)
    )
    assert agrees_with_nodes(Study(replace(study.rig, loads=loads), study.book.name)) >= 0


def test_the_rigs_have_what_is_compared():
    assert sum(agrees_with_nodes(study_from(Made(seed).text)) for seed in range(8)) > 40


@pytest.mark.parametrize("seed", range(12))
def test_constant_power_as_a_simulator_has_it(seed):
    """With surroundings as hot as the insulation may be, copper is as hot whatever it carries."""
    text = Made(seed).text
    ambient = next(line for line in text.splitlines() if "ambient" in line)
    study = study_from(text.replace(ambient, "    ambient 60 degC\n    insulation 60 degC"))
    for load in study.rig.loads:
        way = homes_of(study).get(load.about.name)
        if load.kind != "power" or way is None or way.source.kind != "battery":
            continue
        # Batteries side by side serve it together.
        on = {way.source.about.name, *way.beside}
        sources = tuple(one for one in study.rig.sources if one.about.name in on)
        rig = replace(study.rig, loads=(load,), sources=sources)
        theirs = Netlist(rig, on, (), ()).solve()
        drawn = drawn_in(study, load, alone(study, load))
        assert drawn.current_a == pytest.approx(theirs.current_a(load.about.name), rel=1e-4)


@pytest.mark.parametrize("seed", range(8))
def test_what_is_expected_agrees_with_its_drop(seed):
    """Watts are amperes times the volts that source and drop leave, counted from the posts."""
    study = study_from(Made(seed).text.replace("rules vehicle", "rules rv"))
    flows = flows_of(study)
    for load in study.rig.loads:
        drop, way = drops_of(study).of(load), homes_of(study).get(load.about.name)
        if load.kind != "power" or drop is None or drop.collapses or drop.way.source != way.source:
            continue
        assert not drop.bar
        inner_ohm = source_ohm(way.source) or STIFF_OHM
        own_a = flows.expected[load.about.name].current_a
        part_a = flows.counts.part(way) * own_a
        given_a = max(flows.counts.given_a(way.source.about.name), part_a)
        if load.duty == "momentary":
            given_a = flows.counts.given_a(way.source.about.name) + part_a
        volts = way.source.voltage_v - inner_ohm * given_a - drop.volts
        assert own_a * volts == pytest.approx(load.value, rel=1e-5)


SHED = """rig "Shed"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal {inner} mohm
fuse F1 80 A terminal-cube on B1+
panel P1 4 slots of 30 A
busbar N1 100 A
wire F1.load to P1 4 AWG red 6 ft
wire N1 to B1- 4 AWG white 6 ft
circuit P1.1 "Shed" fuse 15 A
    wire 14 AWG red {feet} ft
    load "Supply" {watts} W
"""


@settings(settings.get_profile("study"), max_examples=20)
@given(watts=st.integers(5, 400), feet=st.integers(3, 160), inner=st.sampled_from([5, 10, 50, 150]))
def test_a_load_collapses_or_has_a_drop_as_the_operating_point_says(watts, feet, inner):
    study = study_from(SHED.format(watts=watts, feet=feet, inner=inner))
    (supply,) = study.rig.loads
    point = point_in(study, alone(study, supply))
    told = {finding.rule for finding in judge(study)}
    drop = drops_of(study).of(supply)
    assert ("voltage-collapse" in told) == (supply in point.collapsed)
    assert drop.collapses == (supply in point.collapsed)
    assert not {"voltage-collapse", "voltage-drop"} <= told
    if not drop.collapses:
        assert drop.volts == pytest.approx(point.drop_v(supply), rel=1e-4)
        assert ("voltage-drop" in told) == (drop.share > 0.1 + 1e-9)


CONVERTER = """rig "Two systems"
    system {system} V
    rules vehicle
battery B1 lithium, 100 Ah, {bank} V, delivers 1 kA
dc-dc E1 20 A{volts}, efficiency 88 %
busbar N1 100 A
wire B1+ to E1.in 10 mm2 2 m, fuse 60 A at B1+
wire E1- to N1 10 mm2 1 m
wire N1 to B1- 10 mm2 2 m
circuit E1.out "Lamp" fuse 10 A
    wire 2.5 mm2 1 m
    load "Lamp" 5 A
    return 2.5 mm2 1 m to E1-
"""


@pytest.mark.parametrize("bank", [11.2, 12.0, 12.8, 13.3, 14.4])
@pytest.mark.parametrize("volts", ["", " from 12 V to 12 V", " from 12.8 V to 24 V"])
def test_efficiency_is_output_over_input_whatever_the_volts(bank, volts):
    study = study_from(CONVERTER.format(system=12, bank=bank, volts=volts))
    point = operating(study)
    source = next(one for one in study.rig.sources if one.about.name == "E1")
    entry = next(one for one in study.rig.loads if one.about.name == "E1.in")
    given_w = point.given_a("E1") * point.across_v(source)
    drawn_w = point.drawn_a("E1.in") * point.across_v(entry)
    assert given_w > 50.0
    assert given_w / drawn_w == pytest.approx(0.88, rel=1e-4)
    # At its full output it is judged by the same share.
    full = drawn_in(study, entry, alone(study, entry))
    assert full.current_a * full.volts == pytest.approx(source.voltage_v * 20.0 / 0.88, rel=1e-6)


def test_of_a_converter_of_which_nobody_says_what_it_loses_all_comes_out():
    text = CONVERTER.format(system=12, bank=12.8, volts="").replace(", efficiency 88 %", "")
    study = study_from(text)
    point, index = operating(study), study.rig.by_name
    given_w = point.given_a("E1") * point.across_v(index.sources["E1"])
    assert given_w > 50.0
    drawn_w = point.drawn_a("E1.in") * point.across_v(index.loads["E1.in"])
    assert drawn_w == pytest.approx(given_w, rel=1e-4)


def test_stated_amperes_of_a_converter_stay_amperes():
    text = CONVERTER.replace("efficiency 88 %", "draws 23 A")
    for bank in (11.2, 12.8, 14.4):
        study = study_from(text.format(system=12, bank=bank, volts=" from 12 V to 12 V"))
        entry = next(one for one in study.rig.loads if one.about.name == "E1.in")
        assert drawn_in(study, entry, alone(study, entry)).current_a == 23.0
        assert flows_of(study).demand("B1+/E1.in").loads_a == 23.0


def test_an_unknown_length_leaves_the_draw_at_the_volts_of_the_source():
    study = study_from(HEATER.replace("red 28 ft", "red ? ft").replace("black 28 ft", "black ? ft"))
    (heater,) = study.rig.loads
    assert drops_of(study).of(heater) is None
    assert drawn_in(study, heater, alone(study, heater)).current_a == pytest.approx(10.0, rel=1e-4)
    unread = study_from(HEATER.replace("120 W", "? W"))
    (heater,) = unread.rig.loads
    assert not isinstance(drawn_in(unread, heater, alone(unread, heater)).current_a, float)
    assert flows_of(unread).demand("B1+/M1+").unknown == ("M1",)


CROWD = """rig "Crowd" system 12 V, rules rv
battery B1 flooded, 100 Ah
battery B2 flooded, 100 Ah
fuse F1 40 A on B1+
panel P1 6 slots of 20 A
busbar N1 100 A
wire F1.load to P1 8 AWG red 6 ft
wire B2+ to P1 8 AWG red 9 ft
wire B1- to N1 8 AWG white 4 ft
wire B2- to N1 8 AWG white 9 ft
circuit P1.1 "Lamps" fuse 10 A
    wire 14 AWG yellow 10 ft
"""


def test_what_loads_on_one_wire_could_take_is_looked_for_once(monkeypatch):
    """A crowd that pulls the volts to collapse is told load by load; alone they are alike."""
    study = study_from(CROWD + '    load "Lamps" 20 W\n' * 60)
    asked = []
    look_for = draws._most_taken_w
    monkeypatch.setattr(draws, "_most_taken_w", lambda *a: asked.append(a) or look_for(*a))
    found = [draws.most_alone_w(study, load, 80.0) for load in study.rig.loads]
    assert len(found) == 60
    assert len(asked) == 1
    # Of another limit it is another question, and each load by itself gives the same.
    way = homes_of(study)[study.rig.loads[-1].about.name]
    assert found[-1] == look_for(study, study.rig.loads[-1], way, 80.0)
    draws.most_alone_w(study, study.rig.loads[0], 40.0)
    assert len(asked) == 2
