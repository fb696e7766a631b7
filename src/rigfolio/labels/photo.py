"""Pictures of panels on paper: names beside the marks, leader lines that do not cross, colours."""

import math
from collections.abc import Iterator, Mapping, Sequence

from rigfolio import wording
from rigfolio.books import colour_book
from rigfolio.calc import difference, lab_of, linear
from rigfolio.draw import Box, Circle, Group, Line, Mark, Pen, Picture, Style, block, holds
from rigfolio.job import Taken
from rigfolio.model import PhotoMark, Rig
from rigfolio.record import record, replace

_SIDES_MM = (44.0, 58.0, 72.0)
_GAP_MM = 4.0
_MOST_STEP_MM = 16.0
_LEAST_MM = 3.4
_MOST_LINES = 5
_FLOOR_PT = 7.0
_HALO = Pen(0.9, "#ffffff")
_LEADER = Pen(0.3)
_DOT_MM = 1.1
_SOFT = 8.0


@record
class Guess:
    """A wire colour that a shade may be: the word, how sure, and how far off it is [-]."""

    word: str
    share: float
    off: float


def parted(taken: Taken, high_mm: float) -> tuple[Taken, ...]:
    """A picture as often as its marks need it where it stands so high, the upper marks first."""
    most = 2 * max(1, int(high_mm / _LEAST_MM))
    marks = taken.photo.marks
    if len(marks) <= most:
        return (taken,)
    marks = tuple(sorted(marks, key=lambda mark: (mark.y, mark.x)))
    return tuple(
        replace(taken, photo=replace(taken.photo, marks=marks[start : start + most]))
        for start in range(0, len(marks), most)
    )


def picture_marks(rig: Rig, taken: Taken, box: Box) -> tuple[Mark, ...]:
    """A picture in a box with the names of its marks at both sides.

    The names at each side stand in the order in which their leaders do not cross: of all orders
    that one has the shortest leaders. A name that has no room at 7 pt is left out, and its place
    stands alone: `named_beside` says whose names are there.
    """
    return tuple(_Plate.of(rig, taken, box).marks())


def named_beside(rig: Rig, taken: Taken, box: Box) -> frozenset[str]:
    """The places whose names `picture_marks` sets whole in that box."""
    plate = _Plate.of(rig, taken, box)
    return frozenset(
        mark.place
        for side in (True, False)
        for mark, label, words in plate.labels(is_left=side)
        if holds(words, label, plate.style(is_left=side))
    )


def depth_mm(rig: Rig, taken: Taken, box: Box) -> float:
    """How far `picture_marks` reaches down into its box [mm]."""
    plate = _Plate.of(rig, taken, box)
    boxes = [label for side in (True, False) for _, label, _ in plate.labels(is_left=side)]
    lowest = max((y + high for _, y, _, high in boxes), default=box[1])
    return max(plate.frame[3], lowest - box[1])


Spot = tuple[PhotoMark, tuple[float, float]]


