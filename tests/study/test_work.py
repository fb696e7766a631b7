"""The work at a panel: the order of its parts, and what a change asks for."""

from pathlib import Path

import pytest

from rigfolio.app import Result, check
from rigfolio.comparing import compared
from rigfolio.study.work import CAUTIONS, Part, work

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.rig"))
WREN = next(file for file in EXAMPLES if "wren" in file.stem).read_text(encoding="utf-8")


def judged(text: str) -> Result:
    return check("wren.rig", text=text)


def parts(text: str) -> tuple[Part, ...]:
    study = judged(text).study
    assert study is not None
    return work(study, "P1")


def since(*edits: tuple[str, str]) -> tuple[Part, ...]:
    text = WREN
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    old_result, new_result = judged(WREN), judged(text)
    assert new_result.study is not None
    _, again = compared(old_result, new_result)
    return work(new_result.study, "P1", again)


def words(found: tuple[Part, ...], title: str) -> str:
    (part,) = [one for one in found if one.title == title]
    return "\n".join(f"{task.do} | {task.see}" for task in part.tasks)


def test_dead_comes_before_moving_and_looking_before_power() -> None:
    titles = [part.title for part in parts(WREN)]
    assert titles[:5] == [
        "Before you touch anything", "Make it dead, and prove it",
        "Tag each wire before it comes off", "Move and fit, one wire at a time",
        "Look before there is power",
    ]  # fmt: skip
    assert titles[5:7] == ["Live: ohms, all fuses out", "Live: the feed alone"]
    assert titles[-1] == "Hand over"


def test_the_meter_is_tried_before_and_the_frame_is_measured_too() -> None:
    dead = words(parts(WREN), "Make it dead, and prove it")
    assert "pull the shore cord" in dead
    assert "S1 Battery disconnect: open it" in dead
    assert "the same to the frame | 0 V, no more than 20 mV" in dead
    assert "if it shows more, stop" in dead


def test_power_comes_back_in_the_reverse_order() -> None:
    live = words(parts(WREN), "Live: the feed alone")
    assert live.index("S1 Battery disconnect") < live.index("C1 Converter")


def test_a_return_goes_to_the_bar_and_a_wire_out_to_its_slot() -> None:
    move = words(parts(WREN), "Move and fit, one wire at a time")
    assert "P1.3/1 12 AWG BU/WH: to P1.3 | yellow barrel" in move
    assert "P1.3/1R 12 AWG WH: to N1" in move


def test_only_what_changed_is_moved() -> None:
    found = since(("circuit P1.7 ", "circuit P1.12 "), ("slot P1.12 spare", "slot P1.7 spare"))
    move = words(found, "Move and fit, one wire at a time")
    assert "P1.12/1 16 AWG PK: from P1.7 to P1.12" in move
    assert "P1.3" not in move
    assert "take old labels and tags off | P1.7" in words(found, "Hand over")


def test_a_circuit_that_is_gone_is_taken_off() -> None:
    start = WREN.index('circuit P1.7 "Radio"')
    block = WREN[start : WREN.index("circuit P1.8")]
    move = words(since((block, "slot P1.7 spare\n")), "Move and fit, one wire at a time")
    assert "P1.7: take its wires off" in move


def test_long_tails_come_first_and_torque_is_told() -> None:
    text = WREN.replace("16 AWG pink 10 ft", "16 AWG pink 10 ft, tail 9 in, scorched")
    text = text.replace("16 AWG brown 15 ft", "16 AWG brown 15 ft, tail 4 in", 1)
    text = text.replace("pitch 14 mm", "pitch 14 mm, torque 2 Nm")
    move = words(parts(text), "Move and fit, one wire at a time")
    assert move.index("P1.7/1") < move.index("P1.10/1") < move.index("P1.1/1")
    assert "torque 2 Nm; tail 9 in; is scorched: cut back to bright copper" in move


def test_a_panel_that_is_not_there() -> None:
    study = judged(WREN).study
    assert study is not None
    with pytest.raises(KeyError):
        work(study, "P9")


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_every_circuit_of_a_panel_is_in_its_plan(file: Path) -> None:
    study = check(str(file)).study
    assert study is not None
    assert study.rig.panels
    for panel in study.rig.panels:
        move = words(work(study, panel.about.name), "Move and fit, one wire at a time")
        for circuit in study.rig.circuits:
            if circuit.panel == panel.about.name:
                assert f"{circuit.place}: label on" in move
    assert "Local code and licensed practice" in " ".join(CAUTIONS)
