"""The names that sheets and answers print: one a part, and none of those that it once had."""

import functools
import re

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked, job_from
from rigfolio.answers import answer
from rigfolio.draw.page import texts
from rigfolio.folio.documents import Documents
from rigfolio.sheet import sheet_names
from rigfolio.wording import Finder

RIGS = tuple(sorted(file.stem for file in EXAMPLES.glob("*.rig")))
_ONCE = {
    "a fuse by its wire, the other way round": r"(?:fuse|breaker) on W\d",
    "a fuse by the graph": r"\b[\w/.-]+\.fuse\b",
    "a fuse without its wire": r"[^\d\s,] (?:fuse|breaker) at [A-Z]",
    "the inside of a fuse": r"\.(?:out|in)\b(?<!E1\.in)(?<!E1\.out)",
    "a terminal by the graph": r"(?<=\w)~",
    "a load by the graph": r"\d:\d",
    "the second circuit at a place": r"\(\d\)(?= [A-Z])",
}
"""What must not be read anywhere, by what it was."""


@functools.cache
def printed(rig: str) -> str:
    """All that is printed of an example: every sheet, every answer."""
    result = checked(EXAMPLES / f"{rig}.rig")
    study = result.study
    assert study is not None
    made = Documents(job_from(EXAMPLES / f"{rig}.rig"))
    said = [
        text.text
        for name in filter(made.has, sheet_names())
        for page in made.pages(name)
        for text in texts(page)
    ]
    for command in ("live", "demand", "size"):
        said += [answer(command, study), answer(command, study, as_json=True)]
    for part in Finder(study.rig).parts[::9]:
        said += [answer(command, study, part.name) for command in ("isolate", "short")]
    return "\n".join(said).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.dot
@pytest.mark.parametrize("rig", RIGS)
def test_no_name_that_a_part_once_had(rig: str) -> None:
    found = {what: re.findall(rf".*(?:{old}).*", printed(rig))[:3] for what, old in _ONCE.items()}
    assert {what: lines for what, lines in found.items() if lines} == {}


@pytest.mark.dot
@pytest.mark.parametrize("rig", RIGS)
def test_each_fuse_on_a_wire_is_printed_by_its_name(rig: str) -> None:
    study = checked(EXAMPLES / f"{rig}.rig").study
    assert study is not None
    names = [device.about.name for device in study.rig.devices if device.on_wire]
    assert names
    flat = " ".join(printed(rig).split())
    assert [name for name in names if name not in flat] == []
