"""What is fitted is kept in the text, as `found`, where a rating or a gauge is written over it.

A text with another figure in it changes no fuse and no wire. Until somebody swaps them what is
there has to be judged, laid aside and taken out, wherever it stands: in a slot, on a wire, on a
post.
"""

import re
from collections.abc import Iterable, Iterator, Mapping

from rigfolio.findings import Edit, Span
from rigfolio.model import Conductor, Device, Rig
from rigfolio.sizing.edits import by_file, written
from rigfolio.units import Size, show

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
