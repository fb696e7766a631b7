"""Sizes in stock, resistance and outside diameter of copper conductors."""

import math
from functools import cache

from rigfolio.books.tables import (
    Limit,
    gauge,
    limit,
    number,
    numbers,
    read,
    source_of,
    table,
    tables,
    texts,
)
from rigfolio.calc import resistance_ohm, resistivity_ohm_m
from rigfolio.units import Size, awg_size, metric_size

_BASE_C = 20.0
SAME_COPPER = 5e-3
"""How much two areas may differ and be one gauge: a metric size is written to three digits."""


@cache
def awg_sizes() -> tuple[Size, ...]:
    """The gauges in stock, thinnest first."""
    stock = table(read("conductors"), "stock_awg")
    return tuple(awg_size(gauge(name)) for name in texts(stock, "awg"))


@cache
def metric_sizes() -> tuple[Size, ...]:
    """The metric sizes of IEC 60228, thinnest first."""
    return tuple(metric_size(mm2) for mm2, _ in _metric_rows())


@cache
def stranding() -> Limit:
    """What the lay of the strands adds to the resistance of a solid wire, as a ratio [-]."""
    row = table(read("conductors"), "stranding")
    return Limit(number(row, "ratio"), source_of(row))


@cache
def tag_overlap_m() -> Limit:
    """How far a tag wrapped round a wire lies on its own beginning [m]."""
    return limit(table(read("conductors"), "tag_overlap"))


def resistance_ohm_per_m(size: Size, temperature_c: float) -> float:
    """Resistance of a stranded copper conductor for its length.

    A gauge goes by its area and the lay of its strands, and so does a metric size that is the
    copper of a gauge (`13.3 mm²` is 6 AWG). Any other metric size has the greatest resistance that
    IEC 60228 class 5 allows; between two sizes of the standard it is interpolated on logarithmic
    scales, beyond the ends it goes by area.

    Parameters
    ----------
    size : Size
        Gauge or metric size.
    temperature_c : float
        Temperature of the copper [°C].

    Returns
    -------
    float
        Resistance, one way [ohm/m].

    Examples
    --------
    >>> resistance_ohm_per_m(metric_size(2.5), 20.0) * 1e3
    7.98
    """
    if size.awg is not None or _is_gauge(size.area_m2):
        return resistance_ohm(size.area_m2, 1.0, temperature_c, stranding().value)
    warm = resistivity_ohm_m(temperature_c) / resistivity_ohm_m(_BASE_C)
    return _metric_ohm_per_km(size.area_m2 * 1e6) * 1e-3 * warm


def outside_diameter_m(size: Size) -> Limit:
    """Diameter over the insulation; of the next thicker wire if the size has no row [m].

    Examples
    --------
    >>> outside_diameter_m(awg_size(16)).value * 1e3
    3.0
    """
    rows = [*_awg_diameters(), *_metric_diameters()]
    same = [row for row in rows if (row[0].awg is None) == (size.awg is None)]
    for group in (same, rows):
        enough = [row for row in group if row[0].area_m2 >= size.area_m2 * (1.0 - 1e-9)]
        if enough:
            row_size, found = min(enough, key=lambda row: row[0].area_m2)
            exact = math.isclose(row_size.area_m2, size.area_m2)
            return Limit(found.value, found.source, "" if exact else f"as {row_size.text}")
    row_size, found = max(rows, key=lambda row: row[0].area_m2)
    scaled_m = found.value * math.sqrt(size.area_m2 / row_size.area_m2)
    return Limit(scaled_m, found.source, f"scaled up from {row_size.text} by area")


@cache
def _is_gauge(area_m2: float) -> bool:
    """Whether an area is that of a gauge, written to three digits."""
    gauges_m2 = [awg_size(number).area_m2 for number in range(-3, 31)]
    return any(abs(area_m2 / gauge_m2 - 1.0) <= SAME_COPPER for gauge_m2 in gauges_m2)


def _metric_ohm_per_km(mm2: float) -> float:
    rows = _metric_rows()
    (least_mm2, least_ohm), (most_mm2, most_ohm) = rows[0], rows[-1]
    if mm2 <= least_mm2:
        return least_ohm * least_mm2 / mm2
    if mm2 >= most_mm2:
        return most_ohm * most_mm2 / mm2
    place = next(i for i, (row_mm2, _) in enumerate(rows) if mm2 <= row_mm2)
    (low_mm2, low_ohm), (high_mm2, high_ohm) = rows[place - 1], rows[place]
    if math.isclose(mm2, high_mm2):
        return high_ohm
    share = math.log(mm2 / low_mm2) / math.log(high_mm2 / low_mm2)
    return low_ohm * math.pow(high_ohm / low_ohm, share)


@cache
def _metric_rows() -> tuple[tuple[float, float], ...]:
    found = tables(read("conductors"), "metric_resistance")
    return tuple(
        sorted(
            pair
            for row in found
            for pair in zip(numbers(row, "mm2"), numbers(row, "ohm_per_km"), strict=True)
        )
    )


@cache
def _awg_diameters() -> tuple[tuple[Size, Limit], ...]:
    return tuple(
        (awg_size(gauge(name)), Limit(od_mm * 1e-3, source_of(row)))
        for row in tables(read("conductors"), "diameter_awg")
        for name, od_mm in zip(texts(row, "awg"), numbers(row, "od_mm"), strict=True)
    )


@cache
def _metric_diameters() -> tuple[tuple[Size, Limit], ...]:
    return tuple(
        (metric_size(mm2), Limit(od_mm * 1e-3, source_of(row)))
        for row in tables(read("conductors"), "diameter_metric")
        for mm2, od_mm in zip(numbers(row, "mm2"), numbers(row, "od_mm"), strict=True)
    )
