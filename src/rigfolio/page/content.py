"""What the page is told of a rig: one record of typed parts.

The JSON of the page is these records by the names of their fields, in SI units (`objects`); its
HTML shows them (`document`). A figure that is not known is `UNKNOWN`; what need not be said is
None. Each thing that can be pointed at has a `key`: a circuit its place, all else its name.
"""

from typing import Literal

from rigfolio.record import record
from rigfolio.reports import Report
from rigfolio.units import Figure


@record
class TextPlace:
    """A place in the text: file, line and column from 1, and what that line says.

    `line` and `column` are None where a file as a whole is meant.
    """

    file: str
    line: int | None = None
    column: int | None = None
    text: str = ""
    label: str = ""


@record
class RigFacts:
    """What is said of the rig as a whole. `digest` stands for its text."""

    name: str
    file: str
    system_v: float
    revision: str
    revised: str
    book: str
    book_title: str
    digest: str


@record
class PageFinding:
    """A finding: how grave, what, on which part, where, by which source, the way out.

    `key` is the card or slot that it is about, empty for none. `is_fix` tells a way out that was
    tried from one that says what to do by hand.
    """

    rule: str
    severity: str
    headline: str
    where: str
    key: str
    at: TextPlace
    others: tuple[TextPlace, ...]
    source: str
    way_out: str
    is_fix: bool


@record
class ColourShown:
    """An insulation colour: in words, by its IEC 60757 code, as print shades `#rrggbb`.

    `base` and `stripe` are empty where they are not known or there is none.
    """

    words: str
    code: str
    base: str
    stripe: str
    base_shade: str | None
    stripe_shade: str | None


@record
class WireShown:
    """A conductor: size as it is there now, colour, length one way, where it lands, its guard."""

    name: str
    size: str
    area_m2: Figure
    colour: ColourShown
    length: str
    length_m: Figure
    ends: tuple[str, str]
    guard: str
    polarity: str
    is_assumed: bool
    at: TextPlace


@record
class FuseShown:
    """What guards a circuit, the largest that may stand there, and what was found instead.

    `largest_a` is None where none is made that small, `found_a` where nothing else was found.
    """

    fitted: str
    rating_a: Figure
    largest: str
    largest_a: Figure
    is_too_large: bool
    found: str
    found_a: Figure


@record
class LoadShown:
    """A load: its name, what it is called at the panel, what it draws in words."""

    name: str
    words: str
    draws: str


@record
class ExpectedShown:
    """A reading of the test sheet that tells of a circuit: its number and key, where, how much."""

    number: str
    key: str
    where: str
    expected: str


@record
class Found:
    """By what a thing is found: what people write for it, colours and stripes of its wires."""

    words: tuple[str, ...]
    colours: tuple[str, ...] = ()
    stripes: tuple[str, ...] = ()


@record
class CircuitCard:
    """A circuit: what guards it, the wires out and back, what it feeds, what to expect."""

    key: str
    label: str
    panel: str
    slot: int | None
    fed_from: str
    always_on: bool
    stays: str
    fuse: FuseShown
    loads: tuple[LoadShown, ...]
    wires: tuple[WireShown, ...]
    returns: tuple[WireShown, ...]
    is_return_assumed: bool
    expected: tuple[ExpectedShown, ...]
    notes: tuple[str, ...]
    found_by: Found
    at: TextPlace


@record
class WireCard:
    """A wire that belongs to no circuit: supplies, shared returns, bonds."""

    key: str
    wire: WireShown
    notes: tuple[str, ...]
    found_by: Found
    at: TextPlace


@record
class PartCard:
    """A source, a bar, or a device outside panels.

    `effect` is what opening it does, `stays_live` which of its ends are live all the same.
    """

    key: str
    label: str
    kind: str
    rating: str
    place: str
    effect: str
    stays_live: tuple[str, ...]
    notes: tuple[str, ...]
    found_by: Found
    at: TextPlace


@record
class FaceSlot:
    """A slot on the face: where it is, what its label says, which circuits it holds.

    `column` and `row` count from 0. `gravest` is the severity of the gravest finding about it,
    empty without one.
    """

    number: int
    place: str
    column: int
    row: int
    keys: tuple[str, ...]
    name: str
    rating: str
    shade: str | None
    wires: tuple[ColourShown, ...]
    always_on: bool
    stays: str
    too_large: bool
    mind: str
    gravest: str
    at: TextPlace | None


@record
class PanelFace:
    """A panel as it is looked at: `columns` by `rows` slots."""

    key: str
    title: str
    fed: str
    columns: int
    rows: int
    slots: tuple[FaceSlot, ...]
    notes: tuple[str, ...]
    at: TextPlace


@record
class PointShown:
    """A reading to be taken, with the bounds of what is expected there in the unit itself.

    `high` is None where more is no fault. `before` and `after` stand about figure and unit in the
    log; `last` is the last reading of the log there. `is_small` is one that meters show in
    millivolts. `key` is made of what the text says of it,
    and stays the same as long as that does.
    """

    key: str
    number: str
    where: str
    unit: Literal["V", "A", "ohm"]
    low: float
    high: float | None
    expected: str
    before: str
    after: str
    last: str
    is_small: bool


@record
class StepShown:
    """Something to be done, and what is read then; `behind` is written behind each of its lines."""

    do: str
    behind: str
    circuit: str
    points: tuple[PointShown, ...]


@record
class StageShown:
    """A stage of the test; the next one waits until all of it is as expected."""

    title: str
    about: str
    steps: tuple[StepShown, ...]


@record
class UnitSpelling:
    """A way to write a unit in a blank of another: `mV` in one of V is a thousandth.

    A word is written in small letters here and may have capitals; a symbol is as it is.
    """

    written: str
    symbol: str
    factor: float
    is_word: bool


@record
class BlankShown:
    """What may be typed in the blanks of a unit: spellings of units, and words for an open way."""

    unit: str
    spellings: tuple[UnitSpelling, ...]
    open_words: tuple[str, ...]


@record
class ReadingsShown:
    """What a meter should show, stage by stage, and how typed readings are read."""

    how: tuple[str, ...]
    blanks: tuple[BlankShown, ...]
    stages: tuple[StageShown, ...]


@record
class DrawnPart:
    """A group of the drawing, and the card or face that it belongs to."""

    drawn: str
    key: str


@record
class DiagramPage:
    """A page of the diagram: its title, its parts that have a card; `svg` is left out of JSON."""

    title: str
    parts: tuple[DrawnPart, ...]
    svg: str


@record
class PhotographMark:
    """A mark of the text on a photograph: shares of width and height from the top left corner."""

    place: str
    words: str
    x: float
    y: float


@record
class PanelPhotograph:
    """A photograph that the text names, in pixels; `jpeg` is left out of JSON."""

    file: str
    wide_px: int
    high_px: int
    marks: tuple[PhotographMark, ...]
    jpeg: bytes


@record
class RigPage:
    """All that the page is told."""

    rig: RigFacts
    verdict: str
    cautions: tuple[str, ...]
    findings: tuple[PageFinding, ...]
    panels: tuple[PanelFace, ...]
    circuits: tuple[CircuitCard, ...]
    wires: tuple[WireCard, ...]
    parts: tuple[PartCard, ...]
    live: Report
    dead: tuple[Report, ...]
    test: ReadingsShown
    diagram: tuple[DiagramPage, ...]
    photographs: tuple[PanelPhotograph, ...]
    markable: tuple[str, ...]
    """What a mark on a photograph may be set for: slots, then wires."""
