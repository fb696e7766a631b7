"""Rule books: what a conductor may carry and what may stand before it, each with its source.

A book is a TOML file beside this one. `[[carries]]` rows answer `carries_a`; a table without
`insulation_c` serves any insulation, one without `base_c` is not corrected for heat, one without
`bundle` not for wires in a bundle.
"""

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from rigfolio.books.clauses import (
    DropRow,
    InterruptRow,
    Note,
    drop_rows_of,
    interrupt_rows_of,
    limits_of,
    notes_of,
    volts_to_lose,
)
from rigfolio.books.columns import (
    Corrections,
    CurrentColumn,
    Service,
    column_of,
    steps_of,
)
from rigfolio.books.conductors import (
    SAME_COPPER,
    Cable,
    cable_named,
    is_metric,
)
from rigfolio.books.fuses import (
    continuous_share,
    fuse_families,
    next_up,
)
from rigfolio.books.tables import Limit, joined, read, source_of, table, tables, text
from rigfolio.findings import Citation
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError
from rigfolio.units import Size

_COMMON = frozenset({"colours", "conductors", "fuses", "practice", "faults"})
_LAW_FROM_V = 50.0


@record
class Book:
    """A rule book: columns of currents, corrections, and single limits by name."""

    name: str
    title: str
    made_for: str
    """The rigs that it is chosen for."""
    source: Citation
    columns: tuple[CurrentColumn, ...]
    corrections: Corrections
    limits: Mapping[str, Limit]
    cable: Cable
    """The family of cable that it names, for wires whose type is not known."""
    cable_source: Citation
    drop_rows: tuple[DropRow, ...] = ()
    interrupt_rows: tuple[InterruptRow, ...] = ()
    notes: tuple[Note, ...] = ()

    def carries_a(self, size: Size, service: Service) -> Limit | None:
        """Current that a conductor may carry, or the largest device where the book lists devices.

        A size without a row of its own is read as the next smaller copper that has one. Where
        several columns have a row for the same copper, the least counts. An ambient below that of
        the table earns nothing, an insulation between two columns is brought down from its own
        temperature, one poorer than all columns from that of the poorest.

        Returns
        -------
        Limit | None
            Current [A]; None if the conductor is thinner than any row, or its insulation would not
            bear the ambient that the only tables were made for.
        """
        return _current(self.name, size, service, "fuse")

    def largest_fuse_a(self, size: Size, service: Service, device: str = "fuse") -> Limit | None:
        """Largest rating of the device before a conductor.

        It is `carries_a` times the share that the book allows: 1 in `rv` and `vehicle`; in `boat`
        1.5 below 50 V, 1 from there on and before a feeder of a panel.

        Parameters
        ----------
        size : Size
            Gauge or metric size.
        service : Service
            What the conductor lives in; its voltage and whether it feeds a panel count here.
        device : str
            `breaker` where the device is one: some books have a column for breakers.

        Returns
        -------
        Limit | None
            Rating [A]; None as in `carries_a`.
        """
        has_own = any(column.device == device for column in self.columns)
        carries = _current(self.name, size, service, device if has_own else "fuse")
        if carries is None:
            return None
        share = self.fuse_share(service)
        if share.value != 1.0:
            source = joined((share.source, carries.source))
            how = f"{carries.how}, device up to {share.value:.0%} of that"
            return Limit(carries.value * share.value, source, how, of_device=share.value > 1.0)
        is_high = service.system_v is not None and service.system_v >= _LAW_FROM_V
        next_size = self.limits.get("fuse_next_size")
        if not is_high or next_size is None:
            return carries
        up_a = _standard_up(carries.value)
        if up_a is None or up_a > carries.value * next_size.value or up_a <= carries.value:
            return carries
        source = joined((share.source, next_size.source, carries.source))
        how = f"{carries.how}, the next standard rating up"
        return Limit(up_a, source, how, of_device=True)

    def fuse_share(self, service: Service) -> Limit:
        """Rating of the device before a conductor over what the conductor may carry [-]."""
        held = [self.limits["fuse"]]
        if service.system_v is not None and service.system_v >= _LAW_FROM_V:
            held.append(self.limits.get("fuse_from_50v", held[0]))
        if service.feeder:
            held.append(self.limits.get("fuse_feeder", held[0]))
        return min(held, key=lambda each: each.value)

    def panel_share(self) -> Limit | None:
        """Rating of the device before a feeder over that of its panel [-]; None if not limited."""
        return self.limits.get("fuse_feeder")

    def alternator_share(self) -> Limit | None:
        """Rating of the device at an alternator over its rated output [-]; None if not limited."""
        return self.limits.get("alternator")

    def least_size_m2(self, *, sheathed: bool) -> Limit | None:
        """Least copper of a conductor, pigtails left aside [m²]; None if the book sets none."""
        plain = self.limits.get("least_gauge")
        return self.limits.get("least_gauge_sheathed", plain) if sheathed else plain

    def interrupts_a(self, cranking_a: float, *, main: bool) -> Limit | None:
        """What a breaker must interrupt at a battery of so many cold-cranking amperes [A].

        None if the book has no table, or none for so large a battery.
        """
        for row in self.interrupt_rows:
            if cranking_a <= row.cranking_a:
                return Limit(row.main_a if main else row.branch_a, row.source)
        return None

    def reach_m(self, *, sheathed: bool, from_battery: bool) -> Limit:
        """Longest way along a conductor from its source to the device that protects it [m]."""
        asked = {"reach": True, "reach_sheathed": sheathed, "reach_from_battery": from_battery}
        held = [self.limits[name] for name, is_so in asked.items() if is_so and name in self.limits]
        return max(held, key=lambda each: each.value)

    def drop_share(
        self, *, critical: bool, intermittent: bool = True, system_v: float = 12.0
    ) -> Limit:
        """Share of the system voltage that a circuit may lose, out and back [-].

        A book that allows volts gives them over the system voltage: the row for 14 V serves a
        12 V system, and one without a row of its own has the least share of the rows beside it.

        Parameters
        ----------
        critical : bool
            Whether the load must work: navigation lights, blowers, electronics.
        intermittent : bool
            Whether it runs for minutes only; where it is not told, the wider limit.
        system_v : float
            Nominal voltage of the system, above 0 [V].
        """
        if critical or not self.drop_rows:
            return self.limits["drop_critical" if critical else "drop_other"]
        return volts_to_lose(self.drop_rows, system_v, intermittent=intermittent)

    @property
    def drops_from_bar(self) -> bool:
        """Whether what other loads may lose is counted from the bar of their panel."""
        return any(row.from_bar for row in self.drop_rows)

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

    def rows_of(
        self, size: Size, insulation_c: float, device: str
    ) -> tuple[tuple[CurrentColumn, int, float], ...]:
        """The rows that are read for a size and an insulation, thinnest copper first.

        Of the columns for an insulation only the warmest counts that has a row for the copper and
        is for no better insulation; where there is none, the one for the poorest.

        Returns
        -------
        tuple[tuple[CurrentColumn, int, float], ...]
            Column, place in it, and the insulation to read it for, which is no better than the best
            that the table has for the copper [°C].
        """
        # A gauge that no table has is as good as the thinner metric size below it.
        takes_metric = is_metric(size) or not any(
            row.gauge == size.awg for column in self.columns for row in column.rows
        )
        serving = [
            column
            for column in self.columns
            if column.serves(insulation_c, device) and (takes_metric or not column.metric)
        ]
        by_size: dict[str, list[float]] = {}
        for column in serving:
            if column.insulation_c is not None:
                for row in column.rows:
                    by_size.setdefault(row.size.text, []).append(column.insulation_c)
        found = []
        for column in serving:
            for place, row in enumerate(column.rows):
                held = by_size.get(row.size.text, [])
                if column.insulation_c is None:
                    found.append((column, place, insulation_c))
                elif column.insulation_c == _read_c(held, insulation_c):
                    found.append((column, place, min(insulation_c, max(held))))
        return tuple(sorted(found, key=lambda one: one[0].rows[one[1]].area_m2))


