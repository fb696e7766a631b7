"""Taking the power off a panel, and bringing it back stage by stage."""

from collections.abc import Collection, Container, Iterator, Sequence

from rigfolio.books import figure, proof_by_meter
from rigfolio.isolation import (
    NOT_ENOUGH,
    STAYS_OFF,
    Closing,
    Open,
    Plan,
    Step,
    back_feed_words,
    bank_joins,
    beside_words,
    black_words,
    charged,
    charged_words,
    closing,
    frame_words,
    goes_dark_words,
    in_turn,
    lamp_words,
    measured_to,
    once_a_part,
    proof_of,
    red_words,
    rejoined_by,
    shut_words,
    source_reach,
    still_live_words,
    stop_words,
    tried_on,
)
from rigfolio.model import Device, Load, Rig, Source
from rigfolio.operating import FEED_ALONE, bounds_words, numbered_points, stages_of, standing
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.swap.held import ANEW, not_on_words
from rigfolio.swap.roof import (
    is_parted,
    power_stages,
    roof_stages,
    seen_words,
    sheet_stages,
)
from rigfolio.units import show, show_limit
from rigfolio.wording import (
    NameKind,
    called,
    goes_words,
    in_runs,
    load_words,
    off_words,
    short_end,
    terminals_of,
)

_STOP = (
    "if any of it shows more, stop: something still feeds it. Find it before anything is moved. A "
    "meter that shows less on the battery has proved nothing"
)
CHARGING = "Live: what charges"
"""The title of the part in which what charges comes back; all readings stand before it."""
_WHILE = {"Ohms, all fuses out": "still dead"}


@record
class Task:
    """One step: what to do, and what is to be seen or read then.

    `off` are the parts that are opened or switched off by it, `on` those that are closed or
    switched on again, `lifts` the wires that it takes off, all by name.
    """

    do: str
    see: str = ""
    off: tuple[str, ...] = ()
    on: tuple[str, ...] = ()
    lifts: tuple[str, ...] = ()


@record
class WorkPart:
    """A part of the work; the next one waits until all of it is ticked.

    `about` are paragraphs to be read before it. In one that `is_list` the tasks are alike and short
    and may stand side by side.
    """

    title: str
    about: tuple[str, ...]
    tasks: tuple[Task, ...]
    is_list: bool = False


BEFORE, LOOK = "Before you touch anything", "Look before there is power"
"""Titles of the first part of all plans, and of the last one before the power comes back."""
ONE_FOR_ONE = "The old one off, the new one on, pull at it; never two wires in the hand."
LAID_OUT = Task("lay out what the pick list names; try every fuse with the meter")
PULLED = Task("pull at every wire that was touched: none moves in its terminal or on its stud")
LOGGED = Task("readings and work into the log; keep text and log together")
"""What every plan asks for."""


def printed_anew(names: Sequence[str]) -> Task:
    """What is printed before the work."""
    return Task("print and cut labels and tags", in_runs(names))


def dead(study: Study, plan: Plan, proved: Sequence[Task] | None = None) -> WorkPart:
    """What is opened, and how it is proved dead; `proved` says how where it is not one panel."""
    tasks: list[Task] = []
    done = set[str]()
    for one in in_turn(study, plan):
        # A vehicle is unplugged first, and then parted from its own half where hands go there.
        off = tuple({one.part} - done) if one.part else plan.off_first
        tasks.append(Task(one.do, one.why, off=off))
        done.add(one.part)
    tasks.append(Task("tag each of these: do not close, somebody is working"))
    held = charged_words(charged(study, plan))
    if held:
        tasks.append(Task(held))
    # What is switched off or taken off by itself needs no second word.
    ended = {step.action.part for step in plan.steps}
    feeds = [one for one in plan.back_feeds if one.source not in ended]
    if feeds:
        tasks.append(Task(f"{back_feed_words(feeds)}: see to each"))
    if not plan.is_enough:
        tasks.append(Task(f"{NOT_ENOUGH}; take that wire off first"))
    tasks += proof(study, plan, [plan.place]) if proved is None else proved
    tasks.append(Task(_STOP))
    about = [f"Stays live while you work, {words}." for words in still_live_words(plan.stays_live)]
    if plan.is_post:
        about.append("A post of a battery is among it: live between the posts whatever is opened. "
                     "Cover it.")  # fmt: skip
    if plan.goes_dark:
        about.append(f"{goes_dark_words(plan)}. See to it otherwise.")
    meter = proof_by_meter()
    about.append(f"Proof: {meter.title} ({meter.status}).")
    return WorkPart("Make it dead, and prove it", tuple(about), tuple(tasks))


