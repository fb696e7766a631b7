"""Who is meant: from a written place to a terminal of the graph."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from difflib import get_close_matches

from rigfolio.findings import Span
from rigfolio.model.draft import Draft, End, SeriesSaid
from rigfolio.model.graph import Junction, Problem
from rigfolio.record import record
from rigfolio.values import Place

TWO_ENDED = frozenset(
    {"fuse", "breaker", "disconnect", "combiner", "relay", "switch", "shunt", "connector"}
)
_ENDS = {"combiner": ("1", "2"), "selector": ("1", "2", "common")}


@record
class Bare:
    """A series device named without saying which end; the ends are found when all wires are known.

    `key` is the device, with its pin for a connector; `onward` whether the wire leads away from it.
    """

    key: str
    onward: bool


def ends_of(said: SeriesSaid, pin: str = "") -> tuple[str, ...]:
    """The terminals of a series device, or of one pin of a connector."""
    stem = f"{said.about.name}.{pin}" if pin else said.about.name
    return tuple(f"{stem}.{end}" for end in _ENDS.get(said.kind, ("line", "load")))


@dataclass(slots=True)
class Names:
    """Every name of the rig with the terminals it has."""

    terminals: dict[str, tuple[str, ...]] = field(default_factory=dict)
    spans: dict[str, Span] = field(default_factory=dict)
    series: dict[str, SeriesSaid] = field(default_factory=dict)
    panel_slots: dict[str, int] = field(default_factory=dict)
    feeds: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def add(self, name: str, span: Span, terminals: tuple[str, ...]) -> None:
        """Define a name once; a second time is a problem, and the first one stays."""
        if name in self.terminals:
            self.problems.append(Problem("used-twice", span, name, self.spans[name]))
            return
        self.terminals[name] = terminals
        self.spans[name] = span

    def nearest(self, name: str) -> str:
        """The closest defined name, empty where none is near."""
        near = get_close_matches(name, list(self.terminals), n=1, cutoff=0.5)
        return near[0] if near else ""

    def resolve(self, place: End, at: Span, *, onward: bool = False) -> str | Bare | None:
        """The terminal that a place means; None, with a problem noted, where there is none."""
        if not isinstance(place, Place):
            return None
        if place.name not in self.terminals:
            near = self.nearest(place.name)
            self.problems.append(Problem("not-defined", at, place.name, near=near))
            return None
        if place.name in self.panel_slots and place.tail:
            return self._slot(place, at)
        if place.name in self.series:
            return self._series(place, at, onward=onward)
        return self._plain(place, at)

    def _slot(self, place: Place, at: Span) -> str | None:
        number = place.tail[0]
        slots = self.panel_slots[place.name]
        if len(place.tail) == 1 and number.isdigit() and 1 <= int(number) <= slots:
            return f"{place.name}.{int(number)}"
        self.problems.append(
            Problem("no-slot", at, str(place), self.spans[place.name], near=str(slots))
        )
        return None

    def _series(self, place: Place, at: Span, *, onward: bool) -> str | Bare | None:
        said = self.series[place.name]
        pin = ""
        tail = place.tail
        if said.kind == "connector" and tail and tail[0].isdigit():
            pin, tail = tail[0], tail[1:]
            if not 1 <= int(pin) <= said.pins:
                self._no_terminal(place, at)
                return None
        elif said.kind == "connector":
            self._no_terminal(place, at)
            return None
        ends = ends_of(said, pin)
        stem = f"{place.name}.{pin}" if pin else place.name
        written = f"{stem}.{'.'.join(tail)}" if tail else ""
        if written in ends and not place.sign:
            return written
        if not tail and not place.sign:
            return f"{stem}.common" if said.kind == "selector" else Bare(stem, onward)
        self._no_terminal(place, at)
        return None

    def _plain(self, place: Place, at: Span) -> str | None:
        known = self.terminals[place.name]
        written = str(place)
        if written in known:
            return written
        if not place.tail and not place.sign and place.name in self.feeds:
            return self.feeds[place.name]
        self._no_terminal(place, at)
        return None

    def _no_terminal(self, place: Place, at: Span) -> None:
        known = self.terminals[place.name]
        self.problems.append(
            Problem("no-terminal", at, str(place), self.spans[place.name], near=", ".join(known))
        )


def _pins(said: SeriesSaid) -> Iterator[str]:
    if said.kind == "connector":
        for pin in range(1, said.pins + 1):
            yield from ends_of(said, str(pin))
    else:
        yield from ends_of(said)


def names_of(draft: Draft) -> Names:
    """All names that a draft defines."""
    names = Names()
    for source in draft.sources:
        about = source.about
        ends = (source.plus, source.minus)
        names.add(
            about.name, about.span, (f"{about.name}.in", *ends) if _steps(source.kind) else ends
        )
    for said in draft.series:
        names.add(said.about.name, said.about.span, tuple(_pins(said)))
        names.series.setdefault(said.about.name, said)
    for junction in draft.junctions:
        names.add(junction.about.name, junction.about.span, (junction.terminal,))
    for panel in draft.panels:
        name = panel.about.name
        slots = tuple(f"{name}.{number}" for number in range(1, panel.slots + 1))
        names.add(name, panel.about.span, (name, f"{name}-", *slots))
        names.panel_slots.setdefault(name, panel.slots)
        names.feeds[name] = name
    for load in draft.loads:
        name = load.about.name
        if load.ends is None:
            names.add(name, load.about.span, (f"{name}+", f"{name}-"))
    _inside_circuits(draft, names)
    return names


def _inside_circuits(draft: Draft, names: Names) -> None:
    for circuit in draft.circuits:
        for member in circuit.members:
            if isinstance(member, SeriesSaid) and member.about.name:
                names.add(member.about.name, member.about.span, ends_of(member))
            elif isinstance(member, Junction):
                name = member.about.name
                names.add(name, member.about.span, (name, f"{name}-"))


def _steps(kind: str) -> bool:
    return kind == "dc-dc"
