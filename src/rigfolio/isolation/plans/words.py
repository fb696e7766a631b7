"""Parts, steps and what stays live in the words of the panel."""

from collections.abc import Iterable

from rigfolio.isolation.daylight import dark_first, isolators_of
from rigfolio.isolation.kept import Kept
from rigfolio.isolation.plans.plan import BackFeed, Plan, Step, StillLive
from rigfolio.isolation.table import Cell, Part
from rigfolio.kinds import VEHICLE
from rigfolio.model import Rig, Source
from rigfolio.study import Study
from rigfolio.values import printed
from rigfolio.wording import (
    called,
    fitted_there,
    in_a_row,
    joined_words,
    load_words,
)

NOT_ENOUGH = "NOT ENOUGH: wire alone joins it to a source"
UNREACHED = "No source of the text reaches it."
STAYS_OFF = "stays off until the last reading"
"""What is said of a plan, or of one that charges in it."""


def step_words(study: Study, step: Step, first: str = "") -> str:
    """One step as an order: `S1 Battery disconnect: open it`.

    `first` is what has to be off before it, as an order, where it is one step with it.
    """
    rig, name = study.rig, step.action.part
    source = rig.by_name.sources.get(name)
    device = rig.by_name.devices.get(name)
    words = step.action.opening.do
    if source is not None and step.action.kind != VEHICLE:
        name, words = source.part, source_words(study, source)
    elif device is not None and device.traits.do:
        words = device.traits.do
    elif device is not None and device.traits.bolted and not step.action.opening.by_wrench:
        words = (
            f"pull {f'its {device.kind}' if device.in_slot else 'it'} ({fitted_there(rig, device)})"
        )
    if step.in_sun:
        words = _in_daylight(study, step, words)
    elif step.action.opening.is_no_switch and not first:
        words += ", once nothing draws through it: a fuse is no switch"
    return f"{called(name, step.label)}: {f'{first}, then ' if first else ''}{words}"


def _in_daylight(study: Study, step: Step, words: str) -> str:
    """How a part between modules and their controller is opened, whose current it may not part."""
    why = "it may not part their current, which flows while light falls on them"
    if not step.action.opening.is_no_switch:
        return f"{words}, before any lead of a battery and with the modules covered: {why}"
    first = dark_first(study, step.action.part)
    return f"first {first}, then {words}, before any lead of a battery: {why}"


def charged_words(names: Iterable[str]) -> str:
    """What is minded before hands go where capacitors are charged; empty without any."""
    every = in_a_row(names)
    return every and (
        f"capacitors keep volts for minutes in {every}: wait, and measure there from + to "
        "\N{MINUS SIGN} before you touch the terminals"
    )


def stop_words(study: Study, source: Source) -> str:
    """A source as an order: `A1 Alternator: stop the engine and take the key out`."""
    return f"{called(source.part, source.about.label)}: {source_words(study, source)}"


def source_words(study: Study, source: Source) -> str:
    """How a source is kept from driving: which wires of a battery come off, what parts modules."""
    name, words = source.about.name, source.traits.do
    landed = _landed(study.rig, source.minus)
    if source.traits.do_many and len(landed) > 1:
        many = "both" if len(landed) == 2 else f"all {len(landed)}"
        return source.traits.do_many.format(name=name, many=many, wires=in_a_row(landed))
    if "{dark}" not in words:
        return words.format(name=name)
    is_parted = bool(isolators_of(study, name))
    dark = "cover the panels or part them from the controller"
    return words.format(name=name, dark=dark_first(study, name) if is_parted else dark)


def _landed(rig: Rig, end: str) -> list[str]:
    """The wires on a terminal, and the parts that sit on it, as their tags read."""
    wires = [printed(wire.name) for wire in rig.conductors if end in (wire.a, wire.b)]
    parts = [device.about.name for device in rig.devices if end in (device.line, device.load)]
    return [*wires, *dict.fromkeys(parts)]


def part_words(part: Part) -> str:
    """A part by the terminal that a meter is put on: `B1+ House battery`."""
    name = part.terminals[0] if part.kind in ("source", "load") else part.name
    return called(name, part.label)


def cell_words(cell: Cell) -> str:
    """`dead`, or the sources that make it live: `B1, perhaps U1`; `may come: B1` once switched."""
    if not cell.is_live:
        return "dead"
    if cell.waits:
        return f"may come: {', '.join(cell.sources)}"
    perhaps = [name for name in cell.sources if name not in cell.sure]
    if cell.through_loads:
        return f"through loads: {', '.join(cell.sources)}"
    words = list(cell.sure)
    if perhaps:
        words.append(f"perhaps {', '.join(perhaps)}")
    return ", ".join(words)


def still_live_words(found: Iterable[StillLive]) -> tuple[str, ...]:
    """What stays live, parts with the same sources in one line, slots left to their panel."""
    found = tuple(found)
    panels = {one.part.name: one.sources for one in found if one.part.kind == "panel"}
    alike: dict[tuple[tuple[str, ...], bool], list[str]] = {}
    for one in found:
        if one.part.kind == "slot" and panels.get(one.part.panel) == one.sources:
            continue
        alike.setdefault((one.sources, one.through_loads), []).append(part_words(one.part))
    return tuple(
        f"from {', '.join(sources)}{' through loads' if through else ''}: {'; '.join(parts)}"
        for (sources, through), parts in alike.items()
    )


def back_feed_words(found: Iterable[BackFeed]) -> str:
    """What feeds a part however the disconnects stand: `disconnects alone are not enough: ...`."""
    by = [called(one.source, one.label) for one in found]
    verb = "feeds" if len(by) == 1 else "feed"
    return f"disconnects alone are not enough: {in_a_row(by)} {verb} it too"


def kept_words(one: Kept) -> str:
    """Whether what must stay on does: `Gas detector (always on): DEAD in stored`."""
    words = f"{one.name} ({one.why})"
    if not one.dead_in:
        return f"{words}: has a source in every state{start_words(one)}"
    if one.not_said and len(one.dead_in) == len(one.states):
        return f"{words}: not known, {one.not_said}"
    advice = "" if one.is_stated else "; if it must stay on, the text should say `always on`"
    return f"{words}: DEAD {in_words(', '.join(one.dead_in))}{advice}"


def in_words(states: str) -> str:
    """States in words, as what holds in them is said; `in use` says it by itself.

    Examples
    --------
    >>> in_words("stored, in use"), in_words("in use")
    ('in stored, in use', 'in use')
    """
    return states if states.startswith("in ") else f"in {states}"


def start_words(one: Kept) -> str:
    """What else has to happen before it gets current: `, once SW1 closes`; empty for nothing."""
    names = list(dict.fromkeys(device.about.name for device in one.starts))
    verb = "closes" if len(names) == 1 or one.any_starts else "close"
    by = "or" if one.any_starts else "and"
    return f", once {joined_words(names, by=by)} {verb}" if names else ""


def goes_dark_words(plan: Plan) -> str:
    """What goes dark with a plan and must not."""
    return f"Goes dark and must stay on: {in_a_row(plan.goes_dark)}"


def comes_back_words(study: Study, plan: Plan) -> str:
    """What comes back by a panel that does not feed it, and what its bar does; empty if nothing."""
    loads = study.rig.by_name.loads
    names = [load_words(study.rig, loads[name]) for name in plan.comes_back]
    if not names:
        return ""
    return (
        f"The minus bar of {plan.place} carries back what it does not feed: {in_a_row(names)}. Its "
        "lead lifted, the bar goes to full plus through that: so that is made dead as well"
    )
