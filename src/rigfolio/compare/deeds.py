"""What is done with one part between two versions of a rig."""

from collections.abc import Iterable, Iterator
from typing import Literal

from rigfolio.compare.facts import is_unread
from rigfolio.record import record

Deed = Literal["remove", "replace", "move", "pull new", "new ends", "mend", "label", "told"]
"""What is done with a part; of `told` only the text knows more than before."""
Why = tuple[Deed, str]
"""What one difference asks for, and the difference in words."""
WorkThing = Literal["wire", "device", "load", "source", "panel", "bar", "slot"]

_HARDEST: tuple[Deed, ...] = ("replace", "move", "new ends", "mend", "label", "told")


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


def hardest(thing: WorkThing, was: str, now: str, why: Iterable[Why]) -> Iterator[Work]:
    """The hardest of what is done with a part that stays, with all reasons."""
    found = tuple(why)
    deeds = {deed for deed, _ in found}
    for deed in _HARDEST:
        if deed in deeds:
            yield Work(deed, thing, was, now, tuple(words for _, words in found))
            return
