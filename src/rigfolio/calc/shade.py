"""Colours as an eye compares them: CIELAB and the difference CIEDE2000."""

import math

Lab = tuple[float, float, float]
_WHITE = (0.95047, 1.0, 1.08883)
_LINE = 216.0 / 24389.0
_SLOPE = 24389.0 / 27.0


def linear(part: float) -> float:
    """Light of one part of an sRGB colour.

    Parameters
    ----------
    part : float
        Red, green or blue as stored, 0 to 255 [-].

    Returns
    -------
    float
        Share of the most light, 0 to 1 [-].

    Source
    ------
    IEC 61966-2-1, transfer function of sRGB (memory).

    Examples
    --------
    >>> linear(0.0), round(linear(255.0), 6)
    (0.0, 1.0)
    """
    share = part / 255.0
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def lab_of(red: float, green: float, blue: float) -> Lab:
    """A colour in CIELAB, of linear light under D65.

    Parameters
    ----------
    red, green, blue : float
        Shares of light as `linear` gives them; above 1 where it is brighter than white [-].

    Returns
    -------
    tuple[float, float, float]
        L*, a*, b* [-].

    Source
    ------
    IEC 61966-2-1 primaries and CIE 15 (memory).

    Examples
    --------
    >>> lab_of(0.0, 0.0, 0.0)
    (0.0, 0.0, 0.0)
    """
    xyz = (
        0.4124564 * red + 0.3575761 * green + 0.1804375 * blue,
        0.2126729 * red + 0.7151522 * green + 0.0721750 * blue,
        0.0193339 * red + 0.1191920 * green + 0.9503041 * blue,
    )
    x, y, z = (_bent(part / white) for part, white in zip(xyz, _WHITE, strict=True))
    return 116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)


def _bent(share: float) -> float:
    if share > _LINE:
        return float(share ** (1.0 / 3.0))
    return (_SLOPE * share + 16.0) / 116.0


def difference(one: Lab, two: Lab) -> float:
    """How different two colours look; about 1 can just be seen.

    Parameters
    ----------
    one, two : tuple[float, float, float]
        L*, a*, b* [-].

    Returns
    -------
    float
        CIEDE2000 [-].

    Source
    ------
    CIE 142, in the form of Sharma, Wu and Dalal 2005 (memory).

    Examples
    --------
    >>> difference((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485))
    2.0424596801
    """
    mean_c = (math.hypot(*one[1:]) + math.hypot(*two[1:])) / 2.0
    g = 0.5 * (1.0 - math.sqrt(mean_c**7 / (mean_c**7 + 25.0**7)))
    c1, h1 = _polar(one, g)
    c2, h2 = _polar(two, g)
    light = two[0] - one[0]
    chroma = c2 - c1
    turn = 0.0 if c1 * c2 == 0.0 else (h2 - h1 + 540.0) % 360.0 - 180.0
    hue = 2.0 * math.sqrt(c1 * c2) * math.sin(math.radians(turn) / 2.0)
    mean_l, mean_cp = (one[0] + two[0]) / 2.0, (c1 + c2) / 2.0
    mean_h = h1 + h2
    if c1 * c2 != 0.0:
        mean_h = mean_h / 2.0 if abs(h1 - h2) <= 180.0 else (mean_h + 360.0) % 720.0 / 2.0
    weigh = _weights(mean_l, mean_cp, mean_h)
    dl, dc, dh = (part / s for part, s in zip((light, chroma, hue), weigh[:3], strict=True))
    return math.sqrt(dl**2 + dc**2 + dh**2 + weigh[3] * dc * dh)


def _polar(colour: Lab, g: float) -> tuple[float, float]:
    _, a, b = colour
    wide = (1.0 + g) * a
    turn = math.degrees(math.atan2(b, wide)) % 360.0 if wide or b else 0.0
    return math.hypot(wide, b), turn


def _weights(light: float, chroma: float, hue: float) -> tuple[float, float, float, float]:
    """What a step of lightness, chroma and hue is worth here, and how the last two twist."""

    def cosine(degrees: float) -> float:
        return math.cos(math.radians(degrees))

    t = (
        1.0 - 0.17 * cosine(hue - 30.0) + 0.24 * cosine(2.0 * hue)
        + 0.32 * cosine(3.0 * hue + 6.0) - 0.20 * cosine(4.0 * hue - 63.0)
    )  # fmt: skip
    off = (light - 50.0) ** 2
    sl = 1.0 + 0.015 * off / math.sqrt(20.0 + off)
    sc, sh = 1.0 + 0.045 * chroma, 1.0 + 0.015 * chroma * t
    spin = 30.0 * math.exp(-(((hue - 275.0) / 25.0) ** 2))
    rc = 2.0 * math.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    return sl, sc, sh, -math.sin(math.radians(2.0 * spin)) * rc
