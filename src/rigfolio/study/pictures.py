"""Pictures of panels on paper: names beside the marks, leader lines that do not cross, colours."""

import math
from collections.abc import Iterator, Mapping, Sequence

from rigfolio.books.loader import colour_book
from rigfolio.calc.shade import difference, lab_of, linear
from rigfolio.draw.fit import Box, Style, block
from rigfolio.draw.page import Circle, Group, Line, Mark, Pen, Picture
from rigfolio.draw.photograph import Photograph
from rigfolio.model.graph import Photo, PhotoMark, Rig
from rigfolio.record import record
from rigfolio.study import wording

_SIDE_MM = 44.0
_GAP_MM = 4.0
_LABEL_MM = 8.0
_FLOOR_PT = 7.0
_HALO = Pen(0.9, "#ffffff")
_LEADER = Pen(0.3)
_DOT_MM = 1.1
_BOOK_WHITE = 255.0
_SOFT = 8.0


@record
class Taken:
    """A picture with what it shows: its statement, and the photograph that was read."""

    photo: Photo
    image: Photograph


@record
class Guess:
    """A wire colour that a shade may be: the word, how sure, and how far off it is [-]."""

    word: str
    share: float
    off: float


def picture_marks(rig: Rig, taken: Taken, box: Box) -> tuple[Mark, ...]:
    """A picture in a box with the names of its marks at both sides.

    The names at each side stand in the order in which their leaders do not cross: of all orders
    that one has the shortest leaders.
    """
    left, top, wide, high = box
    room_mm = wide - 2 * (_SIDE_MM + _GAP_MM)
    wide_px, high_px = taken.image.size
    scale = min(room_mm / wide_px, high / high_px)
    size = (wide_px * scale, high_px * scale)
    x, y = left + (wide - size[0]) / 2.0, top
    marks: list[Mark] = [Picture((x, y), *size, taken.image.png)]
    spots = [(mark, (x + mark.x * size[0], y + mark.y * size[1])) for mark in taken.photo.marks]
    middle = x + size[0] / 2.0
    for is_left in (True, False):
        mine = [one for one in spots if (one[1][0] <= middle) == is_left]
        edge = x - _GAP_MM if is_left else x + size[0] + _GAP_MM
        marks += _side(rig, mine, (edge, top, high), is_left=is_left)
    return tuple(marks)


Spot = tuple[PhotoMark, tuple[float, float]]


def _side(
    rig: Rig, spots: Sequence[Spot], side: tuple[float, float, float], *, is_left: bool
) -> Iterator[Mark]:
    edge, top, high = side
    if not spots:
        return
    step = min(_LABEL_MM + 1.0, high / len(spots))
    ordered = sorted(spots, key=lambda one: one[1][1])
    mean = sum(one[1][1] for one in ordered) / len(ordered)
    start = min(max(mean - step * len(ordered) / 2.0, top), top + high - step * len(ordered))
    ports = [(edge, start + (place + 0.5) * step) for place in range(len(ordered))]
    for (mark, at), port in uncrossed(ordered, ports):
        # White below black: a leader shows on a dark picture and on a light one.
        yield Line((at, port), _HALO)
        yield Line((at, port), _LEADER)
        yield Circle(at, _DOT_MM, Pen(0.4), "#ffffff")
        room = edge - _SIDE_MM if is_left else edge + 1.0
        label = (room, port[1] - step / 2.0 + 0.4, _SIDE_MM - 1.0, step - 0.8)
        style = Style(9, _FLOOR_PT if step >= 6.0 else 5.5, 2, align="end" if is_left else "start")
        words = mark_words(rig, mark)
        yield Group(f"mark-{mark.place}", words, block(words, label, style))


def uncrossed(
    spots: Sequence[Spot], ports: Sequence[tuple[float, float]]
) -> tuple[tuple[Spot, tuple[float, float]], ...]:
    """Each spot with a port, so that no two straight lines cross.

    Two lines that cross are longer than the same two with their ports changed over, so that
    changing over ends with no crossing left.
    """
    order = list(range(len(ports)))
    is_changed = True
    while is_changed:
        is_changed = False
        for one in range(len(order)):
            for two in range(one + 1, len(order)):
                a, b = spots[one][1], spots[two][1]
                p, q = ports[order[one]], ports[order[two]]
                now = math.dist(a, p) + math.dist(b, q)
                if math.dist(a, q) + math.dist(b, p) < now - 1e-9:
                    order[one], order[two] = order[two], order[one]
                    is_changed = True
    return tuple((spot, ports[place]) for spot, place in zip(spots, order, strict=True))


def mark_words(rig: Rig, mark: PhotoMark) -> str:
    """What stands beside a mark: the slot or wire, and what it feeds or is."""
    circuit = next((one for one in rig.circuits if one.place == mark.place), None)
    if circuit is not None:
        return f"{mark.place} {circuit.label}".strip()
    wire = next((one for one in rig.conductors if one.name == mark.place), None)
    if wire is not None:
        ends = " to ".join(wording.short_end(rig, end) for end in (wire.a, wire.b))
        return f"{mark.place} {ends}"
    kept = next((s for s in rig.slots if f"{s.panel}.{s.number}" == mark.place), None)
    return f"{mark.place} {kept.use}" if kept is not None else rig.where.get(mark.place, mark.place)


def guesses(taken: Taken, mark: PhotoMark, most: int = 3) -> tuple[Guess, ...]:
    """The wire colours that look most like what stands under a mark, the likeliest first.

    Where a white patch is given, the light of the picture is taken out first.
    """
    light = _light(taken)
    lab = _lab(taken.image.shade(mark.x, mark.y), light)
    plain = (1.0, 1.0, 1.0)
    offs: dict[str, float] = {}
    for colour in colour_book().by_word.values():
        rgb = (colour.rgb[1:3], colour.rgb[3:5], colour.rgb[5:7])
        shade = tuple(float(int(part, 16)) for part in rgb)
        offs[colour.word] = difference(lab, _lab((shade[0], shade[1], shade[2]), plain))
    weights = {word: math.exp(-off / _SOFT) for word, off in offs.items()}
    whole = sum(weights.values())
    best = sorted(offs, key=lambda word: (offs[word], word))[:most]
    return tuple(Guess(word, weights[word] / whole, offs[word]) for word in best)


def _light(taken: Taken) -> tuple[float, float, float]:
    """What the light makes of white; none of it where nothing white was pointed out."""
    if taken.photo.white is None:
        return 1.0, 1.0, 1.0
    red, green, blue = (max(linear(part), 0.02) for part in taken.image.mean_of(taken.photo.white))
    return red, green, blue


def _lab(
    shade: tuple[float, float, float], light: tuple[float, float, float]
) -> tuple[float, float, float]:
    red, green, blue = (
        min(linear(part) / white, 1.0) for part, white in zip(shade, light, strict=True)
    )
    return lab_of(red, green, blue)


def colour_words(rig: Rig, taken: Taken) -> Iterator[str]:
    """What the picture says of each mark, and what the text says."""
    wires: Mapping[str, str] = {
        wire.name: wording.colour_words(wire.colour) for wire in rig.conductors
    }
    for mark in taken.photo.marks:
        circuit = next((one for one in rig.circuits if one.place == mark.place), None)
        wire = circuit.wires[0] if circuit is not None and circuit.wires else mark.place
        known = wires.get(wire, "")
        found = ", ".join(
            f"{guess.word} {guess.share * 100.0:.0f} %" for guess in guesses(taken, mark)
        )
        yield f"{mark.place}: looks like {found}" + (f"; the text says {known}" if known else "")
