"""Answers as lines for a terminal: cautions, paragraphs, lists and columns."""

import textwrap
from collections.abc import Iterator, Sequence

from rigfolio.reports.cautions import HANDS, JUDGED
from rigfolio.reports.terminal import WIDE

CAUTIONS = (JUDGED, HANDS)


def wrapped(text: str, first: str = "", rest: str = "") -> Iterator[str]:
    """A paragraph; `first` and `rest` stand before its first and its other lines."""
    yield from textwrap.wrap(
        text, WIDE, initial_indent=first, subsequent_indent=rest, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def listed(title: str, lines: Sequence[str]) -> Iterator[str]:
    """A title with its lines below; nothing where there are none."""
    if not lines:
        return
    yield ""
    yield title
    for line in lines:
        yield from wrapped(line, "  ", "    ")


def columns(rows: Sequence[tuple[str, ...]], room: Sequence[int]) -> Iterator[str]:
    """Rows in columns no wider than their room, long cells wrapped."""
    wide = [min(most, max(1, *(len(row[at]) for row in rows))) for at, most in enumerate(room)]
    for row in rows:
        cells = [textwrap.wrap(cell, most) or [""] for cell, most in zip(row, wide, strict=True)]
        for line in range(max(len(cell) for cell in cells)):
            words = (cell[line] if line < len(cell) else "" for cell in cells)
            padded = (f"{word:<{most}}" for word, most in zip(words, wide, strict=True))
            yield "  ".join(padded).rstrip()
