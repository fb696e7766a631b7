"""Rule books: what a conductor may carry and what may stand before it, each with its source.

A book is a TOML file beside this one. `[[carries]]` rows answer `carries_a`; a table without
`insulation_c` serves any insulation, one without `base_c` is not corrected for heat, one without
`bundle` not for wires in a bundle.
"""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from rigfolio.books.colours import Colour, ColourBook, colour_book
from rigfolio.books.conductors import (
    awg_sizes,
    metric_sizes,
    outside_diameter_m,
    resistance_ohm_per_m,
    stranding,
    tag_overlap_m,
)
from rigfolio.books.fuses import (
    continuous_share,
    fuse_colour,
    fuse_families,
    fuse_series,
    interrupt_a,
    next_down,
    next_up,
)
from rigfolio.books.tables import (
    Limit,
    Table,
    gauge,
    joined,
    limit,
    number_or_none,
    numbers,
    read,
    source_of,
    table,
    tables,
    text,
    texts,
)
from rigfolio.calc.ampacity import ambient_factor
from rigfolio.findings import Source
from rigfolio.record import record
from rigfolio.units import Size, awg_name, awg_size

__all__ = [
    "Book",
    "Colour",
    "ColourBook",
    "Limit",
    "Service",
    "awg_sizes",
    "book_names",
    "colour_book",
    "continuous_share",
    "fuse_colour",
    "fuse_families",
    "fuse_series",
    "interrupt_a",
    "load_book",
    "metric_sizes",
    "next_down",
    "next_up",
    "outside_diameter_m",
    "resistance_ohm_per_m",
    "stranding",
    "tag_overlap_m",
]

_COMMON = frozenset({"colours", "conductors", "fuses", "practice"})
_NO_COLUMN_C = float("-inf")


@record
class Service:
    """What a conductor lives in; `bundle` counts the current-carrying conductors together."""

    insulation_c: float | None = None
    ambient_c: float | None = None
    bundle: int = 1
    engine_space: bool = False
    sheathed: bool = False


@record
class Row:
    """The current of one gauge in a column."""

    gauge: int
    area_m2: float
    ampere: float


@record
class Column:
    """One column of a table of currents, and what it is corrected for."""

    source: Source
    basis: str
    insulation_c: float | None
    base_c: float | None
    bundle: bool
    rows: tuple[Row, ...]

    def serves(self, insulation_c: float) -> bool:
        """Whether the column may be read for an insulation."""
        if self.insulation_c is not None:
            return insulation_c >= self.insulation_c
        return self.base_c is None or insulation_c > self.base_c


@record
class Cut:
    """A factor on a current, what it is for, and its source."""

    factor: float
    text: str
    source: Source


@record
class Book:
    """A rule book: columns of currents, corrections, and single limits by name."""

    name: str
    title: str
    source: Source
    columns: tuple[Column, ...]
    ambient_source: Source
    bundles: tuple[tuple[float, float, Source], ...]
    engine: tuple[tuple[float, float, Source], ...]
    limits: Mapping[str, Limit]

    def carries_a(self, size: Size, service: Service) -> Limit | None:
        """Current that a conductor may carry, or the largest device where the book lists devices.

        A size without a row of its own is read as the next smaller copper that has one. An
        ambient below that of the table earns nothing.

        Returns
        -------
        Limit | None
            Current [A]; None if the conductor is thinner than any row, or its insulation weaker
            than any column.
        """
        insulation_c = service.insulation_c
        if insulation_c is None:
            insulation_c = self.insulation_c().value
        found = self._row(size, insulation_c)
        if found is None:
            return None
        column, row = found
        cuts = [
            cut
            for cut in (self._heat(column, insulation_c, service), self._bundle(column, service))
            if cut
        ]
        value_a = row.ampere
        for cut in cuts:
            value_a *= cut.factor
        how = " ".join([_read_as(size, column, row), *(cut.text for cut in cuts)])
        return Limit(value_a, joined((column.source, *(cut.source for cut in cuts))), how)

    def largest_fuse_a(self, size: Size, service: Service) -> Limit | None:
        """Largest rating of the device before a conductor.

        It is `carries_a` times the share that the book allows: 1 in `rv` and `vehicle`, 1.5 in
        `boat` (the next standard size up counts as long as it is not above that).

        Returns
        -------
        Limit | None
            Rating [A]; None as in `carries_a`.
        """
        carries = self.carries_a(size, service)
        share = self.limits["fuse"]
        if carries is None or share.value == 1.0:
            return carries
        return Limit(
            carries.value * share.value,
            joined((share.source, carries.source)),
            f"{carries.how}, device up to {share.value:.0%} of that",
        )

    def reach_m(self, *, sheathed: bool, from_battery: bool) -> Limit:
        """Longest way along a conductor from its source to the device that protects it [m]."""
        names = ["reach"]
        if sheathed:
            names.append("reach_sheathed")
        if from_battery:
            names.append("reach_from_battery")
        held = [self.limits[name] for name in names if name in self.limits]
        return max(held, key=lambda each: each.value)

    def drop_share(self, *, critical: bool) -> Limit:
        """Share of the system voltage that a circuit may lose, out and back [-]."""
        return self.limits["drop_critical" if critical else "drop_other"]

    def feeder_drop_share(self) -> Limit:
        """Share of the system voltage that a panel feeder may lose, out and back [-]."""
        return self.limits["drop_feeder"]

    def intermittent_share(self) -> Limit:
        """Share of the sum of intermittent loads that counts, if above the largest of them [-]."""
        return self.limits["intermittent"]

    def lead_m(self) -> Limit:
        """Length below which a fixture's own leads are not judged [m]."""
        return self.limits["lead"]

    def continuous_share(self) -> Limit:
        """Share of its rating that a fuse may carry for hours [-]."""
        return continuous_share()

    def insulation_c(self) -> Limit:
        """Temperature that an insulation is taken for when it is not stated [°C]."""
        return self.limits["insulation"]

    def chassis_bond_m2(self) -> Limit | None:
        """Least copper from the battery to the chassis; None if the book sets none [m²]."""
        return self.limits.get("chassis_bond")

    def _row(self, size: Size, insulation_c: float) -> tuple[Column, Row] | None:
        """The row of the most copper that is not above a size; of equals, the first in the file."""
        serving = [column for column in self.columns if column.serves(insulation_c)]
        best_c = max(
            (column.insulation_c for column in serving if column.insulation_c is not None),
            default=_NO_COLUMN_C,
        )
        found: tuple[Column, Row] | None = None
        for column in serving:
            if column.insulation_c not in (None, best_c):
                continue
            for row in column.rows:
                fits = row.area_m2 <= size.area_m2 * (1.0 + 1e-9)
                if fits and (found is None or row.area_m2 > found[1].area_m2):
                    found = column, row
        return found

    def _heat(self, column: Column, insulation_c: float, service: Service) -> Cut | None:
        if column.base_c is None:
            return None
        rated_c = column.insulation_c or insulation_c
        ambient_c = column.base_c if service.ambient_c is None else service.ambient_c
        if service.engine_space:
            engine_c = self.limits["engine_ambient"]
            if ambient_c <= engine_c.value:
                for row_c, factor, source in self.engine:
                    if row_c == rated_c:
                        return Cut(factor, f"x {factor:.2f} in an engine space", source)
            ambient_c = max(ambient_c, engine_c.value)
        if ambient_c <= column.base_c:
            return None
        factor = ambient_factor(rated_c, column.base_c, ambient_c)
        return Cut(factor, f"x {factor:.2f} at {ambient_c:g} °C", self.ambient_source)

    def _bundle(self, column: Column, service: Service) -> Cut | None:
        if not column.bundle:
            return None
        held = [row for row in self.bundles if service.bundle >= row[0]]
        if not held:
            return None
        _, factor, source = max(held, key=lambda row: row[0])
        return Cut(factor, f"x {factor:.2f} for {service.bundle} together", source)


