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
