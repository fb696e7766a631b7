"""Graphical symbols of a circuit diagram, after IEC 60617 (from memory).

Every symbol stands about `at`, its terminals on the level of `at` and `HALF_MM` to the left and to
the right, so that a part is a symbol with two leads. Contacts are shown open, as if at rest.
"""

from collections.abc import Callable, Sequence

from rigfolio.draw.lettering import ink_mm
from rigfolio.draw.page import Circle, Line, Mark, Pen, Point, Text, rect
from rigfolio.record import replace

HALF_MM = 5.0
STROKE = Pen(0.35)
THIN = Pen(0.2)
BAR = Pen(1.4)
DOT_MM = 0.75
MINUS = "−"

_PAPER = "#ffffff"


def line(*points: Point, pen: Pen = STROKE) -> Line:
    """An open polyline."""
    return Line(points, pen)


def dot(at: Point) -> Circle:
    """Where wires are joined."""
    return Circle(at, DOT_MM, None, "#000000")


def terminal(at: Point) -> Circle:
    """A place where a wire is landed."""
    return Circle(at, 0.6, THIN, _PAPER)


def letters(at: Point, text: str, size_pt: float, *, bold: bool = False) -> Text:
    """Text whose capitals stand about a point."""
    high_mm = ink_mm("H", size_pt, bold=bold)[0]
    return Text((at[0], at[1] + high_mm / 2), text, size_pt, "middle", bold)


def _leads(at: Point, reach_mm: float) -> tuple[Mark, ...]:
    x, y = at
    return (
        line((x - HALF_MM, y), (x - reach_mm, y)),
        line((x + reach_mm, y), (x + HALF_MM, y)),
    )


def fuse(at: Point) -> tuple[Mark, ...]:
    """A rectangle with the line through it."""
    x, y = at
    return (
        rect(x - 3.2, y - 1.25, 6.4, 2.5, pen=STROKE, fill=_PAPER),
        line((x - HALF_MM, y), (x + HALF_MM, y)),
    )


def _contact(at: Point) -> tuple[Mark, ...]:
    x, y = at
    return (*_leads(at, 3.0), line((x - 3.0, y), (x + 2.6, y - 2.3)))


def switch(at: Point) -> tuple[Mark, ...]:
    """A make contact, drawn open."""
    return _contact(at)


def _break_contact(at: Point) -> tuple[Mark, ...]:
    x, y = at
    return (
        *_leads(at, 3.0),
        line((x + 3.0, y), (x + 3.0, y - 2.2)),
        line((x - 3.0, y), (x + 3.8, y - 1.5)),
    )


def changeover(at: Point) -> tuple[Mark, ...]:
    """A change-over contact: the pole on one of two fixed contacts."""
    return (*_two_ways(at), line((at[0] + 2.2, at[1]), (at[0] - 2.0, at[1] - 2.0)))


def changeover_off(at: Point) -> tuple[Mark, ...]:
    """A change-over contact with a position between, in which it makes none."""
    return (*_two_ways(at), line((at[0] + 2.2, at[1]), (at[0] - 2.0, at[1])))


def _two_ways(at: Point) -> tuple[Mark, ...]:
    x, y = at
    return (
        line((x + 2.2, y), (x + HALF_MM, y)),
        *(line((x - HALF_MM, y + side * 2.0), (x - 2.0, y + side * 2.0)) for side in (-1, 1)),
        *(Circle((x - 2.0, y + side * 2.0), 0.5, STROKE, _PAPER) for side in (-1, 1)),
    )


def break_switch(at: Point) -> tuple[Mark, ...]:
    """A break contact: it lies against its fixed contact while nothing works it."""
    return _break_contact(at)


def disconnect(at: Point) -> tuple[Mark, ...]:
    """A switch that isolates: a make contact with a stroke across the fixed contact."""
    x, y = at
    return (*_contact(at), line((x + 3.0, y - 1.1), (x + 3.0, y + 1.1)))


def breaker(at: Point) -> tuple[Mark, ...]:
    """A make contact with a cross at the fixed contact."""
    x, y = at
    return (
        *_contact(at),
        line((x + 2.2, y - 0.8), (x + 3.8, y + 0.8)),
        line((x + 2.2, y + 0.8), (x + 3.8, y - 0.8)),
    )


