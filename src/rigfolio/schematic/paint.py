"""What the parts of a circuit diagram share: its grid, its words, wires in their colours."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import ceil, dist

from rigfolio.draw import STROKE, Group, Line, Mark, Pen, Point, Text, conductor, fit, width_mm
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load, Rig
from rigfolio.units import show
from rigfolio.wording import (
    ALWAYS_ON,
    amps,
    colour_code,
    colour_words,
    end_words,
    gauge_words,
    is_imperial,
    length_words,
    shades,
)

CELL_MM = 2.7
"""Pitch of the grid that wires are led on; a row of the diagram is three cells high."""
ROW = 3
SMALLEST_PT = 8.0
"""The diagram is never printed smaller than it is drawn, so that this is read on the paper."""
WIRE_PT = SMALLEST_PT
NAME_PT = 8.0
FACT_PT = 8.0
BASE_MM = 1.5
"""From the middle of a wire up to the baseline of the text on it."""
UNDER_MM = 3.2
"""From the middle of a wire down to the baseline of the text below it."""

LINE_MM = 3.2
"""From one line of words to the next."""
MOST_LINES = 12
_CLEAR_MM = 4.6
"""Below a baseline to the middle of the next row: letters, air, and the words on its wire."""
_THICK_AREA_M2 = 12e-6
_BY_NATURE = {"filament": "lamp", "led": "lamp", "motor": "motor", "heater": "heater",
              "inverter": "inverter"}  # fmt: skip
_BY_LABEL = (
    ("socket", frozenset({"socket", "sockets", "outlet", "outlets"})),
    ("motor", frozenset({"pump", "fan", "blower", "motor", "winch", "windlass", "wiper"})),
    ("lamp", frozenset({"lamp", "lamps", "light", "lights"})),
)
_OUTLINE_MM, _SHORT_MM = 0.45, 1.6
_ASSUMED = Pen(0.35, "#303030", (1.8, 1.2))
_PLAIN = Pen(0.7, "#303030")


@dataclass(slots=True)
class Canvas:
    """Marks of a diagram by layer: wires below, symbols over them, words on top.

    `narrow` says how narrow the columns of names are, from 0.
    """

    rig: Rig
    narrow: int = 0
    imperial: bool = field(init=False)
    wires: list[Mark] = field(default_factory=list)
    inks: list[Mark] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Units of length as the rig has them."""
        self.imperial = is_imperial(self.rig)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All marks in drawing order."""
        return (*self.wires, *self.inks)

    def wire(self, wire: Conductor, points: Iterable[Point], words: Iterable[Mark] = ()) -> None:
        """A conductor along some points, with its label."""
        path = tidy(points)
        if len(path) > 1:
            lines = look(wire, path)
            marks = (*outline(path, lines), *lines)
            self.wires.append(Group(wire.name, self.title(wire), marks))
        texts = tuple(words)
        if texts:
            self.inks.append(Group(wire.name, self.title(wire), texts))

    def joint(self, points: Iterable[Point]) -> None:
        """A connection that is no conductor: both ends stand on one terminal."""
        path = tidy(points)
        if len(path) > 1:
            self.inks.append(Line(path, STROKE))

    def title(self, wire: Conductor) -> str:
        """All that is known of a conductor in one sentence."""
        facts = [gauge_words(wire), colour_words(wire.colour)]
        facts.append(self.length(wire))
        facts.append(f"{end_words(self.rig, wire.a)} to {end_words(self.rig, wire.b)}")
        if wire.assumed:
            facts.append("return assumed")
        facts += [word for word in (wire.condition, wire.note) if word]
        return f"{wire.name}: {', '.join(facts)}"

    def pieces(self, wire: Conductor) -> tuple[str, str]:
        """Both halves of the label of a wire: name and gauge, colour and length."""
        name = "lead" if wire.lead else wire.name
        colour = colour_code(wire.colour)
        if not colour and wire.colour is not None:
            colour = "?" if isinstance(wire.colour, Unknown) else colour_words(wire.colour)
        length = self.length(wire)
        rest = [colour, length, "assumed" if wire.assumed else "", wire.condition]
        return f"{name}  {gauge_words(wire)}", "  ".join(word for word in rest if word)

    def length(self, wire: Conductor) -> str:
        """Length of a wire."""
        return length_words(wire.length_m, imperial=self.imperial)

    def width(self, wire: Conductor, *, folded: bool) -> float:
        """Room that the label of a wire needs [mm]."""
        upper, lower = self.pieces(wire)
        if folded:
            return max(width_mm(upper, WIRE_PT), width_mm(lower, WIRE_PT)) + 1.0
        return width_mm(f"{upper}  {lower}", WIRE_PT) + 1.0

    def label(self, wire: Conductor, at: Point, *, folded: bool) -> tuple[Text, ...]:
        """The label of a wire from `at`, a point on it, to the right."""
        upper, lower = self.pieces(wire)
        x, y = at
        if folded:
            return (
                Text((x, y - BASE_MM), upper, WIRE_PT), Text((x, y + UNDER_MM), lower, WIRE_PT)
            )  # fmt: skip
        return (Text((x, y - BASE_MM), f"{upper}  {lower}", WIRE_PT),)


def outline(path: Sequence[Point], lines: Iterable[Line]) -> tuple[Line, ...]:
    """A white outline below the lines of a wire, so that it passes over what it crosses.

    It ends short of both ends, since what meets the wire there is joined to it.
    """
    inner = list(path)
    for _ in range(2):
        inner.reverse()
        while len(inner) > 1 and dist(*inner[-2:]) <= _SHORT_MM:
            inner.pop()
        if len(inner) > 1:
            (x1, y1), (x2, y2) = inner[-2:]
            share = 1.0 - _SHORT_MM / dist(*inner[-2:])
            inner[-1] = (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share)
    wide_mm = max((line.pen.width_mm for line in lines if line.pen), default=0.0)
    pen = Pen(wide_mm + 2 * _OUTLINE_MM, "#ffffff")
    return (Line(tuple(inner), pen),) if len(inner) > 1 else ()


def look(wire: Conductor, path: tuple[Point, ...]) -> tuple[Line, ...]:
    """A conductor in its colours; thin where its colour is not stated, dashed where assumed."""
    if wire.assumed:
        return (Line(path, _ASSUMED),)
    if wire.colour is None:
        return (Line(path, _PLAIN),)
    area_m2 = 0.0 if isinstance(wire.size, Unknown) else wire.size.area_m2
    thick_mm = 1.3 if area_m2 >= _THICK_AREA_M2 else 0.9
    base, stripe = shades(wire.colour)
    if base is None:
        return conductor(path, "#ffffff", None, thick_mm, unknown=True)
    return conductor(path, base, stripe, thick_mm)


def tidy(points: Iterable[Point]) -> tuple[Point, ...]:
    """A path without repeated points and without points inside a straight piece."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        if len(kept) > 1 and _is_straight(kept[-2], kept[-1], point):
            kept[-1] = point
        else:
            kept.append(point)
    return tuple(kept)


