"""Sizes in stock, resistance by family of cable, and outside diameter of copper conductors."""

import math
from collections.abc import Sequence
from functools import cache

from rigfolio.books.tables import (
    Limit,
    Table,
    gauge,
    limit,
    number,
    number_or_none,
    numbers,
    read,
    source_of,
    table,
    tables,
    text,
    texts,
)
from rigfolio.calc import resistance_ohm, resistivity_ohm_m
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import Size, awg_size, metric_size

_BASE_C = 20.0
_MIL_M = 25.4e-6
_KFT_M = 304.8
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
    rows = tables(read("conductors"), "metric_resistance")
    stock = [mm2 for row in rows if text(row, "series") == "class 5" for mm2 in numbers(row, "mm2")]
    return tuple(metric_size(mm2) for mm2 in sorted(stock))


@cache
def stranding() -> Limit:
    """What the lay of the strands adds to the resistance of a solid wire, as a ratio [-]."""
    row = table(read("conductors"), "stranding")
    return Limit(number(row, "ratio"), source_of(row))


@cache
def tag_overlap_m() -> Limit:
    """How far a tag wrapped round a wire lies on its own beginning [m]."""
    return limit(table(read("conductors"), "tag_overlap"))


@record
class Cable:
    """A family of cable: what it is in words, and the series that its sizes are read in.

    `ratio` is the resistance of its metal over that of plain copper [-].
    """

    name: str
    words: str
    source: Citation
    gauge: str
    metric: str
    ratio: float


@record
class CopperOf:
    """What the copper of a size is taken for, in words, and the source of its resistance."""

    words: str
    source: Citation


_Point = tuple[float, float]
"""An area [m²] and a resistance at 20 °C [ohm/m]."""


@cache
def cable_named(name: str) -> Cable:
    """A family of cable by its name.

    Raises
    ------
    KeyError
        No such family.
    """
    return _cables()[name]


def cable_families() -> tuple[Cable, ...]:
    """All families of cable."""
    return tuple(_cables().values())


@cache
def cable_of_type(printed: str) -> Cable | None:
    """The family of a type that is printed on a wire; None where it is not known.

    Examples
    --------
    >>> cable_of_type("gxl").name
    'vehicle'
    """
    for row in tables(read("conductors"), "cable_type"):
        if printed.upper() in texts(row, "types"):
            return cable_named(text(row, "cable"))
    return None


def resistance_ohm_per_m(size: Size, temperature_c: float, cable: str = "plain") -> float:
    """Resistance of a stranded copper conductor for its length.

    A gauge goes by the copper that its family of cable has, and so does a metric size that is the
    copper of a gauge (`13.3 mm²` is 6 AWG). Any other metric size has the greatest resistance that
    the standard of the family allows. Between two sizes of a table it is interpolated on
    logarithmic scales, beyond the ends it goes by area.

    Parameters
    ----------
    size : Size
        Gauge or metric size.
    temperature_c : float
        Temperature of the copper [°C].
    cable : str
        The family of cable, by its name.

    Returns
    -------
    float
        Resistance, one way [ohm/m].

    Examples
    --------
    >>> resistance_ohm_per_m(metric_size(2.5), 20.0) * 1e3
    7.98
    >>> resistance_ohm_per_m(awg_size(14), 20.0, "vehicle") * 1e3
    9.37
    """
    warm = resistivity_ohm_m(temperature_c) / resistivity_ohm_m(_BASE_C)
    return _base_ohm_per_m(size, cable) * warm


def least_resistance_ohm_per_m(size: Size, temperature_c: float) -> float:
    """Resistance of a conductor in the family that has the most copper in that size [ohm/m]."""
    families = cable_families()
    return min(resistance_ohm_per_m(size, temperature_c, one.name) for one in families)


def taken_for(size: Size, cable: str) -> CopperOf:
    """What a size is taken for in a family of cable, and where its resistance comes from.

    Examples
    --------
    >>> taken_for(metric_size(2.5), "vehicle").words
    'IEC 60228 class 5, plain copper, greatest at 20 °C'
    """
    family = cable_named(cable)
    metric = is_metric(size)
    if not metric and not family.gauge:
        return CopperOf(family.words, family.source)
    key, series = ("metric", family.metric) if metric else ("gauge", family.gauge)
    rows = [row for row in tables(read("conductors"), f"{key}_resistance")
            if text(row, "series") == series]  # fmt: skip
    row = next((one for one in rows if _has(one, size)), rows[0])
    source = source_of(row)
    return CopperOf(source.title if metric else family.words, source)


