"""Columns of currents by gauge, and what heat and company take from them."""

from collections.abc import Iterable

from rigfolio.books.conductors import SAME_COPPER
from rigfolio.books.tables import (
    Limit,
    Table,
    gauge,
    joined,
    number_or_none,
    numbers,
    source_of,
    tables,
    text,
    texts,
)
from rigfolio.calc import ambient_factor, insulation_factor
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import Size, awg_size, metric_size


@record
class Service:
    """What a conductor lives in, and what it is for.

    `bundle` counts the current-carrying conductors together; `system_v` is the voltage of its
    circuit with the bank full and at rest, where it is known [V]; `feeder` says that it feeds a
    panel.
    """

    insulation_c: float | None = None
    ambient_c: float | None = None
    bundle: int = 1
    engine_space: bool = False
    sheathed: bool = False
    system_v: float | None = None
    feeder: bool = False


@record
class GaugeRow:
    """The current of one size in a column."""

    size: Size
    ampere: float

    @property
    def gauge(self) -> int | None:
        """Its gauge number, None where it is metric."""
        return self.size.awg

    @property
    def area_m2(self) -> float:
        """Its copper [m²]."""
        return self.size.area_m2


@record
class CurrentColumn:
    """One column of a table of currents, what it is corrected for, and for which device it is.

    `device` is `fuse` or `breaker` where the table has a column for each, else empty. A column
    without `insulation_c` serves any insulation; `made_for_c` is the one that it is taken for.
    A column of metric sizes is read for metric sizes alone, beside those of gauges.
    """

    source: Citation
    basis: str
    insulation_c: float | None
    made_for_c: float | None
    base_c: float | None
    bundle: bool
    device: str
    rows: tuple[GaugeRow, ...]

    @property
    def metric(self) -> bool:
        """Whether its sizes are metric."""
        return self.rows[0].gauge is None

    def serves(self, insulation_c: float, device: str) -> bool:
        """Whether the column may be read for an insulation and a device."""
        if self.device not in ("", device):
            return False
        return self.base_c is None or insulation_c > self.base_c

    @property
    def hot_c(self) -> float | None:
        """How hot the conductors of the column are at its currents [°C]; None if not known."""
        return self.made_for_c if self.insulation_c is None else self.insulation_c


@record
class FactorStep:
    """A factor from some value on, in circuits from or below a voltage [V]."""

    value: float
    factor: float
    source: Citation
    from_v: float | None
    below_v: float | None

    def is_for(self, system_v: float | None) -> bool:
        """Whether the factor is meant for a voltage; one that is not known counts as low."""
        if self.from_v is not None and (system_v is None or system_v < self.from_v):
            return False
        return self.below_v is None or system_v is None or system_v < self.below_v


@record
class DeratingFactor:
    """A factor on a current, what it is for, and its source."""

    factor: float
    text: str
    source: Citation