def proof(
    study: Study, plan: Plan, panels: Sequence[str], others: Sequence[str] = ()
) -> list[Task]:
    """How panels and parts outside them are proved dead, the meter tried before and after."""
    rig = study.rig
    tasks = [Task("meter on a battery", battery_words(study, plan))]
    bars: list[str] = []
    measured = list[str]()
    frames: dict[str, None] = {}
    for name in panels:
        panel, ends = study.panel(name), terminals_of(rig, "panel", name).plus
        bar = panel.negative if panel is not None else ""
        bars.append(f"minus ({short_end(rig, bar)})" if bar else "")
        black = black_words(study, plan, ends, bars[-1])
        tasks.append(Task(f"{name} feed to {black}, then each slot to {black}", low_words()))
        measured += ends
        frames[frame_words(study, plan, ends, named=True)] = None
    held: dict[str, list[str]] = {}
    for name in others:
        ends = _ends(rig, name)
        held.setdefault(_beside(study, plan, ends, panels, bars), []).append(red_words(rig, name))
        measured += ends
        frames[frame_words(study, plan, ends, named=True)] = None
    tasks += [
        Task(f"both ends of {in_runs(names)} to {to}", low_words()) for to, names in held.items()
    ]
    proof = proof_of(study, plan, tuple(dict.fromkeys(measured)))
    tasks += [Task(words, low_words()) for words in beside_words(study, plan, proof)]
    tasks.append(Task(f"the same to {' and '.join(frames)}", low_words()))
    shut = shut_words(study, proof)
    if shut:
        tasks.insert(1, Task(shut))
    tasks.append(Task("meter on the battery once more", "volts as before"))
    return tasks


def _beside(
    study: Study, plan: Plan, ends: tuple[str, ...], panels: Sequence[str], bars: Sequence[str]
) -> str:
    """Where the black probe goes for what lies outside panels: to the bar of one that is open.

    Only of one that it comes back to.
    """
    own = measured_to(study, ends)
    for name, bar in zip(panels, bars, strict=True):
        here = measured_to(study, terminals_of(study.rig, "panel", name).plus)
        if bar and not own.away and here.island == own.island:
            return black_words(study, plan, ends, bar)
    return black_words(study, plan, ends)


def _ends(rig: Rig, name: str) -> tuple[str, ...]:
    """The terminals of what is worked at outside panels: both ends of a wire, plus of others."""
    index = rig.by_name
    if name in index.conductors:
        return terminals_of(rig, "wire", name).every
    held: tuple[tuple[NameKind, Container[str]], ...] = (
        ("device", index.devices), ("source", index.sources), ("load", index.loads),
        ("panel", index.panels), ("circuit", index.circuits), ("bar", index.junctions),
    )  # fmt: skip
    kind = next(kind for kind, names in held if name in names)
    return terminals_of(rig, kind, name).plus


def low_words() -> str:
    """What a meter shows at a dead place."""
    return f"0 V, no more than {show_limit(figure('meter', 'volt'), 'mV')}"


def battery_words(study: Study, plan: Plan) -> str:
    """What a meter shows at the posts of a battery with all off, as the test sheet expects it."""
    source = tried_on(study, plan)
    if source is None:
        return "volts"
    point = stages_of(study).at_rest(source)
    return f"{source.about.name}: {bounds_words(point)}"


