"""By what the diagrams of two versions of a rig are compared, without either being drawn."""

from collections.abc import Iterator

from rigfolio.compare import placeless
from rigfolio.job import Job
from rigfolio.model import Conductor, Device, Load
from rigfolio.record import replace
from rigfolio.schematic.chains import graph_of
from rigfolio.schematic.setting import STYLES, notes_of, speaker_of, warned_of, words_at


def words_of(job: Job) -> Iterator[tuple[str, ...]]:
    """What stands at devices, in the order of the alphabet; then at wires, then at all else.

    Styles break the same words into other lines; where a word is another one, so it is drawn.
    """
    graph = graph_of(job)
    said = speaker_of(job.study, STYLES[0][0], notes_of(job.rig, graph.bars))
    pieces = [piece.thing for rung in graph.rungs for piece in rung.pieces]
    for is_meant in (_is_device, _is_wire, lambda one: not (_is_device(one) or _is_wire(one))):
        yield tuple(sorted(words_at(one, said) or "" for one in pieces if is_meant(one)))


def _is_device(thing: object) -> bool:
    return isinstance(thing, Device)


def _is_wire(thing: object) -> bool:
    return isinstance(thing, Conductor)


def drawn_of(job: Job) -> object:
    """All that the diagram may turn on; where that is the same, so is the diagram."""
    rig = job.rig
    loads = tuple(_as_drawn(load) for load in rig.loads)
    bare = replace(rig, loads=loads, accepted=(), assumptions=(), problems=(), photos=())
    return placeless(bare), warned_of(job.study)


def _as_drawn(load: Load) -> Load:
    """A load without how long it runs and how it starts, of which nothing is drawn."""
    return replace(load, day_share=None, drop_share=None, starts_at=None, start_s=None)
