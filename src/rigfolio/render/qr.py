"""Square codes (QR, ISO/IEC 18004) as marks; the only door to segno."""

from collections.abc import Sequence
from functools import lru_cache

from rigfolio.draw import Line, rect

Matrix = tuple[tuple[bool, ...], ...]
"""Rows of modules from the top, true for dark; without the clear border."""
_KEPT = 64
"""Codes that are kept: most are the same in the next version of a rig and in the next binder."""


@lru_cache(maxsize=_KEPT)
def matrix(text: str) -> Matrix:
    """The code of a text at error correction level M, at the smallest version that holds it.

    Text is stored as bytes in UTF-8, and says so where it is more than ASCII.

    Raises
    ------
    ValueError
        More text than the largest code holds.
    """
    # Who asks what a code would say, as a comparison does, needs no code.
    import segno

    made = segno.make_qr(
        text,
        error="m",
        mode="byte",
        encoding="utf-8",
        eci=not text.isascii(),
        boost_error=False,
    )
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def modules(code: Matrix, left_mm: float, top_mm: float, module_mm: float) -> tuple[Line, ...]:
    """The dark modules as rectangles, with the top left corner of the code at a point [mm].

    Neighbours in a row are one rectangle, and rows that go on below it at the same width too.
    """
    marks = []
    open_runs: dict[tuple[int, int], int] = {}
    for down in range(len(code) + 1):
        runs = _runs(code[down]) if down < len(code) else ()
        for run in [run for run in open_runs if run not in runs]:
            top, (first, last) = open_runs.pop(run), run
            marks.append(
                rect(
                    left_mm + first * module_mm,
                    top_mm + top * module_mm,
                    (last - first) * module_mm,
                    (down - top) * module_mm,
                    pen=None,
                    fill="#000000",
                )
            )
        for run in runs:
            open_runs.setdefault(run, down)
    return tuple(marks)


def _runs(row: Sequence[bool]) -> tuple[tuple[int, int], ...]:
    """First module and the one after the last of each dark stretch."""
    edges = [
        at for at in range(len(row) + 1) if (at < len(row) and row[at]) != (at and row[at - 1])
    ]
    return tuple(zip(edges[::2], edges[1::2], strict=True))
