"""A proposed order of the slots, and the edits that make it so."""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.books import service_loop_m
from rigfolio.findings import Edit, Span
from rigfolio.lang import parse
from rigfolio.model import Circuit, Rig
from rigfolio.reports import (
    JUDGED,
    Amount,
    AnswerOf,
    Chapter,
    Field,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Sections,
    Value,
    items,
)
from rigfolio.study import Study
from rigfolio.swap import DEFAULT_PITCH_M, Arrangement, Places, Seat, arrange, arranged
from rigfolio.units import show, show_added
from rigfolio.wording import how_many, is_imperial, length_words

_COLUMNS = (
    ReportColumn("circuit"),
    ReportColumn("label"),
    ReportColumn("slot", "slot", 5),
    ReportColumn("called", "circuit", 34, given=False),
    ReportColumn("current", "", 8, given=False),
    ReportColumn("from", "comes from", 12, given=False),
    ReportColumn("moves"),
    ReportColumn("extend_m"),
    ReportColumn("wire", "its wire", 34, given=False),
)


def arrangements(study: Study) -> tuple[Arrangement, ...]:
    """The best order of every panel that has circuits.

    Raises
    ------
    UnprovedError
        The optimum was not proved within the steps that a search may take.
    """
    panels = [panel for panel in study.rig.panels if Places(study, panel).circuits]
    return tuple(arrange(study, panel) for panel in panels)


def arranging_report(study: Study, found: Sequence[Arrangement]) -> Report:
    """What is proposed, for `rigfolio arrange FILE`; lengths in m, currents in A."""
    loop = service_loop_m()
    parts: list[Part] = [
        Paragraph(
            "A wire reaches a slot where its tail holds the way along the panel and a loop of "
            f"{show(loop.value, 'mm')} ({loop.source.status}); the slot that it is in it reaches "
            "as it is. Fewest extensions first, then the shortest; then heavy circuits near the "
            "feed, few moves, and columns that carry alike."
        ),
        Sections(tuple(_panel(study, one) for one in found), "panels"),
    ]
    if not found:
        parts.append(Paragraph("This rig has no panel with circuits.", gap=True))
    of = AnswerOf("arrange", study.rig.name, study.book.name)
    return Report(f"Slot order: {study.rig.name}", (JUDGED,), tuple(parts), of=of)


def _panel(study: Study, one: Arrangement) -> Chapter:
    parts: list[Part] = [
        Field("panel", one.panel.about.name),
        Field("why_not", one.why or None),
        Field("reach_am", one.reach_am),
        Field("sides_a", one.sides_a),
    ]
    if not one.pitch_is_known:
        parts.append(Paragraph(f"pitch not stated, {show(DEFAULT_PITCH_M, 'mm')} taken"))
    if not one.seats:
        parts.append(Paragraph(f"There is no such order: {one.why}."))
    places = Places(study, one.panel)
    rows = tuple(_row(study, places, seat) for seat in one.seats)
    parts.append(ReportTable("", _COLUMNS, rows, "slots"))
    if one.seats:
        parts.append(Listing("All in all", items(_sums(study, one, places))))
    return Chapter(str(one.panel.about), tuple(parts))


def _row(study: Study, places: Places, seat: Seat) -> tuple[Value, ...]:
    circuit = seat.circuit
    return (
        circuit.place, circuit.label, seat.slot, circuit.label or circuit.place,
        Amount(places.told_a(circuit), "A", side="load"),
        f"slot {_number(circuit)}" if seat.moves else "stays",
        seat.moves, seat.extend_m, _wire_words(study.rig, seat),
    )  # fmt: skip


def _wire_words(rig: Rig, seat: Seat) -> str:
    if seat.extend_m is None:
        return "measure its tail, and where it leaves the loom, before you move it"
    if seat.extend_m > 0.0:
        words = length_words(seat.extend_m, imperial=is_imperial(rig))
        return f"EXTEND by {words}, crimped and sleeved"
    return "reaches"


def _sums(study: Study, one: Arrangement, places: Places) -> Iterator[str]:
    count, length_m, _ = one.cost
    moved = sum(seat.moves for seat in one.seats)
    wires = how_many(count, "wire")
    circuits = how_many(len(one.seats), "circuit")
    yield f"{moved} of {circuits} to be moved, {wires} to be extended or measured"
    if length_m:
        yield f"extended by {length_words(length_m, imperial=is_imperial(study.rig))} together"
    was_m = "" if any(not c.slot for c in places.circuits) else _as_it_is(places)
    reach = show(one.reach_am, "A").removesuffix(" A")
    yield f"currents times way from the feed: {reach} A m{was_m}"
    if len(one.sides_a) > 1:
        yield f"columns carry {', '.join(show_added(amps, 'A') for amps in one.sides_a)}"


def _as_it_is(places: Places) -> str:
    before = arranged(places, [circuit.slot for circuit in places.circuits])
    columns_ = ", ".join(show_added(amps, "A") for amps in before.sides_a)
    tail = f" with {columns_} in the columns" if len(before.sides_a) > 1 else ""
    return f", {show(before.reach_am, 'A').removesuffix(' A')} A m as it is{tail}"


def slot_edits(
    rig: Rig, texts: Mapping[str, str], found: Sequence[Arrangement]
) -> Mapping[str, tuple[Edit, ...]]:
    """The edits that renumber slots, by file: place names of slots and nothing else.

    A spare or blank slot that a circuit takes goes to a slot that was given up.
    """
    new: dict[str, str] = {}
    for one in found:
        new |= _renumbered(rig, one)
    made: dict[str, tuple[Edit, ...]] = {}
    for file, text in texts.items():
        edits = tuple(_edits(text, file, new))
        if edits:
            made[file] = edits
    return made


def _renumbered(rig: Rig, one: Arrangement) -> dict[str, str]:
    name = one.panel.about.name
    taken = {_number(seat.circuit): seat.slot for seat in one.seats}
    free = [number for number in range(1, one.panel.slots + 1) if number not in taken.values()]
    kept = [s.number for s in rig.slots if s.panel == name and s.number not in taken]
    stay = [number for number in kept if number in free]
    rest = [number for number in free if number not in stay]
    taken |= {number: number for number in stay}
    taken |= dict(zip((number for number in kept if number not in stay), rest, strict=False))
    return {f"{name}.{was}": f"{name}.{now}" for was, now in taken.items() if was != now}


def _number(circuit: Circuit) -> int:
    """The number of the slot that the text names, whether the panel has it or not."""
    return circuit.slot or int(circuit.place.rpartition(".")[2])


def _edits(text: str, file: str, new: Mapping[str, str]) -> Iterator[Edit]:
    lines, _ = parse(text, file)
    for line in lines:
        for item in line.items:
            if item.kind == "place" and item.text in new:
                yield Edit(Span(file, item.span.start, item.span.end), new[item.text])
