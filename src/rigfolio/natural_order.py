"""The order in which a person lists names with figures in them: `P1.2` before `P1.10`."""

import re

_PIECES = re.compile(r"[0-9]+|[^0-9]+")


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sorting key that counts figures as numbers; only 0 to 9 are figures.

    Examples
    --------
    >>> sorted(["P1.10", "P1.2", "N1"], key=natural)
    ['N1', 'P1.2', 'P1.10']
    """
    return tuple(
        (0, int(piece), "") if piece[0] in "0123456789" else (1, 0, piece)
        for piece in _PIECES.findall(text)
    )
