"""The shape of what is found, for type checkers: that of the JSON of `rigfolio check`.

Lines and columns count characters from 1, the end is the first character behind the place; all four
are None where something is said of a file as a whole.
"""

from typing import Literal, TypedDict


class PlaceFacts(TypedDict):
    """A place in a text."""

    file: str
    line: int | None
    column: int | None
    end_line: int | None
    end_column: int | None


class LabelFacts(PlaceFacts):
    """A place and what is to be said of it."""

    label: str


class EditFacts(PlaceFacts):
    """What stands in a place and what is to stand there; where `old` is empty it is put in."""

    old: str
    new: str


class FixFacts(TypedDict):
    """A way out.

    Its edits have been tried. `safe` ones may be written in without a question, `ask` is for a
    person to decide, `show` has no edits. `together` tells whether the edits belong to those of the
    rig that serve all at once.
    """

    text: str
    kind: Literal["safe", "ask", "show"]
    edits: list[EditFacts]
    together: bool


class CitationFacts(TypedDict):
    """Where a limit comes from; `status` is `seen`, `memory`, `computed` or `common practice`."""

    title: str
    status: str


class AcceptedFacts(TypedDict):
    """Why the text accepts a finding, and since when."""

    reason: str
    date: str


class FindingFacts(LabelFacts):
    """One thing that was found: where in the text, where at the panel, by which source.

    `numbers` are the figures that decided, in SI units; None where one has no end.
    """

    rule: str
    severity: Literal["error", "danger", "fault", "unknown", "advice"]
    book: str | None
    headline: str
    place: str
    accepted: AcceptedFacts | None
    others: list[LabelFacts]
    citation: CitationFacts | None
    fix: FixFacts | None
    numbers: dict[str, float | None]
