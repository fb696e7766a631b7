"""Kinds of places where wires meet; letters as of devices."""

from rigfolio.record import record


@record
class JunctionKind:
    """A kind of place where wires meet.

    `letter`, `mark` and `symbol` are as of a `SourceKind`. `is_bar` is whether it is a bar that
    returns may gather on and a meter is put on; `is_frame` whether it is the metal of the rig;
    `spoken` is what it is called in a sentence.
    """

    letter: str
    mark: str
    symbol: str
    spoken: str
    is_bar: bool = False
    is_frame: bool = False

    @property
    def is_joint(self) -> bool:
        """Whether it only joins wires and is no part by itself."""
        return not (self.is_bar or self.is_frame)


JUNCTIONS = {
    "busbar": JunctionKind("W", "N", "busbar", "bar", is_bar=True),
    "chassis": JunctionKind("X", "G", "chassis", "chassis", is_frame=True),
    "splice": JunctionKind("X", "Z", "splice", "splice"),
}
"""Every kind of junction by its word."""
