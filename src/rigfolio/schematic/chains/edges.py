"""Everything with two terminals, by the nodes that it joins."""

from collections.abc import Iterator

from rigfolio.model import Rig
from rigfolio.schematic.chains.elements import Piece

_BOX = "box "


class Edges:
    """All pieces of a rig in the order of their kinds, and the numbers of those at each node.

    A node is a terminal, or all terminals of a part with more than two, which is drawn as a box.
    """

    def __init__(self, rig: Rig) -> None:
        self.boxes: dict[str, str] = {}
        """The node of each terminal of a box."""
        for terminal, box in _boxes(rig):
            self.boxes.setdefault(terminal, box)
        self.pieces = tuple(_pieces(rig))
        self.at: dict[str, list[int]] = {}
        for number, piece in enumerate(self.pieces):
            for terminal in (piece.a, piece.b):
                self.at.setdefault(self.node(terminal), []).append(number)

    def node(self, terminal: str) -> str:
        """The node of a terminal."""
        return self.boxes.get(terminal, terminal)

    def meeting(self, node: str) -> Iterator[Piece]:
        """What meets at a node."""
        return (self.pieces[number] for number in self.at.get(node, ()))

    def count(self, node: str) -> int:
        """How many ends meet at a node."""
        return len(self.at.get(node, ()))

    def within(self, node: str) -> tuple[str, ...]:
        """The terminals of a node."""
        return tuple(t for t, box in self.boxes.items() if box == node) or (node,)

    def depths(self, starts: Iterator[str]) -> dict[str, int]:
        """How many things lie between each node and the nearest start, but sources and loads."""
        far = dict.fromkeys((self.node(terminal) for terminal in starts), 0)
        queue = list(far)
        for node in queue:
            for piece in self.meeting(node):
                if piece.is_symbol:
                    continue
                for end in (self.node(piece.a), self.node(piece.b)):
                    if end not in far:
                        far[end] = far[node] + 1
                        queue.append(end)
        return far


def boxed(node: str) -> str:
    """The name of the part that a node is the box of; empty where it is none."""
    return node.removeprefix(_BOX) if node.startswith(_BOX) else ""


def _boxes(rig: Rig) -> Iterator[tuple[str, str]]:
    """Terminals of parts with more than two, each with the node of its part."""
    for source in rig.sources:
        if source.has_input:
            for end in source.terminals:
                yield end, f"{_BOX}{source.about.name}"
    for device in rig.devices:
        if device.traits.has_positions:
            for end in (device.line, device.load):
                yield end, f"{_BOX}{device.about.name}"


def _pieces(rig: Rig) -> Iterator[Piece]:
    """Everything with two terminals; parts drawn as one box and unwired pins are left out."""
    inlets = {source.inlet for source in rig.sources if source.has_input}
    wired = {end for wire in rig.conductors for end in (wire.a, wire.b)}
    wired |= {end for load in rig.loads for end in (load.plus, load.minus)}
    plugs = {d.about.name for d in rig.devices if d.traits.is_plug
             and not {d.line, d.load}.isdisjoint(wired)}  # fmt: skip
    for device in rig.devices:
        if device.traits.has_positions:
            continue
        if device.traits.is_plug and {device.line, device.load}.isdisjoint(wired):
            if device.about.name in plugs:
                continue
            plugs.add(device.about.name)
        yield Piece(device, device.line, device.load)
    for wire in rig.conductors:
        yield Piece(wire, wire.a, wire.b)
    for source in rig.sources:
        if not source.has_input:
            yield Piece(source, source.plus, source.minus)
    for load in rig.loads:
        if load.about.name not in inlets:
            yield Piece(load, load.plus, load.minus)
