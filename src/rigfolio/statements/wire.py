"""One conductor from here to there; inside a circuit it goes on from where the last one ended."""

from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft, WireSaid
from rigfolio.reading.wires import ends_of, fuse_on
from rigfolio.reading.wiring import CONDUCTOR, FUSE, wire_facts
from rigfolio.reading.word import Said, Word

WORD = Word(
    "wire",
    (),
    (
        *facts(
            "run: <place> to <place>",
            "cranking: cranking",
            "at: at <place>",
            "from: <length> from <place>",
        ),
        *CONDUCTOR,
        *FUSE,
    ),
    inner_takes=(*facts("to: to <place>", "from: from <place>"), *CONDUCTOR),
)


def add(said: Said, draft: Draft) -> None:
    """Add the conductor, with the fuse that sits on it."""
    ends = ends_of(said, said.facts, draft)
    if ends is not None:
        draft.wires.append(WireSaid(ends, wire_facts(said, said.facts), fuse_on(said.facts)))
