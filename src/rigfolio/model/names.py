"""Who is meant: from a written place to a terminal of the graph."""

from collections.abc import Iterable, Iterator

from rigfolio.findings import Span
from rigfolio.model.asides import Problem
from rigfolio.model.draft import Draft, End, LoadSaid, RunSaid, SeriesSaid
from rigfolio.model.graph import Junction, Source
from rigfolio.nearness import nearest
from rigfolio.record import record
from rigfolio.values import Place

MOST_COUNTED = 120


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
    return tuple(f"{stem}.{end}" for end in said.traits.ends)


class Names:
    """Every name of the rig with the terminals it has.

    `counted` are the slots of panels and the pins of connectors; `same` the terminals that are
    another one by a second name: the line end of a fuse that sits on a battery post.
    """

    def __init__(self) -> None:
        self.terminals: dict[str, tuple[str, ...]] = {}
        self.spans: dict[str, Span] = {}
        self.series: dict[str, SeriesSaid] = {}
        self.panels: dict[str, int] = {}
        self.pins: dict[str, int] = {}
        self.same: dict[str, str] = {}
        self.problems: list[Problem] = []

    def add(self, name: str, span: Span, terminals: tuple[str, ...]) -> bool:
        """Define a name once; a second time is a problem, and the first one stays."""
        if name in self.terminals:
            self.problems.append(Problem("used-twice", span, name, self.spans[name]))
            return False
        self.terminals[name] = terminals
        self.spans[name] = span
        return True

    def ends(self, bare: Bare) -> tuple[str, ...]:
        """The terminals of a series device, or of the pin of it, that is named without its end."""
        said = self.series.get(bare.key)
        if said is not None:
            return ends_of(said)
        name, _, pin = bare.key.rpartition(".")
        return ends_of(self.series[name], pin)

    def nearest(self, name: str) -> str:
        """The closest defined name, empty where none is near."""
        return nearest(name, sorted(self.terminals))

    def resolve(self, place: End, at: Span, *, onward: bool = False) -> str | Bare | None:
        """The terminal that a place means; None, with a problem noted, where there is none."""
        if not isinstance(place, Place):
            return None
        at = _place_of(place, at)
        if place.name not in self.terminals:
            near = self.nearest(place.name)
            self.problems.append(Problem("not-defined", at, place.name, near=near))
            return None
        if place.name in self.panels and place.tail:
            return self._slot(place, at)
        if place.name in self.series:
            return self._series(place, at, onward=onward)
        return self._plain(place, at)

    def _slot(self, place: Place, at: Span) -> str | None:
        number = place.tail[0]
        slots = self.panels[place.name]
        if len(place.tail) == 1 and not place.sign and _is_one_of(number, slots):
            return f"{place.name}.{int(number)}"
        self.problems.append(
            Problem("no-slot", at, str(place), self.spans[place.name], near=str(slots))
        )
        return None

    def meant(self, terminal: str) -> str:
        """The terminal that a name stands for: the line of a fuse on a post is that post."""
        return self.same.get(terminal, terminal)

    def _series(self, place: Place, at: Span, *, onward: bool) -> str | Bare | None:
        said = self.series[place.name]
        pin, tail = "", place.tail
        if said.is_numbered:
            if not tail or not _is_one_of(tail[0], self.pins[place.name]):
                self._no_terminal(place, at)
                return None
            pin, tail = str(int(tail[0])), tail[1:]
        ends = ends_of(said, pin)
        stem = f"{place.name}.{pin}" if pin else place.name
        written = f"{stem}.{'.'.join(tail)}" if tail else ""
        if written in ends and not place.sign:
            return self.meant(written)
        if not tail and not place.sign:
            common = said.traits.common
            return f"{stem}.{common}" if common else Bare(stem, onward)
        self._no_terminal(place, at)
        return None

    def _plain(self, place: Place, at: Span) -> str | None:
        written = str(place)
        if written in self.terminals[place.name]:
            return written
        self._no_terminal(place, at)
        return None

    def _no_terminal(self, place: Place, at: Span) -> None:
        known = self.terminals[place.name]
        more = f" and {len(known) - 6} more" if len(known) > 7 else ""
        near = ", ".join(known[:6] if more else known) + more
        self.problems.append(
            Problem("no-terminal", at, str(place), self.spans[place.name], near=near)
        )


