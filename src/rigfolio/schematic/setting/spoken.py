"""All that is said of one thing of a rung, however it is broken into lines."""

from rigfolio.model import Conductor, Device, Load, Source
from rigfolio.schematic.setting.speaker import Speaker
from rigfolio.schematic.setting.style import Words


def words_at(thing: object, said: Speaker) -> str | None:
    """What is said of a thing, its lines one behind the other; None of a slot that is not used."""
    words: Words
    match thing:
        case Conductor():
            words = said.wire(thing)
        case Source() | Load():
            words = said.part(thing)
        case Device() if not thing.in_slot:
            words = said.device(thing)
        case Device():
            words = said.slot(thing, said.rig.begun.get(thing.about.name, ()))
        case _:
            return None
    above = " ".join(word for word in (words.bold, *words.above) if word)
    return " ".join(word for word in (above, *words.below) if word)
