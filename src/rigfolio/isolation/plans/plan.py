"""A plan of how a part is made dead, and what it is made of."""

from rigfolio.findings import Citation
from rigfolio.isolation.plans.least_cut import Action
from rigfolio.isolation.table import Part
from rigfolio.record import record


@record
class Step:
    """One thing to open; `keeps_off` are the sources that would come back if it were not.

    `done_in` are the states in which it stands open already. What is `in_sun` stands between solar
    modules and their controller.
    """

    action: Action
    label: str
    keeps_off: tuple[str, ...]
    done_in: tuple[str, ...]
    in_sun: bool = False


@record
class BackFeed:
    """A source that reaches the part with all disconnects and selectors open, and by what."""

    source: str
    label: str
    by: tuple[str, ...]


@record
class StillLive:
    """A part that is live when all steps are done, and the sources that reach it."""

    part: Part
    sources: tuple[str, ...]
    through_loads: bool = False


@record
class Plan:
    """How to make a part dead.

    `loads` are those that it alone feeds. `off_first` are the loads, by name and the largest first,
    that draw through what is opened or through the part itself: no contact opens under load.
    `is_enough` is false where nothing that can be opened stands between it and a source.
    `stop_first` are charging sources that no step ends and that would lose their last battery
    while they run; `broken_off` are further ones, whose current runs through a fuse or a lead that
    is opened, and are among them. `keeps_running` are engines among them, each with the converter
    that runs by it. `posts` are the posts of batteries, which are live whatever is opened.
    `kept_off` are charging sources that are off before anything is opened and stay off.
    `with_it` are terminals of others that have to be dead as well, among `terminals`, since the
    part is mended where they feed it; `condition` is what it is marked as. `left_in` are fuses held
    by nuts each of which would do by itself: what a hand opens goes first. `comes_back` are loads
    that the part does not feed and whose current comes back by its own minus bar: what feeds them
    is among `terminals`, for that bar goes to plus through them where its lead is lifted.
    """

    place: str
    label: str
    terminals: tuple[str, ...]
    reached_by: tuple[str, ...]
    loads: tuple[str, ...]
    off_first: tuple[str, ...]
    stop_first: tuple[str, ...]
    steps: tuple[Step, ...]
    is_enough: bool
    stays_live: tuple[StillLive, ...]
    back_feeds: tuple[BackFeed, ...]
    goes_dark: tuple[str, ...]
    posts: tuple[str, ...]
    is_post: bool
    order: Citation
    kept_off: tuple[str, ...] = ()
    broken_off: tuple[str, ...] = ()
    keeps_running: tuple[tuple[str, str], ...] = ()
    with_it: tuple[str, ...] = ()
    condition: str = ""
    left_in: tuple[str, ...] = ()
    comes_back: tuple[str, ...] = ()
