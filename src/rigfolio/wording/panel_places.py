"""Where at the panel a place of the text is: the part it speaks of, as people there call it."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from rigfolio.findings import Span
from rigfolio.model import Circuit, Conductor, Rig
from rigfolio.wording.names import load_words, short_end

_MOST_STEPS = 2000
"""Parts that are looked at for a place that belongs to none."""


class PanelPlaces:
    """The parts of a rig by where the text speaks of them."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        found = sorted(
            ((span.file, span.start), -span.end, -rank, words)
            for rank, (span, words) in enumerate(_parts(rig))
        )
        self._starts = [one[0] for one in found]
        self._found = found

    def at(self, span: Span) -> str:
        """What the innermost part around a place is called; empty where there is none."""
        here = (span.file, span.start)
        last = bisect_right(self._starts, here) - 1
        for number in range(last, max(-1, last - _MOST_STEPS), -1):
            (file, _), end, _, words = self._found[number]
            if file != span.file:
                break
            if span.end <= -end:
                return words
        return ""


def _parts(rig: Rig) -> Iterator[tuple[Span, str]]:
    for group in (rig.sources, rig.devices, rig.junctions, rig.panels):
        yield from ((part.about.span, str(part.about)) for part in group)
    yield from ((load.about.span, load_words(rig, load)) for load in rig.loads)
    yield from ((span, _wire(rig, pieces)) for span, pieces in _pieces(rig).items())
    yield from ((circuit.span, _circuit(circuit)) for circuit in rig.circuits)
    yield from ((state.span, f"state {state.name}") for state in rig.states)
    yield from ((slot.span, f"slot {slot.place}") for slot in rig.slots)


def _pieces(rig: Rig) -> dict[Span, list[Conductor]]:
    """The conductors that one line of the text makes: a fuse on a wire parts it in two."""
    found: dict[Span, list[Conductor]] = {}
    for wire in rig.conductors:
        found.setdefault(wire.span, []).append(wire)
    return found


def _wire(rig: Rig, pieces: Sequence[Conductor]) -> str:
    """A wire as it is written, from end to end, and not by one of its pieces."""
    wire = next((one for one in pieces if one.name in rig.seated), pieces[0])
    (*_, fuse) = rig.seated.get(wire.name, (None,))
    circuit = rig.by_name.circuits.get(wire.circuit)
    if circuit is not None:
        return f"{wire.name} {circuit.label}".rstrip()
    if "/" in wire.name:
        # It has no name of its own and is called by both its ends.
        return f"wire {wire.name}"
    a, b = pieces[0].a, (pieces[-1] if fuse is not None else wire).b
    if fuse is not None:
        # A fuse that sits on an end of its wire is that end.
        beyond = {fuse.line: fuse.load, fuse.load: fuse.line}
        a, b = beyond.get(a, a), beyond.get(b, b)
    return f"{wire.name}, {short_end(rig, a)} to {short_end(rig, b)}"


def _circuit(circuit: Circuit) -> str:
    """Slot and label; a circuit that starts at no slot is known by its label."""
    if circuit.slot or not circuit.label:
        return f"{circuit.place} {circuit.label}".rstrip()
    return f"{circuit.label}, {circuit.place}"
