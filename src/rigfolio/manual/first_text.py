"""The text that a new rig starts from: what is usual stands in it, and a `?` for all the rest."""

from collections.abc import Iterator, Mapping
from typing import Literal

from rigfolio.books import load_book
from rigfolio.record import record

Kind = Literal["towable", "van", "boat", "cabin"]
_HOUSE = ("shore", "solar", "turbine", "disconnect")
PARTS: Mapping[Kind, tuple[str, ...]] = {
    "towable": (*_HOUSE, "vehicle", "dc-dc"),
    "van": (*_HOUSE, "alternator", "dc-dc"),
    "boat": (*_HOUSE, "alternator", "dc-dc"),
    "cabin": _HOUSE,
}
"""What a rig of each kind may have besides a battery, a panel and a negative bar."""
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
_DRIVES = frozenset({"vehicle", "alternator"})
"""What drives the input of a charger between batteries: the engine of a towable is in front."""


@record
class Start:
    """What is known of a new rig before anybody has looked at it."""

    kind: Kind
    name: str
    slots: int = 12
    volts: int = 12
    metric: bool = False
    parts: frozenset[str] = frozenset()

    def has(self, part: str) -> bool:
        """Whether a part is in it; what charges by a converter stands there with that."""
        return part in self.parts or (
            "dc-dc" in self.parts and part in PARTS[self.kind] and part in _DRIVES
        )

    @property
    def joins_banks(self) -> bool:
        """Whether a relay joins the battery of the engine to that of the house."""
        return self.kind == "van" and self.has("alternator") and not self.has("dc-dc")

    @property
    def has_engine_battery(self) -> bool:
        """Whether the engine has a battery of its own."""
        return self.has("alternator") and (self.joins_banks or self.has("dc-dc"))


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
    if start.has("disconnect"):
        yield 'disconnect S1 "Battery disconnect" ? A'
    if start.has("shore"):
        yield 'charger C1 "Charger" ? A'
    if start.has("solar"):
        yield 'array Y1 "Solar modules" open circuit ?, short circuit ?   # 2 modules in series'
        yield 'disconnect S2 "Solar isolator" ? A      # rated ? V: the volts of its modules'
        yield 'solar U1 "Solar controller" ? A, input ?   # the volts that its input bears'
    if start.has("turbine"):
        yield 'turbine T1 "Wind turbine" ? A           # note "where its brake switch is"'
    yield from _engine(start)
    slots = max(1, min(start.slots, MOST_SLOTS))
    yield f'panel P1 "Panel" {slots} slots of ? A     # pitch ? mm: from slot to slot'
    yield 'busbar N1 "Negative bar" ? A'
    if start.kind in _FRAME:
        yield 'chassis G1 "Frame"'
    yield ""


def _engine(start: Start) -> Iterator[str]:
    """The engine, or the vehicle in front, and what stands between its battery and the house."""
    # The engine has 12 V where a converter stands between, else the volts of the house.
    volts = ", 12 V" if start.has("dc-dc") else ""
    if start.has("alternator"):
        yield f'alternator A1 "Engine" ? A{volts}        # the output that is stamped on it'
    if start.has_engine_battery:
        yield f'battery B2 "Engine battery" ? Ah{volts}     # flooded or agm, cold cranking ? A'
    if start.has("vehicle"):
        yield f'vehicle V1 "Tow vehicle"{volts}        # internal ? mohm: of its battery and leads'
        yield 'connector J1 "Tow plug" ? pins of ? A   # below by the numbers of its pins'
    if start.has("dc-dc"):
        yield f'dc-dc E1 "Charger from the engine" ? A from 12 V to {start.volts} V, draws ? A'
    if start.joins_banks:
        yield 'combiner K1 "Charge relay" ? A          # joins both batteries while one is charged'


def _wires(start: Start) -> Iterator[str]:
    size, long = ("? mm2", "? m") if start.metric else ("? AWG", "? ft")
    one = f"{size} ? {long}"
    yield f"wire B1+ to F1 {one}"
    if start.has("disconnect"):
        yield f"wire F1 to S1.line {one}"
        yield f"wire S1.load to P1 {one}"
    else:
        yield f"wire F1 to P1 {one}"
    yield f"wire N1 to B1- {one}"
    if start.kind in _FRAME:
        yield f"wire B1- to G1 {one}"
    if start.has("shore"):
        yield from _pair("C1", "P1", "N1", one)
    if start.has("solar"):
        yield f"wire Y1+ to S2.line {one}"
        yield f"wire S2.load to U1.in {one}"
        yield f"wire U1.in- to Y1- {one}"
        yield from _pair("U1", "B1+", "B1-", one)
    if start.has("turbine"):
        yield from _pair("T1", "B1+", "B1-", one)
    yield from _engine_wires(start, one)


def _pair(name: str, plus: str, minus: str, one: str) -> Iterator[str]:
    """The wires of what gives no more than it is made for: a fuse where the battery feeds them."""
    yield f"wire {name}+ to {plus} {one}, fuse ? A at {plus}"
    yield f"wire {name}- to {minus} {one}"


def _engine_wires(start: Start, one: str) -> Iterator[str]:
    """An engine charges its own battery, and that by a converter or a relay the other one.

    Where a battery stands at each end of a wire, a fuse does so too.
    """
    ground = "G1" if start.kind in _FRAME else "B1-"
    if start.has("alternator"):
        bank = "B2" if start.has_engine_battery else "B1"
        yield from _pair("A1", f"{bank}+", f"{bank}-", one)
    if start.has_engine_battery:
        yield f"wire B2- to {ground} {one}"
    if start.has("vehicle"):
        yield f"wire V1+ to J1.1 {one}, fuse ? A at V1+"
        yield f"wire V1- to J1.2 {one}"
        yield f"wire J1.2 to B1- {one}"
        if not start.has("dc-dc"):
            yield f"wire J1.1 to B1+ {one}, fuse ? A at B1+"
    if start.has("dc-dc"):
        is_towed = start.has("vehicle")
        yield (
            f"wire J1.1 to E1.in {one}" if is_towed else f"wire B2+ to E1.in {one}, fuse ? A at B2+"
        )
        yield f"wire E1.out to B1+ {one}, fuse ? A at B1+"
        yield f"wire E1- to B1- {one}"
    if start.joins_banks:
        yield from (f"wire {bank}+ to K1 {one}, fuse ? A at {bank}+" for bank in ("B1", "B2"))


def _slots(start: Start) -> Iterator[str]:
    size, long = ("? mm2", "? m") if start.metric else ("? AWG", "? ft")
    yield "# --- the panel, slot by slot: a circuit each, or `slot P1.2 spare` or `blank` ---"
    yield '# circuit P1.1 "Ceiling lights" fuse 7.5 A, found 15 A, marked 10 A'
    yield f"#     wire {size} red/black {long}, tail 8 in"
    yield '#     load "Galley lamp" 8 W, 4 h/day'
    yield ""


def _states(start: Start) -> Iterator[str]:
    if start.has("disconnect"):
        yield "# --- how the rig stands ---"
        yield "state stored S1 open"
