"""What a rule book says beside its columns of currents: volts to lose, interrupting, notes."""

from rigfolio.books.tables import (
    Limit,
    Table,
    gauge,
    limit,
    number,
    numbers,
    source_of,
    table,
    tables as rows_under,
    text as text_of,
)
from rigfolio.books.trade import are_one_system
from rigfolio.findings import Citation
from rigfolio.record import record
from rigfolio.units import awg_size

_OTHER_TABLES = frozenset(
    {
        "book",
        "ambient",
        "cable",
        "carries",
        "bundle",
        "bundle_metric",
        "engine",
        "interrupts",
        "drop_volts",
        "note",
    }
)


@record
class Note:
    """What a book says in words."""

    text: str
    source: Citation


@record
class DropRow:
    """Volts that a circuit may lose at a nominal voltage, by how long its load runs [V].

    `from_bar` is whether they are counted from the bar of the panel and not from the battery.
    """

    nominal_v: float
    continuous_v: float
    intermittent_v: float
    source: Citation
    from_bar: bool = False


@record
class InterruptRow:
    """What breakers must interrupt, up to a battery of so many cold-cranking amperes [A]."""

    cranking_a: float
    main_a: float
    branch_a: float
    source: Citation


def notes_of(data: Table) -> tuple[Note, ...]:
    """The notes of a book."""
    return tuple(Note(text_of(row, "text"), source_of(row)) for row in rows_under(data, "note"))


def drop_rows_of(data: Table) -> tuple[DropRow, ...]:
    """The volts that a book allows, lowest system first."""
    return tuple(
        DropRow(*volts, source_of(row), row.get("from_bar") is True)
        for row in rows_under(data, "drop_volts")
        for volts in zip(
            numbers(row, "nominal_v"),
            numbers(row, "continuous_v"),
            numbers(row, "intermittent_v"),
            strict=True,
        )
    )


def interrupt_rows_of(data: Table) -> tuple[InterruptRow, ...]:
    """What breakers must interrupt, smallest battery first."""
    return tuple(
        InterruptRow(
            number(row, "cranking_a"),
            number(row, "main_a"),
            number(row, "branch_a"),
            source_of(row),
        )
        for row in rows_under(data, "interrupts")
    )


def limits_of(data: Table) -> dict[str, Limit]:
    """Every table that holds one number."""
    found = {}
    for key in data:
        if key in _OTHER_TABLES:
            continue
        row = table(data, key)
        if "awg" in row:
            size = awg_size(gauge(text_of(row, "awg")))
            found[key] = Limit(size.area_m2, source_of(row), size.text)
        else:
            found[key] = limit(row)
    return found


def volts_to_lose(rows: tuple[DropRow, ...], system_v: float, *, intermittent: bool) -> Limit:
    """Share of the system voltage that a circuit may lose where a book allows volts [-].

    The first row is that of a 12 V system on charge. A voltage without a row of its own has the
    least share of the rows beside it, and no more volts than the row of its system: a bank of
    12.8 V is one of a 12 V system.
    """
    charging_v = system_v * rows[0].nominal_v / 12.0
    above = [row for row in rows if row.nominal_v >= charging_v * 0.999]
    below = [row for row in rows if row.nominal_v <= charging_v * 1.001]
    sides = [*below[-1:], *above[:1]]
    held = [(row.intermittent_v if intermittent else row.continuous_v, row) for row in sides]
    own = [one for one in held if are_one_system(one[1].nominal_v, charging_v)]
    beside_v = charging_v * min(volts / row.nominal_v for volts, row in held)
    allowed_v, at_v = min([(beside_v, charging_v), *((volts, row.nominal_v) for volts, row in own)])
    duty = "intermittent" if intermittent else "continuous"
    how = f"{allowed_v:.3g} V at {at_v:g} V, {duty}"
    return Limit(allowed_v / system_v, sides[0].source, how)
