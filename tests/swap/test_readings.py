"""The readings of a log beside the blanks of the sheet: each where it was taken, and how."""

from pathlib import Path

import pytest

from helpers.home import RIGS
from helpers.studies import checked
from rigfolio.model import Log
from rigfolio.operating import Stage, numbered_points, short_stages, stages
from rigfolio.reading import read_log
from rigfolio.study import Study
from rigfolio.swap.readings import reading_stages
from rigfolio.units import show


def beside(study: Study, found: tuple[Stage, ...], log: Log) -> dict[str, str]:
    """What stands beside each blank, by the number of the line."""
    return {
        line.number: line.before
        for stage in reading_stages(study, found, log)
        for step in stage.steps
        for line in step.lines
    }


def kept(study: Study, lines: list[str]) -> Log:
    log, problems = read_log("\n".join(lines), "log", study.rig)
    assert problems == ()
    return log


@pytest.mark.parametrize("is_short", [True, False], ids=["short", "full"])
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_entry_comes_back_to_its_own_line(file: Path, is_short: bool) -> None:
    """Each line is filled with a figure of its own; one that is asked twice bears the last."""
    study = checked(file).study
    assert study is not None
    found = (short_stages if is_short else stages)(study)
    lines, wanted, same = [], {}, {}
    for at, (number, _, _, point) in enumerate(numbered_points(found), start=1):
        lines.append(f"2026-03-14  {point.written(f'{at}')}")
        same.setdefault((point.unit, point.a, point.b, point.taken), []).append(number)
        for each in same[point.unit, point.a, point.b, point.taken]:
            wanted[each] = f"{show(float(at), point.unit)}, 2026-03-14"
    told = beside(study, found, kept(study, lines))
    # What is far from what is expected is marked so.
    assert {number: before.removeprefix("!") for number, before in told.items()} == wanted


def test_a_reading_in_another_state_is_no_reading_of_this_one() -> None:
    file = next(file for file in RIGS if "wren" in file.stem)
    study = checked(file).study
    assert study is not None
    found = short_stages(study)
    at_rest, loaded = [
        (number, point)
        for number, _, _, point in numbered_points(found)
        if (point.a, point.b, point.unit) == ("P1", "N1", "V")
    ]
    told = beside(
        study, found, kept(study, [loaded[1].written("11.9"), "P1 to N1 = 12.6 V, with all off"])
    )
    assert (told[at_rest[0]], told[loaded[0]]) == ("12.6 V", "11.9 V")
    # Nobody knows which of both it is.
    told = beside(study, found, kept(study, ["P1 to N1 = 12.2 V"]))
    assert (told[at_rest[0]], told[loaded[0]]) == ("", "")
    # What is read in one state alone needs no word of it.
    told = beside(study, found, kept(study, ["Pump = 11.7 V"]))
    assert "11.7 V" in told.values()
