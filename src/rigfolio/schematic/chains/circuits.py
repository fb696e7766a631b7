"""What the text says of circuits and slots that is no edge: names without a fuse, idle slots."""

from collections.abc import Iterator, Sequence

from rigfolio.model import Circuit, Conductor, Load, Rig, Slot
from rigfolio.record import replace
from rigfolio.schematic.chains.elements import End, Piece, Rung
from rigfolio.schematic.chains.text_order import TextOrder


def with_circuits(rig: Rig, rungs: Sequence[Rung]) -> list[Rung]:
    """Rungs with the names of the circuits that begin on them without a fuse."""
    bare: dict[str, list[Circuit]] = {}
    for circuit in rig.circuits:
        first = (*circuit.wires, *circuit.loads)[:1]
        if not circuit.device and first:
            bare.setdefault(first[0], []).append(circuit)
    return [_begun(rung, bare) for rung in rungs]


def _begun(rung: Rung, bare: dict[str, list[Circuit]]) -> Rung:
    pieces: list[Piece] = []
    for piece in rung.pieces:
        thing = piece.thing
        name = thing.name if isinstance(thing, Conductor) else ""
        name = thing.about.name if isinstance(thing, Load) else name
        for circuit in bare.pop(name, ()):
            pieces.append(Piece(circuit, piece.a, piece.a))
        pieces.append(piece)
    return replace(rung, pieces=tuple(pieces))


def idle_slots(rig: Rig, rungs: Sequence[Rung], order: TextOrder) -> Iterator[Rung]:
    """Slots that no device stands in."""
    taken = {rung.slot for rung in rungs}
    kept = {(slot.panel, slot.number): slot for slot in rig.slots}
    circuits = {(c.panel, c.slot) for c in rig.circuits}
    for panel in rig.panels:
        for number in range(1, panel.slots + 1):
            place = (panel.about.name, number)
            if place in taken:
                continue
            use = "no fuse" if place in circuits else "not listed"
            slot = kept.get(place) or Slot(*place, "spare", panel.about.span, f"~{use}")
            piece = Piece(slot, panel.bus, f"{place[0]}.{number}")
            yield Rung(panel.bus, "", (piece,), (piece.a, piece.b), End("slot", piece.b),
                       place, order.place(panel))  # fmt: skip
