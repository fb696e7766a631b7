"""An engine that is cranked for seconds adds to no demand, and to no drop but its own.

Source: lamps dim while an engine is cranked, and nobody sizes their wires for it (common practice);
"conductors of the cranking motor need no device and are not sized by Table 5" (33 CFR 183.425,
as the boat's book has it).
"""

from pathlib import Path

import pytest

from corpus.cases import RIGS
from helpers.studies import study_from
from rigfolio.demand import demand_by_level, drops_of, flows_of, sags_of
from rigfolio.network import edge_name
from rigfolio.sizing import sizes
from rigfolio.study import Study

EXAMPLES = [Path("examples/kittiwake-30.rig"), Path("examples/marsh-wren-17.rig")]

BOAT = """rig "Bench"
    system 12 V
    rules boat
battery B1 "Start" flooded, 90 Ah
battery B2 "House" agm, 100 Ah, internal 4 mohm
battery B3 "House" agm, 100 Ah, internal 4 mohm
selector S2 100 A
busbar N2 100 A
busbar N1 100 A
load L1 "Windlass" 80 A, motor, intermittent
wire W1 B1+ to S2.1 1/0 AWG red 3 ft, cranking
wire W2 B2+ to N2 2 AWG red 2 ft
wire W3 B3+ to N2 2 AWG red 6 ft
wire W4 N2 to S2.2 1/0 AWG red 3 ft, cranking
wire W7 B1- to N1 1/0 AWG black 3 ft, cranking
wire W8 B2- to N1 2 AWG black 2 ft
wire W9 B3- to N1 2 AWG black 6 ft
wire W10 S2 to P1 6 AWG red 6 ft, fuse 60 A at S2
wire W12 P1- to N1 6 AWG black 6 ft
wire W15 N2 to L1+ 2 AWG red 4 ft, fuse 100 A at N2
wire W17 L1- to N1 2 AWG black 4 ft
panel P1 4 slots of 20 A
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 12 ft
    load 40 W, filament, critical
"""
STARTER = """
load M99 "Starter" 300 A, motor, momentary
wire W98 {0} to M99+ 1/0 AWG red 8 ft, cranking
wire W99 M99- to {1} 1/0 AWG black 6 ft, cranking
"""


def _started(text: str) -> str:
    """A rig with a starter behind its selector, or at its battery where it has none."""
    rig = study_from(text).rig
    bank = next(one for one in rig.sources if one.stores)
    common = [one.load for one in rig.devices if one.kind == "selector"]
    return text + STARTER.format((*common, bank.plus)[0], bank.minus)


def _told(study: Study, *, of: Study) -> list[object]:
    """All that is counted on the parts of a rig, and lost by its loads."""
    flows, rig = flows_of(study), of.rig
    names = [edge_name(one) for one in (*rig.conductors, *rig.devices)]
    loads = [one for one in study.rig.loads if one.about.name != "M99"]
    drops = [drop.volts if (drop := drops_of(study).of(one)) else None for one in loads]
    feeders = [drop.volts if (drop := drops_of(study).feeder(one)) else None for one in rig.panels]
    demands = [flows.demand(name) for name in names]
    return [*demands, *drops, *feeders, *demand_by_level(study)]


@pytest.mark.parametrize("file", [*RIGS, *EXAMPLES], ids=lambda file: file.stem)
def test_a_starter_adds_nothing_to_what_is_there(file: Path) -> None:
    plain = study_from(file.read_text(encoding="utf-8"))
    study = study_from(_started(file.read_text(encoding="utf-8")))
    assert flows_of(study).ways["M99"]
    assert _told(study, of=plain) == _told(plain, of=plain)


def test_nothing_is_sized_for_a_start() -> None:
    plain = study_from(BOAT)
    study = study_from(_started(BOAT))
    assert "S2.common" in study.net.walk(["M99+"])
    assert _told(study, of=plain) == _told(plain, of=plain)
    kept, found = ({one.place: one.wires for one in sizes(each)} for each in (plain, study))
    assert {place: found[place] for place in kept} == kept


def test_a_windlass_is_no_starter() -> None:
    # It is hauled with for minutes: its 80 A count on every wire between the banks and its motor.
    study = study_from(BOAT)
    without = study_from(BOAT.replace("80 A, motor, intermittent", "0.1 A, motor, intermittent"))
    assert flows_of(study).demand("W15").current_a == pytest.approx(80.0)
    assert flows_of(study).demand("W2").current_a > flows_of(without).demand("W2").current_a + 40.0


@pytest.mark.parametrize("thin", ["1/0 AWG red 8 ft", "8 AWG red 8 ft"])
def test_a_starter_loses_volts_of_its_own(thin: str) -> None:
    # 1/0 AWG: 0.0983 mohm/ft at 20 °C (NEC ch. 9 table 8: 0.122 ohm/kft at 75 °C), 8 AWG 0.778.
    text = BOAT + STARTER.format("B1+", "B1-").replace("1/0 AWG red 8 ft", thin)
    study = study_from(text)
    drop = drops_of(study).of(study.rig.by_name.loads["M99"])
    ohm = {"1": 0.122e-3, "8": 0.778e-3}[thin[0]]
    assert drop is not None
    assert drop.volts == pytest.approx(300.0 * (8 * ohm + 6 * 0.122e-3), rel=0.2)
    assert any(sag.load.about.name == "M99" for sag in sags_of(study)) is (thin[0] == "8")
