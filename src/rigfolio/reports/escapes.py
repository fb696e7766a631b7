"""Text of others on a terminal: one line, and nothing that it would obey."""

from collections.abc import Iterable


def clean(text: str) -> str:
    """A text in one line, without anything that a terminal would obey."""
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else _escape(char) for char in text)


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