@cache
def _current(book: str, size: Size, service: Service, device: str) -> Limit | None:
    """The most that the rows of a book give a size: of one gauge the least, of gauges the most.

    A thicker wire may carry what a thinner one may.
    """
    held = load_book(book)
    insulation_c = service.insulation_c
    if insulation_c is None:
        insulation_c = held.insulation_c().value
    by_size: dict[str, Limit] = {}
    for column, place, read_c in held.rows_of(size, insulation_c, device):
        row = column.rows[place]
        if row.area_m2 > size.area_m2 * (1.0 + SAME_COPPER):
            break
        found = held.corrections.current(size, column, row, read_c, service)
        known = by_size.get(row.size.text)
        by_size[row.size.text] = found if known is None else _lesser(known, found)
    best: Limit | None = None
    for found in by_size.values():
        if best is None or found.value >= best.value:
            best = found
    return best


def bound_a(book: Book, size: Size, service: Service, device: str = "fuse") -> Limit | None:
    """What the device before a conductor stays below that is thinner than any row of a book [A].

    It is as `largest_fuse_a` of the thinnest row; None if the conductor has a row.
    """
    found = _thinner(book, size, service, device)
    return None if found is None else _below(book.largest_fuse_a(found, service, device))


def carries_bound_a(book: Book, size: Size, service: Service) -> Limit | None:
    """As `bound_a`, of the current that the conductor may carry."""
    found = _thinner(book, size, service, "fuse")
    return None if found is None else _below(book.carries_a(found, service))


