"""Text of others on a terminal: one line, and nothing that it would obey."""

from collections.abc import Iterable, Iterator

_MOST_MARKS = 4
"""Accents and points on one letter that are shown; no writing has more, and a heap of them lies
upon the lines above."""
_MORE = "…"


def clean(text: str) -> str:
    """A text in one line, without anything that a terminal would obey or that hides other lines."""
    if not text.isprintable():
        text = "".join(char if char.isprintable() else _escape(char) for char in text)
    return text if text.isascii() else "".join(unheaped(text))


def unheaped(text: str) -> Iterator[str]:
    """What is shown for each character: itself, but for more marks than any letter has.

    For the first of those stands a sign that there are more, for the others nothing.
    """
    from unicodedata import combining

    marks = 0
    for char in text:
        marks = marks + 1 if combining(char) else 0
        yield char if marks <= _MOST_MARKS else _MORE if marks == _MOST_MARKS + 1 else ""


def clean_lines(lines: Iterable[str]) -> str:
    """Texts below each other, each in one line; ends in a line break."""
    return "".join(f"{clean(line)}\n" for line in lines)


def written_words(paths: Iterable[object]) -> str:
    """The files that were written, a line each: a name may hold what a terminal would obey."""
    return clean_lines(f"written: {path}" for path in paths)


def width(text: str) -> int:
    """The cells of a terminal that a text takes; some letters take two, some none."""
    if text.isascii():
        return len(text)
    from unicodedata import combining, east_asian_width

    return sum(
        0 if combining(char) else 2 if east_asian_width(char) in "WF" else 1 for char in text
    )


def _escape(char: str) -> str:
    code = ord(char)
    if 0xDC80 <= code <= 0xDCFF:
        return f"\\x{code - 0xDC00:02x}"
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
