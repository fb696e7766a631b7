"""What banks stand at with nothing on, against charts of volts by charge."""

import pytest

from helpers.home import TESTS
from helpers.studies import heard, studied, study_from
from rigfolio.diagnosis.posterior import diagnose
from rigfolio.isolation import Open, opened, states_of
from rigfolio.operating import Scene, probed
from rigfolio.operating.readings.bounds import LiveBounds
from rigfolio.operating.rest_volts import bank_at_rest
from rigfolio.reading.logs.meter import read_log

_TEXT = """rig "Case"
    system {system} V
    rules rv
battery B1 {bank}, 100 Ah, internal 5 mohm
fuse F1 30 A class-t on B1+
load M1 "Lamp" 2 A
wire F1.load to M1+ 10 AWG red 4 ft
wire M1- to B1- 10 AWG white 4 ft
"""


@pytest.mark.parametrize("said", ["lithium", "lithium, 12 V", "lithium, 12.8 V", "lithium, 13.3 V"])
def test_lithium_has_the_volts_of_its_cells_whatever_the_text_leaves_out(said):
    (bank,) = study_from(_TEXT.format(system=12, bank=said)).rig.sources
    share, spread = bank_at_rest(bank)
    # Two public charts, a cell at rest: 3.25 V at a quarter, 3.35 V at nine tenths (memory).
    assert bank.voltage_v * (share - spread) == pytest.approx(4 * 3.235, abs=0.05)
    assert bank.voltage_v * (share + spread) == pytest.approx(4 * 3.36, abs=0.05)


@pytest.mark.parametrize(
    ("said", "cells"),
    # 3.2 V a cell by name; 6 V are read as two of them, as 12 V are as four (common practice).
    [("3.2 V", 1), ("6 V", 2), ("6.4 V", 2), ("9.6 V", 3), ("12 V", 4), ("36 V", 12), ("48 V", 16)],
)
def test_a_lithium_bank_stands_at_what_its_cells_do(said, cells):
    (bank,) = study_from(_TEXT.format(system=12, bank=f"lithium, {said}")).rig.sources
    share, spread = bank_at_rest(bank)
    # A cell at rest: 3.25 V at a quarter, 3.35 V at nine tenths (memory).
    assert bank.voltage_v * (share - spread) == pytest.approx(cells * 3.235, rel=0.005)
    assert bank.voltage_v * (share + spread) == pytest.approx(cells * 3.36, rel=0.005)


@pytest.mark.parametrize(
    ("said", "cells"),
    [("lithium, 12.8 V", 4), ("lithium, 25.6 V", 8), ("lithium, 6.4 V", 2), ("lithium, 12 V", 4)],
)
def test_a_lithium_bank_under_charge_stands_between_its_rest_and_what_is_held(said, cells):
    more = (
        "charger C1 20 A\nwire C1+ to F1.load 10 AWG red 1 ft\nwire C1- to B1- 10 AWG black 1 ft\n"
    )
    system = 24 if cells == 8 else 12
    study = study_from(_TEXT.format(system=system, bank=said) + more)
    share, spread = Scene(study, Open(), frozenset(), is_stated=True).rest_share("B1")
    volts = study.rig.by_name.sources["B1"].voltage_v
    # A cell at rest from 3.24 V on; held at 3.5 to 3.65 V (common practice), more by an alternator.
    assert volts * (share - spread) == pytest.approx(cells * 3.235, rel=0.005)
    assert cells * 3.5 < volts * (share + spread) < cells * 3.75


def test_lead_from_half_full_to_full():
    (bank,) = study_from(_TEXT.format(system=24, bank="flooded")).rig.sources
    share, spread = bank_at_rest(bank)
    # 12.10 to 12.20 V at half and 12.70 V full, for 12 V (owners' table, seen).
    assert bank.voltage_v * (share - spread) == pytest.approx(24.25, abs=0.1)
    assert bank.voltage_v * (share + spread) == pytest.approx(25.4, abs=0.1)


@pytest.mark.parametrize(
    ("bank", "volts"),
    # A state of charge of nothing: 11.9 V and less flooded, 11.75 V AGM below a quarter (seen), a
    # lithium bank under 3.15 V a cell (memory).
    [("flooded", 11.5), ("flooded", 11.9), ("agm", 11.5), ("lithium", 12.4), ("lithium", 11.9)],
)
def test_a_state_of_charge_of_nothing_is_not_nothing_wrong(bank, volts):
    study = study_from(_TEXT.format(system=12, bank=bank))
    log, problems = read_log(f"B1 = {volts} V, with all off", "readings.txt", study.rig)
    assert not problems
    found = diagnose(study, log.readings).verdicts[0]
    assert found.share > 0.5
    assert [(fault.kind, fault.name) for fault in found.faults] == [("flat", "B1")]


@pytest.mark.parametrize(("bank", "volts"), [("flooded", 12.4), ("agm", 12.7), ("lithium", 13.2)])
def test_a_bank_in_its_window_is_left_alone(bank, volts):
    study = study_from(_TEXT.format(system=12, bank=bank))
    log, _ = read_log(f"B1 = {volts} V, with all off", "readings.txt", study.rig)
    flat = [
        one.share
        for one in diagnose(study, log.readings).verdicts
        if ("flat", "B1") in {(fault.kind, fault.name) for fault in one.faults}
    ]
    assert sum(flat) < 0.1


