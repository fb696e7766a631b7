"""What is told of a short: its two cases, and whether a device may break it."""

from collections.abc import Collection
from typing import Literal

from rigfolio.books import Limit
from rigfolio.model import Conductor, Device, Source
from rigfolio.record import record
from rigfolio.shorts.clearing import Blow, Clearing, Stress, stress
from rigfolio.study import Study
from rigfolio.units import show_load
from rigfolio.wording import joined_words

CaseName = Literal["coldest", "hottest"]


@record
class Case:
    """A fault with the coldest copper and full batteries, or with the hottest and weak ones.

    `current_a` is None where a value that decides is not known; `bound_a` is then what flows if
    that value is 0, which nothing exceeds; None where nothing that is known holds it back, and then
    no source and no wire has a figure. `sources` are what each gives [A]. `blows` are the devices
    that carry it, the most overloaded first, and `wires` the conductors, with their currents [A].
    `ends` is how it ends. `is_selective` is whether the first device is sure to open before all
    others on its way, None where that cannot be told.
    """

    study: Study
    name: CaseName
    current_a: float | None
    bound_a: float | None
    sources: tuple[tuple[str, float], ...] = ()
    blows: tuple[Blow, ...] = ()
    wires: tuple[tuple[Conductor, float], ...] = ()
    ends: Clearing = Clearing(None)
    is_selective: bool | None = None

    @property
    def words(self) -> str:
        """Which of the two it is, as it is read."""
        cold = self.name == "coldest"
        return f"with {'cold copper and full' if cold else 'hot copper and weak'} batteries"

    @property
    def opens(self) -> Blow | None:
        """The device that is overloaded most, and so opens first."""
        return next((blow for blow in self.blows if blow.overload > 1.0), None)

    @property
    def stresses(self) -> tuple[Stress, ...]:
        """What it does to each conductor that carries it."""
        return self.stresses_of({wire.name for wire, _ in self.wires})

    def stresses_of(self, names: Collection[str]) -> tuple[Stress, ...]:
        """What it does to some of the conductors that carry it, by name."""
        held = [(wire, own_a) for wire, own_a in self.wires if wire.name in names]
        along = self.ends.along([wire.name for wire, _ in held])
        return tuple(
            [stress(self.study, wire, a, ends) for (wire, a), ends in zip(held, along, strict=True)]
        )


@record
class Fault:
    """A bolted fault from a terminal of the plus side to one of the minus side.

    `ask` are sources whose internal resistance, short-circuit current or limit is wanted;
    `assumed` batteries for which a usual resistance stands in, in the hottest case only. `unknown`
    are wires on the way whose size or length is not known.
    """

    terminal: str
    to: str
    coldest: Case
    hottest: Case
    ask: tuple[Source, ...]
    assumed: tuple[tuple[Source, Limit], ...]
    unknown: tuple[Conductor, ...]

    @property
    def closing_again(self) -> tuple[str, ...]:
        """The breakers that open in it and close again by themselves, by name: they end nothing."""
        blows = (one for case in (self.coldest, self.hottest) for one in case.blows)
        return tuple(dict.fromkeys(
            one.device.about.name for one in blows
            if one.device.resets_itself and one.overload > 1.0
        ))  # fmt: skip


@record
class Interrupt:
    """Whether a device may break the worst that can flow behind it.

    `may` is None where that cannot be told: for want of a rating, of the figure of a battery in
    `ask`, or of the copper of a wire in `unknown`. `bound_a` is what the copper alone lets
    through, None where there is next to none; `least_a` what the sources drive whose figures are
    known. `by` are the sources that nothing but their inside limits, and that drive the worst.
    """

    device: Device
    rating: Limit | None
    current_a: float | None
    bound_a: float | None
    may: bool | None
    ask: tuple[Source, ...]
    least_a: float | None = None
    by: tuple[Source, ...] = ()
    unknown: tuple[Conductor, ...] = ()

    @property
    def flows_a(self) -> float | None:
        """The most that can flow, or where nobody can tell that, what flows for sure [A]."""
        most_a = self.bound_a if self.current_a is None else self.current_a
        return self.least_a if most_a is None else most_a

    @property
    def most(self) -> str:
        """That in words."""
        if self.flows_a is None:
            return "what flows"
        more = "" if self.current_a is not None or self.bound_a is not None else " and more"
        return f"{show_load(self.flows_a, 'A')}{more}"

    @property
    def wanted(self) -> str:
        """What a device there has to interrupt: the most that can flow, while that may be less.

        Where the copper sets no most it is what flows for sure, and how much more has to be asked.
        """
        asked = [f"`{source.about.name}`" for source in self.ask]
        figure = f"{show_load(self.flows_a or 0.0, 'A')} or more"
        if self.current_a is not None or not asked:
            return figure
        less = "how much more can be told" if self.bound_a is None else "less"
        return f"{figure}, {less} once it is known what {joined_words(asked)} can drive"

    @property
    def flows(self) -> str:
        """As `most`; beside a battery of which nobody knows also what flows for sure."""
        if self.current_a is not None or self.bound_a is None or self.least_a is None:
            return self.most
        least = show_load(self.least_a, "A")
        return self.most if least == self.most else f"{least.removesuffix(' A')} to {self.most}"


def may_break(rating: Limit | None, bound_a: float | None, least_a: float | None) -> bool | None:
    """Whether a device breaks all that may flow [A], or not even what flows for sure [A]."""
    if rating is not None and bound_a is not None and bound_a <= rating.value:
        return True
    return False if rating is not None and (least_a or 0.0) > rating.value else None
