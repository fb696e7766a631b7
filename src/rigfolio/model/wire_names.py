"""What a wire is called that the text gives no name: by what it joins, never by its turn.

A tag is glued to a wire, so the name on it may not pass to another wire when one more is written
into the text. A wire between two places is called by both, `B1+/F1`, in one order however they are
written. The wire that lands in a slot is called by that, `P1.6/1`, its return `P1.6/1R`; those
further on by what they lead to, `P1.6/Z1`, `P1.6/Bath lamp`; a wire of a circuit that starts at no
slot by the label of that, for many circuits may start there, and its last one `N2/Pump load` where
the load is called as the circuit is. Wires that would be called alike are
all told apart by size and colour, and only those alike in that too by their order.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from rigfolio.findings import Unknown
from rigfolio.model.asides import Nameless
from rigfolio.model.draft import (
    CircuitSaid,
    Draft,
    End,
    LoadSaid,
    ReturnSaid,
    RunSaid,
    SeriesSaid,
    WireFacts,
)
from rigfolio.model.graph import Junction
from rigfolio.natural_order import natural
from rigfolio.record import record

JOIN = "/"
"""What stands between the two ends in the name of a wire, and behind the place of a circuit."""
_LONGEST = 20
"""Letters of a label that a name takes; a tag holds no more beside the rest."""
_OPEN_END = "joint"
_NUMBERED = re.compile(r"[Ww]([1-9][0-9]{0,5})", re.ASCII)
_LEADS_ON = frozenset(
    ["a", "above", "an", "and", "at", "behind", "below", "by", "for", "from", "in", "near", "of",
     "on", "or", "over", "the", "to", "under", "with"]
)  # fmt: skip
_PAUSE = re.compile(r"[,;:()\[\]]")

Key = tuple[int, int]
"""A wire or return of a circuit: the number of the circuit, and its own among what is in it."""


@record
class WireNames:
    """What every wire of a text is called.

    `wires` are those between two places, in the order of the text; `runs` and `returns` those of
    circuits. `nameless` are those that the text itself gives no name.
    """

    wires: tuple[str, ...]
    runs: Mapping[Key, str]
    returns: Mapping[Key, str]
    nameless: tuple[Nameless, ...]

    def back(
        self, number: int, returns: Sequence[ReturnSaid]
    ) -> tuple[tuple[ReturnSaid, str], ...]:
        """What is said of the way back of a circuit, each with the name of the wire that it is."""
        return tuple((one, self.returns.get((number, at), "")) for at, one in enumerate(returns))


class _Wire:
    """A wire with what it joins in words, and the number that its turn gives it."""

    def __init__(self, facts: WireFacts, base: str, turn: str) -> None:
        self.facts = facts
        self.base = base
        self.turn = turn
        self.name = ""


def wire_names(draft: Draft, parts: Collection[str]) -> WireNames:
    """The names of all wires of a draft, those of returns that are taken for granted left aside.

    Parameters
    ----------
    draft : Draft
        What the statements said.
    parts : Collection[str]
        The names of all parts.
    """
    panels = frozenset(said.about.name for said in draft.panels)
    runs: dict[Key, _Wire] = {}
    returns: dict[Key, _Wire] = {}
    for number, (circuit, stem) in enumerate(stems(draft.circuits)):
        is_slot = bool(circuit.place.tail) and circuit.place.name in panels
        start = str(circuit.place) + JOIN
        head = start + ("1" if is_slot or not circuit.label else _short(circuit.label))
        for at, wire in _runs(circuit, start, head, stem):
            runs[number, at] = wire
        for at, one in enumerate(circuit.returns):
            if one.facts is not None:
                turn = f"{stem}{JOIN}{_ordinal(circuit.returns, at)}R"
                returns[number, at] = _Wire(one.facts, return_name(head), turn)
    of_circuits = [*runs.values(), *returns.values()]
    taken = {wire.facts.tag for wire in of_circuits} | {said.facts.tag for said in draft.wires}
    turns = _turns([said.facts for said in draft.wires], taken | frozenset(parts))
    wires = [
        _Wire(said.facts, joined(said.ends), turn)
        for said, turn in zip(draft.wires, turns, strict=True)
    ]
    every = [*wires, *of_circuits]
    _tell_apart(every, (taken | frozenset(parts)) - {""})
    return WireNames(
        tuple(wire.name for wire in wires),
        {key: wire.name for key, wire in runs.items()},
        {key: wire.name for key, wire in returns.items()},
        tuple(Nameless(w.facts.span, w.name, w.turn) for w in every if not w.facts.tag),
    )


def wire_number(name: str) -> int:
    """The number in a name that is W and a number; 0 for any other.

    Examples
    --------
    >>> wire_number("W57"), wire_number("w57"), wire_number("B1+/F1"), wire_number("W0")
    (57, 57, 0, 0)
    """
    found = _NUMBERED.fullmatch(name)
    return int(found[1]) if found else 0


def either_order(name: str) -> str:
    """The name of a wire with its two ends the other way round; as it is where it has not two.

    Examples
    --------
    >>> either_order("F1/B1+"), either_order("B1+/F1 6 AWG red"), either_order("W7")
    ('B1+/F1', 'F1/B1+ 6 AWG red', 'W7')
    """
    ends, space, rest = name.partition(" ")
    one, slash, two = ends.partition(JOIN)
    return f"{two}{JOIN}{one}{space}{rest}" if slash else name


def stems(circuits: Iterable[CircuitSaid]) -> Iterator[tuple[CircuitSaid, str]]:
    """Each circuit with what the names of its terminals begin with: its place, once."""
    seen: dict[str, int] = {}
    for said in circuits:
        place = str(said.place)
        seen[place] = seen.get(place, 0) + 1
        yield said, place if seen[place] == 1 else f"{place}-{seen[place]}"


def joined(ends: tuple[End, End]) -> str:
    """Both ends of a wire in one order.

    Examples
    --------
    >>> from rigfolio.values import read_place
    >>> joined((read_place("F1"), read_place("B1+")))
    'B1+/F1'
    """
    one, two = sorted(("?" if isinstance(e, Unknown) else str(e) for e in ends), key=_order)
    return f"{one}{JOIN}{two}"


def return_name(name: str) -> str:
    """The return beside a wire.

    Examples
    --------
    >>> return_name("P1.6/1"), return_name("P1.6/Bath lamp")
    ('P1.6/1R', 'P1.6/Bath lamp R')
    """
    return f"{name} R" if _is_in_words(name) else f"{name}R"


def stub_name(name: str) -> str:
    """The piece of a wire before the fuse on it.

    Examples
    --------
    >>> stub_name("W12"), stub_name("B1+/P1"), stub_name("B1+/1")
    ('W12a', 'B1+/P1 stub', 'B1+/0')
    """
    if name.endswith(f"{JOIN}1"):
        return f"{name[:-1]}0"
    return f"{name} stub" if JOIN in name else f"{name}a"


def _is_in_words(name: str) -> bool:
    tail = name.rpartition(JOIN)[2]
    return JOIN in name and not tail.isdigit()


def _order(end: str) -> tuple[object, str]:
    return natural(end.casefold()), end


def _short(label: str) -> str:
    """The head of a label: whole words, without what parts them, and none that leads on.

    Examples
    --------
    >>> _short("Brake magnets, two"), _short("Gas solenoid in the locker")
    ('Brake magnets two', 'Gas solenoid')
    """
    words = _PAUSE.sub(" ", label).split()
    while len(words) > 1 and (len(" ".join(words)) > _LONGEST or words[-1] in _LEADS_ON):
        words.pop()
    return " ".join(words)[:_LONGEST] or _OPEN_END


def _ordinal(returns: Sequence[ReturnSaid], at: int) -> int:
    return 1 + sum(one.facts is not None for one in returns[:at])


def _runs(
    circuit: CircuitSaid, start: str, head: str, stem: str
) -> Iterator[tuple[int, _Wire]]:  # fmt: skip
    """The wires out of a circuit, each with its number among the members."""
    turn = 0
    members = circuit.members
    for at, member in enumerate(members):
        if isinstance(member, RunSaid):
            turn += 1
            after = members[at + 1] if at + 1 < len(members) else None
            base = head if turn == 1 else start + _leads_to(member, after)
            # A circuit is often called as its load is, and a switch stands between the two wires.
            base += " load" if turn > 1 and base.casefold() == head.casefold() else ""
            yield at, _Wire(member.facts, base, f"{stem}{JOIN}{turn}")


def _leads_to(run: RunSaid, after: object) -> str:
    """What a wire of a circuit ends at, as short as it can be said."""
    if run.end is not None:
        return str(run.end)
    if isinstance(after, Junction):
        return after.about.name
    if isinstance(after, SeriesSaid):
        return after.about.name or after.kind
    if isinstance(after, LoadSaid):
        return after.about.name or _short(after.about.label)
    return _OPEN_END


def _turns(wires: Iterable[WireFacts], taken: Collection[str]) -> Iterator[str]:
    """W and the place of each wire in the text, past what is taken."""
    number = 0
    for facts in wires:
        number += 1
        while not facts.tag and f"W{number}" in taken:
            number += 1
        yield f"W{number}"


def _tell_apart(every: Sequence[_Wire], by_hand: Collection[str]) -> None:
    """Give every wire its name: of several that would be called alike none is called so."""
    used = {name.casefold() for name in by_hand}
    alike: dict[str, list[_Wire]] = {}
    for wire in every:
        if wire.facts.tag:
            wire.name = wire.facts.tag
        else:
            alike.setdefault(wire.base.casefold(), []).append(wire)
    for base in sorted(alike):
        if len(alike[base]) == 1 and base not in used:
            wire = alike.pop(base)[0]
            wire.name = wire.base
            used.add(base)
    for base in sorted(alike):
        looks: dict[str, list[_Wire]] = {}
        for wire in alike[base]:
            looks.setdefault(f"{wire.base} {_looks(wire.facts)}", []).append(wire)
        for look, wires in looks.items():
            is_one = len(wires) == 1 and look.casefold() not in used
            names = iter([look]) if is_one else _numbered(look, used)
            for wire, name in zip(wires, names, strict=False):
                wire.name = name
                used.add(name.casefold())


def _numbered(look: str, used: Collection[str]) -> Iterator[str]:
    number = 0
    while True:
        number += 1
        if f"{look} {number}".casefold() not in used:
            yield f"{look} {number}"


def _looks(facts: WireFacts) -> str:
    """Size and colour, by which a person tells one wire from another."""
    size = "?" if isinstance(facts.size, Unknown) else facts.size.text
    colour = "?" if facts.colour is None else str(facts.colour)
    return f"{size} {'?' if isinstance(facts.colour, Unknown) else colour}"
