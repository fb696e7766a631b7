"""What a trial of sizes and ratings still lacks: the currents that conductors must bear."""

import math
from collections.abc import Iterator, Mapping

from rigfolio.demand import Flows, bright_need, flows_of, heated_by_start
from rigfolio.findings import Span, Unknown
from rigfolio.model import Conductor, Device
from rigfolio.operating import SizeOf, draws_without_loss
from rigfolio.protection import (
    burns_in_a_start,
    exposures_of,
    hidden_of,
    lacks_own_fuse,
    limit_in,
    returns_of,
    too_much_back,
    whole_start_of,
)
from rigfolio.record import record, replace
from rigfolio.rule import rule
from rigfolio.sizing.groups import WireGroup
from rigfolio.study import Study, once
from rigfolio.units import Size, is_over


@record
class Lack:
    """A conductor that bears too little: the rule that says so, and what it must bear [A].

    `devices` let the current in and `others_a` is what comes on top of them [A].
    """

    wire: Conductor
    rule: str
    current_a: float
    devices: tuple[Device, ...] = ()
    others_a: float = 0.0


def on_trial(study: Study, sizes: Mapping[Span, Size], ratings: Mapping[str, float]) -> Study:
    """The rig with other sizes, by the line of the wire, and ratings, by the name of the device.

    The rig as it is where nothing is other; asked for once more, the trial before this one.
    """
    rig = study.rig
    resized = {
        wire.name: sizes[wire.span]
        for wire in rig.conductors
        if wire.span in sizes and not wire.lead and wire.size != sizes[wire.span]
    }
    rated = {
        device.about.name: ratings[device.about.name]
        for device in rig.devices
        if device.protects and device.rating_a != ratings.get(device.about.name, device.rating_a)
    }
    if not resized and not rated:
        return study
    last, changes = _last_trial(study), (resized, rated)
    was, trial = last[0] if last else (None, study)
    if was != changes:
        trial = _tried(study, resized, rated)
        last[:] = [(changes, trial)]
    return trial


_Changes = tuple[Mapping[str, Size], Mapping[str, float]]
"""Sizes by the name of the wire and ratings by that of the device, where they are other."""


@once
def _last_trial(study: Study) -> list[tuple[_Changes, Study]]:  # noqa: ARG001
    """Where the last trial of a rig is kept; those before it are let go."""
    return []


def _tried(study: Study, sizes: Mapping[str, Size], ratings: Mapping[str, float]) -> Study:
    rig = study.rig
    conductors = tuple(
        replace(wire, size=sizes[wire.name]) if wire.name in sizes else wire
        for wire in rig.conductors
    )
    devices = tuple(
        replace(d, rating_a=ratings[d.about.name]) if d.protects and d.about.name in ratings else d
        for d in rig.devices
    )
    return Study(replace(rig, conductors=conductors, devices=devices), study.book.name)


def sizes_on_trial(sizes: Mapping[Span, Size]) -> SizeOf:
    """The size of a conductor on trial; leads of fixtures keep theirs."""

    def size_of(wire: Conductor) -> Size | Unknown:
        return wire.size if wire.lead else sizes.get(wire.span, wire.size)

    return size_of


def flows_with(study: Study, sizes: Mapping[Span, Size]) -> Flows:
    """What runs where with other sizes, by the line of the wire, and loads that draw by them."""
    if on_trial(study, sizes, {}) is study:
        return flows_of(study)
    return Flows(study, sizes_on_trial(sizes))


def lacks(trial: Study) -> Iterator[Lack]:
    """Every conductor into which more can flow, out or back, than it may carry."""
    for one in (*exposures_of(trial), *hidden_of(trial)):
        finite = one.fault == "bare" and math.isfinite(one.current_a)
        if one.fault == "over":
            yield Lack(one.wire, "fuse-over-wire", one.current_a, one.devices, one.others_a)
        elif finite:
            yield Lack(one.wire, "unprotected-wire", one.current_a)
    for wire in trial.rig.conductors:
        if too_much_back(trial, wire) is not None:
            back = returns_of(trial)[wire.name]
            devices = tuple(one for one in back.by if isinstance(one, Device))
            only = devices if len(back.by) == 1 else ()
            yield Lack(wire, "return-too-thin", back.current_a, only)


