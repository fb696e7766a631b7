"""The text that a new rig starts from: what is usual stands in it, and a `?` for all the rest."""

from collections.abc import Iterator, Mapping
from typing import Literal

from rigfolio.books import load_book
from rigfolio.record import record

Kind = Literal["towable", "van", "boat", "cabin"]
PARTS = frozenset({"shore", "solar", "vehicle", "alternator", "dc-dc", "disconnect"})
"""What a rig may have besides a battery, a panel and a negative bar."""
MOST_SLOTS = 120

IGNORED = """\
# Documents are made anew from the rig file at any time: keep the text, its pictures and its log.
out/
"""
"""What a folder of rigs leaves out of version control."""

_BOOKS: Mapping[Kind, str] = {
    "towable": "rv", "van": "vehicle", "boat": "boat", "cabin": "vehicle",
}  # fmt: skip
_FEED = "# --- from the battery to the panel and back; `?` in the middle is the colour ---"
_FRAME = frozenset({"towable", "van"})


@record
class Start:
    """What is known of a new rig before anybody has looked at it."""

    kind: Kind
    name: str
    slots: int = 12
    volts: int = 12
    metric: bool = False
    parts: frozenset[str] = frozenset()


def starter(start: Start) -> str:
    """A commented rig file in which every value that has to be looked at is a `?`.

    Every wire has its name in the text, so that the tag on it stays true.
    """
    wires = [f"{wire}, tag W{number}" for number, wire in enumerate(_wires(start), 1)]
    lines = [*_head(start, len(wires)), *_parts(start), _FEED, *wires, "", *_slots(start),
             *_states(start)]  # fmt: skip
    return "\n".join(lines) + "\n"


def _head(start: Start, wires: int) -> Iterator[str]:
    name = " ".join(start.name.replace('"', "'").split())[:80] or "Rig"
    yield f"# {name}: walk the panel with the sheet of `rigfolio survey`, fill in each `?`."
    yield "# Lengths are one way, along the wire. A number always has its unit."
    yield ""
    yield f'rig "{name}"'
    yield f"    system {start.volts} V"
    book = load_book(_BOOKS[start.kind])
    yield f"    rules  {book.name}     # made for {book.made_for}"
    if start.metric:
        yield "    paper  a4"
    yield f"    tags used to W{wires}     # the next wire gets the next number, none comes twice"
    yield "    # ambient 40 degC       # how hot it gets where the wires lie"
    yield ""


def _parts(start: Start) -> Iterator[str]:
    yield "# --- what can drive current, and what can stop it ---"
    yield 'battery B1 "House battery" ? Ah         # flooded, agm, gel or lithium; internal ? mohm'
    yield 'fuse F1 "Battery fuse" ? A              # read the rating on it; interrupts ? kA'
    if "disconnect" in start.parts:
        yield 'disconnect S1 "Battery disconnect" ? A'
    if "shore" in start.parts:
        yield 'charger C1 "Converter" ? A'
    if "solar" in start.parts:
        yield 'array Y1 "Solar modules" open circuit ?, short circuit ?   # 2 modules in series'
        yield 'disconnect S2 "Solar isolator" ? A      # rated ? V: the volts of its modules'
        yield 'solar U1 "Solar controller" ? A, input ?   # the volts that its input bears'
    if "alternator" in start.parts:
        yield 'alternator A1 "Engine" ? A'
    if "dc-dc" in start.parts:
        yield 'battery B2 "Starter battery" ? Ah, 12 V'
        yield (f'dc-dc E1 "Charger from the engine" ? A from 12 V to {start.volts} V, draws ? A')
    if "vehicle" in start.parts:
        yield 'vehicle V1 "Tow vehicle"'
    slots = max(1, min(start.slots, MOST_SLOTS))
    yield f'panel P1 "Panel" {slots} slots of ? A     # pitch ? mm: from slot to slot'
    yield 'busbar N1 "Negative bar" ? A'
    if start.kind in _FRAME:
        yield 'chassis G1 "Frame"'
    yield ""


def _wires(start: Start) -> Iterator[str]:
    size, long = ("? mm2", "? m") if start.metric else ("? AWG", "? ft")
    one = f"{size} ? {long}"
    yield f"wire B1+ to F1 {one}"
    if "disconnect" in start.parts:
        yield f"wire F1 to S1.line {one}"
        yield f"wire S1.load to P1 {one}"
    else:
        yield f"wire F1 to P1 {one}"
    yield f"wire N1 to B1- {one}"
    if start.kind in _FRAME:
        yield f"wire B1- to G1 {one}"
    # An engine charges its own battery, and that by a converter the other one.
    bank = "B2" if "dc-dc" in start.parts else "B1"
    sources = (
        ("shore", "C1", "P1", "N1"), ("solar", "U1", "B1+", "B1-"),
        ("alternator", "A1", f"{bank}+", f"{bank}-"), ("vehicle", "V1", "B1+", "B1-"),
    )  # fmt: skip
    if "solar" in start.parts:
        yield f"wire Y1+ to S2.line {one}"
        yield f"wire S2.load to U1.in {one}"
        yield f"wire U1.in- to Y1- {one}"
    for part, name, plus, minus in sources:
        if part in start.parts:
            yield f"wire {name}+ to {plus} {one}, fuse ? A at {plus}"
            yield f"wire {name}- to {minus} {one}"
    if "dc-dc" in start.parts:
        yield f"wire B2+ to E1.in {one}, fuse ? A at B2+"
        yield f"wire E1.out to B1+ {one}, fuse ? A at B1+"
        yield f"wire E1- to B1- {one}"
        yield f"wire B2- to {'G1' if start.kind in _FRAME else 'B1-'} {one}"


def _slots(start: Start) -> Iterator[str]:
    size, long = ("? mm2", "? m") if start.metric else ("? AWG", "? ft")
    yield "# --- the panel, slot by slot: a circuit each, or `slot P1.2 spare` or `blank` ---"
    yield '# circuit P1.1 "Ceiling lights" fuse 7.5 A, found 15 A, marked 10 A'
    yield f"#     wire {size} red/black {long}, tail 8 in"
    yield '#     load "Galley lamp" 8 W, 4 h/day'
    yield ""


def _states(start: Start) -> Iterator[str]:
    if "disconnect" in start.parts:
        yield "# --- how the rig stands ---"
        yield "state stored S1 open"
