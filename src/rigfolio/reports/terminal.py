"""A report as lines for a terminal: paragraphs, lists and columns."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from rigfolio.reports.cells import in_words
from rigfolio.reports.escapes import clean, clean_lines
from rigfolio.reports.parts import (
    Chapter,
    Field,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportTable,
    Sections,
)

WIDE = 100
"""Letters in a line."""
_MARK = 9
"""Letters of the marks before the things of a list."""
_BETWEEN = 2


def as_text(report: Report) -> str:
    """A report for people; ends in a line break."""
    return clean_lines(as_lines(report))


def as_lines(report: Report) -> Iterator[str]:
    """The lines of a report, none wider than a terminal, with nothing that it would obey."""
    yield from _wrapped(report.title)
    if report.gap:
        yield ""
    for caution in report.cautions:
        yield from _wrapped(caution)
    yield from _parts(report.parts, "")


def _parts(parts: Iterable[Part], indent: str) -> Iterator[str]:
    for part in parts:
        match part:
            case Field():
                pass
            case Sections():
                for section in part.sections:
                    yield from _section(section, indent)
            case _:
                yield from () if part.for_sheets else _part(part, indent)


def _section(section: Chapter, indent: str) -> Iterator[str]:
    yield ""
    yield from _wrapped(section.title, indent)
    yield from _parts(section.parts, f"{indent}  ")


def _part(part: Paragraph | Listing | ReportTable, indent: str) -> Iterator[str]:
    match part:
        case Paragraph():
            if part.gap:
                yield ""
            yield from _wrapped(part.words, indent, " " * part.hang)
        case Listing():
            yield from _list(part, indent)
        case ReportTable():
            yield from _table(part, indent)


def _list(part: Listing, indent: str) -> Iterator[str]:
    """A title with its things below; nothing where there are none."""
    if not part.items:
        return
    if part.title:
        yield ""
        yield from _wrapped(part.title, indent)
        # What has a title stands in by as much at any depth.
        indent = ""
    wide = max(_MARK, *(len(item.mark) for item in part.items))
    for number, item in enumerate(part.items, start=1):
        mark = f"{number}. " if part.ordered else f"{item.mark:>{wide}}: " if item.mark else ""
        yield from _wrapped(f"{mark}{item.words}", f"{indent}  ", " " * (len(mark) or 2))


def _table(part: ReportTable, indent: str) -> Iterator[str]:
    """Rows in columns below their title and headings; nothing where there are none."""
    shown = [(at, column) for at, column in enumerate(part.columns) if column.most]
    rows = [tuple(in_words(row[at]) for at, _ in shown) for row in part.rows]
    if not rows or not shown:
        return
    if part.title or not indent:
        yield ""
    if part.title:
        yield from _wrapped(part.title, indent)
        indent = f"{indent}  "
    if any(column.title for _, column in shown):
        rows.insert(0, tuple(column.title for _, column in shown))
    room = [column.most for _, column in shown]
    yield from (f"{indent}{line}".rstrip() for line in _columns(rows, room, WIDE - len(indent)))


def _columns(rows: Sequence[tuple[str, ...]], room: Sequence[int], whole: int) -> Iterator[str]:
    """Rows in columns no wider than their room, long cells wrapped."""
    seen = [tuple(clean(cell) for cell in row) for row in rows]
    wide = [min(most, max(1, *(len(row[at]) for row in seen))) for at, most in enumerate(room)]
    while sum(wide) + _BETWEEN * (len(wide) - 1) > whole and max(wide) > 1:
        wide[wide.index(max(wide))] -= 1
    for row in seen:
        cells = [textwrap.wrap(cell, most) or [""] for cell, most in zip(row, wide, strict=True)]
        for line in range(max(len(cell) for cell in cells)):
            words = (cell[line] if line < len(cell) else "" for cell in cells)
            padded = (f"{word:<{most}}" for word, most in zip(words, wide, strict=True))
            yield (" " * _BETWEEN).join(padded).rstrip()


def _wrapped(text: str, indent: str = "", hang: str = "") -> Iterator[str]:
    """A paragraph; `hang` is how much further its lines after the first stand in."""
    yield from textwrap.wrap(
        clean(text), WIDE, initial_indent=indent, subsequent_indent=indent + hang,
        break_on_hyphens=False,
    )  # fmt: skip