@cache
def book_names() -> tuple[str, ...]:
    """The names of the rule books, sorted."""
    stems = {path.stem for path in Path(__file__).parent.glob("*.toml")}
    return tuple(sorted(stems - _COMMON))


@cache
def load_book(name: str) -> Book:
    """A rule book by name.

    Raises
    ------
    KeyError
        No such book.

    Examples
    --------
    >>> limit = load_book("rv").carries_a(awg_size(16), Service())
    >>> limit.value, str(limit.source)
    (8.0, 'NFPA 70 Table 552.10(E)(1) (memory)')
    """
    if name not in book_names():
        raise KeyError(name)
    data = read(name)
    head = table(data, "book")
    return Book(
        name=name,
        title=text(head, "title"),
        source=source_of(head),
        columns=tuple(_column(row) for row in tables(data, "carries")),
        ambient_source=source_of(table(data, "ambient")),
        bundles=_factors(data, "bundle", "conductors_from"),
        engine=_factors(data, "engine", "insulation_c"),
        limits=_limits(data),
    )


def _column(row: Table) -> Column:
    pairs = zip(texts(row, "awg"), numbers(row, "ampere"), strict=True)
    sizes = ((awg_size(gauge(name)), ampere) for name, ampere in pairs)
    return Column(
        source=source_of(row),
        basis=text(row, "basis") if "basis" in row else "",
        insulation_c=number_or_none(row, "insulation_c"),
        base_c=number_or_none(row, "base_c"),
        bundle=row.get("bundle", False) is True,
        rows=tuple(Row(size.awg or 0, size.area_m2, ampere) for size, ampere in sizes),
    )


def _factors(data: Table, key: str, by: str) -> tuple[tuple[float, float, Source], ...]:
    return tuple(
        (step, factor, source_of(row))
        for row in tables(data, key)
        for step, factor in zip(numbers(row, by), numbers(row, "factor"), strict=True)
    )


def _limits(data: Table) -> dict[str, Limit]:
    """Every table that holds one number."""
    found = {}
    for key in data:
        if key in ("book", "ambient", "carries", "bundle", "engine"):
            continue
        row = table(data, key)
        if "awg" in row:
            size = awg_size(gauge(text(row, "awg")))
            found[key] = Limit(size.area_m2, source_of(row), size.text)
        else:
            found[key] = limit(row)
    return found


def _read_as(size: Size, column: Column, row: Row) -> str:
    words = f"{row.ampere:g} A for {awg_name(row.gauge)} AWG"
    notes = [column.basis] if column.basis else []
    if size.awg != row.gauge:
        notes.insert(0, f"the next smaller copper to {size.text}")
    if notes:
        words += f" ({'; '.join(notes)})"
    if column.insulation_c is not None:
        words += f" with {column.insulation_c:g} °C insulation"
    return words
