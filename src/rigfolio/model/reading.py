"""What a meter showed and what was seen at the panel, tied to the parts of the rig."""

from typing import Literal

from rigfolio.findings import Span
from rigfolio.record import record

Measure = Literal["voltage", "current", "resistance", "symptom"]
Symptom = Literal[
    "", "dead", "dim", "slow", "flickers", "blows", "tripped", "hot", "backwards", "uncharged",
    "works",
]  # fmt: skip
PartKind = Literal["terminal", "source", "load", "circuit", "panel", "device", "wire", "rig"]


@record
class Reading:
    """One thing that was measured or seen.

    `part` is what it was taken at, `kind` what that is. Volts and ohms lie between the terminals
    `a` and `b`; `b` is empty where they were taken against the minus of the part. `value` is in
    V, A or ohm, `inf` ohm where the meter showed an open line, and 0 with a symptom. `on` are the
    names of the loads that were on, None where the text does not say. The kind `rig` is all loads
    that run for hours, as in `everything dim`. `state` names a state of
    the rig, `set_to` how single switches stood beside that, name and position; `date` is as
    written, and `text` the whole line.
    """

    measure: Measure
    part: str
    kind: PartKind
    a: str
    b: str
    value: float
    symptom: Symptom
    on: tuple[str, ...] | None
    state: str
    date: str
    span: Span
    text: str
    set_to: tuple[tuple[str, str], ...] = ()
    at_a: float | None = None
    """What was drawn in all while it was taken, where the text says so [A]."""
    starting: tuple[str, ...] = ()
    """The names of the loads of `on` that were starting."""


@record
class Done:
    """A piece of work, as it was written down."""

    date: str
    text: str
    span: Span


@record
class Unplaced:
    """An entry that was written of the rig as it once was, and `why` it has no place there now."""

    date: str
    text: str
    why: str
    span: Span


@record
class Log:
    """Readings and work in the order in which they were written.

    Readings that have no place in the rig any more stand apart, in `unplaced`.
    """

    readings: tuple[Reading, ...] = ()
    done: tuple[Done, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
