"""A charger's own line is fused for what the charger gives: its maker's choice, no load's hours.

Source: a charger gives no more than it is rated for (common practice).
"""

import re

import pytest

from helpers.studies import study_from
from rigfolio.demand import flows_of, told_hours_a
from rigfolio.judgement.result import check
from rigfolio.sizing import NO_DROP_LIMIT, FuseSize, sizes, unlimited_words
from rigfolio.study import Study

RIG = """rig "Bench"
    system 12 V
    rules boat
battery B1 agm, 100 Ah, internal 4 mohm
battery B2 agm, 90 Ah, internal 6 mohm
charger C1 30 A, two outputs
load L1 "Fridge" 28 A{hours}
wire B1+ to L1+ 6 AWG red 3 ft, fuse {load} A at B1+, tag T9
wire L1- to B1- 6 AWG black 3 ft
wire C1.1 to B1+ 8 AWG red 5 ft, fuse {fuse} at B1+, tag T1
wire C1.2 to B2+ 8 AWG red 5 ft, fuse {fuse} at B2+, tag T2
wire C1- to B1- 8 AWG black 5 ft
wire B2- to B1- 8 AWG black 2 ft
"""


def _fuse(study: Study, name: str) -> FuseSize:
    return next(fuse for one in sizes(study) for fuse in one.fuses if fuse.name == name)


@pytest.mark.parametrize("hours", ["", ", continuous, 20 h/day"])
@pytest.mark.parametrize(("fuse", "fit_a"), [("25 A", 30.0), ("?", 30.0), ("30 A", 30.0)])
def test_the_line_of_a_charger_is_fused_for_what_it_gives(
    hours: str, fuse: str, fit_a: float
) -> None:
    study = study_from(RIG.format(hours=hours, fuse=fuse, load=40))
    assert [_fuse(study, f"{name} fuse").fit_a for name in ("T1", "T2")] == [fit_a, fit_a]
    assert flows_of(study).is_charging_line("T1 fuse")
    assert told_hours_a(study, "T1 fuse") == 0.0


def test_the_line_of_a_load_beside_it_is_not() -> None:
    # 28 A for hours are 80 % of 35 A.
    study = study_from(RIG.format(hours=", continuous, 20 h/day", fuse="30 A", load=20))
    assert not flows_of(study).is_charging_line("T9 fuse")
    assert told_hours_a(study, "T9 fuse") == 28.0
    assert _fuse(study, "T9 fuse").fit_a == 35.0


def test_no_book_limits_what_the_leads_of_a_charger_lose_and_that_is_said():
    """The least of them is no more than what bears the current: what that loses stands beside it.

    1.5 mm² at 20 degC has 12.1 ohm a km (IEC 60228 class 1, from memory): 2 m lose 0.6 V at 25 A,
    and more when they are hot.
    """
    text = (
        'rig "Creek"\n    system 12 V\n    rules boat\n'
        "    ambient 30 degC\n    insulation 90 degC\n"
        "battery B1 agm, 100 Ah, internal 5 mohm\n"
        "charger C1 25 A, 14.4 V\nbusbar N1 100 A\n"
        "wire W1 C1+ to B1+ 6 mm2 red 2 m, fuse 30 A at B1+\n"
        "wire W2 C1- to N1 6 mm2 black 2 m\nwire W3 N1 to B1- 25 mm2 black 1 m\n"
        'circuit B1+ "Lamp" fuse 5 A after 10 cm\n    wire 2.5 mm2 red 2 m\n    load "Lamp" 2 A\n'
    )
    study = check("made.rig", text=text).study
    assert study is not None
    wires = {wire.name: wire for one in sizes(study) for wire in one.wires}
    out, back = (next(w for name, w in wires.items() if name.startswith(n)) for n in ("W1", "W2"))
    assert (out.decisive, back.decisive) == (NO_DROP_LIMIT, NO_DROP_LIMIT)
    assert wires["W3"].decisive != NO_DROP_LIMIT
    (words,) = unlimited_words(study, sizes(study))
    lost_v = [float(volts) for volts in re.findall(r"` ([\d.]+) V", words)]
    assert len(lost_v) == 2
    assert all(0.6 < each < 1.0 for each in lost_v)
    # check says as little of a limit that there is not.
    thin = check("made.rig", text=text.replace("6 mm2", "1.5 mm2"))
    assert not [one for one in thin.findings if "drop" in one.rule]