def relay(at: Point) -> tuple[Mark, ...]:
    """A make contact and the coil that moves it."""
    return (*_contact(at), *_coil(at))


def break_relay(at: Point) -> tuple[Mark, ...]:
    """A break contact and the coil that moves it."""
    return (*_break_contact(at), *_coil(at))


def _coil(at: Point) -> tuple[Mark, ...]:
    x, y = at
    return (
        rect(x - 1.6, y + 0.8, 3.2, 1.1, pen=STROKE, fill=_PAPER),
        Line(((x, y + 0.8), (x, y - 1.0)), Pen(0.2, dash_mm=(0.5, 0.4))),
    )


def shunt(at: Point) -> tuple[Mark, ...]:
    """A resistor with two taps for the meter."""
    x, y = at
    return (
        *_leads(at, 3.2),
        rect(x - 3.2, y - 1.0, 6.4, 2.0, pen=STROKE, fill=_PAPER),
        line((x - 1.8, y - 1.0), (x - 1.8, y - 2.2), pen=THIN),
        line((x + 1.8, y - 1.0), (x + 1.8, y - 2.2), pen=THIN),
        dot((x - 1.8, y - 2.2)),
        dot((x + 1.8, y - 2.2)),
    )


def connector(at: Point) -> tuple[Mark, ...]:
    """A plug in a socket."""
    x, y = at
    return (
        *_leads(at, 1.8),
        Line(((x - 1.8, y), (x + 0.6, y)), Pen(0.9)),
        line((x + 1.9, y - 1.4), (x + 0.7, y - 1.0), (x + 0.7, y + 1.0), (x + 1.9, y + 1.4)),
    )


def battery(at: Point) -> tuple[Mark, ...]:
    """Two cells with a dashed line between; the long thin plate is the plus side."""
    x, y = at
    short, long = Pen(0.9), STROKE
    return (
        *_leads(at, 2.6),
        Line(((x - 2.6, y - 1.7), (x - 2.6, y + 1.7)), short),
        line((x - 1.2, y - 3.4), (x - 1.2, y + 3.4), pen=long),
        Line(((x - 1.0, y), (x + 1.0, y)), Pen(0.3, dash_mm=(0.6, 0.4))),
        Line(((x + 1.2, y - 1.7), (x + 1.2, y + 1.7)), short),
        line((x + 2.6, y - 3.4), (x + 2.6, y + 3.4), pen=long),
    )


def _converter(at: Point, upper: str, lower: str, half: float = 4.0) -> tuple[Mark, ...]:
    x, y = at
    marks: tuple[Mark, ...] = (
        *_leads(at, half),
        rect(x - half, y - half, 2 * half, 2 * half, pen=STROKE, fill=_PAPER),
        line((x - half, y + half), (x + half, y - half)),
    )
    aside = 0.44 * half
    up, down = (x - aside, y - aside - 0.25), (x + aside, y + aside + 0.25)
    return (*marks, *_wave(up, upper), *_wave(down, lower))


def _wave(at: Point, kind: str) -> tuple[Mark, ...]:
    """Direct (a line over dashes) or alternating current (a wave)."""
    x, y = at
    if kind == "=":
        below = Line(((x - 1.2, y + 0.45), (x + 1.2, y + 0.45)), Pen(0.3, dash_mm=(0.6, 0.3)))
        return (line((x - 1.2, y - 0.45), (x + 1.2, y - 0.45), pen=Pen(0.3)), below)
    rise = (0.0, 0.35, 0.6, 0.7, 0.6, 0.35, 0.0, -0.35, -0.6, -0.7, -0.6, -0.35, 0.0)
    points = [(x - 1.2 + 0.2 * step, y - high) for step, high in enumerate(rise)]
    return (Line(tuple(points), Pen(0.3)),)


def charger(at: Point) -> tuple[Mark, ...]:
    """A converter from alternating to direct current."""
    return _converter(at, "~", "=")


def inverter(at: Point) -> tuple[Mark, ...]:
    """A converter from direct to alternating current."""
    return _converter(at, "=", "~", 3.2)