def _place_of(place: Place, at: Span) -> Span:
    """The characters that wrote a place, or those of the whole statement."""
    return Span(at.file, place.start, place.end) if place.start >= 0 else at


def _is_one_of(text: str, count: int) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= count


def names_of(draft: Draft) -> Names:
    """All names that a draft defines."""
    names = Names()
    for source in draft.sources:
        _add_source(source, draft, names)
    for said in draft.series:
        if said.is_numbered:
            names.pins.setdefault(said.about.name, _ways_of(said, draft))
        _add_series(said, names)
    for junction in draft.junctions:
        names.add(junction.about.name, junction.about.span, (junction.terminal,))
    for panel in draft.panels:
        name = panel.about.name
        count = panel.slots or _highest(name, draft)
        slots = tuple(f"{name}.{number}" for number in range(1, count + 1))
        if names.add(name, panel.about.span, (name, f"{name}-", *slots)):
            names.panels[name] = count
    for load in draft.loads:
        name = load.about.name
        if load.ends is None:
            names.add(name, load.about.span, (f"{name}+", f"{name}-"))
    _inside_circuits(draft, names)
    for said in draft.series:
        _sit_on(said, names)
    return names


def _add_source(source: Source, draft: Draft, names: Names) -> None:
    """Define a source; the outputs of one part stand under its name."""
    about, unit = source.about, source.unit
    own = [
        one for one in draft.sources if unit and one.unit == unit and one.about.span == about.span
    ]
    if own and own[0] is not source:
        return
    ends = dict.fromkeys(end for each in own or [source] for end in each.terminals)
    names.add(unit or about.name, about.span, tuple(ends))


def _ways_of(said: SeriesSaid, draft: Draft) -> int:
    """How many pins or poles a device has."""
    return said.poles or said.pins or _highest(said.about.name, draft)


def _add_series(said: SeriesSaid, names: Names) -> None:
    ends = tuple(_all_ends(said, names.pins.get(said.about.name, 0)))
    if names.add(said.about.name, said.about.span, ends):
        names.series[said.about.name] = said


def _all_ends(said: SeriesSaid, pins: int) -> Iterator[str]:
    if not said.is_numbered:
        yield from ends_of(said)
    for pin in range(1, pins + 1) if said.is_numbered else ():
        yield from ends_of(said, str(pin))


def _inside_circuits(draft: Draft, names: Names) -> None:
    for circuit in draft.circuits:
        for member in circuit.members:
            if isinstance(member, SeriesSaid) and member.about.name:
                _add_series(member, names)
            elif isinstance(member, Junction):
                name = member.about.name
                names.add(name, member.about.span, (name, f"{name}-"))
            elif isinstance(member, LoadSaid) and member.about.name:
                names.add(member.about.name, member.about.span, ())


def _sit_on(said: SeriesSaid, names: Names) -> None:
    """A device that sits on a terminal has its first end there."""
    if said.on is None or names.series.get(said.about.name) is not said:
        return
    on = names.resolve(said.on, said.about.span)
    if isinstance(on, str):
        names.same[ends_of(said, "1" if said.is_numbered else "")[0]] = on
    elif on is not None:
        near = ", ".join(ends_of(names.series[on.key])) if on.key in names.series else on.key
        at = _place_of(said.on, said.about.span)
        names.problems.append(Problem("end-not-plain", at, str(said.on), near=near))


def _highest(name: str, draft: Draft) -> int:
    """The highest number that the text names of a thing whose slots or pins are not counted."""
    tails = [place.tail[0] for place in _places(draft) if place.name == name and place.tail]
    return max((int(tail) for tail in tails if _is_one_of(tail, MOST_COUNTED)), default=1)


def _places(draft: Draft) -> Iterable[Place]:
    """Every place that a draft writes where a slot or a pin may stand."""
    for wire in draft.wires:
        yield from (end for end in wire.ends if isinstance(end, Place))
    for slot in draft.slots:
        yield slot.place
    for circuit in draft.circuits:
        yield circuit.place
        for run in circuit.members:
            if isinstance(run, RunSaid):
                yield from (end for end in (run.start, run.end) if end is not None)
