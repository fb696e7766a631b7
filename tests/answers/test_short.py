"""What a short does, in words: currents by hand, what opens, what is said where nothing does."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.answers.short import short_report
from rigfolio.judgement.result import understood
from rigfolio.refusal import RefusalError
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
from rigfolio.shorts import Faults
from rigfolio.study import Study

TEXT = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 50 A class-t on B1+
panel P1 2 slots of 20 A
busbar N1 100 A
wire F1.load to P1 6 AWG red 10 ft
wire N1 to B1- 6 AWG black 10 ft
circuit P1.1 "Lamp" fuse 5 A, always on
    wire 16 AWG red 20 ft
    load "Lamp" 1 A
circuit P1.2 "Radio" fuse 5 A
    wire 16 AWG blue 5 ft
    load "Radio" 1 A
wire B1+ to M1+ 6 AWG red 2 ft
load M1 "Winch" 20 A, momentary
wire M1- to B1- 6 AWG black 2 ft
"""


@cache
def study(text: str = TEXT) -> Study:
    result = understood("bench.rig", text=text)
    assert result.study is not None
    return result.study


def told(name: str) -> str:
    return " ".join(as_text(short_report(study(), name)).split())


def faults(one: Study, name: str) -> list[dict[str, Any]]:
    """What a program reads."""
    read: list[dict[str, Any]] = json.loads(as_json(short_report(one, name)))["faults"]
    return read


def test_the_current_at_the_panel_by_hand() -> None:
    # 12.73 V full; 20 ft of 6 AWG at 20 degC and below: 0.395 mohm/ft by 13.3 mm2 and
    # 1.7241e-8 ohm m (ASTM B258 area, IACS copper, from memory): 7.9 mohm; with 10 mohm inside.
    (fault,) = faults(study(), "P1")
    copper_ohm = 1.7241e-8 * 20 * 0.3048 / 13.30e-6
    assert fault["coldest"]["current_a"] == pytest.approx(12.73 / (0.010 + copper_ohm), rel=0.08)
    assert fault["coldest"]["opens"] == "F1"


def test_a_short_at_a_lamp_opens_its_own_fuse_and_takes_no_other_with_it() -> None:
    words = told("Lamp")
    assert "Opens first: P1.1, 5 A tan" in words
    assert "MUST STAY ON: Lamp" in words
    assert "Radio" not in words
    assert "within 100 ms" in words
    assert "(memory)" in words


def test_both_ends_of_a_circuit_are_told() -> None:
    assert told("P1.1").count("Flows:") == 2


def test_a_short_at_the_panel_takes_everything_on_it() -> None:
    words = told("P1")
    assert "MUST STAY ON: Lamp" in words
    assert "Radio" in words


def test_where_nothing_opens_that_is_said_first() -> None:
    words = told("Winch")
    assert "NOTHING OPENS" in words
    assert "never by itself" in words


def test_the_minus_side_drives_nothing() -> None:
    assert "lies on the minus side" in told("N1")


def test_a_name_that_nothing_has() -> None:
    with pytest.raises(RefusalError, match="nothing is called `P7`"):
        short_report(study(), "P7")


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_part_of_the_examples_can_be_asked(file: Path) -> None:
    one = checked(file).study
    assert one is not None
    names = [panel.about.name for panel in one.rig.panels]
    names += [circuit.place for circuit in one.rig.circuits]
    names += [source.about.name for source in one.rig.sources]
    names += [wire.name for wire in one.rig.conductors][:10]
    assert names
    for name in names:
        text = as_text(short_report(one, name))
        assert text.startswith(f"What a dead short does at {name}")
        assert "local code and licensed practice" in " ".join(text.split())
        for fault in faults(one, name):
            hot, cold = fault["hottest"]["current_a"], fault["coldest"]["at_most_a"]
            assert hot is None or hot <= cold * (1.0 + 1e-9)


@pytest.mark.parametrize("meant", ["16 AWG", "? AWG"])
def test_a_wire_that_was_found_thinner_is_reckoned_until_another_is_pulled(meant: str) -> None:
    """Copper of 22 AWG has four times the ohms of 16 AWG, out and back: less flows."""
    wire = "wire 16 AWG blue 5 ft"
    beside = study(TEXT.replace(wire, f"wire {meant} blue 5 ft, found 22 AWG"))
    alone = study(TEXT.replace(wire, "wire 22 AWG blue 5 ft"))
    assert faults(beside, "P1.2") == faults(alone, "P1.2")
    text = " ".join(as_text(short_report(beside, "P1.2")).split())
    assert "Reckoned with what was found, until another one is pulled: 22 AWG in place of" in text
    assert "Reckoned" not in told("P1.2")
    assert faults(beside, "P1.2") != faults(study(), "P1.2")


BESIDE = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 flooded{battery}
fuse F1 50 A class-t on B1+
breaker K1 30 A
panel P1 2 slots of 20 A, negative N1
busbar N1 100 A
wire F1.load to K1.line 6 AWG red {length}
wire K1.load to P1 6 AWG red {length}
wire N1 to B1- 6 AWG black {length}
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 20 ft
    load "Lamp" 1 A