def dc_dc(at: Point) -> tuple[Mark, ...]:
    """A converter between two direct voltages."""
    return _converter(at, "=", "=")


def solar(at: Point) -> tuple[Mark, ...]:
    """A photovoltaic cell in its box: two plates and light falling on them."""
    x, y = at
    return (
        *_leads(at, 4.0), rect(x - 4.0, y - 4.0, 8.0, 8.0, pen=STROKE, fill=_PAPER),
        line((x - 4.0, y), (x - 0.5, y)), line((x + 0.5, y), (x + 4.0, y)),
        *_plates(at), *_light((x, y), (-2.4, -0.9)),
    )  # fmt: skip


def array(at: Point) -> tuple[Mark, ...]:
    """Photovoltaic cells in a row in their box, with light falling on them."""
    x, y = at
    along = y + 1.0
    return (
        *_leads(at, 4.0), rect(x - 4.0, y - 4.0, 8.0, 8.0, pen=STROKE, fill=_PAPER),
        Line(((x - 4.0, y), (x - 3.0, y), (x - 3.0, along), (x - 2.1, along)), STROKE),
        Line(((x + 2.1, along), (x + 3.0, along), (x + 3.0, y), (x + 4.0, y)), STROKE),
        line((x - 1.1, along), (x + 1.1, along), pen=Pen(0.3, dash_mm=(0.5, 0.35))),
        *_plates((x - 1.6, along)), *_plates((x + 1.6, along)), *_light((x, y - 0.4), (-1.9, 0.7)),
    )  # fmt: skip


def _plates(at: Point) -> tuple[Mark, ...]:
    """The two plates of a cell, the short one on its minus side."""
    x, y = at
    short = Line(((x + 0.5, y - 1.1), (x + 0.5, y + 1.1)), Pen(0.8))
    return line((x - 0.5, y - 2.0), (x - 0.5, y + 2.0)), short


def _light(at: Point, beside: Sequence[float]) -> tuple[Mark, ...]:
    """Arrows of light that fall from the upper left."""
    x, y = at
    marks: list[Mark] = []
    for shift in beside:
        tip = (x + shift + 0.9, y - 2.0)
        marks.append(line((x + shift - 0.3, y - 3.5), tip, pen=THIN))
        marks.append(line((tip[0] - 0.75, tip[1] - 0.2), tip, (tip[0] - 0.1, tip[1] - 0.8),
                          pen=THIN))  # fmt: skip
    return tuple(marks)


def alternator(at: Point) -> tuple[Mark, ...]:
    """A circle with G and the sign of direct current: a machine that turns, with its rectifier."""
    x, y = at
    return (
        *_leads(at, 4.0), Circle(at, 4.0, STROKE, _PAPER),
        letters((x, y - 1.0), "G", 9.0, bold=True), *_wave((x, y + 2.0), "="),
    )  # fmt: skip


def vehicle(at: Point) -> tuple[Mark, ...]:
    """A box for the supply line of a towing vehicle."""
    x, y = at
    return (
        *_leads(at, 4.0), rect(x - 4.0, y - 3.0, 8.0, 6.0, pen=STROKE, fill=_PAPER),
        *_wave((x, y), "="),
    )  # fmt: skip


def lamp(at: Point) -> tuple[Mark, ...]:
    """A circle with a diagonal cross."""
    x, y = at
    reach = 2.5
    slant = reach * 0.7071
    return (
        *_leads(at, reach), Circle(at, reach, STROKE, _PAPER),
        line((x - slant, y - slant), (x + slant, y + slant)),
        line((x - slant, y + slant), (x + slant, y - slant)),
    )  # fmt: skip


def motor(at: Point) -> tuple[Mark, ...]:
    """A circle with M."""
    return (*_leads(at, 2.5), Circle(at, 2.5, STROKE, _PAPER), letters(at, "M", 8.0))


def heater(at: Point) -> tuple[Mark, ...]:
    """A rectangle divided by strokes across."""
    x, y = at
    strokes = [line((x + d, y - 1.25), (x + d, y + 1.25), pen=THIN) for d in (-1.6, 0.0, 1.6)]
    return (*_leads(at, 3.2), rect(x - 3.2, y - 1.25, 6.4, 2.5, pen=STROKE, fill=_PAPER), *strokes)


