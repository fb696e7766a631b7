"""What was found in place of what belongs there: how it is kept in a text, and that it must go.

What is fitted is kept in the text, as `found`, where a rating or a gauge is written over it.
A text with another figure in it changes no fuse and no wire. Until somebody swaps them what is
there has to be judged, laid aside and taken out, wherever it stands: in a slot, on a wire, on a
post.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.findings import Edit, Span
from rigfolio.model import Conductor, Device, Rig, in_place
from rigfolio.protection import until_pulled
from rigfolio.record import record, replace
from rigfolio.sizing.edits import by_file, written
from rigfolio.sizing.groups import sections
from rigfolio.sizing.proposals import Proposal
from rigfolio.sizing.settled import fitted
from rigfolio.study import Study
from rigfolio.units import Size, is_over, show, show_limit
from rigfolio.wording import called, gauge_words, with_kind

_ADDED = re.compile(r"\s*[\d./]+ ?(?:AWG|mm2|mm²)\s*")
"""A gauge that a wire gets at the end of its line, where a block says another one."""


def keeping_found(rig: Rig, edits: Mapping[str, Iterable[Edit]]) -> Mapping[str, tuple[Edit, ...]]:
    """Edits of ratings and gauges, with what they write over kept behind each as `found`.

    What the text says of it already stays: that is what was found.

    Parameters
    ----------
    rig : Rig
        The rig as its texts say before.
    edits : mapping of str to iterable of Edit
        The edits by file.
    """
    made = {file: tuple(each) for file, each in edits.items()}
    kept = dict.fromkeys((*_ratings(rig, made), *_gauges(rig, made)))
    for end, words in kept:
        held = made[end.file]
        there = next((one for one in held if one.span == end), None)
        if there is None:
            made[end.file] = (*held, Edit(end, words))
        else:
            joined = Edit(end, there.text + words)
            made[end.file] = tuple(joined if one is there else one for one in held)
    return by_file(edit for each in made.values() for edit in each)


@record
class ToPull:
    """A wire that was found too thin and has to go: which it is, and what belongs there.

    `until` holds the devices that let too much into it until then, and the largest rating that may
    stand in place of each; None where none serves [A].
    """

    place: str
    label: str
    wire: Conductor
    fit: Size
    until: tuple[tuple[Device, float | None], ...]

    @property
    def words(self) -> str:
        """What was found, what belongs there, and what may stand before it until then."""
        fit, there = replace(self.wire, size=self.fit), in_place(self.wire)
        does = "belongs" if isinstance(self.wire.size, Size) else "would do"
        said = (
            f"{gauge_words(there)} in place of `{self.wire.name}`, {gauge_words(fit)} {does} there"
        )
        for device, most_a in self.until:
            name = device.about.name
            which = device.kind if name == self.place else with_kind(device.kind, name)
            most = f"{which} {show_limit(most_a or 0.0, 'A')} at most"
            said += f"; until it is pulled, {f'no {which} serves' if most_a is None else most}"
        return f"{called(self.place, self.label)}: {said}"


def to_pull(study: Study, proposals: Sequence[Proposal]) -> tuple[ToPull, ...]:
    """The wires that were found thinner than what belongs there, or than what would do there."""
    if not any(isinstance(wire.found, Size) for wire in study.rig.conductors):
        return ()
    fits = {name: wire.fit for one in proposals for wire in one.wires for name in wire.names}
    sized = fitted(study, proposals)
    found: dict[Span, ToPull] = {}
    for section in sections(study):
        for wire in (each for group in section.groups for each in group.wires):
            fit = fits.get(wire.name, wire.size)
            if wire.assumed or not isinstance(wire.found, Size) or not isinstance(fit, Size):
                continue
            if is_over(fit.area_m2, wire.found.area_m2):
                until = until_pulled(sized, wire)
                one = ToPull(section.place, section.label, wire, fit, until)
                found.setdefault(wire.span, one)
    return tuple(found.values())


_Kept = tuple[Span, str]


def _ratings(rig: Rig, edits: Mapping[str, tuple[Edit, ...]]) -> Iterator[_Kept]:
    circuits = {circuit.device: circuit for circuit in rig.circuits}
    for name, device in rig.by_name.devices.items():
        circuit = circuits.get(name)
        told = (device.found_a, None if circuit is None else circuit.found_a)
        at, rating_a = device.rating_span, device.rating_a
        is_known = at is not None and isinstance(rating_a, float) and told == (None, None)
        if is_known and at is not None and _is_edited(at, edits):
            line = circuit.span if circuit is not None else _line_of(rig, device)
            yield _end(line), f", found {show(rating_a, 'A', 10)}"


def _line_of(rig: Rig, device: Device) -> Span:
    wire = rig.by_name.conductors.get(device.on_wire)
    return device.about.span if wire is None else wire.span


def _gauges(rig: Rig, edits: Mapping[str, tuple[Edit, ...]]) -> Iterator[_Kept]:
    for wire in rig.conductors:
        is_fitted = wire.found is None and not wire.assumed and not wire.lead
        if is_fitted and isinstance(wire.size, Size) and _is_sized(wire, edits):
            yield _end(wire.span), f", found {written(wire.size, '?')}"


def _is_sized(wire: Conductor, edits: Mapping[str, tuple[Edit, ...]]) -> bool:
    if wire.size_span != wire.span and _is_edited(wire.size_span, edits):
        return True
    end = _end(wire.span)
    return any(
        one.span == end and _ADDED.fullmatch(one.text) is not None
        for one in edits.get(end.file, ())
    )


def _is_edited(at: Span, edits: Mapping[str, tuple[Edit, ...]]) -> bool:
    return any(
        at.start <= one.span.start < one.span.end <= at.end for one in edits.get(at.file, ())
    )


def _end(line: Span) -> Span:
    return Span(line.file, line.end, line.end)