def is_for_a_fuse(trial: Study, lack: Lack) -> bool:
    """Whether a conductor lacks so much that it is left for a fuse of its own to mend.

    Copper may serve where several supplies let a little more into a wire than it bears. It is not
    grown to bear whole banks where a fuse at its beginning is all that is missing.
    """
    return lacks_own_fuse(trial, lack.wire, lack.current_a) is not None


def bonds(trial: Study) -> Iterator[tuple[Span, float]]:
    """The least copper of the wires that bond a battery to a frame, where they have less [m²]."""
    _, check, _ = rule("chassis-bond-thin")
    by_place = {wire.size_span: wire for wire in trial.rig.conductors}
    for finding in check(trial):
        wire = by_place[finding.at.span]
        yield wire.span, dict(finding.numbers)["needed_m2"] / wire.count


def is_below_book(study: Study, wire: Conductor, size: Size) -> bool:
    """Whether a size is thinner than any conductor that the book allows."""
    least = study.book.least_size_m2(sheathed=wire.sheathed)
    return least is not None and is_over(least.value, size.area_m2)


def bears(study: Study, group: WireGroup, size: Size, needs: "Needs") -> bool:
    """Whether a size meets everything that is asked of a group but the voltage drop."""
    if not carries(study, group, size, needs):
        return False
    flows = needs.flows_in(study)
    return not any(
        heated_by_start(study, flows, wire, size) or _is_burnt(study, wire, size)
        for wire in group.wires
    )


def _is_burnt(study: Study, wire: Conductor, size: Size) -> bool:
    """Whether the start of an engine is too much for a size."""
    start_a, _ = whole_start_of(study, wire) or (0.0, None)
    return start_a > 0.0 and burns_in_a_start(study, wire, start_a, size)


def carries(study: Study, group: WireGroup, size: Size, needs: "Needs") -> bool:
    """As `bears`, the heat of starts that last left aside."""
    if is_over(needs.area_m2.get(group.key, 0.0), size.area_m2):
        return False
    for wire in group.wires:
        if not study.is_judged_lead(wire):
            continue
        if is_below_book(study, wire, size):
            return False
        limit, carried = limit_in(study, wire, size), study.carries_all_of(wire, size)
        if limit is None or carried is None:
            return False
        demand_a = _asked_a(study, wire, needs.flows_in(study))
        if limit.is_broken_by(needs.limit_a.get(group.key, 0.0)):
            return False
        if carried.is_broken_by(demand_a):
            return False
    return True


def _asked_a(study: Study, wire: Conductor, flows: Flows) -> float:
    """What a wire must carry for hours [A]; of modules, in bright sun."""
    bright = bright_need(study, wire, flows)
    return flows.demand(wire.name).current_a if bright is None else bright.value


class Needs:
    """What groups must bear, by the line that writes them; figures only ever rise.

    `limit_a` is the largest current that a device or a source lets into them [A], `by` the rule
    that asks for it, `area_m2` the least copper [m²] and `floor_m2` what the voltage drop of loads
    further on asks of a feeder [m²]. `alike` are leads of batteries side by side that grow with one
    that has to.
    """

    def __init__(self) -> None:
        self.limit_a: dict[Span, float] = {}
        self.by: dict[Span, str] = {}
        self.area_m2: dict[Span, float] = {}
        self.floor_m2: dict[Span, float] = {}
        self.alike: set[Span] = set()
        self.flows: Flows | None = None
        """What runs where, with the sizes that are tried; None before any is."""

    def flows_in(self, study: Study) -> Flows:
        """What runs where; before any size is tried, with wires that lose nothing.

        Draws rise from there as wires take them volts, so that no wire which is too thin now makes
        another thicker than it has to be.
        """
        return self.flows or _without_loss(study)

    def note(self, lack: Lack) -> bool:
        """Take down what a conductor lacks; whether that is more than was known."""
        key = lack.wire.span
        if lack.current_a <= self.limit_a.get(key, 0.0):
            return False
        self.limit_a[key] = lack.current_a
        self.by[key] = lack.rule
        return True

    def note_area(self, key: Span, area_m2: float) -> bool:
        """Take down the least copper of a wire; whether that is more than was known."""
        if not is_over(area_m2, self.area_m2.get(key, 0.0)):
            return False
        self.area_m2[key] = area_m2
        return True


@once
def _without_loss(study: Study) -> Flows:
    if all(load.kind == "current" for load in study.rig.loads):
        return flows_of(study)
    drawn = draws_without_loss(study)
    return Flows(study, drawn=(drawn, drawn))
