"""No refusal of what a person types suggests just that, and what it suggests is taken."""

import re
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.findings import Severity
from rigfolio.isolation import isolate
from rigfolio.judgement.result import check
from rigfolio.judgement.trial import tried
from rigfolio.lang import apply
from rigfolio.reading.logs.meter import read_log
from rigfolio.refusal import RefusalError
from rigfolio.wording import finder_of, typed

FILES = [*RIGS, *CORPUS]


def misspelt(name: str) -> list[str]:
    """A name with a letter too few, one too many, two turned round."""
    at = len(name) // 2
    return [name[:at] + name[at + 1 :], f"{name[:at]}x{name[at:]}", f"{name}9", name[::-1]]


def typed_by_people(rig) -> list[str]:
    """Readings with a mistake in each: what is no load is on, names that nothing bears."""
    names = list(dict.fromkeys(one.name for one in finder_of(rig).parts))
    names = [name for name in names if "start" not in name][:: len(names) // 25 + 1]
    post = next(one.plus for one in rig.sources if one.stores)
    some = [name for name in names if typed(name) == name]
    made = [f"{post} = 12.2 V, with {typed(name)} on" for name in names]
    made += [f"{post} = 12.2 V, {name} {how}" for name in some for how in ("on", "closed")]
    for name in some:
        made += [f"{wrong} = 12.2 V" for wrong in misspelt(name)]
        made += [f"{post} = 12.2 V, with {wrong} on" for wrong in misspelt(name)[:2]]
        made += [f"{post} = 12.2 V, {wrong} open" for wrong in misspelt(name)[:2]]
        made += [f"{post} = 12.2 V, in {name}"]
    return made


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_what_is_suggested_for_a_reading_is_taken(file: Path) -> None:
    rig = studied(file).rig
    tried = 0
    for text in typed_by_people(rig):
        _, problems = read_log(text, "r", rig)
        for problem in problems:
            start, end = problem.at.span.start, problem.at.span.end
            (wrong,) = re.findall(r"`([^`]+)`", problem.headline)[:1] or [""]
            for said in re.findall(r"`([^`]+)`", problem.fix.text):
                if said.startswith("rigfolio ") or "…" in said or "..." in said:
                    continue
                assert said.casefold() != wrong.casefold(), (text, problem.fix.text)
                if "the nearest name" in problem.fix.text and wrong:
                    mended = (
                        text[:start] + text[start:end].replace(wrong, typed(said), 1) + text[end:]
                    )
                elif said.startswith((", ", "with ")):
                    mended = text[:start] + said.removeprefix(", ") + text[end:]
                elif "there are" in problem.fix.text:
                    mended = text.rpartition(", in ")[0] + f", in {said}"
                else:
                    continue
                _, left = read_log(mended, "r", rig)
                # A wire or fuse has two ends: that is the next question, not about the name.
                heads = [one.headline for one in left]
                assert all("two ends" in one for one in heads), (text, problem.fix.text, heads)
                tried += 1
    assert tried > 10


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_nearest_name_is_one_that_is_found(file: Path) -> None:
    finder = finder_of(studied(file).rig)
    for part in finder.parts[:: len(finder.parts) // 25 + 1]:
        for wrong in misspelt(part.name):
            if not finder.find(wrong):
                for said in re.findall(r"nearest name is `([^`]+)`", finder.near(wrong)):
                    assert said.casefold() != wrong.casefold()
                    assert len(finder.find(said)) == 1


SAME = """
rig "Two lamps"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 5 mohm
alternator A1 40 A
panel P1 3 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 60 A at B1+
wire A1+ to B1+ 8 AWG red 3 ft, fuse 50 A at B1+
wire A1- to N1 8 AWG black 3 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Fore" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
circuit P1.2 "Aft" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A
"""


@pytest.mark.parametrize(
    ("reading", "headline", "fix"),
    [
        ("B1 = 14 V, with A1 on", "`A1` is an alternator, no load",
         "write a state into the text in which `A1 on` stands"),
        ("B1 = 14 V, with B1 on", "`B1` is a battery", "`open` or `closed`"),
        ("B1 = 14 V, with N1 on", "`N1` is no load", "`, with "),
        # Two loads are called so: their label is no way out.
        ("B1 = 14 V, with Lanp on", "no load is called `Lanp`", "Lamp at P1"),
    ],
)  # fmt: skip
def test_why_something_cannot_be_on(reading: str, headline: str, fix: str) -> None:
    _, (problem,) = read_log(reading, "r", study_from(SAME).rig)
    assert problem.headline.startswith(headline)
    assert fix in problem.fix.text


def test_a_part_of_another_kind_is_told_as_what_it_is() -> None:
    with pytest.raises(RefusalError) as refused:
        isolate(study_from(SAME), "A1", kind="panel")
    assert refused.value.headline == "`A1` is a source and no panel"
    assert "`A1`" not in refused.value.fix


def slips(text: str, at: int) -> list[str]:
    """A line of a text with a word too few, too many, misspelt, at another place."""
    lines = text.split("\n")
    words = re.split(r"(?<=\S)\s(?=\S)", lines[at])
    made = []
    for place, word in enumerate(words):
        rest = words[:place] + words[place + 1 :]
        made.append(rest)
        made += [[*words[:place], wrong, *words[place + 1 :]] for wrong in misspelt(word)[:2]]
        made.append([*rest, word])
        made.append(
            [*words[:place], ("W27", "to", "red", "7 A", "fuse")[place % 5], *words[place:]]
        )
    return ["\n".join([*lines[:at], " ".join(one), *lines[at + 1 :]]) for one in made]


LINES = range(SAME.count("\n") - 12, SAME.count("\n"))
RETURN = "    return 16 AWG white 9 ft to N1\n"


@pytest.mark.parametrize("at", LINES)
def test_what_is_suggested_for_a_line_is_taken(at: int) -> None:
    for text in slips(SAME + RETURN, at)[::4]:
        for one in tried(check("case.rig", text=text)).findings:
            if one.severity is not Severity.ERROR or one.fix is None:
                continue
            wrong = text[one.at.span.start : one.at.span.end].strip('"')
            said = re.findall(r"`([^`]+)`", one.fix.text)
            assert wrong.casefold() not in [each.casefold() for each in said], (wrong, one.fix)
            if one.fix.edits:
                again = check("case.rig", text=apply(text, one.fix.edits))
                named = [each for each in again.findings if each.rule == one.rule]
                assert len(named) < sum(each.rule == one.rule for each in
                                        check("case.rig", text=text).findings)  # fmt: skip
                line = text[: one.at.span.start].count("\n")
                for each in again.findings:
                    if each.rule == "name-not-defined":
                        assert again.texts["case.rig"][: each.at.span.start].count("\n") != line


@pytest.mark.parametrize(
    ("line", "fix"),
    [
        # A wire is no place: its number is its tag.
        ("    return W27 16 AWG white 9 ft", "`tag W27`"),
        ("    return N1 16 AWG white 9 ft", "`to N1`"),
        # What nothing is called is no way out.
        ("    return N7 16 AWG white 9 ft", "as in `to J1`"),
    ],
)
def test_a_name_without_its_word_gets_one_that_is_taken(line: str, fix: str) -> None:
    result = tried(check("case.rig", text=f"{SAME}{line}\n"))
    (error,) = (one for one in result.findings if one.severity is Severity.ERROR)
    assert error.fix.text == fix


def test_a_line_that_opens_with_a_label_is_told_so() -> None:
    for line in ('"pump" 5 A', '"lamp"', '"converter" C1 20 A'):
        (found,) = check("case.rig", text=f"{SAME}{line}\n").findings
        assert found.headline == f"`{line.split(chr(34))[1]}` opens no statement"