def _thinner(book: Book, size: Size, service: Service, device: str) -> Size | None:
    """The thinnest size with a row, where a size is thinner than that."""
    insulation_c = service.insulation_c
    if insulation_c is None:
        insulation_c = book.insulation_c().value
    return _thinnest_above(book.name, size, insulation_c, device)


@cache
def _thinnest_above(book: str, size: Size, insulation_c: float, device: str) -> Size | None:
    """The thinnest size with a row, where that is thicker than a size."""
    rows = load_book(book).rows_of(size, insulation_c, device)
    if not rows:
        return None
    column, place, _ = rows[0]
    least = column.rows[place]
    is_thinner = size.area_m2 * (1.0 + SAME_COPPER) < least.area_m2
    return least.size if is_thinner else None


def _below(limit: Limit | None) -> Limit | None:
    if limit is None:
        return None
    how = f"{limit.how}, the thinnest in the table"
    return replace(limit, how=how, is_bound=True)


def _read_c(columns_c: Sequence[float], insulation_c: float) -> float:
    """The insulation of the column that is read, of those that have a row for some copper [°C]."""
    return max((one for one in columns_c if one <= insulation_c), default=min(columns_c))


def _lesser(one: Limit, two: Limit) -> Limit:
    """The lesser of two limits of one conductor, as warm as the other one's basis has it there."""
    least, other = (two, one) if two.value < one.value else (one, two)
    if least.rise_k is not None or other.rise_k is None or other.value <= 0.0:
        return least
    return replace(least, rise_k=other.rise_k * (least.value / other.value) ** 2)


def _standard_up(current_a: float) -> float | None:
    """The smallest rating of any family that is not below a current [A]."""
    found = [next_up(current_a, family) for family in fuse_families()]
    return min((rating_a for rating_a in found if rating_a is not None), default=None)


@cache
def book_names() -> tuple[str, ...]:
    """The names of the rule books, sorted."""
    stems = {path.stem for path in Path(__file__).parent.glob("*.toml")}
    return tuple(sorted(stems - _COMMON))


def known_book(name: str | None) -> None:
    """Refuse a rule book that does not exist.

    Raises
    ------
    RefusalError
        There is none of that name.
    """
    if name is not None and name not in book_names():
        listed = ", ".join(f"`{each}`" for each in book_names())
        raise RefusalError("book-unknown", f"`{name}` is not a rule book", f"there are {listed}")


@cache
def load_book(name: str) -> Book:
    """A rule book by name.

    Raises
    ------
    KeyError
        No such book.

    Examples
    --------
    >>> from rigfolio.units import awg_size
    >>> limit = load_book("rv").carries_a(awg_size(16), Service())
    >>> limit.value, str(limit.source)
    (8.0, 'NFPA 70 Table 552.10(E)(1) (memory)')
    """
    if name not in book_names():
        raise KeyError(name)
    data = read(name)
    head = table(data, "book")
    limits = limits_of(data)
    return Book(
        name=name,
        title=text(head, "title"),
        made_for=text(head, "made_for"),
        source=source_of(head),
        columns=tuple(column_of(row) for row in tables(data, "carries")),
        corrections=Corrections(
            ambient_source=source_of(table(data, "ambient")),
            engine_ambient=limits["engine_ambient"],
            bundles=steps_of(data, "bundle", "conductors_from"),
            metric_bundles=steps_of(data, "bundle_metric", "conductors_from"),
            engine=steps_of(data, "engine", "insulation_c"),
        ),
        limits=limits,
        cable=cable_named(text(table(data, "cable"), "family")),
        cable_source=source_of(table(data, "cable")),
        drop_rows=drop_rows_of(data),
        interrupt_rows=interrupt_rows_of(data),
        notes=notes_of(data),
    )
