"""Formulas of handbooks, to which the program's own are compared; nothing of the program uses them.

Where copper comes in, it is that of `rigfolio.calc.conductor`.
"""

import math

from rigfolio.calc.conductor import resistivity_ohm_m
from rigfolio.calc.tagging import wrap_length_m

# Onderdonk's equation: copper melts at 1083 °C, 33 holds its heat, 234 its line of resistance.
_MELTING_C = 1083.0
_ONDERDONK = 33.0
_ONDERDONK_C = 234.0


def circular_mil_m2(circular_mil: float) -> float:
    """Area of a number of circular mils, circles a thousandth of an inch across [m²].

    Source
    ------
    Definition of the circular mil; 1 in = 25.4 mm exactly (common practice).

    Examples
    --------
    >>> circular_mil_m2(211600) * 1e6
    107.22
    """
    return math.pi / 4.0 * 25.4e-6**2 * circular_mil


def circular_mil_needed(k: float, current_a: float, round_trip_ft: float, drop_v: float) -> float:
    """Copper by CM = K I L / E [cmil]; `k` is the resistance of a foot of one circular mil.

    Source
    ------
    Marine and handbook voltage-drop formula (seen; K = 10.75 from memory).

    Examples
    --------
    >>> circular_mil_needed(10.75, 10.0, 21.0, 0.36)
    6270.8
    """
    return k * current_a * round_trip_ft / drop_v


def area_for_drop_m2(
    current_a: float, round_trip_m: float, drop_v: float, temperature_c: float, stranding: float
) -> float:
    """Copper with which a run loses no more than a voltage [m²]; `stranding` is what the lay adds.

    Source
    ------
    R = rho L / A and Ohm's law (common practice).

    Examples
    --------
    >>> area_for_drop_m2(10.0, 6.4, 0.36, 30.0, stranding=1.02) * 1e6
    3.25
    """
    return resistivity_ohm_m(temperature_c) * stranding * round_trip_m * current_a / drop_v


def hot_run_m(cool_run_m: float, temperature_c: float) -> float:
    """Longest run with hot copper, from the longest with copper at 20 °C [m].

    Source
    ------
    FAA AC 43.13-1B 11-66d(4), L2 = 254.5 L1 / (234.5 + T2), by the resistivity of copper (seen).

    Examples
    --------
    >>> hot_run_m(10.0, 75.0)
    8.22
    """
    return cool_run_m * resistivity_ohm_m(20.0) / resistivity_ohm_m(temperature_c)


def withstand_area_m2(current_a: float, time_s: float, k: float) -> float:
    """Copper that takes a short-circuit current for up to 5 s [m²]; `k` as `copper_k`.

    Source
    ------
    IEC 60364-5-54, A = I sqrt(t) / k (seen).

    Examples
    --------
    >>> withstand_area_m2(1000.0, 0.1, 115.0) * 1e6
    2.75
    """
    return current_a * math.sqrt(time_s) / k * 1e-6


def melting_current_a(area_m2: float, time_s: float, ambient_c: float) -> float:
    """Current that melts a bare copper conductor in a time of not more than some seconds [A].

    Source
    ------
    Onderdonk's equation, I = A sqrt(log10((Tm - Ta) / (234 + Ta) + 1) / (33 t)), A in circular
    mils (seen).

    Examples
    --------
    >>> melting_current_a(circular_mil_m2(2581.0), 5.0, 25.0)
    168.9
    """
    rise = math.log10((_MELTING_C - ambient_c) / (_ONDERDONK_C + ambient_c) + 1.0)
    return area_m2 / circular_mil_m2(1.0) * math.sqrt(rise / (_ONDERDONK * time_s))


def self_laminating_length_m(diameter_m: float, overlap_m: float) -> float:
    """Least length of a tag whose clear tail goes once more round, over the print [m].

    Source
    ------
    Geometry, 2 pi d + overlap (computed).

    Examples
    --------
    >>> self_laminating_length_m(2.6e-3, 5e-3) * 1e3
    21.3
    """
    return 2.0 * wrap_length_m(diameter_m, 0.0) + overlap_m
