"""What single loads use in a day, and some of them together."""

from collections.abc import Iterable

from rigfolio.demand.counting import unread_circuits
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import called


@record
class Use:
    """What one load uses in a day; `day_c` is None where it is not known, and `missing` says why.

    `current_a` is what it draws while it runs [A], `day_c` the charge of a day [C].
    """

    load: str
    label: str
    circuit: str
    current_a: float | None
    day_share: float | None
    day_c: float | None
    missing: str = ""
    gaps: tuple[str, ...] = ()
    """The loads behind a converter of which its own use leaves out what nobody knows."""
    within: str = ""
    """The input of the converter that feeds it, whose own use holds this one, at other volts."""
    within_v: float | None = None
    """The volts at which this one is counted then [V]."""


@record
class DayUse:
    """What some loads use in a day: the known part [C], and the loads that are not known."""

    name: str
    label: str
    known_c: float
    unknown: tuple[str, ...]


def summed(name: str, label: str, found: Iterable[Use]) -> DayUse:
    """What some loads use together: the known part, and which are not known."""
    parts = tuple(found)
    return DayUse(
        name,
        label,
        sum(part.day_c for part in parts if part.day_c is not None),
        tuple(
            label
            for part in parts
            for label in (part.gaps or ((part.label,) if part.day_c is None else ()))
        ),
    )


def unread_uses(study: Study) -> tuple[Use, ...]:
    """A use of which nothing is known for each circuit of which nobody read what hangs on it."""
    return tuple(
        Use(
            one.place, called(one.place, one.label), one.place, None, None, None, "what hangs on it"
        )
        for one in unread_circuits(study)
    )
