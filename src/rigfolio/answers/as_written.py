"""What of a complaint the rig gives as it is written, with no part broken."""

from collections.abc import Iterator

from rigfolio.answers.energy import balance_words
from rigfolio.answers.fault_words import load_name
from rigfolio.books import figure
from rigfolio.demand import allowed_drop_of, balances, drops_of
from rigfolio.diagnosis import Diagnosis, emptied
from rigfolio.units import apart, show, show_load

_WEAK = ("dim", "slow")


def as_written_words(found: Diagnosis) -> Iterator[str]:
    """What the text alone makes of what was said: volts that wires lose, a day that is short."""
    yield from _losing(found)
    banks = {name for name, _ in emptied(found.evidence)}
    for one in balances(found.evidence.study):
        if banks & {*one.banks} and one.left_c < 0.0:
            yield f"a day takes more of it than comes in: {balance_words(one)}"


def _losing(found: Diagnosis) -> Iterator[str]:
    """The loads that are dim or slow by the drop that `check` judges."""
    evidence, study = found.evidence, found.evidence.study
    said = {one.reading.part for one in evidence.symptoms if one.reading.symptom in _WEAK}
    for load in study.rig.loads:
        drop = drops_of(study).of(load) if said & {load.about.name, load.circuit} else None
        if drop is None or drop.collapses:
            continue
        allowed = allowed_drop_of(study, load)
        is_broken = allowed.is_broken_by(drop.share)
        if is_broken or drop.share > 1.0 - figure("seen", "dim_share"):
            shares = f"{apart(drop.share, allowed.value, '%')} of {show(drop.nominal_v, 'V')}"
            more = ": `check` says what mends that" if is_broken else ""
            yield (
                f"`{load_name(study, load.about.name)}` loses {show_load(drop.volts, 'V')}, "
                f"{shares}, with nothing broken{more}"
            )


def is_as_written(found: Diagnosis) -> bool:
    """Whether all that was said is what the rig shows with nothing wrong."""
    evidence = found.evidence
    said = [one for one in evidence.symptoms if one.reading.symptom in _WEAK]
    return bool(said) and len(said) == len(evidence.symptoms) and any(_losing(found))
