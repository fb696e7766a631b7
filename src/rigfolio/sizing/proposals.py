"""The least copper and the right fuse for every circuit and feed, under all rules at once.

Demand, what runs for hours, ampacity with its corrections, the largest device before each wire, the
slot, voltage drop out and back, the way back and the gauge of the bond are met together. What is
right already stays; beside it stands the least that would do.
"""

from collections.abc import Mapping
from functools import cached_property
from typing import Literal

from rigfolio.demand import bright_need, flows_of
from rigfolio.findings import Refit, Span, Unknown
from rigfolio.model import Conductor, Device
from rigfolio.protection import missing_string_fuses, start_among
from rigfolio.record import record
from rigfolio.shorts import StartCurrent
from rigfolio.sizing.fuses import CONTINUOUS, DeviceDuty
from rigfolio.sizing.groups import Section, SectionKind, WireGroup
from rigfolio.sizing.least import Least, least_sizes
from rigfolio.sizing.solve import Solved, solve
from rigfolio.study import Study
from rigfolio.units import Size, is_over, is_same

ALIKE = "batteries-unequal-leads"
"""The rule that leads of batteries side by side are alike: one grows with the other."""

Verdict = Literal["enough", "change", "unread"]
"""What is fitted is enough; it must change; what is fitted is not known and this would do."""


@record
class WireSize:
    """The conductors that one line writes: what they have, what to fit, the least that would do.

    `decisive` is the rule that forbids less than the least, `needed_a` what the wire must bear [A].
    `line` is the place of the line, `at` the place of the gauge, which other lines may share.
    """

    name: str
    names: tuple[str, ...]
    verdict: Verdict
    has: Size | Unknown
    fit: Size
    least: Size
    decisive: str
    needed_a: float
    count: int
    line: Span
    at: Span
    found: Size | None = None
    """What was found there, where that is thinner than what is to be fitted."""


@record
class FuseSize:
    """A device: its rating, the rating to fit, the least that carries what it must [A].

    `needed_a` is what runs through it, or that over the continuous share where that is more, or the
    smallest rating that waits while a load starts: `start` then says what it waits for.
    """

    name: str
    kind: str
    verdict: Verdict
    has_a: float | None
    fit_a: float
    least_a: float | None
    decisive: str
    needed_a: float
    line: Span
    at: Span | None
    strained_a: float = 0.0
    """What runs for hours, where no rating that the slot takes leaves it within the share [A]."""
    start: StartCurrent | None = None


@record
class Proposal:
    """What a circuit or a feed needs.

    `missing` is what must be known before it can be sized; `problem` says why it stays as it is.
    Where either is given nothing is proposed. `moment_a` is what starts an engine through it, which
    counts in no demand [A]. `added` are fuses that have to be there and are not.
    """

    place: str
    label: str
    kind: SectionKind
    demand_a: float
    moment_a: float = 0.0
    fuses: tuple[FuseSize, ...] = ()
    wires: tuple[WireSize, ...] = ()
    missing: tuple[str, ...] = ()
    problem: str = ""
    added: tuple[Refit, ...] = ()

    @property
    def changes(self) -> tuple[FuseSize | WireSize, ...]:
        """What has to change."""
        every: tuple[FuseSize | WireSize, ...] = (*self.fuses, *self.wires)
        return tuple(one for one in every if one.verdict == "change")


class Proposed:
    """Gauge and fuse of every section, those aside that are not to be sized, and why not.

    The least that would do takes as long as all else: it is sought when it is asked for.
    """

    def __init__(self, study: Study, found: tuple[Section, ...], held: Mapping[str, str]) -> None:
        self.study = study
        self.found = found
        self.solved = solve(study, found, held)

    @cached_property
    def changing(self) -> tuple[Proposal, ...]:
        """Those that change anything, with what is to be fitted in place of the least."""
        fitted = {key: Least(size, "") for key, size in self.solved.sizes.items()}
        every = (_proposal(self.study, one, self.solved, fitted) for one in self.found)
        return tuple(one for one in every if one.changes)

    @cached_property
    def in_full(self) -> tuple[Proposal, ...]:
        """All of them, with the least that would do."""
        least = least_sizes(self.study, self.found, self.solved)
        return tuple(_proposal(self.study, one, self.solved, least) for one in self.found)


