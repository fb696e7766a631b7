"""Long paragraphs in pieces, since a row of a table holds twelve lines at the most."""

from collections.abc import Iterator

_MOST = 700
"""Letters that twelve lines across a page hold, however wide they are."""
_JOINTS = ("; ", ", ", " ")


def pieces(text: str, most: int = _MOST) -> Iterator[str]:
    """A text in pieces of no more letters than that, divided at a semicolon, comma or space.

    Examples
    --------
    >>> list(pieces("one, two; three, four", 12))
    ['one, two;', 'three, four']
    """
    rest = text
    while len(rest) > most:
        head = rest[: most + 1]
        found = (
            (head.rfind(joint), len(joint)) for joint in _JOINTS if head.rfind(joint) > most // 3
        )
        at, width = next(found, (most, 0))
        yield rest[: at + width].rstrip()
        rest = rest[at + width :]
    yield rest
