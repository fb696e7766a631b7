"""By what the diagrams of two versions of a rig are compared, without either being drawn."""

from rigfolio.compare import placeless
from rigfolio.job import Job
from rigfolio.model import Load
from rigfolio.record import replace
from rigfolio.schematic.chains import graph_of
from rigfolio.schematic.setting import STYLES, notes_of, speaker_of, too_large_of, words_at


def words_of(job: Job) -> tuple[str, ...]:
    """What stands at wires, devices, sources and loads, in the order of the alphabet.

    Styles break the same words into other lines; where a word is another one, so it is drawn.
    """
    graph = graph_of(job)
    said = speaker_of(job.study, STYLES[0][0], notes_of(job.rig, graph.bars))
    pieces = (piece.thing for rung in graph.rungs for piece in rung.pieces)
    return tuple(sorted(words_at(thing, said) or "" for thing in pieces))


def drawn_of(job: Job) -> object:
    """All that the diagram may turn on; where that is the same, so is the diagram."""
    rig = job.rig
    loads = tuple(_as_drawn(load) for load in rig.loads)
    bare = replace(rig, loads=loads, accepted=(), assumptions=(), problems=(), photos=())
    return placeless(bare), too_large_of(job.study)


def _as_drawn(load: Load) -> Load:
    """A load without how long it runs and how it starts, of which nothing is drawn."""
    return replace(load, day_share=None, drop_share=None, starts_at=None, start_s=None)
