"""The rating that each device must have: by what runs through it, by its slot, by its wires."""

from collections.abc import Mapping, Sequence

from rigfolio.demand import bright_need, flows_of, least_rated_a, told_hours_a
from rigfolio.findings import Span, Unknown
from rigfolio.kinds import OCCASIONS
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name
from rigfolio.protection import limit_of, string_fuse_most_a
from rigfolio.record import record, replace
from rigfolio.rule import rule
from rigfolio.shorts import StartCurrent, hardest_start, may_open, waits_for
from rigfolio.sizing.groups import slot_a
from rigfolio.standard_sizes import rating_above, rating_below
from rigfolio.study import Study, once
from rigfolio.units import is_over, show_load
from rigfolio.wording import label_of

OWN_LINE, OWN_LINES = "by a line of its own", "by a line of their own"
PART = f"part the loads, or feed them {OWN_LINES}"
"""What is left to do where nothing in stock serves."""
LABEL = "read the label again, or fewer strings side by side"
"""The same of a string of modules."""
CONTINUOUS = "continuous load"
"""In place of a rule: what runs for hours is more than the share of the rating."""
STARTS = "starting-opens-fuse"
BRIGHT = "bright-sun"


@record
class DeviceDuty:
    """What a device must carry [A].

    `needed_a` is the demand, or what the text says to run on for hours over the share of its rating
    that a fuse may carry for hours, where that is more; `by` the rule that asks for it. What a
    charging source drives is at its rated most and counts as it is, but for what modules give in
    bright sun. Where a smaller rating may open while a load starts, `needed_a` is the smallest that
    waits, and `start` what it waits for. `least_a` is the smallest rating in stock that carries it,
    None where none is; `most_a` what the slot, or the panel behind it, is made for, what an
    alternator may have in its line, or what the label of modules allows in their string; `most_by`
    is the rule that says so.

    What is fitted and carries what it must stays. Where another one has to be chosen anyway
    `eased_a` is that over the share which may run on for hours, though the text does not say so, or
    which sun or wind gives; 0 where it is not more, or the slot takes no such rating.
    """

    device: Device
    needed_a: float
    by: str
    least_a: float | None
    most_a: float | None
    strained_a: float = 0.0
    """What runs for hours, where no rating that the slot takes leaves it within the share."""
    most_by: str = "fuse-over-slot"
    start: StartCurrent | None = None
    eased_a: float = 0.0

    @property
    def is_used(self) -> bool:
        """Whether any load or charger is known to use it."""
        return self.needed_a > 0.0

    @property
    def is_possible(self) -> bool:
        """Whether a rating in stock carries what it must and suits the slot."""
        if self.least_a is None:
            return not self.is_used
        return self.most_a is None or not is_over(self.least_a, self.most_a)

    def allows(self, rating_a: float) -> bool:
        """Whether a rating carries what it must and suits the slot."""
        is_enough = not is_over(self.needed_a, rating_a)
        return is_enough and (self.most_a is None or not is_over(rating_a, self.most_a))

    def start_a(self) -> float | None:
        """The rating to begin with: the present one where it may stay; None where none is known."""
        has = self.device.rating_a
        if isinstance(has, Unknown) or has is None:
            return self.chosen_a if self.is_used else None
        if self.allows(has) or not self.is_possible:
            return has
        if is_over(self.needed_a, has):
            return self.chosen_a
        return rating_below(self.most_a, self.device) if self.most_a is not None else has

    @property
    def chosen_a(self) -> float | None:
        """The rating to be fitted where another one has to be chosen."""
        eased_a = _above(self.eased_a, self.device)
        return eased_a if eased_a is not None and self.is_eased(eased_a) else self.least_a

    def is_eased(self, rating_a: float) -> bool:
        """Whether a rating has to spare what may run on for hours, beyond what it must carry."""
        return is_over(self.eased_a, self.needed_a) and not is_over(self.eased_a, rating_a)

    def below(self, limit_a: float) -> float | None:
        """The largest rating in stock within a limit that still carries what it must."""
        found = rating_below(limit_a, self.device)
        return found if found is not None and not is_over(self.needed_a, found) else None


def duty_of(study: Study, device: Device, leads: Sequence[Conductor] = ()) -> DeviceDuty:
    """What a device must carry; for a start no more than the leads behind it allow."""
    duty, start = _running(study, device), hardest_start(study, device)
    least_a = None if start is None else _waiting(duty, start)
    if start is None or least_a is None or least_a == duty.least_a:
        return duty
    has = device.rating_a
    is_told = isinstance(has, float) and (waits_for(device, start) or may_open(device, start))
    if isinstance(has, float) and duty.allows(has) and not is_told:
        # What is fitted stays where no standard tells whether it opens.
        return duty
    waiting = replace(duty, needed_a=least_a, by=STARTS, least_a=least_a, start=start)
    limits = [limit for wire in leads if (limit := limit_of(study, wire)) is not None]
    is_borne = not any(limit.is_broken_by(least_a) for limit in limits)
    # Where the slot or a lead ends that, a rating for what runs is still right, and a start may
    # open it: that is told by its rule.
    return waiting if waiting.is_possible and is_borne else duty