def appliance(at: Point) -> tuple[Mark, ...]:
    """A box: any other consumer."""
    x, y = at
    return (*_leads(at, 3.0), rect(x - 3.0, y - 2.25, 6.0, 4.5, pen=STROKE, fill=_PAPER))


def socket(at: Point) -> tuple[Mark, ...]:
    """A half circle that holds a plug."""
    x, y = at
    bow = (
        (0.0, -2.3), (0.9, -2.1), (1.6, -1.6), (2.1, -0.9), (2.3, 0.0),
        (2.1, 0.9), (1.6, 1.6), (0.9, 2.1), (0.0, 2.3),
    )  # fmt: skip
    return (
        line((x - HALF_MM, y), (x - 2.3, y)), line((x + 0.8, y), (x + HALF_MM, y)),
        Line(tuple((x - dx, y + dy) for dx, dy in bow), STROKE),
        line((x + 0.8, y - 2.3), (x + 0.8, y + 2.3)),
    )  # fmt: skip


def chassis(at: Point, turn: str = "down") -> tuple[Mark, ...]:
    """The frame: a plate with slanted strokes; the lead comes from above, or from the left."""
    x, y = at

    def put(along: float, below: float) -> Point:
        return (x + along, y + below) if turn == "down" else (x + below, y - along)

    strokes = [line(put(a, 1.6), put(a - 1.1, 3.0)) for a in (-1.8, 0.0, 1.8)]
    return (line(put(0, 0), put(0, 1.6)), line(put(-2.2, 1.6), put(2.2, 1.6)), *strokes)


def reference(at: Point) -> tuple[Mark, ...]:
    """The end of a line that goes on at the terminal named at its right."""
    x, y = at
    return (line((x, y - 1.2), (x + 1.8, y), (x, y + 1.2)),)


def unknown_end(at: Point) -> tuple[Mark, ...]:
    """The end of a line of which nobody knows where it leads."""
    return (Circle(at, 1.0, STROKE, _PAPER),)


def plus_sign(at: Point, size_pt: float = 8.0) -> Text:
    """The sign at a plus terminal."""
    return letters(at, "+", size_pt, bold=True)


def minus_sign(at: Point, size_pt: float = 8.0) -> Text:
    """The sign at a minus terminal."""
    return letters(at, MINUS, size_pt, bold=True)


def mirrored(marks: Sequence[Mark], x: float) -> tuple[Mark, ...]:
    """Marks turned about an upright line; words stay readable."""
    return tuple(_mirror(mark, x) for mark in marks)


def _mirror(mark: Mark, x: float) -> Mark:
    match mark:
        case Line():
            return replace(mark, points=tuple((2 * x - px, py) for px, py in mark.points))
        case Circle():
            return replace(mark, centre=(2 * x - mark.centre[0], mark.centre[1]))
        case Text():
            anchor = {"start": "end", "end": "start"}.get(mark.anchor, mark.anchor)
            return replace(mark, at=(2 * x - mark.at[0], mark.at[1]), anchor=anchor)
        case _:
            return mark


SYMBOLS: dict[str, Callable[[Point], tuple[Mark, ...]]] = {
    "battery": battery, "charger": charger, "solar": solar, "array": array,
    "alternator": alternator, "turbine": alternator, "vehicle": vehicle, "dc-dc": dc_dc,
    "fuse": fuse, "breaker": breaker,
    "disconnect": disconnect, "combiner": relay, "relay": relay, "switch": switch,
    "changeover": changeover, "changeover off": changeover_off,
    "break switch": break_switch, "break relay": break_relay,
    "shunt": shunt, "connector": connector, "lamp": lamp, "motor": motor, "heater": heater,
    "appliance": appliance, "socket": socket, "inverter": inverter,
}  # fmt: skip
"""Two-terminal symbols by the word for the part."""
PLUS_RIGHT = frozenset({"battery"})
"""Symbols that are drawn with their plus terminal at the right; others have it at the left."""
