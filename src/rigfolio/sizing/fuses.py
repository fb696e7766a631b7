"""The rating that each device must have: by what runs through it, by its slot, by its wires."""

from rigfolio.demand import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Device
from rigfolio.record import record, replace
from rigfolio.sizing.groups import slot_a
from rigfolio.sizing.needs import SLACK
from rigfolio.standard_sizes import rating_above, rating_below
from rigfolio.study import Study

CONTINUOUS = "continuous load"
"""In place of a rule: what runs for hours is more than the share of the rating."""


@record
class Duty:
    """What a device must carry [A].

    `needed_a` is the demand, or what runs for hours over the share of its rating that a fuse may
    carry for hours, where that is more; `by` the rule that asks for it. What a charging source
    drives is at its rated most and counts as it is. `least_a` is the smallest rating in stock that
    carries it, None where none is; `most_a` what the slot is made for.
    """

    device: Device
    needed_a: float
    by: str
    least_a: float | None
    most_a: float | None
    strained_a: float = 0.0
    """What runs for hours, where no rating that the slot takes leaves it within the share."""

    @property
    def is_used(self) -> bool:
        """Whether any load or charger is known to use it."""
        return self.needed_a > 0.0

    @property
    def is_possible(self) -> bool:
        """Whether a rating in stock carries what it must and suits the slot."""
        if self.least_a is None:
            return not self.is_used
        return self.most_a is None or self.least_a <= self.most_a * SLACK

    def allows(self, rating_a: float) -> bool:
        """Whether a rating carries what it must and suits the slot."""
        is_enough = rating_a * SLACK >= self.needed_a
        return is_enough and (self.most_a is None or rating_a <= self.most_a * SLACK)

    def start_a(self) -> float | None:
        """The rating to begin with: the present one where it may stay; None where none is known."""
        has = self.device.rating_a
        if isinstance(has, Unknown) or has is None:
            return self.least_a if self.is_used else None
        if self.allows(has) or not self.is_possible:
            return has
        if has * SLACK < self.needed_a:
            return self.least_a
        return rating_below(self.most_a, self.device) if self.most_a is not None else has

    def below(self, limit_a: float) -> float | None:
        """The largest rating in stock within a limit that still carries what it must."""
        found = rating_below(limit_a, self.device)
        return found if found is not None and found * SLACK >= self.needed_a else None


def duty_of(study: Study, device: Device) -> Duty:
    """What a device must carry."""
    demand = flows_of(study).most([device.about.name])
    share = study.book.continuous_share().value
    most_a = slot_a(study, device)
    plain = Duty(
        device, demand.current_a, "fuse-overloaded", _above(demand.current_a, device), most_a
    )
    hours_a = demand.steady_a / share
    if hours_a <= demand.current_a * SLACK:
        return plain
    eased = Duty(device, hours_a, CONTINUOUS, _above(hours_a, device), most_a)
    if eased.is_possible:
        return eased
    if not plain.is_possible:
        return plain
    # The slot ends what the share asks for; a rating that carries the demand is still right there.
    return replace(plain, strained_a=demand.steady_a)


def _above(needed_a: float, device: Device) -> float | None:
    return rating_above(needed_a, device) if needed_a > 0.0 else None
