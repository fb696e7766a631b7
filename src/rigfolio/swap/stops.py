"""What is not brought live as it is: every danger of a rig, as a stop before its power comes back.

The plan of the work and the test sheet ask here. A danger is put right while the rig is dead, or
what it is said of stays dead.
"""

from collections.abc import Collection

from rigfolio.findings import Finding, Span
from rigfolio.operating import KEPT_DEAD, StageStep, stages_of
from rigfolio.protection import rated_too_low
from rigfolio.study import Study
from rigfolio.swap.held import barred, dangers
from rigfolio.swap.power import Task, WorkPart
from rigfolio.units import show_limit
from rigfolio.wording import PanelPlaces, in_a_row, load_words, on_paper

TITLE = "Stop: dangers, put right before power comes back"
_ABOUT = (
    "Each of these can start a fire or hurt somebody. What is not put right stays dead: its fuse "
    "out, its leads off and taped. What of it stays live while you work gets its lead off at its "
    "source first. Whatever was put right goes into the text, and this plan is printed anew."
)
_TOLD = "the stops told at the first panel"
_STILL = "each put right, or dead still"
_ELSEWHERE = "see the sheet of findings for its way out"


def stops(study: Study, *, is_told: bool = False, tried: Collection[Finding] = ()) -> WorkPart:
    """A step for each danger, to be taken while all is dead; no tasks where there is none.

    Parameters
    ----------
    study : Study
        The rig.
    is_told : bool
        Whether they were told at another panel before: then one step looks after all of them.
    tried : Collection[Finding]
        What was found, with ways out that were tried.
    """
    at = PanelPlaces(study.rig).at
    found = dangers(study)
    if is_told and found:
        names = in_a_row(dict.fromkeys(at(one.at.span) or one.headline for one in found))
        return WorkPart(TITLE, (), (Task(on_paper(f"{_TOLD}: {names}"), _STILL),))
    ways = {_key(one): one for one in tried}
    tasks = [
        Task(
            on_paper(": ".join(filter(None, (at(one.at.span), one.headline)))),
            on_paper(_way_out(ways.get(_key(one), one))),
        )
        for one in found
    ]
    return WorkPart(TITLE, (_ABOUT, *_kept_words(study)), tuple(tasks))


def _key(finding: Finding) -> tuple[str, Span, str]:
    return finding.rule, finding.at.span, finding.headline


def _kept_words(study: Study) -> tuple[str, ...]:
    """What must stay on and is dead as long as a danger is not put right; none where nothing is."""
    kept = stages_of(study, barred(study)).use.kept_dead()
    names = in_a_row(dict.fromkeys(load_words(study.rig, load) for load in kept))
    return (on_paper(f"{names}: {KEPT_DEAD}."),) if names else ()


def _way_out(finding: Finding) -> str:
    """What there is to do; where nobody tried what would be written into the text, what else."""
    otherwise = finding.fix.otherwise if finding.fix is not None else ""
    return finding.way_out or otherwise or _ELSEWHERE


def stops_words(study: Study) -> tuple[str, ...]:
    """Where the dangers are, for whoever is about to open a panel; nothing where there are none."""
    at = PanelPlaces(study.rig).at
    places = dict.fromkeys(at(one.at.span) or one.headline for one in dangers(study))
    if not places:
        return ()
    words = f"DANGER at {in_a_row(places)}: see the stops below, before power comes back."
    return (on_paper(words),)


def borne_words(study: Study, step: StageStep) -> str:
    """That volts are read where a part is rated for less; empty where none is."""
    ends = {point.a for point in step.points if point.unit == "V" and point.high > 0.0}
    low = [one.about for one in rated_too_low(study) if ends.intersection(one.ends)]
    words = in_a_row([f"{one.name} is rated {show_limit(one.rated_v or 0.0, 'V')}" for one in low])
    return f"; STOP: {words}" if words else ""