def _is_straight(one: Point, two: Point, three: Point) -> bool:
    return one[0] == two[0] == three[0] or one[1] == two[1] == three[1]


def words(
    at: Point, text: str, room_mm: float, size_pt: float, *, bold: bool = False,
    anchor: str = "start",
) -> tuple[Text, ...]:  # fmt: skip
    """One line of text no wider than its room; nothing for a blank text."""
    done = fit(text, room_mm, size_pt=size_pt, floor_pt=SMALLEST_PT, bold=bold)
    return tuple(Text(at, line, done.size_pt, anchor, bold) for line in done.lines if line)


def named(
    at: Point, label: str, facts: str, room_mm: float, *, bold: bool = False
) -> tuple[Text, ...]:
    """A label above a line and facts below it; the end of a long label follows the facts."""
    x, y = at
    upper, *more = broken(label, room_mm, bold=bold) or ("",)
    made = [Text((x, y - BASE_MM), upper, NAME_PT, bold=bold)] if upper else []
    lower = [(line, bold) for line in more] + [(line, False) for line in broken(facts, room_mm)]
    for number, (line, is_bold) in enumerate(lower):
        place = (x, y + UNDER_MM + LINE_MM * number)
        made.append(Text(place, line, FACT_PT, bold=is_bold))
    return tuple(made)


def broken(text: str, room_mm: float, *, bold: bool = False) -> tuple[str, ...]:
    """The lines of a text in the type of the diagram; none for a blank text."""
    done = fit(text, room_mm, size_pt=NAME_PT, floor_pt=SMALLEST_PT, lines=MOST_LINES, bold=bold)
    return tuple(line for line in done.lines if line)


def rows_below(label: str, facts: str, room_mm: float, *, bold: bool = False) -> int:
    """Rows to be left free below a row for a label and facts that take several lines."""
    lines = max(0, len(broken(label, room_mm, bold=bold)) - 1) + len(broken(facts, room_mm))
    return rows_for(UNDER_MM + LINE_MM * (lines - 1)) if lines > 1 else 0


def rows_for(low_mm: float) -> int:
    """Rows to be left free below a row whose lowest words have their baseline so far below it."""
    return max(0, ceil((low_mm + _CLEAR_MM) / (ROW * CELL_MM)) - 1)


def named_mm(label: str, facts: str, most_mm: float) -> float:
    """Room for a label and facts, at most so much; a longer one goes on below."""
    wanted = max(width_mm(label, NAME_PT), width_mm(facts, FACT_PT)) + 0.1
    return min(wanted, most_mm)


def load_symbol(load: Load) -> str:
    """The symbol for a consumer: by its nature, else by what its label calls it."""
    by_nature = _BY_NATURE.get(load.nature)
    if by_nature is not None:
        return by_nature
    names = set(re.findall("[a-z]+", load.about.label.lower()))
    for symbol, known in _BY_LABEL:
        if names & known:
            return symbol
    return "appliance"


def demand_words(load: Load) -> str:
    """What a consumer draws, as the text states it: `8 W`, `7 A, intermittent`, `? A`.

    An inverter is called by the AC power that it gives, and what it takes itself says DC.
    """
    if isinstance(load.value, Unknown):
        figure = amps(load.value)
    elif load.nature == "inverter" and load.kind == "power":
        figure = f"{show(load.value, 'W')} DC"
        if load.stated_w is not None:
            figure = f"{show(load.stated_w, 'W')} AC"
    else:
        figure = show(load.value, {"current": "A", "power": "W", "resistance": "Ω"}[load.kind])
    duty = "" if load.duty == "continuous" else load.duty
    always = ALWAYS_ON.lower() if load.always_on else ""
    return ", ".join(word for word in (figure, duty, always) if word)
