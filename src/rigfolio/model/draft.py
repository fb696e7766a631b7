"""What the statements said, before names are resolved."""

from rigfolio.findings import UNKNOWN, Finding, Span, Unknown
from rigfolio.kinds import DEVICES, DeviceKind, Duty
from rigfolio.model.asides import About, AcBreaker, Acceptance, Gap, Photo, SlotUse, State
from rigfolio.model.graph import Junction, LoadKind, Source
from rigfolio.record import record
from rigfolio.units import Size
from rigfolio.values import Colour, Place

End = Place | Unknown


@record
class WireFacts:
    """What may be said of any conductor."""

    span: Span
    size: Size | Unknown = UNKNOWN
    colour: Colour | Unknown | None = None
    length_m: float | Unknown = UNKNOWN
    size_span: Span | None = None
    tag: str = ""
    insulation_c: float | None = None
    ambient_c: float | None = None
    bundle: int = 1
    engine_space: bool = False
    sheathed: bool = False
    count: int = 1
    cranking: bool = False
    note: str = ""
    condition: str = ""
    insulation: str = ""
    ends: tuple[str, str] = ("", "")
    tail_m: float | None = None
    breakout_m: float | None = None
    length_unit: str = ""
    found: Size | Unknown | None = None


@record
class FuseSaid:
    """A fuse or breaker said within a wire or a circuit; `after_m` is its way from `at`."""

    kind: str
    rating_a: float | Unknown
    span: Span
    at: Place | None = None
    after_m: float = 0.0
    interrupts_a: float | Unknown | None = None
    family: str = ""
    rated_v: float | None = None
    resets_itself: bool = False
    found_a: float | Unknown | None = None


@record
class WireSaid:
    """A wire between two places."""

    ends: tuple[End, End]
    facts: WireFacts
    fuse: FuseSaid | None = None


@record
class RunSaid:
    """A wire of a circuit: goes on from where the last one ended, or from a named splice."""

    facts: WireFacts
    start: Place | None = None
    end: Place | None = None


@record
class LoadSaid:
    """A consumer; with `lead_size` where the leads of the fixture were given."""

    about: About
    kind: LoadKind
    value: float | Unknown
    duty: Duty
    always_on: bool = False
    critical: bool = False
    drop_share: float | None = None
    day_share: float | None = None
    starts_at: float | None = None
    start_s: float | None = None
    nature: str = ""
    lead_size: Size | Unknown | None = None
    lead_m: float | Unknown = UNKNOWN
    ends: tuple[str, str] | None = None
    """The terminals, where they are not the name with + and -."""
    stated_w: float | None = None
    """The watts of the AC side, where it is an inverter [W]."""
    runs_on: bool = False
    """Whether the text says `continuous`: silence is taken for it, and is not it."""
    rest_a: float | Unknown | None = None
    made_for_v: float | None = None


@record
class SeriesSaid:
    """A device with two ends or more; `on` is the terminal that it sits on."""

    about: About
    kind: str
    rating_a: float | Unknown | None
    rating_span: Span | None = None
    interrupts_a: float | Unknown | None = None
    family: str = ""
    on: Place | None = None
    pins: int = 0
    poles: int = 0
    """How many ways one handle opens together, where it is more than one."""
    resets_itself: bool = False
    rests: str = ""
    found_a: float | Unknown | None = None
    called: tuple[str, ...] = ()
    """What is written at each of its positions."""
    turns_off: bool = False

    @property
    def traits(self) -> DeviceKind:
        """What its kind is and does."""
        return DEVICES[self.kind]

    @property
    def is_numbered(self) -> bool:
        """Whether its ends are told apart by a number: the pin of a plug, the pole of a switch."""
        return self.traits.is_plug or self.poles > 1


@record
class ReturnSaid:
    """How a circuit comes back: by its own wire, beside the wire out, through a frame."""

    span: Span
    facts: WireFacts | None = None
    to: Place | None = None
    unknown: bool = False


@record
class CircuitSaid:
    """A circuit as it is written; `members` in the order of the lines."""

    place: Place
    label: str
    span: Span
    fuse: FuseSaid | None
    members: tuple[RunSaid | LoadSaid | SeriesSaid | Junction, ...]
    returns: tuple[ReturnSaid, ...]
    always_on: bool = False
    note: str = ""
    condition: str = ""
    found_a: float | Unknown | None = None
    marked_a: float | Unknown | None = None
    stays: bool = False
    beside: Place | None = None


@record
class PanelSaid:
    """A panel as it is written."""

    about: About
    slots: int
    """Zero where they have not been counted: then the highest one that is named."""
    slot_a: float | Unknown | None
    total_a: float | Unknown | None
    pitch_m: float | None
    columns: int
    holds: str
    """The kind of device in its slots where none is named."""
    negative: Place | None
    main: FuseSaid | None
    across: bool = False
    side_a: float | Unknown | None = None
    feed_last: bool = False
    interrupts_a: float | Unknown | None = None
    window_m: tuple[float, float] | None = None


@record
class SlotSaid:
    """A slot without a circuit."""

    place: Place
    use: SlotUse
    span: Span
    label: str


@record
class NoteSaid:
    """A remark on a part, a slot or a wire."""

    place: Place
    text: str
    condition: str
    span: Span


@record
class RigSaid:
    """The head of the file."""

    name: str
    span: Span
    system_v: float | None = None
    book: str = ""
    ambient_c: float | None = None
    coldest_c: float | None = None
    sun_share: float | None = None
    insulation_c: float | None = None
    revised: str = ""
    revision: str = ""
    paper: str = "letter"
    note: str = ""
    used_to: int = 0
    """The greatest W number that was ever given to a wire."""
    used_at: Span | None = None


@record
class Broken:
    """A statement with an error in it: its place and its word.

    It `is_lost` where nothing of it is in the draft; else what was understood of it is.
    """

    span: Span
    word: str
    is_lost: bool


class Draft:
    """Everything the statements said, in the order of the text."""

    def __init__(self, excepted: dict[str, Span] | None = None) -> None:
        self.rig: RigSaid | None = None
        self.sources: list[Source] = []
        self.series: list[SeriesSaid] = []
        self.junctions: list[Junction] = []
        self.panels: list[PanelSaid] = []
        self.wires: list[WireSaid] = []
        self.circuits: list[CircuitSaid] = []
        self.loads: list[LoadSaid] = []
        self.slots: list[SlotSaid] = []
        self.states: list[tuple[State, tuple[Place, ...]]] = []
        self.notes: list[NoteSaid] = []
        self.ac: list[AcBreaker] = []
        self.photos: list[Photo] = []
        self.accepted: list[Acceptance] = []
        self.gaps: list[Gap] = []
        self.found: list[Finding] = []
        """Errors of the text that only a statement can see."""
        self.broken: list[Broken] = []
        self.excepted: dict[str, Span] = {} if excepted is None else excepted
        """What a unit has not of its type, by name in small letters, with where that is said."""
