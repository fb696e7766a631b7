"""Demand against sums made by hand."""

import math

import pytest

from helpers.studies import numbered_study
from rigfolio.demand.flows import flows_of


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


RIG = """rig "Demand"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
fuse F1 50 A on B1+
charger C1 45 A
solar U1 20 A
alternator A1 30 A
panel P1 6 slots of 20 A
busbar D1 200 A
busbar N1 200 A
wire F1.load to D1 4 AWG red 1 ft
wire D1 to P1 6 AWG red 1 ft, fuse 60 A at D1
wire C1+ to D1 6 AWG red 1 ft, fuse 50 A at D1
wire U1+ to D1 8 AWG red 1 ft, fuse 30 A at D1
wire A1+ to D1 8 AWG red 1 ft, fuse 40 A at D1
wire C1- to N1 6 AWG white 1 ft
wire U1- to N1 8 AWG white 1 ft
wire A1- to N1 8 AWG white 1 ft
wire N1 to B1- 4 AWG white 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 14 AWG blue 1 ft
    load "Lamps" 24 W
circuit P1.2 "Fridge" fuse 10 A
    wire 14 AWG blue 1 ft
    load "Fridge" 5 A, cyclic
circuit P1.3 "Pump" fuse 10 A
    wire 14 AWG blue 1 ft
    load "Pump" 7 A, intermittent
    load "Its lamp" 1 A, intermittent
circuit P1.4 "Jack" fuse 20 A
    wire 12 AWG blue 1 ft
    load "Jack" 15 A, momentary
circuit P1.5 "Heater" fuse 15 A
    wire 14 AWG blue 1 ft
    load "Pad" 1.2 ohm, intermittent
"""


# Ohm per 1000 ft at 75 °C, uncoated stranded copper: NFPA 70-2023 chapter 9 table 8 (seen).
LAMP_OHM = 2 * 1.0 * 3.14e-3
TRUNK_OHM = (1.0 * 0.308 + 1.0 * 0.491 + 1.0 * 0.308) * 1e-3


def lamps_and_pad(beside_a):
    """What 24 W and what 1.2 ohm draw at the bar while the trunk carries so much [A].

    U = 12 V less what 3 ft of 4 and 6 AWG take; each has 2 ft of 14 AWG of its own besides. A trunk
    of 30 °C instead of 75 °C makes a difference of 1 mA.
    """
    bar_v = 12.0 - TRUNK_OHM * beside_a
    lamps_v = (bar_v + math.sqrt(bar_v**2 - 4.0 * 24.0 * LAMP_OHM)) / 2.0
    return 24.0 / lamps_v, bar_v / (1.2 + LAMP_OHM)


def test_a_panel_counts_lasting_loads_and_the_largest_occasional_one(study_of):
    # 24 W / 12 V + 5 A = 7 A that last; of 7, 1, 15 and 12 V / 1.2 ohm = 10 A the largest, 15 A,
    # is more than a tenth of their 33 A. Copper takes 36 mV of the lamps and 83 mV of the pad.
    lamps_a, pad_a = lamps_and_pad(22.0)
    demand = flows_of(study_of(RIG)).demand("W2 fuse")
    assert demand.loads_a == pytest.approx(lamps_a + 5.0 + 15.0, abs=1e-3)
    assert demand.steady_a == pytest.approx(lamps_a + 5.0, abs=1e-3)
    assert demand.connected_a == pytest.approx(lamps_a + 5.0 + 23.0 + pad_a, abs=1e-2)
    assert lamps_a == pytest.approx(2.006, abs=1e-3)


def test_a_tenth_of_many_occasional_loads_counts_where_it_is_more(study_of):
    circuits = "".join(
        f'circuit P1.{n} "Jack" fuse 20 A\n    wire 12 AWG blue 1 ft\n    load 10 A, momentary\n'
        for n in range(1, 13)
    )
    study = study_of(f"""rig "Many"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 12 slots of 20 A
busbar N1
wire B1+ to P1 4 AWG red 1 ft, fuse 60 A at B1+
wire N1 to B1- 4 AWG white 1 ft
{circuits}""")
    # 10 percent of 12 x 10 A.
    assert flows_of(study).demand("W1 fuse").current_a == pytest.approx(12.0)


def test_one_circuit_counts_in_full(study_of):
    assert flows_of(study_of(RIG)).demand("P1.3").current_a == pytest.approx(8.0)


def test_chargers_add_up_where_they_can_run_together(study_of):
    flows = flows_of(study_of(RIG))
    # Sun and shore: 20 + 45; sun and engine: 20 + 30.
    assert flows.demand("F1").charge_a == pytest.approx(65.0)
    assert flows.demand("F1").current_a == pytest.approx(65.0)
    assert flows.demand("W3 fuse").charge_a == pytest.approx(45.0)
    assert flows.demand("W2 fuse").charge_a == 0.0


def test_a_return_carries_what_its_loads_draw(study_of):
    lamps_a, _ = lamps_and_pad(22.0)
    assert flows_of(study_of(RIG)).demand("W9").loads_a == pytest.approx(lamps_a + 20.0, abs=1e-3)


