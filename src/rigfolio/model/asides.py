"""What a text says beside the graph: circuits, panels, labels, states, gaps, pictures."""

from typing import Literal

from rigfolio.findings import Span, Unknown
from rigfolio.record import record

SlotUse = Literal["spare", "blank"]

NOT_IN_SLOT = "circuit "
"""What goes before the place of a circuit that starts at a terminal, and not in a slot."""


@record
class Circuit:
    """What one slot or terminal feeds: wires out in order, wires back, loads.

    `place` is what it is called: its slot, or `circuit S1.line` where it starts at a terminal.
    """

    place: str
    label: str
    span: Span
    start: str
    device: str
    wires: tuple[str, ...]
    returns: tuple[str, ...]
    loads: tuple[str, ...]
    panel: str = ""
    slot: int = 0
    always_on: bool = False
    return_assumed: bool = False
    note: str = ""
    condition: str = ""
    found_a: float | Unknown | None = None
    """The fuse that was found in the slot, where that is not the one that belongs there."""
    marked_a: float | Unknown | None = None
    """The rating that is marked beside the slot."""
    stays: bool = False
    """Whether it keeps its slot when slots are chosen anew."""
    beside: str = ""
    """The place of a circuit that it is to stand next to."""

    @property
    def stem(self) -> str:
        """What the names of its wires and terminals begin with."""
        return self.place.removeprefix(NOT_IN_SLOT)


@record
class About:
    """What may be said of anything: name, label, volts it is rated for, note and condition."""

    name: str
    label: str
    span: Span
    rated_v: float | None = None
    stud: str = ""
    note: str = ""
    condition: str = ""
    torque_nm: float | None = None

    def __str__(self) -> str:
        """Name and label as they are printed; a name that is made of the label stands alone."""
        if not self.label or f"{self.name} ".startswith(f"{self.label} "):
            return self.name
        return f"{self.name} {self.label}"


@record
class PhotoMark:
    """A slot or wire on a picture: its name, and its place as shares of width and height [-].

    One that is `in_pixels` is counted from the upper left corner of the picture as it was taken; it
    becomes shares when the picture is opened.
    """

    place: str
    x: float
    y: float
    span: Span
    in_pixels: bool = False


@record
class Photo:
    """A picture of a panel: its file, from the folder of the rig file, and what is marked on it.

    `white` are two corners of something white on it, as shares of width and height [-].
    """

    file: str
    marks: tuple[PhotoMark, ...]
    white: tuple[float, float, float, float] | None
    span: Span


@record
class Assumption:
    """Something the text does not say and the model takes for granted."""

    text: str
    span: Span


@record
class Problem:
    """A name or a place that does not work out; a rule turns it into a finding."""

    kind: str
    at: Span
    name: str
    other: Span | None = None
    near: str = ""


@record
class Nameless:
    """A wire that the text gives no name, by its statement.

    `name` is what it is called all the same; `turn` the number that its turn in the text gives it.
    """

    span: Span
    name: str
    turn: str


@record
class Gap:
    """A value asked for with `?` that no other object holds as unknown.

    `name` is what it is said of, empty where that has no name; `key` the fact of the language;
    `what` the value in words, `insulation temperature`.
    """

    name: str
    key: str
    what: str
    span: Span


@record
class Acceptance:
    """A finding that the text accepts: its rule, the part it is found at, why, and since when."""

    rule: str
    place: str
    reason: str
    date: str
    span: Span


@record
class EndNames:
    """What a terminal is called: `name` as it is typed, `words` with what it belongs to."""

    name: str
    words: str


@record
class Remark:
    """A note or a condition on a place that no object stands for: a post, an end, a spare slot."""

    place: str
    note: str
    condition: str
    span: Span


@record
class Panel:
    """A panel with numbered slots; `feed` is where its supply lands, `bus` what its slots share."""

    about: About
    slots: int
    feed: str
    bus: str
    holds: str
    """The kind of device in its slots where none is named."""
    slot_a: float | Unknown | None = None
    total_a: float | Unknown | None = None
    pitch_m: float | None = None
    columns: int = 1
    negative: str | None = None
    across: bool = False
    """Whether its maker numbers the slots across the columns and not down each of them."""
    side_a: float | Unknown | None = None
    """What each column may carry in all."""
    interrupts_a: float | Unknown | None = None
    """What each fuse or breaker in its slots may break, where one does not say."""
    feed_last: bool = False
    """Whether the supply lands at the end of the last slots and not of the first."""
    window_m: tuple[float, float] | None = None
    """Width and height of the opening that shows the label of each slot."""

    @property
    def own_bar(self) -> str | None:
        """Its minus bar, where that is its own; None where its returns land on one beside it."""
        return self.negative if self.negative == f"{self.feed}-" else None

    @property
    def rows(self) -> int:
        """How many slots the longest column has."""
        return -(-self.slots // max(1, self.columns))

    def cell(self, number: int) -> tuple[int, int]:
        """Column and row of a slot, both counted from 0."""
        if self.across:
            row, column = divmod(number - 1, max(1, self.columns))
        else:
            column, row = divmod(number - 1, self.rows)
        return column, row


@record
class Slot:
    """A slot that has no circuit, and what it is kept for."""

    panel: str
    number: int
    use: SlotUse
    span: Span
    label: str = ""

    @property
    def place(self) -> str:
        """Panel and number, as a circuit in it would be called."""
        return f"{self.panel}.{self.number}"


OPENS = frozenset({"open", "off"})
"""The positions in which a part passes nothing."""


@record
class State:
    """A named state: which parts are open, closed, on or off in it."""

    name: str
    settings: tuple[tuple[str, str], ...]
    span: Span
    note: str = ""


@record
class AcBreaker:
    """An AC breaker, listed so that the directory is complete; never sized or judged."""

    label: str
    rating_a: float | Unknown | None
    span: Span


@record
class Modules:
    """The solar modules of an array: `series` one behind the other, `parallel` such strings.

    The figures are those of one module at 25 °C, from its label: open-circuit volts [V],
    short-circuit current [A], watts and the volts at these, the share of the
    open-circuit volts that it gains for each kelvin that it is colder [1/K], and the largest fuse
    that it may stand in series with, which is what it bears backwards [A].
    """

    series: int
    parallel: int
    open_v: float | Unknown
    short_a: float | Unknown
    power_w: float | None = None
    works_v: float | None = None
    cold_share: float | None = None
    back_a: float | Unknown | None = None
