"""Which loads get current in a state, and which lose it or get it when something opens.

A load gets current from a source that is live at its plus and that it comes back to; where the text
tells no way back of a load it is taken to have one. A relay goes with its coil: what rests open
lets go when its coil loses that, and all behind its contact with it, the coils of further relays
too; what rests closed closes then, and something may come on.
"""

from collections.abc import Collection, Mapping

from rigfolio.isolation.energised import Open, SourceReach, in_use, source_reach
from rigfolio.model import Load
from rigfolio.network import coils_of, openers_of, plug_pins
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class AfterOpening:
    """What is otherwise once something has opened.

    `state` is what is open and off then, the relays that let go among it. `dark` are the loads that
    got current before and get none, `comes_on` those that get it since a relay that rests closed
    has let go, by name. `by_coils` are those of the dark that a relay alone has taken with it.
    """

    state: Open
    dark: frozenset[str]
    comes_on: frozenset[str]
    by_coils: frozenset[str]


def when_opened(
    study: Study, was: Open, now: Open, dead: frozenset[str] = frozenset()
) -> AfterOpening:
    """What goes dark and what comes on from one state to another in which more is open.

    `dead` are loads that get nothing in the other, however they are joined, by name.
    """
    drive, opens = source_reach(study), openers_of(study.rig)
    before = served(study, was)
    after = _let_go(drive, before, was, now, dead)
    left = _served(study, after) - dead
    freed = frozenset(
        edge for edge, coil in opens.items()
        if coil.about.name in before - left and edge not in after.edges
    )  # fmt: skip
    comes_on = frozenset[str]()
    if freed:
        # As it stood a moment ago, with their coils on: what is served then was served anyhow.
        shut = Open(after.edges | freed, after.sources)
        comes_on = left - _served(study, _let_go(drive, left, after, shut, dead))
    dark = before - left
    by_coils = dark & _served(study, now) - dead if after != now else frozenset[str]()
    return AfterOpening(after, dark, comes_on, by_coils)


@once
def dark_without(study: Study, batteries: Collection[str]) -> tuple[Load, ...]:
    """The loads that batteries serve, and none of them any more without some, by name.

    What charges is there now and then, and what comes through a plug is as well; so is a converter
    that charges a bank, which may wait for the engine.
    """
    drive, rig = source_reach(study), study.rig
    edges = in_use(rig).edges | plug_pins(rig)
    through = drive.passes_on & drive.inputs.keys()
    at_times = frozenset(
        one.about.name for one in rig.sources if not one.stores and one.about.name not in through
    )  # fmt: skip
    found = when_opened(study, Open(edges, at_times), Open(edges, at_times | frozenset(batteries)))
    return tuple(one for one in rig.loads if one.about.name in found.dark)


def feeding(drive: SourceReach, state: Open, load: Load) -> tuple[str, ...]:
    """The sources that a load gets current from in a state, by name.

    Each is live at its plus, and joined to its minus unless the text tells no way back to it.
    """
    by = drive.alive(state).get(load.plus, ())
    if not by:
        return ()
    sources, joined = drive.rig.by_name.sources, drive.net.walk([load.minus], state.bars)
    return tuple(
        name for name in by if name not in drive.returning or sources[name].minus in joined
    )


def _gets(drive: SourceReach, state: Open, load: Load) -> bool:
    """Whether a load gets current, as far as its way back is told."""
    is_untold = load.about.name in _returns_untold(drive.study)
    return bool(feeding(drive, state, load)) or (is_untold and load.plus in drive.alive(state))


@once
def _returns_untold(study: Study) -> frozenset[str]:
    """The loads that nothing of the text joins to the minus of any source, by name."""
    back = study.net.walk(one.minus for one in study.rig.sources)
    return frozenset(one.about.name for one in study.rig.loads if one.minus not in back)


def _let_go(
    drive: SourceReach, on: Collection[str], was: Open, now: Open, dead: Collection[str]
) -> Open:
    """A state with each relay open that rests so and whose coil was on in another, and is not here.

    A contact through which its own coil is held stays closed as long as that has current.
    """
    held: Mapping[str, Load] = {
        edge: coil for edge, coil in coils_of(drive.rig).items()
        if edge not in was.edges and coil.about.name in on
    }  # fmt: skip
    while True:
        fallen = frozenset(
            edge for edge, coil in held.items()
            if edge not in now.edges
            and (coil.about.name in dead or not _gets(drive, now, coil))
        )  # fmt: skip
        if not fallen:
            return now
        now = Open(now.edges | fallen, now.sources)


@once
def served(study: Study, state: Open) -> frozenset[str]:
    """The loads that get current in a state, by name, all of them switched on; kept."""
    return _served(study, state)


def _served(study: Study, state: Open) -> frozenset[str]:
    """As `_gets`, of all at one time; once for each thing that is opened, and so not kept."""
    drive = source_reach(study)
    alive, sources = drive.alive(state), study.rig.by_name.sources
    back_of: dict[str, Collection[str]] = {}
    for name in drive.returning - state.sources:
        minus = sources[name].minus
        shared = next((back for back in back_of.values() if minus in back), None)
        back_of[name] = drive.net.walk([minus], state.bars).keys() if shared is None else shared
    untold = _returns_untold(study)
    return frozenset(
        load.about.name for load in study.rig.loads
        if load.plus in alive and (load.about.name in untold or any(
            name not in back_of or load.minus in back_of[name] for name in alive[load.plus]
        ))
    )  # fmt: skip
