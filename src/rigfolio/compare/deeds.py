<<<<<<< HEAD
"""What is done with a part that is other than it was, and why: a wire by what it is made of."""

from collections.abc import Iterator
from typing import Literal

from rigfolio.books import bought_m
from rigfolio.findings import Unknown
from rigfolio.model import Conductor
from rigfolio.record import replace
from rigfolio.units import Size
from rigfolio.wording import colour_words, gauge_words, length_words

Deed = Literal["remove", "replace", "move", "pull new", "new ends", "mend", "label", "told"]
"""What is done with a part; of `told` only the text knows more than before."""
Why = tuple[Deed, str]


def wire_deeds(old: Conductor, new: Conductor) -> Iterator[Why]:
    """What differs between a wire as it was and as it is."""
    if old.assumed and not new.assumed:
        yield "told", "was assumed"
        return
    yield from _made_of(old, new)
    was_m, now_m = old.length_m, new.length_m
    if was_m != now_m and not isinstance(now_m, Unknown):
        imperial = new.is_in_feet
        words = f"{length_words(now_m, imperial=imperial)}, was "
        words += length_words(was_m, imperial=imperial)
        # What was laid had slack; what is longer than that cannot be the same wire.
        is_longer = not isinstance(was_m, Unknown) and now_m > bought_m(was_m, 1)
        yield ("replace" if is_longer else "told"), words
    ends = [(was, now) for was, now in zip(old.ends, new.ends, strict=True) if was and now]
    yield from (("new ends", f"{now}, was {was}") for was, now in ends if was != now)
    if old.condition and not new.condition:
        yield "new ends", f"was {old.condition}: cut back to bright copper"


def _made_of(old: Conductor, new: Conductor) -> Iterator[Why]:
    """Size, colour and insulation."""
    is_waiting = (old.found, old.size) == (new.found, new.size)
    if isinstance(old.found, Size) and not old.assumed and not is_waiting:
        old = replace(old, size=old.found)
    if not isinstance(new.size, Unknown) and (old.size, old.count) != (new.size, new.count):
        known = isinstance(old.size, Size)
        yield ("replace" if known else "told"), f"{gauge_words(new)}, was {gauge_words(old)}"
    shades = (old.colour, new.colour)
    if old.colour != new.colour and new.colour is not None and not isinstance(new.colour, Unknown):
        known = not any(shade is None or isinstance(shade, Unknown) for shade in shades)
        words = f"{colour_words(new.colour)}, was {colour_words(old.colour)}"
        yield ("replace" if known else "told"), words
    if new.insulation and old.insulation != new.insulation:
        words = f"{new.insulation}, was {old.insulation or 'not known'}"
        yield ("replace" if old.insulation else "told"), words
    if new.insulation_c is not None and old.insulation_c != new.insulation_c:
        known = old.insulation_c is not None
        was = f"{old.insulation_c:g} °C" if known else "not known"
        yield ("replace" if known else "told"), f"{new.insulation_c:g} °C, was {was}"
=======
"""What is done with one part between two versions of a rig."""

from typing import Literal

from rigfolio.compare.facts import is_unread
from rigfolio.record import record

Deed = Literal["remove", "replace", "move", "pull new", "new ends", "mend", "label", "told"]
"""What is done with a part; of `told` only the text knows more than before."""
WorkThing = Literal["wire", "device", "load", "source", "panel", "bar", "slot"]


@record
class Work:
    """What is done with one part, and why.

    `before` and `after` are its names in the two versions, empty where it is new or gone; `facts`
    say what differs, or what somebody sees who looks for a part that is to go.
    """

    deed: Deed
    thing: WorkThing
    before: str
    after: str
    facts: tuple[str, ...] = ()

    @property
    def is_hands_on(self) -> bool:
        """Whether somebody has to touch the part itself, and not only its label."""
        return self.deed not in ("label", "told")

    @property
    def is_identified(self) -> bool:
        """Whether it only has its label because somebody found out what it is."""
        return self.deed == "label" and any(map(is_unread, self.facts))
>>>>>>> boat2
