"""A conductor as the cards of the page show it."""

from rigfolio.findings import UNKNOWN
from rigfolio.model import Conductor, in_place
from rigfolio.page.content import ColourShown, WireShown
from rigfolio.page.places import Texts
from rigfolio.protection import guard_words
from rigfolio.study import Study
from rigfolio.units import Size
from rigfolio.values import Colour
from rigfolio.wording import (
    colour_code,
    colour_words,
    end_words,
    polarity_words,
    shades,
    there_words,
    wire_length,
)


def colour_shown(wire: Conductor) -> ColourShown:
    """The colour of a wire in words, by code and in print shades."""
    colour = wire.colour
    base, stripe = (colour.base, colour.stripe or "") if isinstance(colour, Colour) else ("", "")
    return ColourShown(colour_words(colour), colour_code(colour), base, stripe, *shades(colour))


def wire_shown(study: Study, texts: Texts, wire: Conductor) -> WireShown:
    """A conductor with its ends, and what guards it."""
    rig, size = study.rig, in_place(wire).size
    return WireShown(
        wire.name,
        there_words(wire),
        size.area_m2 * wire.count if isinstance(size, Size) else UNKNOWN,
        colour_shown(wire),
        wire_length(wire),
        wire.length_m,
        (end_words(rig, wire.a), end_words(rig, wire.b)),
        guard_words(study, wire),
        polarity_words(study.side.get(wire.a, "")),
        wire.assumed,
        texts.place(wire.span),
    )
