"""A report, or any other plain values, as JSON."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.reports.cells import Plain, Value, plain
from rigfolio.reports.parts import (
    AnswerOf,
    Field,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportTable,
    Sections,
)

FORMAT = 2
"""Changes when a field of any answer changes its meaning or goes away; new ones may come."""


def as_json(report: Report) -> str:
    """A report for programs: what it is of, its cautions, its facts; ends in a line break."""
    return _text(object_of(report))


def object_of(report: Report) -> Mapping[str, Plain]:
    """The object that programs get of a report: what `as_json` writes, as plain values."""
    return _formed(_whole(report.of, report.cautions, facts_of(report)))


def facts_of(report: Report) -> Mapping[str, Value]:
    """What a report says to programs, by key."""
    return _given(report.parts)


def json_text(of: AnswerOf, cautions: Sequence[str], facts: Mapping[str, Value]) -> str:
    """What a command answers beside a report, within what all answers have in common."""
    return _text(_formed(_whole(of, cautions, facts)))


def _whole(
    of: AnswerOf, cautions: Sequence[str], facts: Mapping[str, Value]
) -> Mapping[str, Value]:
    """What all answers have in common, then what is answered."""
    head: Mapping[str, Value] = {
        "command": of.command,
        "rig": of.rig,
        "book": of.book,
        "cautions": tuple(cautions),
    }
    return {**head, **facts, **head}


def _formed(whole: Mapping[str, Value]) -> Mapping[str, Plain]:
    """Plain values, behind the version of their format."""
    return {"format": FORMAT, **{key: plain(value) for key, value in whole.items()}}


def object_text(whole: Mapping[str, Value]) -> str:
    """An object as JSON; ends in a line break.

    Nothing in it can be obeyed by a terminal.
    """
    return _text({key: plain(value) for key, value in whole.items()})


def _text(fields: Mapping[str, Plain]) -> str:
    text = json.dumps(fields, ensure_ascii=False, indent=2, allow_nan=False)
    return "".join(f"{_seen(line)}\n" for line in text.split("\n"))


def _seen(line: str) -> str:
    if line.isprintable():
        return line
    return "".join(char if char.isprintable() else json.dumps(char)[1:-1] for char in line)


def _given(parts: Iterable[Part]) -> dict[str, Value]:
    """The values of parts by key; lists of one key one behind the other."""
    given: dict[str, Value] = {}
    lists: dict[str, list[Value]] = {}
    for part in parts:
        match part:
            case Field():
                given[part.key] = part.value
            case _ if not _is_given(part):
                pass
            case Paragraph():
                given[part.key] = part.words
            case _:
                given[part.key] = lists.setdefault(part.key, [])
                lists[part.key] += _things(part)
    return given


def _is_given(part: Paragraph | Listing | ReportTable | Sections) -> bool:
    return bool(part.key) and (isinstance(part, Sections) or not part.for_sheets)


def _things(part: Listing | ReportTable | Sections) -> Iterator[Value]:
    match part:
        case Listing():
            yield from (item.words if item.facts is None else item.facts for item in part.items)
        case ReportTable():
            yield from part.objects()
        case Sections():
            yield from (_given(section.parts) for section in part.sections)
