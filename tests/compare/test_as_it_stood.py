"""What is told of a change begins, as what is done for it, with what was found in the rig."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, HOME
from rigfolio.compare import Change, Work, compare, work_between
from rigfolio.judgement.result import load
from rigfolio.model import Rig

RIGS = sorted((*EXAMPLES.glob("*.rig"), *(HOME / "tests" / "corpus").glob("*.rig")))
FUSE = re.compile(r"^(?:circuit|fuse|wire)\b.*?(?:\bfuse )?\b(?P<rating>\d+(?:\.\d+)?) A\b[^#\n]*",
                  re.MULTILINE)  # fmt: skip
WIRE = re.compile(r"^ *(?:wire|return)\b[^#\n]*?(?P<size>\b\d+(?:\.\d+)? (?:mm2|mm²|AWG))[^#\n]*",
                  re.MULTILINE)  # fmt: skip
FOUND = ((FUSE, "rating", "37.5", " A"), (WIRE, "size", "0.75 mm2", ""))


def _rig_of(file: Path, text: str) -> Rig | None:
    rig = load(str(file), text)[1]
    return None if rig is None or rig.problems else rig


def _found_in(file: Path) -> Iterator[tuple[str, str]]:
    """A text with something else found in one line; the text that says so of what belongs there."""
    text = file.read_text(encoding="utf-8")
    for pattern, what, other, unit in FOUND:
        for line in list(pattern.finditer(text))[::7]:
            if "found" in line[0] or "spare" in line[0]:
                continue
            start, end = line.span(what)
            stop = line.start() + len(line[0].rstrip())
            found = f"{text[:stop]}, found {other}{unit}{text[stop:]}"
            yield found, f"{text[:start]}{other}{text[end:]}"


def _hands_on(before: Rig, after: Rig) -> list[Work]:
    return [work for work in work_between(before, after) if work.is_hands_on]


def _told(before: Rig, after: Rig) -> list[Change]:
    return [one for one in compare(before, after).changes if one.thing != "rig"]


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_is_put_in_its_place_is_told_as_it_is_done(file: Path) -> None:
    right = _rig_of(file, file.read_text(encoding="utf-8"))
    assert right is not None
    tried = 0
    for found, written in _found_in(file):
        was, so = _rig_of(file, found), _rig_of(file, written)
        if was is None:
            continue
        work, told = _hands_on(was, right), _told(was, right)
        if not work and not told:
            continue
        tried += 1
        # What belongs there comes in: it is bought, and told as bought, by the same two figures.
        assert {one.deed for one in work} == {"replace"}, (work, told)
        assert told
        assert all(one.kind != "identified" for one in told), (work, told)
        for fact in (fact for one in work for fact in one.facts):
            known = fact.partition(", was ")[2].removesuffix(" fuse").removesuffix(" breaker")
            assert any(f"was {known}" in words for one in told for words in one.facts), told
        # What was found is only written as what belongs there: nothing is done.
        if so is not None:
            assert not _hands_on(was, so)
            assert {one.kind for one in _told(was, so)} == {"identified"}
        assert not compare(was, was).changes
    assert tried > 1


def test_what_waits_is_told_of_once() -> None:
    text = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    line = '"Radio"                  fuse 5 A'
    one, two = (_rig_of(Path("x.rig"), text.replace(line, f"{line}, found {found} A"))
                for found in (15, 20))  # fmt: skip
    assert one is not None
    assert two is not None
    facts = {fact for change in _told(one, two) for fact in change.facts}
    assert "found 20 A, was 15 A" in facts
