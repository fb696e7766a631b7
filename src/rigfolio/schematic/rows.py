"""Rows of a circuit diagram: wires, devices and joints between a slot and its loads.

A row is read from the root of a tree to its ends. Going out, the root is the slot; coming back, it
is the negative bar, and the row runs from right to left. What lies as many wires away from the
root stands in one column, so that words and upright lines keep apart.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from rigfolio.draw import (
    HALF_MM,
    SYMBOLS,
    Group,
    Mark,
    Point,
    Text,
    dot,
    reference,
    unknown_end,
    width_mm,
)
from rigfolio.model import Conductor, Device, Junction, Load
from rigfolio.schematic.cut import draw_cut
from rigfolio.schematic.paint import BASE_MM, FACT_PT, LINE_MM, Canvas, broken, rows_for, words
from rigfolio.schematic.rungs import Cut
from rigfolio.schematic.tree import Step, Stop, ends_of
from rigfolio.wording import amps, end_words

_FORK_MM = 5.0
_DEVICE_MM = 13.0
_WIDEST_DEVICE_MM = 30.0
_JOINT_PT = FACT_PT
_ASIDE_MM = 3.6
_DEVICE_TEXT_MM = 3.7


@dataclass(slots=True)
class Level:
    """Widths of one column: label of a wire, joint, device [mm]."""

    wire_mm: float = 0.0
    fork_mm: float = 0.0
    device_mm: float = 0.0

    @property
    def all_mm(self) -> float:
        """Width of the whole column."""
        return self.wire_mm + self.fork_mm + self.device_mm


@dataclass(slots=True)
class Columns:
    """The columns of one side of the rows."""

    canvas: Canvas
    levels: list[Level] = field(default_factory=list)

    def device_rows(self, device: Device) -> int:
        """Rows to be left free below a device whose name takes several lines."""
        lines = broken(device_words(device), _device_mm(device) - 1.0)
        return rows_for(_DEVICE_TEXT_MM + LINE_MM * (len(lines) - 1)) if len(lines) > 1 else 0

    def level(self, number: int) -> Level:
        """The column of a number, made when it is first asked for."""
        while len(self.levels) <= number:
            self.levels.append(Level())
        return self.levels[number]

    @property
    def all_mm(self) -> float:
        """Width of all columns."""
        return sum(level.all_mm for level in self.levels)

    def start_mm(self, number: int) -> float:
        """Distance of a column from the root."""
        return sum(level.all_mm for level in self.levels[:number])

    def measure(self, after: Iterable[Step], *, is_root_shared: bool) -> None:
        """Make room for a tree; at a shared root every step is a landing of its own."""
        steps = tuple(after)
        if is_root_shared:
            for step in steps:
                self._measure((step,), 0, from_wire=False)
        else:
            self._measure(steps, 0, from_wire=False)

    def _measure(self, after: tuple[Step, ...], number: int, *, from_wire: bool) -> None:
        fork = forked(after, from_wire=from_wire)
        if fork is not None:
            level = self.level(number)
            level.fork_mm = max(level.fork_mm, _FORK_MM, 2 * _name_mm(fork.joint))
            for step in fork.steps:
                self._measure((step,), number, from_wire=False)
            return
        for step in after:
            item = step.item
            if isinstance(item, Conductor):
                level = self.level(number + 1)
                room_mm = self.canvas.width(item, folded=True) + 2.0
                level.wire_mm = max(level.wire_mm, room_mm)
                self._measure(step.after, number + 1, from_wire=True)
            elif isinstance(item, Device):
                level = self.level(number)
                level.device_mm = max(level.device_mm, _DEVICE_MM, _device_mm(item))
                further = number if _is_wire(step.after) else number + 1
                self._measure(step.after, further, from_wire=False)


@dataclass(frozen=True, slots=True)
class Fork:
    """Several steps that part at one terminal, and the splice there if it has a name."""

    steps: tuple[Step, ...]
    joint: Junction | None = None


def forked(after: tuple[Step, ...], *, from_wire: bool) -> Fork | None:
    """The joint that some steps start from, or None where they follow in line."""
    if len(after) == 1:
        item = after[0].item
        if isinstance(item, Junction):
            return Fork(after[0].after, item)
        return Fork(after) if from_wire and isinstance(item, Conductor) else None
    return Fork(after) if after else None


def _is_wire(after: tuple[Step, ...]) -> bool:
    return len(after) == 1 and isinstance(after[0].item, Conductor)


def _name_mm(joint: Junction | None) -> float:
    return width_mm(joint.about.name, _JOINT_PT) + 0.8 if joint else 0.0


def device_words(device: Device) -> str:
    """What a device in a row is called."""
    return device.about.label or device.about.name


def _rating(device: Device) -> str:
    return "" if device.rating_a is None else amps(device.rating_a)


def _device_mm(device: Device) -> float:
    wide_mm = max(width_mm(device_words(device), FACT_PT),
                  2 * (_ASIDE_MM + width_mm(_rating(device), FACT_PT) - 1.0))  # fmt: skip
    return max(_DEVICE_MM, min(_WIDEST_DEVICE_MM, wide_mm + 2.0))


@dataclass(frozen=True, slots=True)
class Side:
    """How the trees of one side are drawn.

    `way` is 1 from left to right, -1 from right to left; `root_mm` where their columns begin;
    `pin_mm` where the loads stand; `row_mm` gives the height of an end of a tree; `stop_mm` where
    a wire ends that leads out of the rows. `cuts` are the marks of other pages by `id` of the step.
    """

    columns: Columns
    way: float
    root_mm: float
    pin_mm: float
    row_mm: Callable[[Step], float]
    stop_mm: Callable[[Step], float]
    cuts: Mapping[int, Cut] = field(default_factory=dict)

    def _x(self, number: int, along_mm: float) -> float:
        return self.root_mm + self.way * (self.columns.start_mm(number) + along_mm)

    def _level(self, number: int) -> Level:
        return self.columns.level(number)

    def y(self, step: Step) -> float:
        """Height of a step: that of its first end."""
        return self.row_mm(ends_of((step,))[0])

    def draw(self, after: tuple[Step, ...], x_mm: float, y_mm: float) -> None:
        """A tree from a point of its root."""
        self._follow(after, (x_mm, y_mm), 0, from_wire=False)

    def _follow(self, after: tuple[Step, ...], at: Point, number: int, *, from_wire: bool) -> None:
        fork = forked(after, from_wire=from_wire)
        if fork is not None:
            self._fork(fork, at, number)
            return
        for step in after:
            item = step.item
            if isinstance(item, Conductor):
                self._wire(step, item, at, number + 1)
            elif isinstance(item, Device):
                self._device(step, item, at, number)
            elif not from_wire:
                end_mm = self._stop(step, item) if isinstance(item, Stop) else self.pin_mm
                self.columns.canvas.joint((at, (end_mm, at[1])))
                self._cut(step, (end_mm, at[1]))

    def _wire(self, step: Step, wire: Conductor, at: Point, number: int) -> None:
        canvas = self.columns.canvas
        level = self._level(number)
        end = (self._end_mm(step.after, number), at[1])
        near = self._x(number, 1.5)
        left = near if self.way > 0 else self._x(number, level.wire_mm - 1.5)
        label = canvas.label(wire, (left, at[1]), folded=True)
        canvas.wire(wire, (at, end), label)
        if not step.after:
            canvas.inks += unknown_end(end)
        self._named(step.after, end)
        self._follow(step.after, end, number, from_wire=True)

    def _stop(self, step: Step, stop: Stop) -> float:
        return self.pin_mm if stop.is_named or id(step) in self.cuts else self.stop_mm(step)

    def _cut(self, step: Step, end: Point) -> None:
        """The mark where a row goes on upon another page."""
        if id(step) in self.cuts:
            self.columns.canvas.inks.append(draw_cut(self.cuts[id(step)], end, self.way))

    def _named(self, after: tuple[Step, ...], end: Point) -> None:
        """The name of the terminal that a row leads to, where it lies in another row."""
        item = after[0].item if len(after) == 1 else None
        if len(after) == 1:
            self._cut(after[0], end)
        if isinstance(item, Stop) and item.is_named:
            canvas = self.columns.canvas
            canvas.inks += reference(end)
            text = f"to {end_words(canvas.rig, item.terminal)}"
            canvas.inks += words((end[0] + 3.0, end[1] + 0.9), text, 34.0, FACT_PT)

    def _end_mm(self, after: tuple[Step, ...], number: int) -> float:
        """Where a wire ends, by what comes after it."""
        level = self._level(number)
        if not after:
            return self._x(number, level.wire_mm)
        if forked(after, from_wire=True) is not None:
            return self._x(number, level.wire_mm + level.fork_mm / 2)
        item = after[0].item
        if isinstance(item, Load):
            return self.pin_mm
        if isinstance(item, Stop):
            return self._stop(after[0], item)
        return self._x(number, level.wire_mm + level.fork_mm)

    def _fork(self, fork: Fork, at: Point, number: int) -> None:
        canvas = self.columns.canvas
        level = self._level(number)
        x_mm = self._x(number, level.wire_mm + level.fork_mm / 2)
        heights = [self.y(step) for step in fork.steps]
        canvas.joint((at, (x_mm, at[1])))
        canvas.joint(((x_mm, min([*heights, at[1]])), (x_mm, max([*heights, at[1]]))))
        marks: list[Mark] = [dot((x_mm, y_mm)) for y_mm in dict.fromkeys([at[1], *heights])]
        if fork.joint is not None:
            place = (x_mm + 0.8, min([*heights, at[1]]) - 1.3)
            marks.append(Text(place, fork.joint.about.name, _JOINT_PT))
            canvas.inks.append(Group(fork.joint.about.name, str(fork.joint.about), tuple(marks)))
        else:
            canvas.inks += marks
        for step, y_mm in zip(fork.steps, heights, strict=True):
            self._follow((step,), (x_mm, y_mm), number, from_wire=False)

    def _device(self, step: Step, device: Device, at: Point, number: int) -> None:
        canvas = self.columns.canvas
        level = self._level(number)
        before = level.wire_mm + level.fork_mm
        middle = (self._x(number, before + level.device_mm / 2), at[1])
        canvas.joint((at, (middle[0] - self.way * HALF_MM, at[1])))
        # The rating stands on the lead, where no long name can push it out.
        name = broken(device_words(device), _device_mm(device) - 1.0)
        marks = (
            *SYMBOLS[device.kind](middle),
            *(Text((middle[0], at[1] + _DEVICE_TEXT_MM + LINE_MM * n), line, FACT_PT, "middle")
              for n, line in enumerate(name)),
            *words((middle[0] - _ASIDE_MM, at[1] - BASE_MM), _rating(device), level.device_mm,
                   FACT_PT, anchor="end"),
        )  # fmt: skip
        canvas.inks.append(Group(device.about.name, f"{device.kind} {device.about}", marks))
        after = (middle[0] + self.way * HALF_MM, at[1])
        if not step.after:
            end = (self._x(number, level.all_mm), at[1])
            canvas.joint((after, end))
            canvas.inks += unknown_end(end)
            return
        further = number if _is_wire(step.after) else number + 1
        self._follow(step.after, after, further, from_wire=False)
