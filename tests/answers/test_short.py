"""What a short does, in words: currents by hand, what opens, what is said where nothing does."""

import json
from pathlib import Path
from typing import Any

import pytest

from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.answers.short import short_report
from rigfolio.judgement.result import check
from rigfolio.refusal import RefusalError
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
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


def study(text: str = TEXT) -> Study:
    result = check("bench.rig", text=text)
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