"""


def bench(battery: str = ", 100 Ah", length: str = "2 ft") -> Study:
    return study(BESIDE.format(battery=battery, length=length))


@pytest.mark.parametrize("where", ["B1+", "F1"])
def test_at_a_post_nothing_known_holds_back_a_battery_that_does_not_say(where: str) -> None:
    (fault,) = faults(bench(), where)[:1]
    assert fault["coldest"]["at_most_a"] is None
    assert fault["coldest"]["sources"] == {}
    words = as_text(short_report(bench(), where))
    assert "nothing that is known holds it back" in " ".join(words.split())


@pytest.mark.parametrize("length", ["1 in", "1 ft", "10 ft", "100 ft"])
def test_copper_alone_bounds_a_short_and_no_battery_drives_more(length: str) -> None:
    """Whatever a battery has inside, the bound of one that does not say is not exceeded."""
    (fault,) = faults(bench(length=length), "P1")
    for inside in ("0.01 mohm", "1 mohm", "10 mohm"):
        (known,) = faults(bench(f", 100 Ah, internal {inside}", length), "P1")
        assert known["coldest"]["current_a"] <= fault["coldest"]["at_most_a"]
    # 13.3 mm², copper of 1.7241e-8 ohm m (IACS, from memory), 12.73 V full: the bound by hand, at
    # 20 °C and so no less than it; in the cold it has a tenth less resistance or so.
    metres = 3 * float(length.split(maxsplit=1)[0]) * (0.0254 if "in" in length else 0.3048)
    by_hand_a = 12.73 / (1.7241e-8 * metres / 13.30e-6)
    assert by_hand_a * 0.9 < fault["coldest"]["at_most_a"] < by_hand_a * 1.35


def test_the_time_of_another_fuse_is_called_that() -> None:
    """The breaker opens first and no table tells when; the fuse before it ends it at the latest."""
    words = " ".join(as_text(short_report(bench(", 100 Ah, internal 10 mohm"), "P1")).split())
    assert "Opens first: K1, 30 A breaker" in words
    assert "by `F1` if nothing opens before" in words


def test_of_a_current_that_nobody_knows_no_time_is_told() -> None:
    words = " ".join(as_text(short_report(bench(""), "P1.1")).split())
    assert "how little it may be cannot be told" in words
    assert "Ends within" not in words
    assert "times its rating" not in words


def test_what_a_fuse_may_break_is_held_against_the_short_that_is_told() -> None:
    """Through one fuse no more flows than in the whole short: a charger beside it folds back."""
    tried = 0
    for file in RIGS:
        of = checked(file).study
        assert of is not None
        for circuit in of.rig.circuits[:4]:
            for fault in faults(of, circuit.place):
                found, flows = fault["interrupt"], fault["coldest"]["current_a"]
                if found is None or found["current_a"] is None or flows is None:
                    continue
                tried += 1
                assert found["current_a"] <= flows * 1.001, (file.stem, circuit.place)
    assert tried > 0


def test_what_a_fuse_may_break_by_hand() -> None:
    # At the lamp 40 ft of 16 AWG there and back (4.02 ohm in 1000 ft at 20 degC, from memory) hold
    # back to some 70 A what is more than 500 A at the fuse itself.
    near, far = faults(study(), "P1.1")
    assert near["interrupt"]["current_a"] > 500.0
    assert far["interrupt"]["current_a"] == pytest.approx(far["coldest"]["current_a"], rel=1e-3)
    assert far["interrupt"]["current_a"] < 100.0
    assert "right behind it at most" in told("P1.1")
    assert "in this short at most" in told("P1.1")


CRANKED = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 80 Ah, cold cranking 760 A
alternator A1 120 A, 14.4 V
wire A1+ to B1+ 2 AWG red 4 ft, fuse 150 A, midi at B1+
wire A1- to B1- 2 AWG black 4 ft
"""


def test_what_a_battery_cranks_bounds_a_short_from_below_and_copper_from_above() -> None:
    (fault,) = faults(study(CRANKED), "A1+")
    # SAE J537 (memory): 760 A at 7.2 of 12.6 V are 5.4 V / 760 A = 7.11 mohm; full, 12.6 V over
    # that are 1773 A at the posts. So 12 V see 6.77 mohm, and the 4 ft of 2 AWG to the post, of
    # 33.6 mm2 (ASTM B258 area, memory), some 0.63 mohm, a third more where they are hot.
    copper_ohm = 1.7241e-8 * 4 * 0.3048 / 33.62e-6
    least_a = 12.0 / (12.0 / (760 * 12.6 / 5.4) + 1.3 * copper_ohm)
    assert fault["hottest"]["current_a"] == pytest.approx(least_a, rel=0.02)
    # Nothing of the battery bounds it from above: full AGM of 12.9 V (memory) over cold copper.
    assert fault["coldest"]["current_a"] is None
    most_a = fault["coldest"]["at_most_a"]
    assert most_a == pytest.approx(12.9 / copper_ohm, rel=0.06)
    told = " ".join(as_text(short_report(study(CRANKED), "A1+")).split())
    assert "full batteries, whatever B1 has inside;" in told
    assert "2.33 times its 760 A of cold cranking, SAE J537" in told