def _proposal(study: Study, section: Section, solved: Solved, least: dict[Span, Least]) -> Proposal:
    edges = [d.about.name for d in section.devices]
    edges += [wire.name for group in section.groups for wire in group.wires]
    demand_a = flows_of(study).most(edges).current_a
    problem = solved.stuck.get(section.place, "")
    start = start_among(study, edges)
    moment_a = 0.0 if start is None else start[0]
    head = (section.place, section.label, section.kind, demand_a, moment_a)
    waits = solved.waits.get(section.place)
    missing = section.missing or ((f"what `{waits}` before it needs",) if waits else ())
    if missing or problem:
        return Proposal(*head, missing=missing, problem=problem)
    fuses = [_fuse(device, solved) for device in section.devices]
    unread = tuple(
        f"what runs through `{device.about.name}`"
        for device, fuse in zip(section.devices, fuses, strict=True)
        if fuse is None
    )
    return Proposal(
        *head,
        fuses=tuple(fuse for fuse in fuses if fuse is not None),
        wires=tuple(_wire(study, group, solved, least[group.key]) for group in section.groups),
        missing=unread,
        added=tuple(one for name, one in missing_string_fuses(study).items() if name in edges),
    )


def _fuse(device: Device, solved: Solved) -> FuseSize | None:
    """What a device needs; None where its rating and what runs through it are both unknown."""
    name = device.about.name
    fit_a = solved.ratings.get(name)
    if fit_a is None:
        return None
    duty = solved.duties[name]
    has_a = device.rating_a if isinstance(device.rating_a, float) else None
    verdict: Verdict = "change"
    if has_a is None:
        verdict = "unread"
    elif is_same(has_a, fit_a):
        verdict = "enough"
    by, needed_a, least_a = _why(duty, has_a, fit_a), duty.needed_a, duty.least_a
    if duty.is_eased(fit_a):
        by = CONTINUOUS if by == duty.by else by
        needed_a, least_a = duty.eased_a, duty.chosen_a
    if verdict == "enough" and least_a is not None:
        # What is fitted and does may be a rating that no stock has.
        least_a = min(least_a, fit_a)
    return FuseSize(
        name, device.kind, verdict, has_a, fit_a, least_a, by, needed_a, device.about.span,
        device.rating_span, duty.strained_a, duty.start,
    )  # fmt: skip


def _why(duty: DeviceDuty, has_a: float | None, fit_a: float) -> str:
    """The rule that decided a rating."""
    if has_a is None or fit_a >= has_a:
        return duty.by if duty.is_used else ""
    if duty.most_a is not None and is_over(has_a, duty.most_a) and not is_over(fit_a, duty.most_a):
        from rigfolio.standard_sizes import rating_below

        if rating_below(duty.most_a, duty.device) == fit_a:
            return duty.most_by
    return "fuse-over-wire"


def _wire(study: Study, group: WireGroup, solved: Solved, least: Least) -> WireSize:
    first: Conductor = group.first
    fit = solved.sizes[group.key]
    verdict: Verdict = "enough"
    if isinstance(group.has, Unknown):
        verdict = "unread"
    elif is_over(fit.area_m2, group.has.area_m2):
        verdict = "change"
    let_in_a = solved.needs.limit_a.get(group.key, 0.0)
    if verdict == "change":
        let_in_a = max(let_in_a, least.let_in_a)
        least = Least(fit, ALIKE) if group.key in solved.needs.alike else least
    demand_a = flows_of(study).most(wire.name for wire in group.wires).current_a
    bright = (bright_need(study, wire) for wire in group.wires)
    demand_a = max([demand_a, *(need.value for need in bright if need is not None)])
    return WireSize(
        name=first.name,
        names=tuple(wire.name for wire in group.wires),
        verdict=verdict,
        has=group.has,
        fit=fit,
        least=least.size,
        decisive=least.decisive,
        needed_a=max(demand_a, let_in_a),
        count=first.count,
        line=group.key,
        at=first.size_span,
        found=_too_thin(first.found, fit),
    )


def _too_thin(found: Size | Unknown | None, fit: Size) -> Size | None:
    return found if isinstance(found, Size) and is_over(fit.area_m2, found.area_m2) else None
