"""What every layer may say about a place in the text."""

from enum import Enum
from typing import Literal

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

    def holds(self, other: "Span") -> bool:
        """Whether another place lies within it."""
        return self.file == other.file and self.start <= other.start and other.end <= self.end


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
class Edit:
    """What is to stand in a place of one file; where the place is empty it is put in there."""

    span: Span
    text: str


@record
class Refit:
    """What is to be other in a rig, for whoever writes it into the text.

    `of` names a device for a `rating`, a conductor for a `gauge` and for a `guard` that it has not
    yet; `to` is the rating or gauge as it is written, `at` the end where such a fuse sits.
    """

    what: Literal["rating", "gauge", "guard"]
    of: str
    to: str
    at: str = ""


@record
class Fix:
    """A way out; `text` in backticks is meant to be typed as it stands.

    With `changes` or `edits` it can be written into the text and has to be tried first; it may be
    offered once `is_tried`. `otherwise` is what to measure, ask or part where it does not serve.
    `kind` is `safe` where it may be written without a question, `ask` where it is for a person to
    decide, and `show` where there is nothing to write.
    """

    text: str
    kind: Literal["safe", "ask", "show"] = "show"
    changes: tuple[Refit, ...] = ()
    edits: tuple[Edit, ...] = ()
    otherwise: str = ""
    is_tried: bool = False

    @property
    def is_edit(self) -> bool:
        """Whether it is written into the text, and not only said."""
        return bool(self.changes or self.edits)


@record
class Accepted:
    """Why a finding is left as it is, and since when; it stays in every list and count."""

    reason: str
    date: str

    def __str__(self) -> str:
        """Reason and date as they are printed."""
        return f"{self.reason} ({self.date})"


@record
class Finding:
    """One thing to be said about the text or the rig.

    `at` is the smallest place that shows it, `others` the other parties. `numbers` holds the
    figures that decided, by name and in SI units, for programs that read the report. `accepted`
    says why it is left, where the text accepts it. What is so `until_pulled` is mended in the text
    already: a wire or fuses that were found do not belong there.
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
    accepted: Accepted | None = None
    until_pulled: bool = False

    @property
    def way_out(self) -> str:
        """What may be said of a way out; empty where it has not been tried, or there is none."""
        fix = self.fix
        return "" if fix is None or (fix.is_edit and not fix.is_tried) else fix.text

    @property
    def is_untried(self) -> bool:
        """Whether there is a way out that nobody has tried, so that none can be said."""
        return self.fix is not None and not self.way_out


RANK = {severity: place for place, severity in enumerate(Severity)}
"""How grave findings are, the gravest first."""


def in_order(found: list[Finding]) -> tuple[Finding, ...]:
    """The gravest findings first, those that are as grave by place, then name; twins removed."""
    unique = dict.fromkeys(found)
    return tuple(sorted(unique, key=lambda f: (RANK[f.severity], f.at.span, f.rule, f.headline)))
