"""The conductors of a rig as a harness shop makes them: ends, terminals, size, length to cut."""

from collections.abc import Iterator

from rigfolio.books import bought_m, outside_diameter_m, sleeve_m
from rigfolio.findings import Unknown
from rigfolio.job import Job
from rigfolio.model import Conductor, is_other
from rigfolio.protection import guard_words
from rigfolio.record import record
from rigfolio.swap.purchases import usual_terminal
from rigfolio.units import Size
from rigfolio.wording import (
    circuit_of,
    colour_text,
    end_words,
    gauge_words,
    length_words,
    short_end,
    there_words,
    wires_in_order,
)


@record
class Connection:
    """A row of a connection table, one for each conductor, in the words that are printed.

    `ends` are end 1 and end 2 with what they belong to, `terminals` the same as they are typed,
    `crimped` what is crimped on there. `cut` is the length along the wire with the slack of both
    ends. `sleeve` is the tube that goes over each end. `guard` is what guards the wire. What the
    text does not say is `?`, or `to suit` for what is crimped on.
    """

    wire: str
    circuit: str
    ends: tuple[str, str]
    terminals: tuple[str, str]
    crimped: tuple[str, str]
    size: str
    insulation: str
    colour: str
    cut: str
    sleeve: str
    guard: str
    remarks: str


def connections(job: Job) -> Iterator[Connection]:
    """A row for each conductor that somebody cuts and crimps, by panel and slot, then supplies.

    The short leads that a fixture came with are left out. A wish for some circuits or wires is
    heeded. Terms and columns after the connection table of IEC 61082-1 (from memory) and the wire
    list of vehicle and boat yards (common practice).
    """
    for wire in wires_in_order(job.rig):
        circuit = circuit_of(job.rig, wire)
        panel = circuit.panel if circuit is not None else ""
        if not wire.lead and job.wants(wire.name, wire.circuit, panel):
            yield _row(job, wire)


def _row(job: Job, wire: Conductor) -> Connection:
    rig = job.rig
    circuit = circuit_of(rig, wire)
    named = tuple(short_end(rig, end) for end in (wire.a, wire.b))
    crimped = tuple(
        said or usual_terminal(rig, end) or "to suit"
        for end, said in zip((wire.a, wire.b), wire.ends, strict=True)
    )
    return Connection(
        wire.name,
        f"{circuit.place} {circuit.label}".rstrip() if circuit is not None else "",
        (end_words(rig, wire.a), end_words(rig, wire.b)),
        (named[0], named[1]),
        (crimped[0], crimped[1]),
        gauge_words(wire),
        _insulation(wire),
        "?" if isinstance(wire.colour, Unknown) else colour_text(wire.colour),
        _cut(wire, imperial=wire.is_in_feet),
        _sleeve(wire),
        guard_words(job.study, wire),
        "; ".join(_remarks(wire)),
    )


def _insulation(wire: Conductor) -> str:
    degrees = "" if wire.insulation_c is None else f"{wire.insulation_c:g} °C"
    return " ".join(word for word in (wire.insulation, degrees) if word)


def _cut(wire: Conductor, *, imperial: bool) -> str:
    if isinstance(wire.length_m, Unknown):
        return "?"
    return length_words(bought_m(wire.length_m, 2), imperial=imperial)


def _sleeve(wire: Conductor) -> str:
    if not isinstance(wire.size, Size):
        return "?"
    diameter = sleeve_m(outside_diameter_m(wire.size).value)
    return "none that large" if diameter is None else f"{diameter * 1000.0:g} mm"


def _remarks(wire: Conductor) -> Iterator[str]:
    """What the person with the crimper has to know besides."""
    if wire.count > 1:
        yield f"{wire.count} alike, side by side"
    if wire.assumed:
        yield "assumed"
    if is_other(wire):
        yield there_words(wire, short=True)
    yield from (words for words in (wire.condition, wire.note) if words)