@record
class _Plate:
    """A picture in a box with room for names of `side_mm` at each side.

    `is_high` is whether names may go on below the picture.
    """

    rig: Rig
    taken: Taken
    box: Box
    side_mm: float
    is_high: bool

    @classmethod
    def of(cls, rig: Rig, taken: Taken, box: Box) -> "_Plate":
        """The largest picture beside which every name is whole, or the largest there is."""
        tries = [cls(rig, taken, box, side, high) for side in _SIDES_MM for high in (False, True)]
        return next((plate for plate in tries if plate._is_whole), tries[0])

    @property
    def _is_whole(self) -> bool:
        return all(
            holds(words, label, self.style(is_left=is_left))
            for is_left in (True, False)
            for _, label, words in self.labels(is_left=is_left)
        )

    @property
    def frame(self) -> Box:
        """Left, top, width and height of the picture [mm]; a side without names takes no room."""
        left, top, wide, high = self.box
        beside_mm = self.side_mm + _GAP_MM
        before = beside_mm if self._left_count else 0.0
        after = beside_mm if self._left_count < len(self.taken.photo.marks) else 0.0
        wide_px, high_px = self.taken.image.size
        room_mm = wide - before - after
        scale = min(room_mm / wide_px, high / high_px)
        size = (wide_px * scale, high_px * scale)
        return left + before + (room_mm - size[0]) / 2.0, top, *size

    @property
    def _left_count(self) -> int:
        """How many names stand at the left: by the middle of the picture, unless too many."""
        marks = self.taken.photo.marks
        most = max(1, int(self.box[3] / _LEAST_MM))
        return min(max(sum(mark.x <= 0.5 for mark in marks), len(marks) - most), most)

    def _spots(self, *, is_left: bool) -> list[Spot]:
        """The marks of one side: by the middle of the picture, or halved where that is too many."""
        x, y, wide, high = self.frame
        spots = [(m, (x + m.x * wide, y + m.y * high)) for m in self.taken.photo.marks]
        spots.sort(key=lambda one: (one[1][0], one[1][1]))
        first = self._left_count
        return spots[:first] if is_left else spots[first:]

    def ports(self, *, is_left: bool) -> tuple[tuple[Spot, tuple[float, float]], ...]:
        """Each mark of a side with the end of its leader."""
        spots = self._spots(is_left=is_left)
        if not spots:
            return ()
        x, _, wide, _ = self.frame
        _, top, _, high = self.box
        edge = x - _GAP_MM if is_left else x + wide + _GAP_MM
        step, count = self.step(is_left=is_left), len(spots)
        ordered = sorted(spots, key=lambda one: one[1][1])
        mean = sum(one[1][1] for one in ordered) / count
        start = min(max(mean - step * count / 2.0, top), top + high - step * count)
        return uncrossed(ordered, [(edge, start + (place + 0.5) * step) for place in range(count)])

    def step(self, *, is_left: bool) -> float:
        """From one name to the next [mm]; names stay beside the picture where they can."""
        count = max(1, len(self._spots(is_left=is_left)))
        room = self.box[3] if self.is_high else self.frame[3]
        return min(_MOST_STEP_MM, max(room / count, _LEAST_MM), self.box[3] / count)

    def style(self, *, is_left: bool) -> Style:
        """How the names of a side are set."""
        return Style(9, _FLOOR_PT, _MOST_LINES, align="end" if is_left else "start")

    def labels(self, *, is_left: bool) -> Iterator[tuple[PhotoMark, Box, str]]:
        """Each mark of a side with the box of its name and what stands there."""
        step = self.step(is_left=is_left)
        for (mark, _), port in self.ports(is_left=is_left):
            room = port[0] - self.side_mm if is_left else port[0] + 1.0
            box = (room, port[1] - step / 2.0 + 0.1, self.side_mm - 1.0, step - 0.2)
            yield mark, box, mark_words(self.rig, mark)

    def marks(self) -> Iterator[Mark]:
        """Picture, leaders, dots and names."""
        x, y, wide, high = self.frame
        about = f"photograph {self.taken.photo.file}"
        yield Picture((x, y), wide, high, self.taken.image.jpeg, about)
        for is_left in (True, False):
            ports = self.ports(is_left=is_left)
            for (_, at), port in ports:
                # White below black: a leader shows on a dark picture and on a light one.
                yield Line((at, port), _HALO)
                yield Line((at, port), _LEADER)
            for (_, at), _ in ports:
                yield Circle(at, _DOT_MM, Pen(0.4), "#ffffff")
            for mark, box, words in self.labels(is_left=is_left):
                style = self.style(is_left=is_left)
                shown = words if holds(words, box, style) else mark.place
                yield Group(f"mark-{mark.place}", words, block(shown, box, style))


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
    circuit = rig.by_name.circuits.get(mark.place)
    if circuit is not None:
        return f"{mark.place} {circuit.label}".strip()
    wire = rig.by_name.conductors.get(mark.place)
    if wire is not None:
        ends = " to ".join(wording.short_end(rig, end) for end in (wire.a, wire.b))
        return f"{mark.place} {ends}"
    kept = next((s for s in rig.slots if s.place == mark.place), None)
    return f"{mark.place} {kept.use}" if kept is not None else wording.end_words(rig, mark.place)


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
        circuit = rig.by_name.circuits.get(mark.place)
        wire = circuit.wires[0] if circuit is not None and circuit.wires else mark.place
        known = wires.get(wire, "")
        found = ", ".join(
            f"{guess.word} {guess.share * 100.0:.0f} %" for guess in guesses(taken, mark)
        )
        yield f"{mark.place}: looks like {found}" + (f"; the text says {known}" if known else "")
