"""Bars and rungs: terminals where things meet, and chains of things between them."""

from typing import Literal

from rigfolio.model import Circuit, Conductor, Device, Junction, Load, Panel, Slot, Source
from rigfolio.record import record, replace

Thing = Conductor | Device | Source | Load | Junction | Slot | Circuit
BarKind = Literal["bar", "frame", "panel", "joint", "box", "end"]
EndKind = Literal["open", "frame", "there", "slot", "cut", "resumed", "stub"]

FAR = 10**9
"""More than any place in a text, and than any number of things in a row."""


@record
class Piece:
    """One thing of a rung with its terminals, as the rung is read from left to right."""

    thing: Thing
    a: str
    b: str

    def turned(self) -> "Piece":
        """The same thing read from the other side."""
        return Piece(self.thing, self.b, self.a)

    @property
    def is_symbol(self) -> bool:
        """Whether it drives or draws current; a rung holds one such thing at most."""
        return isinstance(self.thing, Source | Load)


@record
class End:
    """How a rung ends that leads to no bar: what is drawn there, and the terminal."""

    kind: EndKind
    terminal: str


@record
class Rung:
    """A series chain from the bar `a` to the bar `b`, or to a free `end` where `b` is empty.

    `ports` are the terminals that it lands on; `slot` is the panel and the number it starts in.
    """

    a: str
    b: str
    pieces: tuple[Piece, ...]
    ports: tuple[str, str]
    end: End | None = None
    slot: tuple[str, int] | None = None
    key: tuple[int, int] = (FAR, 0)

    @property
    def symbol(self) -> Piece | None:
        """Its source or load."""
        return next((piece for piece in self.pieces if piece.is_symbol), None)


@record
class Bar:
    """A terminal, or all terminals of a part with more than two, where rungs meet.

    `sign` is `+`, `-` or empty. `things` are the parts that it belongs to: a junction, a source, a
    device; `panel` the panel whose bus it is. `is_minor` says that it lies within one circuit.
    """

    name: str
    kind: BarKind
    terminals: tuple[str, ...]
    sign: str = ""
    things: tuple[Thing, ...] = ()
    panel: Panel | None = None
    is_minor: bool = False
    depth: int = FAR
    """How many things lie between it and the nearest battery."""

    @property
    def is_box(self) -> bool:
        """Whether it is a switch with positions or a converter."""
        return self.kind == "box"


@record
class Graph:
    """All bars by name and all rungs, in the order of the text."""

    bars: dict[str, Bar]
    rungs: tuple[Rung, ...]


def turned(rung: Rung) -> Rung:
    """The same rung read from its other end; only one between two bars has another."""
    pieces = tuple(piece.turned() for piece in reversed(rung.pieces))
    return replace(rung, a=rung.b, b=rung.a, pieces=pieces, ports=(rung.ports[1], rung.ports[0]))
