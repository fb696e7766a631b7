"""Long paragraphs in pieces, since a row of a table holds twelve lines at the most."""

from collections.abc import Iterator

_MOST = 700
"""Letters that twelve lines across a page hold, however wide they are."""
_JOINTS = ("; ", ", ", " ")


def pieces(text: str, most: int = _MOST, *, led: bool = False) -> Iterator[str]:
    """A text in pieces of no more letters than that, divided at a semicolon, comma or space.

    Parameters
    ----------
    text : str
        The text.
    most : int
        The letters of a piece.
    led : bool
        Whether what stands before the first colon says what the list behind it is of: then each
        piece begins with it, for one alone would be read as something else.

    Examples
    --------
    >>> list(pieces("one, two; three, four", 12))
    ['one, two;', 'three, four']
    >>> list(pieces("by B1: one, two; three, four", 19, led=True))
    ['by B1: one, two;', 'by B1: three, four']
    """
    lead, joint, listed = text.partition(": ")
    if led and joint and len(lead) < most // 3:
        lead += joint
        yield from (f"{lead}{one}" for one in pieces(listed, most - len(lead)))
        return
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