@pytest.mark.parametrize(
    ("line", "least_v", "most_v"),
    [
        ("charger C1 20 A", 13.0, 14.4),
        ("charger C1 20 A, 12 V", 13.0, 14.4),
        ("charger C1 20 A, 14.4 V", 13.8, 15.0),
        ("charger C1 20 A, 13.6 V", 13.0, 14.2),
        # On a bank of 24 V: wrong, and still no more than what is stated.
        ("charger C1 20 A, 28.8 V", 27.6, 30.0),
    ],
)
def test_what_charges_stands_at_its_stated_volts_or_above_those_of_its_bank(line, least_v, most_v):
    more = f"{line}\nwire C1+ to F1.load 10 AWG red 1 ft\nwire C1- to B1- 10 AWG black 1 ft\n"
    study = study_from(_TEXT.format(system=12, bank="agm") + more)
    share, spread = Scene(study, Open(), frozenset(), is_stated=True).rest_share("C1")
    volts = study.rig.by_name.sources["C1"].voltage_v
    # Float and absorption of 12 V lead-acid, 13.2 to 14.4 V (common practice); a stated set point
    # within four in a hundred (common practice).
    assert least_v <= volts * (share - spread) < volts * (share + spread) <= most_v


_CHARGED = """rig "Case"
    system 12 V
    rules boat
battery B1 {bank}, 100 Ah, internal 5 mohm
alternator A1 70 A{held}
busbar N1 200 A
load M1 "Lamp" 2 A
wire A1+ to B1+ 16 mm2 red 1 m, fuse 100 A at B1+
wire A1- to N1 16 mm2 black 1 m
wire B1- to N1 35 mm2 black 1 m
wire B1+ to M1+ 2.5 mm2 red 1 m, fuse 5 A at B1+
wire M1- to N1 2.5 mm2 black 1 m
state engine A1 on
"""


@pytest.mark.parametrize("bank", ["flooded", "agm", "lithium, 12.8 V"])
@pytest.mark.parametrize(
    # What is held at full charge by the text, or by most alternators (common practice).
    ("held", "most_v"),
    [(", 14.4 V", 14.4), (", 14.2 V", 14.2), ("", 14.0), (", 14.8 V", 14.6)],
)
def test_a_sound_battery_under_charge_is_none_from_its_rest_to_what_is_held(bank, held, most_v):
    study = study_from(_CHARGED.format(bank=bank, held=held))
    # By hand: 70 A into 5 mohm lift it by 0.35 V above its volts at rest. So low it may be one that
    # is not charged; from 13.3 V on nothing is wrong with it.
    low_v = 13.35 if bank.startswith("lithium") else 12.6
    for part in range(8):
        volts = low_v + part / 7 * (most_v - low_v)
        readings = heard(study.rig, f"B1 = {volts:.2f} V, in engine")
        found = diagnose(study, readings)
        (scene,) = found.evidence.scenes
        point = probed(scene, readings[0], "B1+", "B1-")
        assert point is not None
        assert point.low <= volts <= point.high
        sound = sum(one.share for one in found.verdicts if not one.touches)
        assert volts < max(13.3, low_v + 0.25) or sound > 0.5, f"{volts:.2f} V"


@pytest.mark.parametrize("name", ["skiff", "food-truck", "overland-truck", "field-workshop"])
def test_no_place_of_a_sound_rig_has_more_volts_than_what_feeds_it_states(name):
    study = studied(TESTS / f"corpus/{name}.rig")
    rig, net = study.rig, study.net
    for state in states_of(study):
        scene = Scene(study, opened(rig, state), frozenset(), is_stated=True)
        shown = scene.solve()
        for name in scene.sources:
            source = rig.by_name.sources[name]
            joined = net.walk([source.plus], scene.opened.bars)
            feeding = [s for s in rig.sources if s.plus in joined and s.about.name in scene.sources]
            # 12 V by name are charged at 14.4 V, 12.8 V at 14.6 V (common practice).
            most_v = max(max(one.voltage_v, _charged_v(one)) for one in feeding)
            assert shown.between_v(source.plus, source.minus) <= most_v + 1e-6


def test_of_a_supply_without_a_battery_what_it_states_is_expected() -> None:
    study = study_from("""rig "Bench"
    system 12 V
    rules rv
charger C1 45 A, 13.6 V
load M1 2 A
wire C1+ to M1+ 6 AWG red 3 ft
wire M1- to C1- 6 AWG black 3 ft
""")
    low_v, high_v = LiveBounds(study).bounds(frozenset(), "C1+").volts("C1+", "C1-")
    assert 12.9 < low_v < 13.6 < high_v < 14.3


def _charged_v(source):
    """What is written as volts of a system or of a bank means no more than this while charged."""
    blocks = round(source.voltage_v / 12.0)
    return 14.6 * blocks if 12.0 * blocks <= source.voltage_v <= 12.8 * blocks else 0.0
