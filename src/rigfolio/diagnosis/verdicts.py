"""What a search for a fault comes to: verdicts with their shares, and the parts that they blame."""

from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.spreads import Expected
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.isolation import must_stay_on
from rigfolio.model import Load, Reading
from rigfolio.natural_order import natural
from rigfolio.operating import NOTHING_WRONG, Shown, Wrong
from rigfolio.record import record

# Mean square of spreads from which on a verdict is told as a poor fit: 2.4 spreads each [-].
_POOR = 6.0
# Digits of a share behind the point that anybody could go by [-].
_TOLD = 4


@record
class Trial:
    """A fault of some amount: what is wrong, what all scenes show, what the probes show."""

    amount: float
    wrong: Wrong
    shown: tuple[Shown, ...]
    expected: Expected


@record
class Verdict:
    """One or two faults together, and how likely it is that just these are there.

    `amounts` are the likeliest amount of each, `spans` from which to which amount nine tenths of
    its likelihood lie. `misfit` is how badly the readings fit, as a mean square of spreads [-], and
    `unexplained` are those that are far from what they would be.
    `touches` is whether the faults change anything of what was read. `levels` are where what feeds
    the rig stands if it is so, in deviations [-].
    """

    faults: tuple[Suspect, ...]
    share: float
    amounts: tuple[float, ...]
    spans: tuple[tuple[float, float], ...]
    misfit: float
    touches: bool
    trials: tuple[tuple[float, Trial], ...]
    unexplained: tuple[Reading, ...] = ()
    levels: tuple[float, ...] = ()

    @property
    def parts(self) -> tuple[str, ...]:
        """Where to look; nowhere where the faults change nothing of what was read."""
        return tuple(sorted(fault.part for fault in self.faults)) if self.touches else ()

    @property
    def cures(self) -> tuple[tuple[str, str], ...]:
        """What is to be mended; nothing where the faults change nothing of what was read."""
        return tuple(sorted(fault.cure for fault in self.faults)) if self.touches else ()

    @property
    def wrong(self) -> Wrong:
        """What is wrong at the likeliest amounts."""
        made = NOTHING_WRONG
        for fault, amount in zip(self.faults, self.amounts, strict=True):
            made = made.plus(fault.wrong(amount))
        return made


@record
class Diagnosis:
    """All verdicts, the likeliest first; with what is none of them their shares add up to 1."""

    evidence: Evidence
    verdicts: tuple[Verdict, ...]

    @property
    def unlisted(self) -> float:
        """How likely it is that what is wrong is none of the faults that are thought of [-]."""
        return max(1.0 - sum(one.share for one in self.verdicts), 0.0)

    @property
    def fits(self) -> bool:
        """Whether the likeliest verdict explains the readings within their spread."""
        return not self.verdicts[0].unexplained and self.verdicts[0].misfit < _POOR

    @property
    def explains(self) -> bool:
        """Whether anything explains most of the readings; else they, or the text, are wrong."""
        return 2 * len(self.verdicts[0].unexplained) < max(len(self.evidence.numeric), 1)


def told_order(one: Verdict) -> tuple[float, int, tuple[object, ...]]:
    """By what verdicts are ordered: the likeliest first, what is alike for a meter by its names.

    Shares that nobody could tell apart are one share: their last digits hang on the machine.
    """
    return -round(one.share, _TOLD), len(one.faults), tuple(natural(f.name) for f in one.faults)


def by_part(diagnosis: Diagnosis) -> tuple[tuple[tuple[str, ...], float], ...]:
    """The parts that verdicts blame, each with the sum of their shares; the likeliest first.

    A bad joint of a wire and a wire that is open are one place to look at.
    """
    found: dict[tuple[str, ...], float] = {}
    for one in diagnosis.verdicts:
        found[one.parts] = found.get(one.parts, 0.0) + one.share
    return tuple(sorted(found.items(), key=lambda pair: (-round(pair[1], _TOLD), pair[0])))


def dead_as_wired(evidence: Evidence) -> tuple[Load, ...]:
    """What was read, must stay on, and has no volts with switches so though nothing is broken.

    What only its own float or pin has switched off is none of these.
    """
    asked = {(one.a, one.b): one.scene for one in (*evidence.symptoms, *evidence.numeric)}
    asked |= {(one.reading.part, ""): one.scene for one in (*evidence.symptoms, *evidence.numeric)}
    found = []
    for load in (one.load for one in must_stay_on(evidence.study) if one.dead_in):
        scene = asked.get((load.plus, load.minus), asked.get((load.about.name, "")))
        if scene is not None and abs(evidence.sound[scene].between_v(load.plus, load.minus)) < 1.0:
            found.append(load)
    return tuple(found)
