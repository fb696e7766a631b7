"""A load behind several switches of which any feeds it is judged by the worst of them."""

import pytest

from helpers.studies import study_from
from rigfolio.demand import drops_of, flows_of
from rigfolio.isolation import must_stay_on
from rigfolio.isolation.plans import kept_words

PUMP = """rig "Pump" system 12 V, rules boat
battery B2 agm, 200 Ah, internal 3 mohm
busbar N1 100 A
wire B2- to N1 35 mm2 black 1 m
splice Z3
splice Z4
{}load L1 "Bilge pump" 5 A, motor, intermittent, always on
wire B2+ to Z3 tag W45 2.5 mm2 brown 6 m, fuse 10 A at B2+
{}wire Z4 to L1+ 2.5 mm2 brown 0.5 m
wire L1- to N1 2.5 mm2 black 7 m
"""
FLOAT = """wire Z3 to SW3.line 2.5 mm2 brown 0.5 m
wire SW3.load to Z4 2.5 mm2 brown 0.5 m
"""
HELM = """wire Z3 to SW4.line tag W47 2.5 mm2 blue {0} m
wire SW4.load to Z4 2.5 mm2 blue {0} m
"""
SWITCHES = {"SW3": FLOAT, "SW4": HELM.format(8)}


def _study(*names: str, more: str = "", wires: dict[str, str] = SWITCHES):
    switches = "".join(f"switch {name} 10 A, rests open\n" for name in names)
    return study_from(PUMP.format(switches, "".join(wires[name] for name in names) + more))


def _drop_v(study) -> float:
    drop = drops_of(study).of(study.rig.by_name.loads["L1"])
    assert drop is not None
    return drop.volts


@pytest.mark.parametrize("helm_m", [0.1, 0.5, 8.0])
def test_the_drop_is_that_of_the_longest_switch_alone(helm_m):
    wires = SWITCHES | {"SW4": HELM.format(helm_m)}
    both = _drop_v(_study("SW3", "SW4", wires=wires))
    each = [_drop_v(_study(name, wires=wires)) for name in ("SW3", "SW4")]
    assert both == pytest.approx(max(each), rel=1e-6)


def test_by_hand():
    # 29.5 m of 2.5 mm2 out and back by the helm switch, 1 m of 35 mm2, 5 A. Copper of 17.241 nohm m
    # at 20 C (IEC 60028), 0.00393 a kelvin; at the ends of 20 C and 105 C what 5 A lose.
    cold_v = 5.0 * 17.241e-9 * (29.5 / 2.5e-6 + 1.0 / 35e-6)
    lost_v = _drop_v(_study("SW3", "SW4"))
    assert cold_v < lost_v < cold_v * (1.0 + 0.00393 * 85.0)


def test_one_that_rests_open_beside_a_wire_takes_nothing_off_the_drop():
    beside = "wire Z3 to Z4 tag W60 2.5 mm2 green 12 m\n"
    without = _study(more=beside)
    assert _drop_v(_study("SW3", more=beside)) == pytest.approx(_drop_v(without), rel=1e-6)


def test_every_switch_carries_all_of_the_load():
    study = _study("SW3", "SW4")
    for name in ("SW3", "SW4", "W47"):
        assert flows_of(study).most([name]).current_a == pytest.approx(5.0, rel=0.1)


def test_what_must_stay_on_waits_for_any_of_them():
    (both,) = must_stay_on(_study("SW3", "SW4"))
    assert kept_words(both).endswith("has a source in every state, once SW3 or SW4 closes")
    in_line = "wire SW3.load to SW4.line 2.5 mm2 blue 1 m\n"
    row = {"SW3": "wire Z3 to SW3.line 2.5 mm2 blue 1 m\n",
           "SW4": in_line + "wire SW4.load to Z4 2.5 mm2 blue 1 m\n"}  # fmt: skip
    (one,) = must_stay_on(_study("SW3", "SW4", wires=row))
    assert kept_words(one).endswith("once SW3 and SW4 close")