@record
class Corrections:
    """What a book takes from a current for heat and for wires that lie together."""

    ambient_source: Citation
    engine_ambient: Limit
    bundles: tuple[FactorStep, ...]
    metric_bundles: tuple[FactorStep, ...]
    """What the standard of metric sizes takes for bundles; the lesser counts."""
    engine: tuple[FactorStep, ...]

    def current(
        self,
        size: Size,
        column: CurrentColumn,
        row: GaugeRow,
        insulation_c: float,
        service: Service,
    ) -> Limit:
        """The current of a row in a service [A]."""
        heat = self._heat(column, insulation_c, service)
        cuts = [cut for cut in (heat, self._bundle(column, service)) if cut is not None]
        value_a = row.ampere
        for cut in cuts:
            value_a *= cut.factor
        how = " ".join([_read_as(size, column, row), *(cut.text for cut in cuts)])
        rise_k = None
        if column.hot_c is not None and column.base_c is not None:
            # The same bundle warms by as much at less current.
            rise_k = (column.hot_c - column.base_c) * (1.0 if heat is None else heat.factor) ** 2
        sources = joined((column.source, *(cut.source for cut in cuts)))
        return Limit(value_a, sources, how, rise_k)

    def _heat(
        self, column: CurrentColumn, insulation_c: float, service: Service
    ) -> DeratingFactor | None:
        """What heat and a poorer insulation than that of a column leave of its currents.

        An insulation between two columns is read by the poorer one and brought down for heat from
        its own temperature, one that is poorer than any from that of the poorest.
        """
        base_c = column.base_c
        if base_c is None:
            return None
        ambient_c = base_c if service.ambient_c is None else max(service.ambient_c, base_c)
        if service.engine_space:
            step = self._engine_step(insulation_c, ambient_c)
            if step is not None:
                own = ambient_factor(insulation_c, base_c, ambient_c)
                text = f"x {min(step.factor, own):.2f} in an engine space"
                return DeratingFactor(min(step.factor, own), text, step.source)
            ambient_c = max(ambient_c, self.engine_ambient.value)
        hot_c = max(insulation_c, column.hot_c or insulation_c)
        if ambient_c <= base_c and hot_c == insulation_c:
            return None
        factor = insulation_factor(insulation_c, hot_c, base_c, ambient_c)
        text = f"x {factor:.2f} at {ambient_c:g} °C"
        if hot_c > insulation_c:
            text += f" for {insulation_c:g} °C insulation"
        return DeratingFactor(factor, text, self.ambient_source)

    def _engine_step(self, insulation_c: float, ambient_c: float) -> FactorStep | None:
        """The factor that a book prints for engine spaces, as far as it goes."""
        if ambient_c > self.engine_ambient.value:
            return None
        return next((step for step in self.engine if step.value == insulation_c), None)

    def _bundle(self, column: CurrentColumn, service: Service) -> DeratingFactor | None:
        if not column.bundle:
            return None
        printed = (self.bundles, self.metric_bundles) if column.metric else (self.bundles,)
        found = filter(None, (_reached(steps, service) for steps in printed))
        step = min(found, key=lambda one: one.factor, default=None)
        if step is None:
            return None
        return DeratingFactor(
            step.factor, f"x {step.factor:.2f} for {service.bundle} together", step.source
        )


def _reached(steps: Iterable[FactorStep], service: Service) -> FactorStep | None:
    """The last step that a bundle comes to; None where it comes to none."""
    held = (s for s in steps if service.bundle >= s.value and s.is_for(service.system_v))
    return max(held, key=lambda one: one.value, default=None)


def column_of(row: Table) -> CurrentColumn:
    """A column from its table in a file."""
    sizes = [awg_size(gauge(name)) for name in texts(row, "awg")]
    sizes += [metric_size(mm2) for mm2 in numbers(row, "mm2")]
    pairs = zip(sizes, numbers(row, "ampere"), strict=True)
    return CurrentColumn(
        source=source_of(row),
        basis=text(row, "basis") if "basis" in row else "",
        insulation_c=number_or_none(row, "insulation_c"),
        made_for_c=number_or_none(row, "made_for_c"),
        base_c=number_or_none(row, "base_c"),
        bundle=row.get("bundle", False) is True,
        device=text(row, "device") if "device" in row else "",
        rows=tuple(GaugeRow(size, ampere) for size, ampere in pairs),
    )


def steps_of(data: Table, key: str, by: str) -> tuple[FactorStep, ...]:
    """The factors under a key, by the values under `by`."""
    return tuple(
        FactorStep(
            step, factor, source_of(row), number_or_none(row, "from_v"),
            number_or_none(row, "below_v"),
        )
        for row in tables(data, key)
        for step, factor in zip(numbers(row, by), numbers(row, "factor"), strict=True)
    )  # fmt: skip


def _read_as(size: Size, column: CurrentColumn, row: GaugeRow) -> str:
    words = f"{row.ampere:g} A for {row.size.text}"
    notes = [column.basis] if column.basis else []
    if size.text != row.size.text:
        is_same = abs(size.area_m2 / row.area_m2 - 1.0) <= SAME_COPPER
        notes.insert(
            0, f"{'the copper of' if is_same else 'the next smaller copper to'} {size.text}"
        )
    if notes:
        words += f" ({'; '.join(notes)})"
    if column.insulation_c is not None:
        words += f" with {column.insulation_c:g} °C insulation"
    return words
