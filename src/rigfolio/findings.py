"""What every layer may say about a place in the text."""

from enum import Enum

from rigfolio.record import record


class Severity(Enum):
    """How bad a finding is; the order of the members is the order of printing."""

    ERROR = "error"
    """The text was not understood."""
    DANGER = "danger"
    """Can start a fire or hurt someone."""
    FAULT = "fault"
    """Breaks a rule or will not work."""
    UNKNOWN = "unknown"
    """Cannot be judged: a value that decides is not known."""
    ADVICE = "advice"
    """Worth doing; nothing is broken."""


class Unknown(Enum):
    """A value not surveyed yet, written `?`; its own type so that it is not forgotten."""

    UNKNOWN = "?"


UNKNOWN = Unknown.UNKNOWN


@record
class Span:
    """A place in a text: half-open character offsets into one file."""

    file: str
    start: int
    end: int


@record
class Citation:
    """Where a number or a rule comes from.

    `status` is one of `seen`, `memory`, `computed`, `common practice`.
    """

    title: str
    status: str

    def __str__(self) -> str:
        """Title and status as they are printed."""
        return f"{self.title} ({self.status})"


@record
class Label:
    """A place and what is to be said of it."""

    span: Span
    text: str = ""


@record
class Fix:
    """A way out; `text` in backticks is meant to be typed as it stands."""

    text: str
    kind: str = "show"


@record
class Finding:
    """One thing to be said about the text or the rig.

    `at` is the smallest place that shows it, `others` the other parties. `numbers` holds the
    figures that decided, by name and in SI units, for programs that read the report.
    """

    rule: str
    severity: Severity
    headline: str
    at: Label
    others: tuple[Label, ...] = ()
    source: Citation | None = None
    fix: Fix | None = None
    numbers: tuple[tuple[str, float], ...] = ()
    book: str = ""


def in_order(found: list[Finding]) -> tuple[Finding, ...]:
    """Findings sorted by place, then severity and name, twins removed."""
    rank = {severity: place for place, severity in enumerate(Severity)}
    unique = dict.fromkeys(found)
    return tuple(sorted(unique, key=lambda f: (f.at.span, rank[f.severity], f.rule, f.headline)))
