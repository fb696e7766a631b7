"""Short circuits: opening times of fuses, heat that copper takes, what batteries drive."""

from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import (
    Limit,
    Table,
    joined,
    limit,
    number,
    number_or_none,
    numbers,
    source_of,
    table,
    tables,
    texts,
)
from rigfolio.calc import Gate, copper_k
from rigfolio.findings import Citation
from rigfolio.record import record

_FILE = Path(__file__).parent / "faults.toml"
_NOMINAL_V = 12.0
_AH_100_C = 360000.0


@record
class Gates:
    """The opening times that a standard sets for a family, and their source.

    `is_firm` is whether a verdict may rest on them; if not, no more than an advice.
    """

    gates: tuple[Gate, ...]
    source: Citation
    is_firm: bool = True


@cache
def fuse_gates(family: str, rating_a: float) -> Gates | None:
    """The gates of a family at a rating; None where no table is at hand, as for any breaker.

    Examples
    --------
    >>> found = fuse_gates("regular", 15.0)
    >>> found.gates[1], found.source.status
    (Gate(share=1.35, min_s=0.75, max_s=600.0), 'memory')
    """
    for row in tables(_data(), "gates"):
        up_to_a = number_or_none(row, "up_to_a")
        if family in texts(row, "families") and (up_to_a is None or rating_a <= up_to_a):
            times = zip(
                numbers(row, "percent"), numbers(row, "min_s"), numbers(row, "max_s"), strict=True
            )
            gates = tuple(Gate(percent / 100.0, min_s, max_s) for percent, min_s, max_s in times)
            return Gates(gates, source_of(row), row.get("confidence", "high") == "high")
    return None


@cache
def fault_k(rated_c: float) -> Limit | None:
    """What copper takes from the rating of its insulation to the end of it [A √s / mm²].

    As printed where the standard has that insulation, else by its formula; None if the rating is
    above any insulation that the standard knows.

    Examples
    --------
    >>> fault_k(90.0).value, fault_k(105.0).value
    (100.0, 87.4)
    """
    rows = [row for row in tables(_data(), "final") if rated_c <= number(row, "up_to_c")]
    if not rows:
        return None
    row = min(rows, key=lambda each: number(each, "up_to_c"))
    final_c = number(row, "final_c")
    how = f"from {rated_c:g} °C to {final_c:g} °C"
    for printed in tables(_data(), "k"):
        if (number(printed, "rated_c"), number(printed, "final_c")) == (rated_c, final_c):
            source = joined((source_of(printed), source_of(row)))
            return Limit(number(printed, "k"), source, how)
    formula = Citation("IEC 60364-5-54 Annex A, formula of k", "computed")
    return Limit(copper_k(rated_c, final_c), joined((formula, source_of(row))), how)


@cache
def coldest_copper_c() -> Limit:
    """Temperature of copper that carried nothing before the fault [°C]."""
    return limit(table(_data(), "coldest_copper"))


def internal_ohm(chemistry: str, volts: float, capacity_c: float) -> tuple[Limit, Limit]:
    """Least and most internal resistance of a bank whose text gives none [ohm].

    Examples
    --------
    >>> [limit.value * 1e3 for limit in internal_ohm("flooded", 24.0, 720000.0)]
    [3.15, 12.6]
    """
    row = _of("internal", chemistry)
    bank = (volts / _NOMINAL_V) * (_AH_100_C / capacity_c)
    how = f"{capacity_c / 3600.0:g} Ah of {volts:g} V, scaled from 100 Ah of 12 V"
    least, most = (
        Limit(number(row, key) * 1e-3 * bank, source_of(row), how)
        for key in ("least_mohm", "most_mohm")
    )
    return least, most


def cranking_short() -> Limit:
    """What a battery drives into a short at least, in times of its cold cranking current [-]."""
    row = table(_data(), "cranking")
    return Limit(number(row, "times"), source_of(row))


def marine_over_cold() -> Limit:
    """Cranking current at 0 °C over that at -18 °C [-]."""
    row = table(_data(), "marine_cranking")
    return Limit(number(row, "times"), source_of(row))


def full_v(chemistry: str, volts: float) -> Limit:
    """The highest voltage at rest of a battery of some nominal voltage [V].

    Examples
    --------
    >>> full_v("flooded", 24.0).value, full_v("lithium", 12.8).value
    (25.46, 13.6)
    """
    row = _of("full", chemistry)
    blocks = max(round(volts / _NOMINAL_V), 1)
    return Limit(max(number(row, "volt") * blocks, volts), source_of(row), "full, at rest")


def longest_s() -> Limit:
    """For how long a conductor is taken to keep all heat of a short in itself [s]."""
    row = table(_data(), "longest")
    return Limit(number(row, "second"), source_of(row))


@cache
def far_apart() -> Limit:
    """Ratio of ratings from which the smaller fuse is expected to open first in a short [-]."""
    row = table(_data(), "far_apart")
    return Limit(number(row, "ratio"), source_of(row))


@cache
def start_s() -> Limit:
    """For how long a motor takes its starting current, at the least [s]."""
    row = table(_data(), "start")
    return Limit(number(row, "second"), source_of(row))


@cache
def lasting_start_s() -> Limit:
    """For how long a start lasts at the least that is served like a load [s]."""
    row = table(_data(), "lasting_start")
    return Limit(number(row, "second"), source_of(row))


@cache
def _data() -> Table:
    return read_toml(_FILE)


@cache
def _of(key: str, chemistry: str) -> Table:
    rows = tables(_data(), key)
    return next((row for row in rows if chemistry in texts(row, "chemistry")), rows[0])
