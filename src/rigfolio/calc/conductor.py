"""Copper conductors: geometry and resistance."""

import math

# Annealed copper at 20 °C as IEC 60028 defines it, and the temperature at which its straight
# line of resistance meets zero: they define the copper of every formula here.
_IACS_OHM_M = 1.7241e-8
_BETA_C = 234.5
_BASE_C = 20.0


def awg_diameter_m(gauge: int) -> float:
    """Diameter of a solid wire of an AWG number.

    Parameters
    ----------
    gauge : int
        Gauge number; 1/0 is 0, 2/0 is -1; -3 to 40 [-].

    Returns
    -------
    float
        Diameter of the bare copper [m].

    Raises
    ------
    ValueError
        Outside the range above.

    Source
    ------
    ASTM B258, diameter formula (seen by way of public summaries).

    Examples
    --------
    >>> awg_diameter_m(14) * 1e3
    1.628
    """
    if not -3 <= gauge <= 40:
        raise ValueError(f"gauge {gauge} is outside -3 to 40")
    return 0.127e-3 * math.pow(92.0, (36 - gauge) / 39)


def awg_area_m2(gauge: int) -> float:
    """Copper cross-section of a solid wire of an AWG number.

    Parameters
    ----------
    gauge : int
        Gauge number; 1/0 is 0, 2/0 is -1; -3 to 40 [-].

    Returns
    -------
    float
        Area, strands and insulation not counted [m²].

    Raises
    ------
    ValueError
        Outside the range above.

    Source
    ------
    ASTM B258, diameter formula (seen by way of public summaries).

    Examples
    --------
    >>> awg_area_m2(16) * 1e6
    1.309
    """
    return math.pi / 4.0 * awg_diameter_m(gauge) ** 2


def resistivity_ohm_m(temperature_c: float) -> float:
    """Resistivity of annealed copper, a straight line over temperature.

    Parameters
    ----------
    temperature_c : float
        Temperature of the copper [°C].

    Returns
    -------
    float
        Resistivity [ohm·m].

    Raises
    ------
    ValueError
        At or below -234.5 °C, where the straight line ends.

    Source
    ------
    IEC 60028, 1.7241e-8 ohm·m at 20 °C; zero at -234.5 °C as in FAA AC 43.13-1B 11-66d(4)
    (both seen).

    Examples
    --------
    >>> resistivity_ohm_m(20.0) * 1e8
    1.7241
    """
    if temperature_c <= -_BETA_C:
        raise ValueError(f"{temperature_c} °C is outside the line of copper")
    return _IACS_OHM_M * (_BETA_C + temperature_c) / (_BETA_C + _BASE_C)


def resistance_ohm(
    area_m2: float, length_m: float, temperature_c: float, stranding: float
) -> float:
    """Direct-current resistance of a copper conductor.

    Parameters
    ----------
    area_m2 : float
        Copper cross-section, above 0 [m²].
    length_m : float
        Length along the conductor, one way [m].
    temperature_c : float
        Temperature of the copper [°C].
    stranding : float
        What the lay of the strands adds: 1 for solid wire, about 1.02 for stranded [-].

    Returns
    -------
    float
        Resistance [ohm].

    Raises
    ------
    ValueError
        `area_m2` is not above 0, or the temperature is outside the line of copper.

    Source
    ------
    R = rho * L / A (common practice); resistivity as in `resistivity_ohm_m`.

    Examples
    --------
    >>> resistance_ohm(awg_area_m2(14), 304.8, 75.0, stranding=1.0)  # NEC prints 3.07
    3.07
    """
    if area_m2 <= 0.0:
        raise ValueError(f"area {area_m2} m² is not above 0")
    return resistivity_ohm_m(temperature_c) * length_m / area_m2 * stranding
