"""The two fonts of every document, and their measures read from the files.

A small reader of four tables (`head`, `hhea`, `cmap` format 4, `hmtx` with the boxes of `glyf`)
after the OpenType specification; measuring a label then needs neither reportlab nor pillow.
"""

import struct
from functools import cache
from importlib.resources import files

from rigfolio.record import record


@record
class Face:
    """Measures of one font in its own units, `units_per_em` to the type size.

    `advances` maps a code point to its advance; `inks` maps a code point to the lowest and the
    highest point of its outline, blanks left out. Both are read only.
    """

    units_per_em: int
    advances: dict[int, int]
    inks: dict[int, tuple[int, int]]


@cache
def font_data(*, bold: bool = False) -> bytes:
    """Content of the TrueType file."""
    name = "RigfolioSans-Bold.ttf" if bold else "RigfolioSans.ttf"
    return files(__name__).joinpath(name).read_bytes()


@cache
def font_face(*, bold: bool = False) -> Face:
    """Measures of the regular or the bold font."""
    font = font_data(bold=bold)
    tables = {}
    for number in range(struct.unpack_from(">H", font, 4)[0]):
        tag, _, offset, _ = struct.unpack_from(">4sLLL", font, 12 + 16 * number)
        tables[tag] = offset
    units_per_em = struct.unpack_from(">H", font, tables[b"head"] + 18)[0]
    glyphs = _glyphs(font, tables[b"cmap"])
    widths = _widths(font, tables[b"hhea"], tables[b"hmtx"])
    boxes = _boxes(font, tables)
    return Face(
        units_per_em,
        {code: widths[min(glyph, len(widths) - 1)] for code, glyph in glyphs.items()},
        {code: boxes[glyph] for code, glyph in glyphs.items() if glyph in boxes},
    )


def _glyphs(font: bytes, cmap: int) -> dict[int, int]:
    """Code point to glyph number, from the Windows Unicode subtable (format 4)."""
    for number in range(struct.unpack_from(">H", font, cmap + 2)[0]):
        platform, encoding, offset = struct.unpack_from(">HHL", font, cmap + 4 + 8 * number)
        if (platform, encoding) == (3, 1):
            break
    else:
        raise ValueError("the font has no Windows Unicode character map")
    start = cmap + offset
    count = struct.unpack_from(">H", font, start + 6)[0] // 2
    ends, firsts, deltas, ranges = (
        struct.unpack_from(f">{count}H", font, start + 14 + skip)
        for skip in (0, 2 * count + 2, 4 * count + 2, 6 * count + 2)
    )
    glyphs = {}
    for index in range(count):
        for code in range(firsts[index], min(ends[index], 0xFFFE) + 1):
            if ranges[index] == 0:
                glyph = code
            else:
                place = start + 16 + 6 * count + 2 * index + ranges[index]
                glyph = struct.unpack_from(">H", font, place + 2 * (code - firsts[index]))[0]
            glyph = (glyph + deltas[index]) & 0xFFFF
            if glyph:
                glyphs[code] = glyph
    return glyphs


def _widths(font: bytes, hhea: int, hmtx: int) -> tuple[int, ...]:
    """Advances by glyph number; glyphs past the last share its advance."""
    count = struct.unpack_from(">H", font, hhea + 34)[0]
    return struct.unpack_from(">" + "H2x" * count, font, hmtx)


def _boxes(font: bytes, tables: dict[bytes, int]) -> dict[int, tuple[int, int]]:
    """Lowest and highest point by glyph number, of the glyphs that have an outline."""
    count = struct.unpack_from(">H", font, tables[b"maxp"] + 4)[0]
    is_long = struct.unpack_from(">h", font, tables[b"head"] + 50)[0]
    form, unit = ("L", 1) if is_long else ("H", 2)
    places = struct.unpack_from(f">{count + 1}{form}", font, tables[b"loca"])
    boxes = {}
    for glyph in range(count):
        if places[glyph] != places[glyph + 1]:
            low, high = struct.unpack_from(">4xh2xh", font, tables[b"glyf"] + unit * places[glyph])
            boxes[glyph] = (low, high)
    return boxes
