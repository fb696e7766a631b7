"""A block of wires that share facts: what one wire says of itself goes before what they share."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import CONDUCTOR, Said, Word, add_wire, merged, problem
from rigfolio.record import replace

# A tag belongs to one wire, and so does what was found there.
_OWN = frozenset({"tag", "found"})
# `?` for all of them would say nothing.
_SHARED = tuple(replace(fact, essential=False) for fact in CONDUCTOR if fact.key not in _OWN)
WORD = Word(
    "wires",
    (),
    (*_SHARED, *facts("cranking: cranking")),
    inside=("wire",),
    inside_alone=True,
)


def add(said: Said, draft: Draft) -> None:
    """Add every wire of the block."""
    if not said.inside:
        draft.found.append(
            problem(
                "fact-missing", said.span, "`wires` without a wire", "indent its wires below it"
            )
        )
    for wire in said.inside:
        add_wire(wire, merged(said.facts, wire.facts), draft)
