"""Voltage drop: along a wire, and the copper or the length that a drop allows."""

from rigfolio.calc.conductor import resistivity_ohm_m


def drop_v(current_a: float, resistance_ohm: float) -> float:
    """Voltage lost along a resistance.

    Parameters
    ----------
    current_a : float
        Current [A].
    resistance_ohm : float
        Resistance of the whole way, out and back [ohm].

    Returns
    -------
    float
        Drop [V].

    Source
    ------
    Ohm's law (common practice).

    Examples
    --------
    >>> drop_v(10.0, 0.036)
    0.36
    """
    return current_a * resistance_ohm


def area_for_drop_m2(
    current_a: float,
    round_trip_m: float,
    drop_v: float,
    temperature_c: float,
    stranding: float,
) -> float:
    """Copper needed so that a run loses no more than a given voltage.

    Parameters
    ----------
    current_a : float
        Current [A].
    round_trip_m : float
        Length out and back [m].
    drop_v : float
        Drop allowed, above 0 [V].
    temperature_c : float
        Temperature of the copper [°C].
    stranding : float
        What the lay of the strands adds: 1 for solid wire, about 1.02 for stranded [-].

    Returns
    -------
    float
        Smallest cross-section [m²].

    Raises
    ------
    ValueError
        `drop_v` is not above 0, or the temperature is outside the line of copper.

    Source
    ------
    R = rho * L / A and Ohm's law (common practice); resistivity as in `resistivity_ohm_m`.

    Examples
    --------
    >>> area_for_drop_m2(10.0, 6.4, 0.36, 30.0, stranding=1.02) * 1e6
    3.25
    """
    if drop_v <= 0.0:
        raise ValueError(f"drop {drop_v} V is not above 0")
    return resistivity_ohm_m(temperature_c) * stranding * round_trip_m * current_a / drop_v


def longest_run_m(current_a: float, ohm_per_m: float, drop_v: float) -> float:
    """Longest conductor that loses no more than a given voltage, return included.

    Parameters
    ----------
    current_a : float
        Current, above 0 [A].
    ohm_per_m : float
        Resistance of the conductor for its length, above 0 [ohm/m].
    drop_v : float
        Drop allowed [V].

    Returns
    -------
    float
        Length out and back [m].

    Raises
    ------
    ValueError
        `current_a` or `ohm_per_m` is not above 0.

    Source
    ------
    FAA AC 43.13-1B Table 11-8, drop = ohm per length x length x current (seen).

    Examples
    --------
    >>> longest_run_m(20.0, 0.00126 / 0.3048, 1.0) / 0.3048
    39.7
    """
    if current_a <= 0.0 or ohm_per_m <= 0.0:
        raise ValueError(f"current {current_a} A and {ohm_per_m} ohm/m must be above 0")
    return drop_v / (current_a * ohm_per_m)


def hot_run_m(cool_run_m: float, temperature_c: float) -> float:
    """Longest run when the copper is hot, from the longest run at 20 °C.

    Parameters
    ----------
    cool_run_m : float
        Longest run with copper at 20 °C [m].
    temperature_c : float
        Temperature of the copper [°C].

    Returns
    -------
    float
        Longest run at that temperature [m].

    Raises
    ------
    ValueError
        The temperature is outside the line of copper.

    Source
    ------
    FAA AC 43.13-1B 11-66d(4), L2 = 254.5 L1 / (234.5 + T2) (seen).

    Examples
    --------
    >>> hot_run_m(10.0, 75.0)
    8.22
    """
    return cool_run_m * resistivity_ohm_m(20.0) / resistivity_ohm_m(temperature_c)


def circular_mil_needed(k: float, current_a: float, round_trip_ft: float, drop_v: float) -> float:
    """Copper by the handbook formula CM = K I L / E.

    Parameters
    ----------
    k : float
        Resistance of a foot of one circular mil; 10.75 in marine tables [ohm·cmil/ft].
    current_a : float
        Current [A].
    round_trip_ft : float
        Length out and back [ft].
    drop_v : float
        Drop allowed, above 0 [V].

    Returns
    -------
    float
        Circular mils [cmil].

    Raises
    ------
    ValueError
        `drop_v` is not above 0.

    Source
    ------
    Marine and handbook voltage-drop formula CM = K I L / E (seen; K = 10.75 from memory).

    Examples
    --------
    >>> circular_mil_needed(10.75, 10.0, 21.0, 0.36)
    6270.8
    """
    if drop_v <= 0.0:
        raise ValueError(f"drop {drop_v} V is not above 0")
    return k * current_a * round_trip_ft / drop_v
