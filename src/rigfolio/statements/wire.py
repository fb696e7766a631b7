"""One conductor from here to there; inside a circuit it goes on from where the last one ended."""

from rigfolio.lang import facts
from rigfolio.model import Draft
from rigfolio.reading import CALLED, CONDUCTOR, FUSE, Said, Word, add_wire

WORD = Word(
    "wire",
    CALLED,
    (
        *facts("run: <place> to <place>"),
        *CONDUCTOR,
        *facts("cranking: cranking"),
        *FUSE,
        *facts("was: found <current>", "at: at <place>", "from: <length> from <place>"),
    ),
    inner_takes=(*CONDUCTOR, *facts("from: from <place>", "to: to <place>")),
    also=("cable, conductor",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the conductor, with the fuse that sits on it."""
    add_wire(said, said.facts, draft)
