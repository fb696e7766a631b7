"""Taking the power off a panel, and bringing it back stage by stage."""

from collections.abc import Iterable, Iterator, Sequence

from rigfolio.books import figure, proof_by_meter
from rigfolio.isolation import Plan, back_feed_words, in_turn, source_reach, still_live_words
from rigfolio.operating import bank_at_rest, numbered_points, short_stages
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.units import show, show_limit
from rigfolio.wording import called, in_a_row, short_end

_WHILE = {"Ohms, all fuses out": "still dead"}


@record
class Task:
    """One step: what to do, and what is to be seen or read then."""

    do: str
    see: str = ""


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


def dead(study: Study, plan: Plan) -> WorkPart:
    """What is opened, and how the panel is proved dead."""
    tasks = [Task(one.do, one.why) for one in in_turn(study, plan)]
    tasks.append(Task("tag each of these: do not close, somebody is working"))
    if plan.back_feeds:
        tasks.append(Task(f"{back_feed_words(plan.back_feeds)}: see to each"))
    if not plan.is_enough:
        tasks.append(Task("NOT ENOUGH: wire alone joins it to a source; take that wire off first"))
    tasks += _proof(study, plan)
    about = [f"Stays live while you work, {words}." for words in still_live_words(plan.stays_live)]
    if plan.goes_dark:
        about.append(
            f"Goes dark and must stay on: {in_a_row(plan.goes_dark)}. See to it otherwise."
        )
    meter = proof_by_meter()
    about.append(f"Proof: {meter.title} ({meter.status}).")
    return WorkPart("Make it dead, and prove it", tuple(about), tuple(tasks))


def _proof(study: Study, plan: Plan) -> Iterator[Task]:
    low = f"0 V, no more than {show_limit(figure('meter', 'volt'), 'mV')}"
    panel = study.panel(plan.place)
    bar = panel.negative if panel is not None else ""
    minus = f"minus ({short_end(study.rig, bar)})" if bar else "minus"
    yield Task("meter on a battery", _battery(study) or "volts")
    yield Task(f"{plan.place} feed to {minus}, then each slot to {minus}", low)
    frame = next((one.about for one in study.rig.junctions if one.traits.is_frame), None)
    yield Task(f"the same to the frame{f', {frame}' if frame else ''}", low)
    yield Task("meter on the battery once more", "volts as before")
    yield Task(
        "if any of it shows more, stop: something still feeds it. Find it before anything is "
        "moved. A meter that shows less on the battery has proved nothing"
    )


def _battery(study: Study) -> str:
    """What a meter shows at the posts of a battery, half full to full, with room for both."""
    source = next((s for s in study.rig.sources if s.stores), None)
    if source is None:
        return ""
    share, spread = bank_at_rest(source)
    low, high = (source.voltage_v * (share + side * 2.0 * spread) for side in (-1.0, 1.0))
    return f"{source.about.name}: {low:.1f} to {high:.1f} V"


def live(study: Study, panel: str, plan: Plan) -> WorkPart:
    """The stages of the test sheet, with the isolation undone before the feed.

    Readings bear the numbers of the test sheet, which is one sheet for all panels.
    """
    found = short_stages(study)
    held: dict[str, list[str]] = {}
    for number, stage, step, _ in numbered_points(found):
        if step.of in ("", panel):
            held.setdefault(stage.title, []).append(number)
    tasks: list[Task] = []
    for stage in found:
        is_feed = stage.title == "The feed alone"
        tasks += _back_on(study, plan) if is_feed else ()
        if stage.title in held:
            told = f"readings {ranges(held[stage.title])} of the test sheet"
            tasks.append(Task(f"{_WHILE.get(stage.title, 'live')}: {stage.title.lower()}", told))
    about = (
        "The test sheet says for each stage what is to be minded and what is expected; the next "
        "stage waits until all of it fits."
    )
    return WorkPart("Bring it back live, stage by stage", (about,), tuple(tasks))


def _back_on(study: Study, plan: Plan) -> Iterator[Task]:
    """What was opened is closed again, the first one through a lamp or a small fuse."""
    back = [step for step in reversed(plan.steps) if not _is_charging(study, step.action.part)]
    sides = back[0].action.opening.sides if back else ""
    if sides:
        first = study.device(back[0].action.part)
        name = called(back[0].action.part, back[0].label)
        if first is not None and first.traits.selects:
            sides = f"a battery side of it and its {first.traits.common}"
        volts = show(_across_v(study, back[0].action.part, plan.terminals[0]), "V")
        yield Task(
            f"{name}, still open: a lamp for {volts} or a small fuse between {sides}",
            "lamp dark, fuse whole; if not, take it off and find the short",
        )
    for step in back:
        closed = step.action.opening.shut
        device = study.device(step.action.part)
        if device is not None and device.traits.shut:
            closed = device.traits.shut
        yield Task(f"{called(step.action.part, step.label)}: {closed}")


def _across_v(study: Study, part: str, terminal: str) -> float:
    """What may stand across a part that is open [V]: that of its own side of a converter."""
    device = study.device(part)
    ends = (device.line, device.load) if device is not None else ()
    known = (study.volts[end] for end in (*ends, terminal) if end in study.volts)
    return next(known, study.rig.system_v)


def _is_charging(study: Study, name: str) -> bool:
    """Whether a part charges a bank; a converter that feeds loads is needed for their readings."""
    charges = any(s.about.name == name and s.traits.charges for s in study.rig.sources)
    return charges and name not in source_reach(study).passes_on


def charging(study: Study, plan: Plan) -> WorkPart:
    """What charges comes back when everything was read at the battery alone."""
    parts = [(step.action.part, step.label) for step in reversed(plan.steps)]
    labels = {source.about.name: source.about.label for source in study.rig.sources}
    parts += [(name, labels[name]) for name in plan.stop_first]
    tasks = [
        Task(f"{called(name, label)}: on again", "the battery shows more than before")
        for name, label in dict.fromkeys(parts)
        if _is_charging(study, name)
    ]
    about = "Every reading of the test sheet is taken with the battery alone; this comes after."
    return WorkPart("Live: what charges", (about,), tuple(tasks))


def ranges(numbers: Sequence[str]) -> str:
    """Numbers of readings, those that follow each other as one.

    Examples
    --------
    >>> ranges(["3.1", "3.2", "3.3", "3.7"])
    '3.1 to 3.3, 3.7'
    """
    runs: list[list[str]] = []
    for number in numbers:
        last = runs[-1][-1] if runs else ""
        if last and int(last.split(".")[1]) + 1 == int(number.split(".")[1]):
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)


def some(names: Iterable[str], most: int = 8) -> str:
    """The first names, and how many more there are."""
    every = list(names)
    more = len(every) - most
    listed = ", ".join(every[:most]) if most > 2 else "; ".join(every[:most])
    return f"{listed} and {more} more" if more > 0 else listed