def live(study: Study, panel: str, plan: Plan) -> WorkPart:
    """The stages of the test sheet, with the isolation undone before the feed.

    Readings bear the numbers of the test sheet, which is one sheet for all panels.
    """
    found = power_stages(study)
    held: dict[str, list[str]] = {}
    for number, stage, step, _ in numbered_points(found):
        if step.is_plain or step.of in ("", panel):
            held.setdefault(stage.title, []).append(number)
    tasks: list[Task] = []
    for stage in found:
        is_feed = stage.title == FEED_ALONE
        tasks += back_on(study, plan) if is_feed else ()
        if stage.title in held:
            told = f"readings {in_runs(held[stage.title], 2)} of the test sheet"
            tasks.append(Task(f"{_WHILE.get(stage.title, 'live')}: {stage.title.lower()}", told))
    about = (
        "The test sheet says for each stage what is to be minded and what is expected; the next "
        f"stage waits until all of it fits. What was opened is closed {lamp_words()}."
    )
    minded = (about, *lifted_words(study, plan))
    return WorkPart("Bring it back live, stage by stage", minded, tuple(tasks))


def lifted_words(study: Study, plan: Plan) -> Iterator[str]:
    """Where ohms to the minus of a battery are read whose lead is still lifted then.

    The way back ends at the lug of that lead; from the post it is parted until power comes back.
    """
    batteries = {s.about.name: s for s in study.rig.sources if s.stores}
    for step in plan.steps:
        source = batteries.get(step.action.part)
        if source is not None:
            yield (
                f"Ohms to {short_end(study.rig, source.minus)} are read to the end of the lead "
                "that is still lifted, never to the post."
            )


def back_on(study: Study, plan: Plan) -> Iterator[Task]:
    """What was opened is closed again, each through a lamp; what charges stays off.

    A converter that was stopped runs again: what hangs on it is read by it.
    """
    for name in once_a_part(study.rig, chargers(study)):
        if name not in plan.kept_off:
            do = stop_words(study, study.rig.by_name.sources[name])
            yield Task(do, STAYS_OFF, off=(name,))
    done: list[str] = []
    for step in reversed(plan.steps):
        why = not_on_words(study, step.action.part)
        if why:
            yield Task(f"{called(step.action.part, step.label)}: {why}", ANEW)
            continue
        found = closing(study, plan, step.action.part, done)
        is_tried = bool(step.action.opening.sides) and (found.raises or not done)
        taken = _taken_out(study, found.draws) if is_tried else {}
        for fuse, loads in taken.items():
            out = off_words(fuse)
            see = f"{in_runs(loads)}: draws for good, a lamp would stay lit"
            yield Task(f"{fuse.about}: {out} while the lamp is held there", see)
        if is_tried:
            drawn = {words for loads in taken.values() for words in loads}
            yield _lamp(study, plan, step, found, drawn)
        again = rejoined_by(study, plan, step.action.part, done)
        if again:
            yield Task(again)
        done.append(step.action.part)
        stopped = study.rig.by_name.sources.get(step.action.part)
        named = called(step.action.part if stopped is None else stopped.part, step.label)
        part = step.action.part
        closed = _closed_words(study, step)
        yield Task(f"{named}: {closed}", on=() if part in plan.kept_off else (part,))
        yield from (Task(f"{fuse.about}: {goes_words(fuse)} again") for fuse in taken)
    for name in plan.stop_first:
        yield _on_again(study, study.rig.by_name.sources[name])


def _closed_words(study: Study, step: Step) -> str:
    """How a part is closed again; of a fuse which one goes in: another may have come out."""
    device, opening = study.device(step.action.part), step.action.opening
    if device is not None and device.protects and opening.is_no_switch:
        return goes_words(device)
    return device.traits.shut if device is not None and device.traits.shut else opening.shut