def _has(row: Table, size: Size) -> bool:
    """Whether a row of a series has a size of its own for it."""
    if "mm2" in row:
        areas = [mm2 * 1e-6 for mm2 in numbers(row, "mm2")]
    else:
        areas = [awg_size(gauge(name)).area_m2 for name in texts(row, "awg")]
    return any(math.isclose(area_m2, size.area_m2, rel_tol=SAME_COPPER) for area_m2 in areas)


@cache
def _base_ohm_per_m(size: Size, cable: str) -> float:
    """Resistance at 20 °C [ohm/m]."""
    family = cable_named(cable)
    if is_metric(size):
        return _read(_metric_rows(family.metric), size.area_m2)
    if family.gauge:
        return _read(_gauge_rows(family.gauge), size.area_m2)
    return _gauge_ohm_per_m(size.area_m2) * family.ratio


def _gauge_ohm_per_m(area_m2: float) -> float:
    return resistance_ohm(area_m2, 1.0, _BASE_C, stranding().value)


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


def is_metric(size: Size) -> bool:
    """Whether a size is metric, and not the copper of a gauge written in mm²."""
    return size.awg is None and not _is_gauge(size.area_m2)


@cache
def _is_gauge(area_m2: float) -> bool:
    """Whether an area is that of a gauge, written to three digits."""
    gauges_m2 = [awg_size(number).area_m2 for number in range(-3, 31)]
    return any(abs(area_m2 / gauge_m2 - 1.0) <= SAME_COPPER for gauge_m2 in gauges_m2)


def _read(rows: Sequence[_Point], area_m2: float) -> float:
    """The resistance of a size in a series, thinnest copper first [ohm/m]."""
    (least_m2, least_ohm), (most_m2, most_ohm) = rows[0], rows[-1]
    if area_m2 <= least_m2:
        return least_ohm * least_m2 / area_m2
    if area_m2 >= most_m2:
        return most_ohm * most_m2 / area_m2
    place = next(i for i, (row_m2, _) in enumerate(rows) if area_m2 <= row_m2 * (1.0 + 1e-9))
    (low_m2, low_ohm), (high_m2, high_ohm) = rows[place - 1], rows[place]
    if math.isclose(area_m2, high_m2):
        return high_ohm
    share = math.log(area_m2 / low_m2) / math.log(high_m2 / low_m2)
    return low_ohm * math.pow(high_ohm / low_ohm, share)


@cache
def _cables() -> dict[str, Cable]:
    return {
        text(row, "name"): Cable(
            text(row, "name"),
            text(row, "words"),
            source_of(row),
            gauge=text(row, "gauge") if "gauge" in row else "",
            metric=text(row, "metric"),
            ratio=number_or_none(row, "ratio") or 1.0,
        )
        for row in tables(read("conductors"), "cable")
    }


@cache
def _metric_rows(series: str) -> tuple[_Point, ...]:
    found: list[_Point] = []
    for row in tables(read("conductors"), "metric_resistance"):
        if text(row, "series") == series:
            ohms = numbers(row, "ohm_per_km")
            found += [(mm2 * 1e-6, ohm * 1e-3)
                      for mm2, ohm in zip(numbers(row, "mm2"), ohms, strict=True)]  # fmt: skip
    return tuple(sorted(found))


@cache
def _gauge_rows(series: str) -> tuple[_Point, ...]:
    found: list[_Point] = []
    for row in tables(read("conductors"), "gauge_resistance"):
        if text(row, "series") != series:
            continue
        areas = [awg_size(gauge(name)).area_m2 for name in texts(row, "awg")]
        if "circular_mil" in row:
            held = (math.pi / 4.0 * mils * _MIL_M**2 for mils in numbers(row, "circular_mil"))
            ohms = [_gauge_ohm_per_m(held_m2) for held_m2 in held]
        else:
            ohms = [ohm / _KFT_M for ohm in numbers(row, "ohm_per_kft")]
        found += zip(areas, ohms, strict=True)
    return tuple(sorted(found))


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