def asked_of(study: Study, device: Device) -> tuple[float, str]:
    """The least that another device in the place of one must be rated [A], and what asks for it.

    That is what `size` holds it against: where a smaller one may open while a load starts, and slot
    and panel allow it, it has to wait for that. In words only where it is a start.
    """
    duty = duty_of(study, device)
    if duty.start is None or not duty.is_possible:
        return least_rated_a(study, device.about.name), ""
    starts_at = show_load(duty.start.current_a, "A")
    return duty.needed_a, f"`{label_of(duty.start.load)}` starts at {starts_at}"


def chosen_of(study: Study, device: Device) -> float | None:
    """The rating that `size` would choose in place of a device [A]; None where none serves."""
    duty = duty_of(study, device)
    return duty.chosen_a if duty.is_possible else None


def _waiting(duty: DeviceDuty, start: StartCurrent) -> float | None:
    """The smallest rating in stock that carries what runs and waits for a start [A]."""
    rating_a = duty.least_a
    while rating_a is not None:
        if waits_for(replace(duty.device, rating_a=rating_a), start):
            return rating_a
        rating_a = rating_above(rating_a * (1.0 + 1e-6), duty.device)
    return None


def _running(study: Study, device: Device) -> DeviceDuty:
    """What a device must carry while nothing starts."""
    demand = flows_of(study).most([device.about.name])
    share = study.book.continuous_share().value
    most_a, most_by = _most(study, device)
    plain = DeviceDuty(
        device, demand.current_a, "fuse-overloaded", _above(demand.current_a, device), most_a,
        most_by=most_by,
    )  # fmt: skip
    bright = bright_need(study, device)
    if bright is not None:
        sunny = replace(
            plain, needed_a=bright.value, by=BRIGHT, least_a=_above(bright.value, device)
        )
        return sunny if sunny.is_possible else plain
    is_own = flows_of(study).is_charging_line(edge_name(device))
    hours_a = max(0.0 if is_own else demand.steady_a, _weather_a(study, device)) / share
    eased = replace(plain, needed_a=hours_a, least_a=_above(hours_a, device))
    found = _told(study, plain)
    is_eased = is_over(hours_a, found.needed_a) and eased.is_possible
    return replace(found, eased_a=hours_a) if is_eased else found


def _told(study: Study, plain: DeviceDuty) -> DeviceDuty:
    """As `plain`, with what the text says to run on for hours."""
    name = plain.device.about.name
    least_a = least_rated_a(study, name)
    if not is_over(least_a, plain.needed_a):
        return plain
    told = replace(plain, needed_a=least_a, by=CONTINUOUS, least_a=_above(least_a, plain.device))
    if told.is_possible:
        return told
    if not plain.is_possible:
        return plain
    # The slot ends what the share asks for; a rating that carries the demand is still right there.
    return replace(plain, strained_a=told_hours_a(study, name))


def _weather_a(study: Study, device: Device) -> float:
    """What the sun or the wind alone gives for hours [A].

    A device that carries what such a source gives at its most is its maker's choice, and stays.
    """
    charge, has = flows_of(study).charges.get(device.about.name), device.rating_a
    if charge is None or (isinstance(has, float) and not is_over(charge.together_a, has)):
        return 0.0
    kinds = {study.rig.by_name.sources[name].traits.charges_with for name in charge.sources}
    weather = {kind for kind, occasion in OCCASIONS.items() if occasion.at_any_time}
    return charge.together_a if kinds and kinds <= weather else 0.0


MOST_BY = {
    "fuse-over-slot": "the slot gives",
    "fuse-over-panel": "the panel behind it is made for",
    "alternator-fuse-large": "the line of its alternator may have",
    "array-fed-back": "the label of its modules allows",
}
"""Rules that say how large a device may be at most, and how that is said before the figure."""


def _most(study: Study, device: Device) -> tuple[float | None, str]:
    """The most that a device may be rated [A], and what says so."""
    string_a = string_fuse_most_a(study, device)
    if string_a is not None:
        return string_a, "array-fed-back"
    slot = slot_a(study, device)
    found = _caps(study).get(device.rating_span or device.about.span)
    if found is None or (slot is not None and slot <= found[0]):
        return slot, "fuse-over-slot"
    return found


@once
def _caps(study: Study) -> Mapping[Span, tuple[float, str]]:
    """What devices may be rated at most, where rules find that they are more, by their places."""
    found: dict[Span, tuple[float, str]] = {}
    for name in ("fuse-over-panel", "alternator-fuse-large"):
        of, check, _ = rule(name)
        for finding in check(study) if study.book.name in of.books else ():
            found[finding.at.span] = (finding.numbers[-1][1], name)
    return found


def _above(needed_a: float, device: Device) -> float | None:
    return rating_above(needed_a, device) if needed_a > 0.0 else None
