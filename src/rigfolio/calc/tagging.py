"""How long a tag must be to go round a wire."""

import math


def wrap_length_m(diameter_m: float, overlap_m: float) -> float:
    """Length of a plain tag that goes once round a wire and onto itself.

    Parameters
    ----------
    diameter_m : float
        Outside diameter of the wire, above 0 [m].
    overlap_m : float
        How far the end lies on the beginning [m].

    Returns
    -------
    float
        Length along the wrap [m].

    Raises
    ------
    ValueError
        `diameter_m` is not above 0.

    Source
    ------
    Geometry, pi d + overlap (computed).

    Examples
    --------
    >>> wrap_length_m(3.0e-3, 5e-3) * 1e3
    14.4
    """
    return _round_m(diameter_m) + overlap_m


def flag_length_m(diameter_m: float, flag_m: float) -> float:
    """Length of a tag that goes round the wire and stands off as a flag of two faces.

    Parameters
    ----------
    diameter_m : float
        Outside diameter of the wire, above 0 [m].
    flag_m : float
        Length of one face of the flag [m].

    Returns
    -------
    float
        Length of the whole strip [m].

    Raises
    ------
    ValueError
        `diameter_m` is not above 0.

    Source
    ------
    Geometry, 2 flag + pi d (computed).

    Examples
    --------
    >>> flag_length_m(3.0e-3, 25e-3) * 1e3
    59.4
    """
    return 2.0 * flag_m + _round_m(diameter_m)


def _round_m(diameter_m: float) -> float:
    if diameter_m <= 0.0:
        raise ValueError(f"diameter {diameter_m} m is not above 0")
    return math.pi * diameter_m


def sleeve_flat_m(bore_m: float) -> float:
    """Width of a tube laid flat, one face of it.

    Parameters
    ----------
    bore_m : float
        Diameter in which the tube is sold, above 0 [m].

    Returns
    -------
    float
        Half of the way round it, walls not counted [m].

    Raises
    ------
    ValueError
        A diameter that is not above 0.

    Source
    ------
    Half the circumference of a circle (common practice).

    Examples
    --------
    >>> sleeve_flat_m(0.0064)
    0.01005
    """
    if not bore_m > 0.0:
        raise ValueError(f"diameter {bore_m} m, expected above 0")
    return math.pi * bore_m / 2.0