def _taken_out(study: Study, draws: Sequence[Load]) -> dict[Device, list[str]]:
    """The fuses that come out so that a lamp tells a short from what draws for good, with what."""
    found: dict[Device, list[str]] = {}
    for load in draws:
        circuit = study.circuit(load.circuit)
        fuse = study.device(circuit.device) if circuit is not None else None
        if fuse is not None and not fuse.in_slot:
            found.setdefault(fuse, []).append(load_words(study.rig, load))
    return found


def _lamp(study: Study, plan: Plan, step: Step, found: Closing, taken: Collection[str]) -> Task:
    """What is held across a part before it is closed, and what the lamp should do.

    `taken` are loads, in words, whose fuses are out meanwhile.
    """
    sides, part = step.action.opening.sides, step.action.part
    first = study.device(part)
    if first is not None and first.traits.selects:
        sides = f"a battery side of it and its {first.traits.common}"
    volts = show(_across_v(study, part, plan.terminals[0]), "V")
    head = f"{called(part, step.label)}, still open: a lamp for {volts} between {sides}"
    drawing = [w for load in found.draws if (w := load_words(study.rig, load)) not in taken]
    dark = f"dark but for what {in_runs(drawing)} draws" if drawing else "dark"
    flash = f"lamp flashes once ({in_runs(found.fills)}), then {dark}" if found.fills else ""
    return Task(head, f"{flash or f'lamp {dark}'}; if it stays lit, take it off and find the short")


def _across_v(study: Study, part: str, terminal: str) -> float:
    """What may stand across a part that is open [V]: that of its own side of a converter."""
    device = study.device(part)
    ends = (device.line, device.load) if device is not None else ()
    known = (study.volts[end] for end in (*ends, terminal) if end in study.volts)
    return next(known, study.rig.system_v)


def _called(source: Source) -> str:
    return called(source.part, source.about.label)


def chargers(study: Study) -> tuple[str, ...]:
    """The sources that charge a bank, by name: readings are taken with all of them off.

    A converter that feeds loads is needed for their readings, and so is what a system without a
    battery runs from.
    """
    runs = source_reach(study).passes_on | standing(study, Open(bank_joins(study.rig)))
    sources = study.rig.sources
    return tuple(s.about.name for s in sources if s.traits.charges and s.about.name not in runs)


def charging(study: Study, plan: Plan) -> WorkPart:
    """What charges comes back when everything was read at the battery alone."""
    sources = study.rig.by_name.sources
    lit = {step.of for stage in roof_stages(study) for step in stage.steps}
    tasks = [
        _on_again(study, sources[name], seen_words(study, sources[name]))
        for name in once_a_part(study.rig, (*plan.kept_off, *chargers(study)))
        if name not in lit
    ]
    sunny = list(_in_the_sun(study))
    every = "Every other reading" if sunny else "Every reading"
    about = [f"{every} of the test sheet is taken with the battery alone; this comes after."]
    about += [stage.about for stage in roof_stages(study)]
    return WorkPart(CHARGING, tuple(about), (*tasks, *sunny), is_list=not sunny)


def _on_again(study: Study, source: Source, see: str = "") -> Task:
    """A source is started, unless it hangs on what is not put to use as it is."""
    why, named = not_on_words(study, source.about.name), _called(source)
    return (
        Task(f"{named}: {why}", ANEW)
        if why
        else Task(f"{named}: on again", see, on=(source.about.name,))
    )


def _in_the_sun(study: Study) -> Iterator[Task]:
    """The steps of the test sheet in the sun, with the numbers of their readings."""
    numbers: dict[tuple[str, str], list[str]] = {}
    for number, _, step, _ in numbered_points(sheet_stages(study)):
        numbers.setdefault((step.of, step.do), []).append(number)
    for stage in roof_stages(study):
        last = {step.of: step for step in stage.steps}
        for step in stage.steps:
            found = in_runs(numbers[step.of, step.do], 2) if step.points else ""
            read = f"readings {found} of the test sheet" if found else ""
            is_on = step is last[step.of] and not is_parted(study, step.of)
            yield Task(step.do, read, on=(step.of,) if is_on else ())
