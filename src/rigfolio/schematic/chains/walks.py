"""Series chains: from a bar along things with two terminals to the next bar."""

from collections.abc import Iterable

from rigfolio.model import Device, Rig
from rigfolio.record import replace
from rigfolio.schematic.chains.edges import Edges, boxed
from rigfolio.schematic.chains.elements import End, Piece, Rung, turned
from rigfolio.schematic.chains.text_order import TextOrder


class Walks:
    """All chains of a rig; what has to be a bar is known or found on the way."""

    def __init__(self, rig: Rig, edges: Edges, order: TextOrder) -> None:
        self.edges = edges
        self.order = order
        self.bars = dict.fromkeys(_bars_by_nature(rig))
        """Nodes that are bars whatever meets there."""
        self._panels = rig.by_name.panels
        self._splices = {j.terminal: j for j in rig.junctions if j.traits.is_joint}

    def rungs(self) -> list[Rung]:
        """Chains, cut anew until each holds one source or load and none is a ring."""
        while True:
            rungs = self._all()
            cuts = [cut for rung in rungs if (cut := self._cut(rung))]
            if not cuts:
                return rungs
            self.bars |= dict.fromkeys(cuts)

    def _is_bar(self, node: str) -> bool:
        """Whether chains end here."""
        return node in self.bars or bool(boxed(node)) or self.edges.count(node) > 2

    def _cut(self, rung: Rung) -> str:
        """A terminal inside a rung that has to be a bar; empty where there is none."""
        symbols = [n for n, piece in enumerate(rung.pieces) if piece.is_symbol]
        if len(symbols) > 1:
            return self.edges.node(rung.pieces[symbols[0]].b)
        if rung.a == rung.b and len(rung.pieces) > 1:
            return self.edges.node(rung.pieces[len(rung.pieces) // 2].a)
        return ""

    def _all(self) -> list[Rung]:
        at = self.edges.at
        used: set[int] = set()
        bars = [node for node in at if self._is_bar(node)]
        ends = [node for node in at if not self._is_bar(node) and len(at[node]) == 1]
        rest = [node for node in at if not self._is_bar(node)]
        return [
            self._walk(node, number, used)
            for node in (*bars, *ends, *rest)
            for number in at[node]
            if number not in used
        ]

    def _walk(self, start: str, number: int, used: set[int]) -> Rung:
        """The chain from a node along an edge to the next bar or to where nothing follows."""
        edges = self.edges
        pieces: list[Piece] = []
        here = start
        while True:
            used.add(number)
            piece = edges.pieces[number]
            pieces.append(piece if edges.node(piece.a) == here else piece.turned())
            here = edges.node(pieces[-1].b)
            onward = [n for n in edges.at[here] if n not in used]
            if self._is_bar(here) or here == start or not onward:
                break
            if here in self._splices:
                pieces.append(Piece(self._splices[here], here, here))
            number = onward[0]
        return self._rung(start, here, pieces)

    def _rung(self, start: str, here: str, pieces: list[Piece]) -> Rung:
        """A chain as a rung; one that ends in a slot is read from there."""
        ports = (pieces[0].a, pieces[-1].b)
        key = min(self.order.place(piece.thing) for piece in pieces)
        rung = Rung(start, here, tuple(pieces), ports, key=key, slot=self._slot(pieces[0]))
        if self._slot(pieces[-1].turned()) and not rung.slot:
            rung = turned(replace(rung, slot=self._slot(pieces[-1].turned())))
        if here == start and len(pieces) == 1:
            return replace(rung, b="", end=End("there", ports[1]))
        if here == start or self._is_bar(here):
            return rung
        return replace(rung, b="", end=End("open", ports[1]))

    def _slot(self, piece: Piece) -> tuple[str, int] | None:
        """Panel and number of the slot that a chain starts in."""
        device = piece.thing
        if not (isinstance(device, Device) and device.in_slot):
            return None
        name, _, number = device.about.name.rpartition(".")
        figure = number.partition("-")[0]
        panel = self._panels.get(name)
        if panel is not None and figure.isdigit() and piece.a == panel.bus:
            return name, int(figure)
        return None


def _bars_by_nature(rig: Rig) -> Iterable[str]:
    for junction in rig.junctions:
        if not junction.traits.is_joint:
            yield junction.terminal
    for panel in rig.panels:
        yield panel.bus
        if panel.negative:
            yield panel.negative