def test_what_limits_itself_is_left_out_beside_a_device_and_said_to_be() -> None:
    more = "charger C1 30 A\nwire C1+ to P1 8 AWG red 1 ft\nwire C1- to N1 8 AWG black 1 ft\n"
    alone, both = (
        " ".join(as_text(short_report(study(text), "P1.1")).split()) for text in (TEXT, TEXT + more)
    )
    flows = re.findall(r"right behind it (?:at most )?(\S+ A) can flow", alone)
    # The charger adds to the short and nothing to what the fuse has to break: one figure in both.
    assert flows == re.findall(r"right behind it (?:at most )?(\S+ A) can flow", both) != []
    assert "Without C1: what limits itself folds back" in both
    assert "folds back" not in alone


def test_a_time_beyond_the_last_gate_says_where_its_source_ends() -> None:
    # UL 248-1 (memory) ends at twice the rating of a class T fuse, with 240 s for 60 A and less;
    # 12.73 V over 10 mohm and 7.9 mohm of copper are 711 A: 14 times 50 A.
    far = told("P1")
    assert "Ends within 240 s;" in far
    assert "That source ends at 2 times the rating of `F1`: with more it opens no later" in far


def test_two_times_of_one_short_say_which_is_of_the_cold_and_which_of_the_hot() -> None:
    # ISO 8820-3 (memory): 0.1 s at most from 6 times on, more below. 36 ft of 20 AWG, 0.52 mm2, are
    # 0.36 ohm: 12.7 V drive 33 A, 6.6 times 5 A; hot and from 12 V it is some 24 A.
    text = TEXT.replace("16 AWG red 20 ft", "20 AWG red 18 ft")
    words = " ".join(as_text(short_report(study(text), "P1.1")).split())
    cold, hot = "with cold copper and full batteries", "with hot copper and weak batteries"
    assert re.search(rf"Ends within 100 ms {cold}, (?:within|after) [^;]* ms {hot};", words)


BANKS = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 lithium, 100 Ah, internal 4 mohm
battery B2 flooded, 100 Ah, internal 40 mohm
fuse F1 60 A mega on B1+
busbar D1 100 A
busbar N1 100 A
wire F1.load to D1 10 AWG red 10 ft
wire N1 to B1- 10 AWG black 10 ft
wire B2+ to D1 12 AWG red 4 ft, fuse 20 A at B2+
wire B2- to N1 12 AWG black 4 ft
wire D1 to M1+ 14 AWG red 60 ft, fuse 10 A at D1
load M1 "Lamp" 1 A
wire M1- to N1 14 AWG black 60 ft
"""


def test_what_one_source_gives_to_another_is_no_part_of_the_short() -> None:
    """All that is given is what flows and what goes into the other, to the last figure shown."""
    text = BANKS.replace("B2 flooded", "B2 flooded, 10 V").replace("14 AWG red 60", "20 AWG red 90")
    study = understood("x.rig", text=text).study
    assert study is not None
    told = as_text(short_report(study, "M1"))
    (flows,) = re.findall(r"Flows: ([\d.]+) A", told)
    fed = re.search(r"Fed by B1 ([\d.]+) A; ([\d.]+) A of it into B2\.", told)
    assert fed is not None, told
    assert float(fed[1]) - float(fed[2]) == pytest.approx(float(flows), abs=0.15)


def test_a_device_of_unknown_time_that_is_loaded_more_leaves_the_end_of_a_wire_open() -> None:
    """By hand: 20 ft of 10 AWG, 8 ft of 12 AWG (0.033 ohm) and 40 mohm let 12.7 V drive 175 A.

    That is 9 times the 20 A of a fuse of unknown make and 3 times the 60 A of the mega fuse in line
    with it, which may take 5 s and more (its gates); 3.3 mm2 in plastic take it for
    (115 x 3.3 / 175)^2 = 4.7 s at most (k of IEC 60364-5-54, from memory).
    """
    study = understood("x.rig", text=BANKS).study
    assert study is not None
    fault = Faults(study).at("B1+")
    assert fault is not None
    held = {one.wire.name: (one.clears_s, one.holds) for one in fault.coldest.stresses}
    clears_s, holds = held["B2+/D1"]
    assert clears_s is not None
    assert (clears_s > 4.0, holds) == (True, None)
    sure = understood("x.rig", text=BANKS.replace("fuse 20 A at B2+", "fuse 200 A at B2+")).study
    assert sure is not None
    fault = Faults(sure).at("B1+")
    assert fault is not None
    assert {one.holds for one in fault.coldest.stresses if one.wire.name == "B2+/D1"} == {False}
