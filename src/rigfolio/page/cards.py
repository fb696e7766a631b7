"""The cards of the page: circuits, wires of no circuit, sources, bars, devices outside panels."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from rigfolio.isolation import stay_words_of
from rigfolio.job import Job
from rigfolio.labels import DeviceRow, device_rows
from rigfolio.model import About, Circuit, Conductor, Load, Rig
from rigfolio.page.content import (
    CircuitCard,
    ExpectedShown,
    Found,
    FuseShown,
    LoadShown,
    PartCard,
    ReadingsShown,
    WireCard,
)
from rigfolio.page.places import Texts, keys_of
from rigfolio.page.wires import colour_shown, wire_shown
from rigfolio.protection import fitted_now_words, is_too_large, largest_made_a, largest_words
from rigfolio.swap import notes_about, notes_of
from rigfolio.units import show
from rigfolio.wording import (
    amps,
    circuit_of,
    circuits_in_order,
    draw_words,
    fed_from,
    finder_of,
    module_words,
    stated,
    wires_in_order,
)


class Cards:
    """The cards of a rig."""

    def __init__(self, job: Job, texts: Texts) -> None:
        self.job, self.rig, self.study, self.texts = job, job.rig, job.study, texts
        self.words = _words(job)

    def circuits(self, test: ReadingsShown) -> tuple[CircuitCard, ...]:
        """A card for each circuit, by panel and slot, then those that start elsewhere."""
        expected = _expected(test)
        return tuple(
            self._circuit(one, expected.get(one.place, ())) for one in circuits_in_order(self.rig)
        )

    def _circuit(self, circuit: Circuit, expected: tuple[ExpectedShown, ...]) -> CircuitCard:
        rig, study = self.rig, self.study
        wires = [rig.conductor(name) for name in circuit.wires]
        returns = [rig.conductor(name) for name in circuit.returns or _of_converters(rig, circuit)]
        return CircuitCard(
            circuit.place,
            circuit.label,
            circuit.panel,
            circuit.slot or None,
            fed_from(rig, circuit),
            circuit.always_on,
            stay_words_of(study, (circuit,)),
            self._fuse(circuit),
            tuple(_load(rig.by_name.loads[name]) for name in circuit.loads),
            tuple(wire_shown(study, self.texts, wire) for wire in wires),
            tuple(wire_shown(study, self.texts, wire) for wire in returns),
            circuit.return_assumed,
            expected,
            tuple(note.words for note in notes_of(rig, circuit)),
            self._found(circuit.place, (*wires, *returns), circuit.slot),
            self.texts.place(circuit.span),
        )

    def _fuse(self, circuit: Circuit) -> FuseShown:
        device = self.study.device(circuit.device)
        found = circuit.found_a
        return FuseShown(
            fitted_now_words(self.study, circuit),
            device.rating_a if device is not None else None,
            largest_words(self.study, circuit, short=False),
            largest_made_a(self.study, circuit),
            is_too_large(self.study, circuit),
            "" if found is None else amps(found),
            found,
        )

    def _found(self, key: str, wires: Iterable[Conductor], slot: int = 0) -> Found:
        colours = [colour_shown(wire) for wire in wires]
        words = [word for one in colours for word in (one.words, one.code) if word]
        words += [f"slot {slot}"] if slot else []
        return Found(
            tuple(dict.fromkeys((*self.words.get(key, ()), *words))),
            tuple(dict.fromkeys(one.base for one in colours if one.base)),
            tuple(dict.fromkeys(one.stripe for one in colours if one.stripe)),
        )

    def wires(self) -> tuple[WireCard, ...]:
        """A card for each wire that belongs to no circuit."""
        return tuple(
            WireCard(
                wire.name,
                wire_shown(self.study, self.texts, wire),
                tuple(word for word in (wire.condition.upper(), wire.note) if word),
                self._found(wire.name, (wire,)),
                self.texts.place(wire.span),
            )
            for wire in wires_in_order(self.rig)
            if circuit_of(self.rig, wire) is None
        )

    def parts(self) -> tuple[PartCard, ...]:
        """A card for each source, then for each device outside panels, each bar and lone load."""
        return (
            *self._sources(),
            *self._devices(),
            *self._junctions(),
            *(
                self._part(one.about, "load", _load(one).draws)
                for one in self.rig.loads
                if not one.circuit
            ),
        )

    def _sources(self) -> Iterator[PartCard]:
        for source in self.rig.sources:
            rated = [stated(source.voltage_v, "V")]
            if source.modules is not None:
                rated = [*module_words(source.modules)]
            elif source.limit_a is not None:
                rated.append(f"{show(source.limit_a, 'A')} at most")
            if isinstance(source.input_most_v, float):
                rated.append(f"input {show(source.input_most_v, 'V')}")
            yield self._part(source.about, source.kind, ", ".join(rated))

    def _devices(self) -> Iterator[PartCard]:
        for row in device_rows(self.study):
            about = self.rig.by_name.devices[row.name].about
            yield PartCard(
                row.name, row.label, row.kind, row.rated, row.place, row.effect,
                tuple(_still_live(row)), tuple(note.words for note in notes_about(about)),
                self._found(row.name, ()), self.texts.place(about.span),
            )  # fmt: skip

    def _junctions(self) -> Iterator[PartCard]:
        for one in self.rig.junctions:
            if one.traits.is_bar or one.about.label:
                rating = "" if one.rating_a is None else amps(one.rating_a)
                yield self._part(one.about, one.traits.spoken, rating)

    def _part(self, about: About, kind: str, rating: str) -> PartCard:
        notes = tuple(note.words for note in notes_about(about))
        return PartCard(
            about.name, about.label, kind, rating, "", "", (), notes,
            self._found(about.name, ()), self.texts.place(about.span),
        )  # fmt: skip


def _load(load: Load) -> LoadShown:
    return LoadShown(load.about.name, str(load.about), draw_words(load))


def _still_live(row: DeviceRow) -> Iterator[str]:
    for end, sources in row.live:
        yield f"{end} from {', '.join(sources)}"


def _words(job: Job) -> Mapping[str, tuple[str, ...]]:
    """What people write for the things of each card, by its key."""
    keys = keys_of(job.rig)
    held: dict[str, list[str]] = defaultdict(list)
    for named in finder_of(job.rig).parts:
        key = keys.get(named.key or named.name)
        if key is not None and named.kind != "terminal":
            held[key] += (named.name, named.label, *named.ways)
    return {key: tuple(dict.fromkeys(filter(None, words))) for key, words in held.items()}


def _expected(test: ReadingsShown) -> Mapping[str, tuple[ExpectedShown, ...]]:
    """The volts and ohms of the test sheet that tell of each circuit."""
    held: dict[str, list[ExpectedShown]] = defaultdict(list)
    for stage in test.stages:
        for step in stage.steps:
            if step.circuit:
                held[step.circuit] += (
                    ExpectedShown(
                        one.number, one.key, f"{one.before.rstrip('= ')}{one.after}", one.expected
                    )
                    for one in step.points
                )
    return {place: tuple(found) for place, found in held.items()}


def _of_converters(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    """The wires by which what a circuit feeds to converters comes back: those of their own minus.

    Such a wire is stated beside the circuit, for the output of the converter comes back by it too.
    """
    wires = map(rig.conductor, circuit.wires)
    ends = {end for wire in wires for end in (wire.a, wire.b)}
    minus = {source.inlet_minus for source in rig.sources if source.inlet in ends}
    return tuple(
        wire.name
        for wire in rig.conductors
        if not wire.circuit and not wire.assumed and minus & {wire.a, wire.b}
    )