def test_a_source_with_a_limit_gives_no_more(study_of):
    # The charger's own wire carries 22 A of loads at most 45 A, the solar one at most 20 A.
    flows = flows_of(study_of(RIG))
    assert flows.demand("W4").loads_a == pytest.approx(20.0)


def test_unknown_draws_are_named(study_of):
    flows = flows_of(study_of(RIG.replace('load "Jack" 15 A', 'load "Jack" ?')))
    demand = flows.demand("W2 fuse")
    assert demand.unknown == ("Jack",)
    lamps_a, pad_a = lamps_and_pad(17.0)
    assert demand.loads_a == pytest.approx(lamps_a + 5.0 + pad_a, abs=1e-2)
    assert lamps_a + 5.0 + pad_a == pytest.approx(16.94, abs=0.01)


def test_pins_of_a_plug_are_counted_apart(study_of):
    study = study_of("""rig "Plug"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
connector J1 4 pins
load M1 6 A
load M2 4 A
wire B1+ to J1.1.line 12 AWG red 1 ft, fuse 15 A at B1+
wire B1+ to J1.2.line 12 AWG red 1 ft, fuse 15 A at B1+
wire J1.1.load to M1+ 12 AWG red 1 ft
wire J1.2.load to M2+ 12 AWG red 1 ft
wire M1- to J1.3.load 12 AWG white 1 ft
wire M2- to J1.3.load 12 AWG white 1 ft
wire J1.3.line to B1- 12 AWG white 1 ft
""")
    assert flows_of(study).demand("J1.1.line").current_a == pytest.approx(6.0)
    assert flows_of(study).demand("J1.2.line").current_a == pytest.approx(4.0)
    assert flows_of(study).demand("J1").current_a == pytest.approx(10.0)


SUN = """rig "Sun"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah
busbar D1 100 A
busbar N1 100 A
solar U1 {gives} A
load M1 "Heater" 25 A
wire B1+ to D1 8 AWG red 2 ft, fuse 50 A at B1+, tag W1
wire B1- to N1 8 AWG black 2 ft, tag W2
wire D1 to M1+ 10 AWG red 2 ft, fuse 30 A at D1, tag W3
wire M1- to N1 10 AWG black 2 ft, tag W4
wire U1+ to D1 14 AWG red 3 ft, fuse 15 A at D1, tag W5
wire U1- to N1 14 AWG black 3 ft, tag W6
"""


def test_what_nobody_has_read_is_no_current_and_not_nothing(study_of):
    flows = flows_of(study_of(SUN.format(gives="?")))
    for edge in ("W5", "W5 fuse", "W6"):
        demand = flows.demand(edge)
        assert (demand.current_a, demand.unknown) == (0.0, ("U1",))
    # The battery gives all of it: no more than that runs there, whatever the sun adds.
    for edge in ("W1", "W3", "W4"):
        demand = flows.demand(edge)
        assert (demand.current_a, demand.unknown) == (25.0, ())
    assert flows_of(study_of(SUN.format(gives="10"))).demand("W5").current_a == 10.0


def test_a_source_that_stands_alone_is_asked_for_all(study_of):
    alone = "\n".join(line for line in SUN.format(gives="?").split("\n") if "B1" not in line)
    assert flows_of(study_of(alone)).demand("W3").current_a == 25.0


TOW = """rig "Tow"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
vehicle V1 "Truck"
connector J1 2 pins of 60 A
busbar N1 100 A
load M1 "Heater" 45 A
load M2 "Box" 1 A
load M3 "Lamp" 2 A
wire V1+ to J1.1 8 AWG red 9 ft, breaker 30 A at V1+, tag W1
wire V1- to J1.2 8 AWG black 9 ft, tag W2
wire J1.1 to B1+ 8 AWG red 9 ft{at_bank}, tag W3
wire J1.2 to N1 8 AWG black 3 ft, tag W4
wire B1- to N1 8 AWG black 3 ft, tag W5
wire B1+ to M1+ 6 AWG red 3 ft, fuse 60 A at B1+
wire M1- to N1 6 AWG black 3 ft
wire J1.1.load to M2+ 14 AWG red 3 ft, fuse 3 A
wire M2- to N1 14 AWG black 3 ft
wire J1.1.load to M3+ 14 AWG red 3 ft, fuse 3 A
wire M3- to N1 14 AWG black 3 ft
"""


@pytest.mark.parametrize("at_bank", ["", ", fuse 30 A at B1+", ", fuse 40 A at B1+"])
def test_a_tow_vehicle_gives_no_more_than_the_least_of_the_fuses_in_its_line(study_of, at_bank):
    """Also to loads that join behind one of them: 30 A is all that the breaker at it lets pass."""
    flows = flows_of(study_of(TOW.format(at_bank=at_bank)))
    for edge in ("W1", "W1 breaker", "W2", "J1.1.line"):
        assert flows.demand(edge).current_a == pytest.approx(30.0), edge


def test_behind_a_smaller_fuse_at_the_bank_it_gives_that_and_what_hangs_before_it(study_of):
    flows = flows_of(study_of(TOW.format(at_bank=", fuse 20 A at B1+")))
    assert flows.demand("W1").current_a == pytest.approx(20.0 + 1.0 + 2.0)
