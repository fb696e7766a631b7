"""Current and heat: what ambient takes from a conductor, how warm a current makes it."""

import math

from rigfolio.calc.adiabatic import COPPER_J_K_M3


def ambient_factor(insulation_c: float, base_c: float, ambient_c: float) -> float:
    """Share of a table's current that is left in another ambient than the table's own.

    Parameters
    ----------
    insulation_c : float
        Temperature rating of the insulation, above `base_c` [°C].
    base_c : float
        Ambient that the table was made for [°C].
    ambient_c : float
        Ambient where the conductor lies [°C].

    Returns
    -------
    float
        Factor; above 1 where it is cooler than the base, 0 where the ambient alone is as hot as
        the insulation may be [-].

    Raises
    ------
    ValueError
        `insulation_c` is not above `base_c`.

    Source
    ------
    NFPA 70 310.15(B): sqrt((Ti - Ta) / (Ti - Tb)); reproduces Table 310.15(B)(1) (computed).

    Examples
    --------
    >>> ambient_factor(75.0, 30.0, 40.0)
    0.88
    """
    if insulation_c <= base_c:
        raise ValueError(f"insulation for {insulation_c} °C is not above the base {base_c} °C")
    if ambient_c >= insulation_c:
        return 0.0
    return math.sqrt((insulation_c - ambient_c) / (insulation_c - base_c))


def insulation_factor(
    insulation_c: float, made_for_c: float, base_c: float, ambient_c: float
) -> float:
    """Share of a table's current that is left to another insulation in another ambient.

    Parameters
    ----------
    insulation_c : float
        Temperature rating of the insulation, no more than `made_for_c` [°C].
    made_for_c : float
        Insulation that the current is for, above `base_c` [°C].
    base_c : float
        Ambient that the current is for [°C].
    ambient_c : float
        Ambient where the conductor lies [°C].

    Returns
    -------
    float
        Factor; 0 where the ambient alone is as hot as the insulation may be [-].

    Raises
    ------
    ValueError
        `made_for_c` is not above the base, or below `insulation_c`.

    Source
    ------
    NFPA 70 310.15(B): sqrt((Ti - Ta) / (Tt - Tb)) with the insulation Tt of the table; what is
    given off follows the rise, what is taken in the square of the current (computed).

    Examples
    --------
    >>> insulation_factor(60.0, 80.0, 57.2, 57.2)
    0.35
    """
    if made_for_c <= base_c or insulation_c > made_for_c:
        raise ValueError(f"{insulation_c} °C insulation by a table for {made_for_c} and {base_c}")
    if ambient_c >= insulation_c:
        return 0.0
    return math.sqrt((insulation_c - ambient_c) / (made_for_c - base_c))


def conductor_temperature_c(
    ambient_c: float, rated_c: float, current_a: float, limit_a: float
) -> float:
    """How hot a current makes a conductor, by its heat balance.

    What a conductor gives off follows its rise, what it takes in the square of its current. That
    its resistance is less as long as it is cooler is left out, on the warm side.

    Parameters
    ----------
    ambient_c : float
        Ambient [°C].
    rated_c : float
        Temperature that the conductor has at `limit_a` [°C].
    current_a : float
        Current, not negative [A].
    limit_a : float
        Current that makes it so hot in that ambient, above 0 [A].

    Returns
    -------
    float
        Temperature of the conductor; above `rated_c` if `current_a` is above `limit_a` [°C].

    Raises
    ------
    ValueError
        `current_a` is negative or `limit_a` is not above 0.

    Source
    ------
    Neher and McGrath as in NFPA 70 310.15(C), I = sqrt((Tc - Ta) / (R Rca)) with one R (memory).

    Examples
    --------
    >>> conductor_temperature_c(30.0, 90.0, 10.0, 25.0)
    39.6
    """
    if current_a < 0.0 or limit_a <= 0.0:
        raise ValueError(f"current {current_a} A of {limit_a} A")
    return ambient_c + (rated_c - ambient_c) * (current_a / limit_a) ** 2


def warming_s(area_m2: float, ohm_per_m: float, rise_k: float, limit_a: float) -> float:
    """The time constant by which a conductor warms in its surroundings.

    What its insulation takes of the heat is left out, on the warm side.

    Parameters
    ----------
    area_m2 : float
        Copper cross-section [m²].
    ohm_per_m : float
        Resistance of a metre at the end of the rise [Ω/m].
    rise_k : float
        How far it is above its ambient in the end at `limit_a` [K].
    limit_a : float
        That current, above 0 [A].

    Returns
    -------
    float
        Time after which 63 percent of a rise are reached [s].

    Raises
    ------
    ValueError
        `limit_a` or `ohm_per_m` is not above 0.

    Source
    ------
    Heat balance: what copper takes for the rise over what the current gives in the end; 3.45 MJ in
    a cubic metre and kelvin as in IEC 60364-5-54 Annex A (computed).

    Examples
    --------
    >>> warming_s(2.0e-6, 0.010, 45.0, 15.0)
    138.0
    """
    if limit_a <= 0.0 or ohm_per_m <= 0.0:
        raise ValueError(f"limit {limit_a} A, {ohm_per_m} ohm/m")
    return COPPER_J_K_M3 * area_m2 * rise_k / (ohm_per_m * limit_a**2)


def warmed_share(before: float, during: float, time_s: float, constant_s: float) -> float:
    """How much of the rise at its limit a conductor has after some time of another current.

    Parameters
    ----------
    before : float
        The share of the rise that it has at first: of the current before over the limit the
        square [-].
    during : float
        The share that it would have in the end: of the current now over the limit the square [-].
    time_s : float
        For how long that current runs, not negative [s].
    constant_s : float
        Its time constant, above 0 [s].

    Returns
    -------
    float
        The share of the rise then; above 1 it is hotter than its limit [-].

    Raises
    ------
    ValueError
        `time_s` is negative or `constant_s` is not above 0.

    Source
    ------
    Newton's law of cooling, s + (e - s)(1 - exp(-t / T)) (common practice).

    Examples
    --------
    >>> warmed_share(0.0, 2.0, 138.0, 138.0)
    1.264
    """
    if time_s < 0.0 or constant_s <= 0.0:
        raise ValueError(f"{time_s} s of a time constant of {constant_s} s")
    return before + (during - before) * (1.0 - math.exp(-time_s / constant_s))
