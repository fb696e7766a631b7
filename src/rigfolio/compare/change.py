"""One thing that is not as it was, and of what kind."""

from collections.abc import Iterable, Iterator
from typing import Literal

from rigfolio.compare.facts import Told
from rigfolio.record import record

ChangeKind = Literal[
    "new", "gone", "moved", "renamed", "identified", "fused anew", "rewired", "loads changed",
    "changed",
]  # fmt: skip
_IDENTIFIED: ChangeKind = "identified"
Thing = Literal[
    "circuit", "wire", "source", "device", "panel", "bar", "load", "slot", "AC breaker", "state",
    "place", "picture", "acceptance", "rig",
]  # fmt: skip


@record
class Change:
    """One thing that is not as it was.

    `before` and `after` are its names in the two versions, empty where it is new or gone; `label`
    is what it is called in words; `facts` say what differs.
    """

    kind: ChangeKind
    thing: Thing
    before: str
    after: str
    label: str
    facts: tuple[str, ...] = ()


def apart(kind: ChangeKind, told: Iterable[Told]) -> Iterator[tuple[ChangeKind, tuple[str, ...]]]:
    """What differs, and what was only learnt, each with its kind of change."""
    every = tuple(told)
    for one, wanted in ((kind, False), (_IDENTIFIED, True)):
        facts = tuple(words for words, is_learnt in every if is_learnt is wanted)
        if facts:
            yield one, facts
