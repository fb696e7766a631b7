"""A block of wires that share facts: what one wire says of itself goes before what they share."""

from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft, WireSaid
from rigfolio.reading.wires import ends_of, fuse_on
from rigfolio.reading.wiring import CONDUCTOR, merged, wire_facts
from rigfolio.reading.word import Said, Word

WORD = Word(
    "wires",
    (),
    (*facts("label: <label>", "cranking: cranking"), *CONDUCTOR),
    inside=("wire",),
)


def add(said: Said, draft: Draft) -> None:
    """Add every wire of the block."""
    for wire in said.inside:
        given = merged(said.facts, wire.facts)
        ends = ends_of(wire, given, draft)
        if ends is not None:
            draft.wires.append(WireSaid(ends, wire_facts(wire, given), fuse_on(given)))
