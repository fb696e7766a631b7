"""The work that a change asks for, wherever in the rig, step by step.

It is told what was done to each part between the rig as it was found and as it is to be: removed,
replaced, moved, pulled new, given new ends, labelled. The rig is made dead as it stands, with what
is going to be removed; it comes back live as it is written now.
"""

from collections.abc import Collection, Iterator

from rigfolio.compare import Deed, Work
from rigfolio.findings import Finding
from rigfolio.job import Again
from rigfolio.model import Circuit, Log
from rigfolio.natural_order import natural
from rigfolio.operating import shut_words
from rigfolio.record import replace
from rigfolio.shorts import barred_words, is_barred, warning_marks
from rigfolio.study import Study
from rigfolio.swap.fitting import (
    TAG_FIRST,
    both_ends,
    find_words,
    looks,
    ran_words,
    ready_words,
    sleeve_words,
    torque_words,
)
from rigfolio.swap.notes import notes_at
from rigfolio.swap.plan import work_in_hand
from rigfolio.swap.power import (
    BEFORE,
    LAID_OUT,
    LOGGED,
    LOOK,
    ONE_FOR_ONE,
    PULLED,
    Task,
    WorkPart,
    back_on,
    charging,
    dead,
    lifted_words,
    printed_anew,
    proof,
)
from rigfolio.swap.purchases import holder_words, needs_holder
from rigfolio.swap.readings import ReadingStage, reading_stages
from rigfolio.swap.repairs import mended_words
from rigfolio.swap.retest import wanted_since
from rigfolio.swap.roof import power_stages
from rigfolio.swap.site import Site
from rigfolio.swap.stops import stops, stops_words
from rigfolio.values import MINUS
from rigfolio.wording import called, in_runs, rating_and_kind, short_end, wire_length

_TITLES: dict[Deed, str] = {
    "remove": "Remove",
    "replace": "Replace, one at a time",
    "move": "Move, one wire at a time",
    "pull new": "Pull and fit new",
    "new ends": "Make new ends",
    "mend": "Mend what was found damaged",
}
_ABOUT: dict[Deed, str] = {
    "remove": "Both ends off, insulated and tagged, then out; what stays in the loom is capped.",
    "replace": f"{ONE_FOR_ONE} A fuse "
    "outside panels comes out with nothing drawing, and the new one is tried with the meter first.",
    "move": "Off, new end, on, pull at it. Torque is that of the maker of the part.",
    "pull new": "Laid, fastened, tagged and sleeved before an end is crimped. Torque is that of "
    "the maker of the part.",
}
_FITTED = (
    "Fastened where they belong, before a wire lands on them. Torque is that of the maker of the "
    "part."
)
_HAS_ONE = "What is not printed anew keeps the tag that it has; where it has none, it gets one now."
_MARK, _MOVE = 1, 2
"""Which parts of the work in hand at a panel tell how its wires are tagged, and where they land."""
_NOT_YET = "where it is not, or none is in, that one goes in once the ohms of the slot are read"


def work_since(study: Study, again: Again, tried: Collection[Finding] = ()) -> tuple[WorkPart, ...]:
    """All parts of the work between the rig as it was and as it is written now.

    Parameters
    ----------
    study : Study
        The rig as it is to be.
    again : Again
        What changed since it was as found.
    tried : Collection[Finding]
        What was found, with ways out that were tried.
    """
    site = Site(study, again)
    made = (
        _before(site),
        _dead(site),
        _tag(site),
        _do(site, "remove"),
        *_new_panels(site),
        _fit(site),
        *(_do(site, deed) for deed in _TITLES if deed != "remove"),
        _slot_fuses(site),
        _label(site),
        _look(site),
        *([stops(study, tried=tried)] if site.hands_on else []),
        *_live(site),
        *([charging(site.study, site.back())] if site.hands_on else []),
        _hand_over(site),
    )
    return tuple(part for part in made if part.tasks)


def _before(site: Site) -> WorkPart:
    """What has to be ready, and what becomes of what in one view."""
    again = site.again
    places = (*site.panels, *site.outside())
    printed = sorted({*again.labels, *_tagged(site)}, key=natural)
    tasks = [
        LAID_OUT,
        Task(f"photograph {in_runs(places) or 'every place'} before the first wire moves"),
    ]
    if printed:
        tasks.insert(0, printed_anew(printed))
    mind = [
        f"As found, {note.words}"
        for panel in site.old.rig.panels
        if panel.about.name in site.panels
        for note in notes_at(site.old.rig, panel)
    ]
    return WorkPart(BEFORE, (*_summary(site), *mind, *stops_words(site.study)), tuple(tasks))


def _summary(site: Site) -> Iterator[str]:
    """What becomes of what, a line a deed; and what only the text knows more of."""
    for deed in _TITLES:
        names = [work.after or work.before for work in site.again.work if work.deed == deed]
        if names:
            yield f"{deed.capitalize()}: {', '.join(dict.fromkeys(names))}."
    told = [w for w in site.again.work if w.deed == "told" or w.is_identified]
    if told:
        words = "; ".join(f"{w.after} ({', '.join(w.facts)})" for w in told)
        yield f"Identified or measured, nothing is bought or moved for it: {words}."


def _dead(site: Site) -> WorkPart:
    """The rig as it stands is made dead wherever hands go."""
    if not site.hands_on:
        return WorkPart("", (), ())
    return dead(site.old, site.plan, proof(site.old, site.plan, site.panels, site.outside()))


def _tag(site: Site) -> WorkPart:
    """Every wire that is worked on, a new one before it is laid; then tags that only read anew."""
    works = {work.after: work for work in site.again.work if work.thing == "wire"}
    names = sorted(_tagged(site), key=natural)
    tasks = []
    for name in names:
        wire = site.rig.by_name.conductors.get(name)
        work = works.get(name)
        if wire is None or work is None:
            continue
        was = f" (was {work.before})" if work.before not in ("", name) else ""
        ends = f"{short_end(site.rig, wire.a)} to {short_end(site.rig, wire.b)}"
        is_new = work.deed == "pull new"
        words = f"{looks(wire)}, {ends}"
        if wire.assumed:
            words = looks(wire) if is_new else f"return, not stated: {find_words(site.rig, wire)}"
        called = site.tagged.get(name, name)
        tasks.append(Task(f"{called}{was}: {words}", sleeve_words(wire)))
    told = {task.do.partition(":")[0].partition(" (was ")[0] for task in tasks}
    for panel in site.new_panels:
        marked = work_in_hand(site.study, panel.after)[_MARK].tasks
        stays = {wire.name for wire in site.rig.conductors} - set(site.comes_off(panel))
        tasks += [t for t in marked if t.do.partition(":")[0] not in told | stays]
    rest = [name for name in names if name not in works]
    if rest:
        tasks.append(Task(f"change the tags of {in_runs(rest)}", "they read differently now"))
    about = (TAG_FIRST, *([_HAS_ONE] if site.new_panels else []))
    return WorkPart("Tag each wire before it is touched", about, tuple(tasks), is_list=True)


def _tagged(site: Site) -> tuple[str, ...]:
    """The wires whose tags are printed, a return that is assumed by the one name of it."""
    stands = site.rig.by_name.conductors
    known = site.study.rig.by_name.conductors
    return tuple(name for name in site.again.tags if name in stands or name not in known)


def _do(site: Site, deed: Deed) -> WorkPart:
    """Everything that is done in one way."""
    apart = {*site.new_panels, *site.in_new_slots, *site.new_parts}
    tasks = [_task(site, w) for w in site.hands_on if w.deed == deed and w not in apart]
    about = (_ABOUT[deed],) if deed in _ABOUT else ()
    return WorkPart(_TITLES[deed], about, tuple(tasks), is_list=True)


def _fit(site: Site) -> WorkPart:
    """Every new part that wires land on, before any of them does."""
    tasks = tuple(_task(site, work) for work in site.new_parts)
    return WorkPart("Fit new parts", (_FITTED,), tasks, is_list=True)


def _new_panels(site: Site) -> Iterator[WorkPart]:
    """A panel that is changed: every wire off it, the new one in, every wire on it again."""
    own = {one.after for one in site.hands_on if one.thing == "wire"}
    for work in site.new_panels:
        lands, lifted = _landings(site, work.after), site.lifted_by(work)
        off_now = set(site.comes_off(work))
        landed = (name for task in lands for name in task.lifts if name in off_now)
        stated = (name for name in site.comes_off(work) if not site.rig.conductor(name).assumed)
        names = dict.fromkeys((*landed, *stated))
        back = any(site.old.rig.conductor(name).assumed for name in lifted)
        listed = in_runs((*names, *(["every return on its bar"] if back else [])))
        off = Task(
            f"{work.before}: off, one at a time, each end insulated: {listed}",
            "each has its tag; none is left on it",
            lifts=lifted,
        )
        yield WorkPart(f"Take the old {work.before} off", (), (off,))
        yield WorkPart(f"Change {work.before}", (), (_task(site, work),))
        tasks = [
            replace(task, lifts=())
            for task in lands
            if own.isdisjoint(task.lifts) and off_now.issuperset(task.lifts)
        ]
        tasks += (
            [Task("the returns that are not stated: to its bar, by their tags")] if back else []
        )
        about = work_in_hand(site.study, work.after)[_MOVE].about
        title = f"Land the wires on the new {work.after}; those told of below come then"
        yield WorkPart(title, about, tuple(tasks), is_list=True)


def _landings(site: Site, panel: str) -> tuple[Task, ...]:
    """Where each wire of a panel lands, in its plan."""
    return work_in_hand(site.study, panel)[_MOVE].tasks


def _slot_fuses(site: Site) -> WorkPart:
    """The fuses of a new panel, laid ready once all wires are on it."""
    tasks = tuple(_task(site, work) for work in site.in_new_slots)
    return WorkPart("Fuses of the new panel, laid ready", (), tasks, is_list=True)


def _task(site: Site, work: Work) -> Task:
    facts = [fact for fact in work.facts if not fact.startswith("was ") or work.deed != "replace"]
    if work.deed == "remove":
        name = called(work.before, "")
        facts = [fact for fact in work.facts if fact != name]
        ran = ran_words(site.was, work.before) if work.thing == "wire" else ""
        return Task(": ".join((name, *facts)), ran, lifts=site.lifted_by(work))
    if work.thing == "wire":
        wire = site.rig.conductor(work.after)
        long = wire_length(wire)
        ends = f"{short_end(site.rig, wire.a)} to {short_end(site.rig, wire.b)}"
        if wire.assumed:
            ends = f"return, not stated: {find_words(site.rig, wire)}"
        crimped = () if wire.assumed else both_ends(site.rig, wire)
        see = "; ".join((*facts, *crimped))
        do = f"{site.tagged.get(work.after, work.after)} {looks(wire)}, {long}: {ends}"
        return Task(do, see, lifts=site.lifted_by(work))
    do = f"{_named(site, work)}: {', '.join(facts) or 'fit it'}"
    marks = (mended_words(fact.removeprefix("was ")) for fact in facts)
    see = "; ".join(filter(None, marks)) if work.deed == "mend" else _torque(site, work)
    device = site.rig.by_name.devices.get(work.after) if work.thing == "device" else None
    if device is not None and needs_holder(site.again, device):
        see = "; ".join(filter(None, (f"with a {holder_words(site.study, device)}", see)))
    return Task(do, see, lifts=site.lifted_by(work))


def _named(site: Site, work: Work) -> str:
    """A part by name and label; a new fuse with its rating."""
    index = site.rig.by_name
    holders = (index.devices, index.sources, index.panels, index.junctions)
    found = next((one[work.after] for one in holders if work.after in one), None)
    words = str(found.about) if found is not None else work.after.strip()
    if work.thing == "device" and work.deed == "pull new":
        device = index.devices[work.after]
        words += f", {rating_and_kind(device)}"
        words = f"{words} {', '.join(warning_marks(site.study, device))}".strip()
    if work.thing == "slot":
        circuit = index.circuits.get(work.after)
        words = f"slot {work.after}" if circuit is None else called(work.after, circuit.label)
    if work.thing == "load":
        load = index.loads[work.after]
        place = f" at {load.circuit}" if load.circuit else ""
        words = f"{load.about}{'' if place in str(load.about) else place}"
    return words


def _torque(site: Site, work: Work) -> str:
    device = site.rig.by_name.devices.get(work.after)
    if work.thing != "device" or device is None:
        return ""
    if is_barred(site.study, device):
        return barred_words(site.study, device)
    if device.in_slot and device.protects:
        out = "the old one out, " if work.deed == "replace" else ""
        return f"{out}the new one laid ready, not in"
    return torque_words(site.rig, device.line)


def _label(site: Site) -> WorkPart:
    """Every label that reads differently, in a slot and elsewhere."""
    circuits = site.rig.by_name.circuits
    found_out = {w.after for w in site.again.work if w.thing == "device" and w.is_identified}
    tasks = []
    for place in sorted(site.again.labels, key=natural):
        circuit = circuits.get(place)
        if circuit is None or not circuit.slot:
            tasks.append(Task(f"{place}: label on"))
            continue
        tasks.append(_slot_label(site.study, circuit, is_found_out=circuit.device in found_out))
    return WorkPart("Label", (), tuple(tasks), is_list=True)


def _slot_label(study: Study, circuit: Circuit, *, is_found_out: bool) -> Task:
    """The label of a slot, and what becomes of its fuse; nobody had read one that is found out."""
    device = study.device(circuit.device)
    if device is None or not is_found_out or is_barred(study, device):
        return Task(f"{circuit.place}: label on; {ready_words(study, circuit)}")
    see = f"look whether the {device.kind} that is fitted is that one; {_NOT_YET}"
    return Task(f"{circuit.place}: label on; {rating_and_kind(device)} belongs there", see)


def _look(site: Site) -> WorkPart:
    """What is looked at while there is no power yet."""
    if not site.hands_on:
        return WorkPart("", (), ())
    fitted = {work.after for work in site.hands_on if work.thing == "panel"}
    open_now = {*site.panels, *fitted}
    now = [panel for panel in site.rig.panels if panel.about.name in open_now]
    out = "; ".join(f"{p.about.name}: {shut_words(site.study, p.about.name)}" for p in now)
    tasks = [
        PULLED,
        Task("every tag reads where its wire is; no strand stands out, nothing lies loose"),
        *([Task(out)] if out else []),
    ]
    tasks += [
        Task(f"plus and minus: + on {short_end(site.rig, panel.feed)}, "
             f"{MINUS} on {short_end(site.rig, panel.negative or 'the bar')}")
        for panel in now if site.held.feeds
    ]  # fmt: skip
    return WorkPart(LOOK, (), tuple(tasks))


def _live(site: Site) -> Iterator[WorkPart]:
    """What is read of what changed, with the isolation undone before the feed."""
    if not site.hands_on:
        return
    wanted = wanted_since(site.study, site.again)
    back = WorkPart("Power back", (), tuple(back_on(site.study, site.back())))
    is_back = False
    for stage in reading_stages(site.study, power_stages(site.study), Log(), wanted):
        if not stage.is_dead and not is_back:
            yield back
            is_back = True
        number, _, title = stage.title.partition(" ")
        while_ = "Still dead" if stage.is_dead else "Live"
        part = _readings(
            f"{while_}: {title.lower()} (stage {number.rstrip('.')} of the test sheet)", stage
        )
        lifted = tuple(lifted_words(site.study, site.back())) if stage.is_dead else ()
        yield replace(part, about=(*lifted, *part.about))
    if not is_back:
        yield back


def _hand_over(site: Site) -> WorkPart:
    """What is left to be done when all of it is read."""
    off = (*site.again.taken_off, *(was for was, _ in site.again.tags_off))
    tasks = [Task("take old labels and tags off", in_runs(off))] if off else []
    tasks += [
        LOGGED,
        Task("directory on the door made anew; fuses of each rating in a bag at the panel"),
    ]
    if site.hands_on:
        tasks.append(Task("after a day's use feel what was touched again: none of it is warm"))
    return WorkPart("Hand over", (), tuple(tasks))


def _readings(title: str, stage: ReadingStage) -> WorkPart:
    """A stage of the test as readings to be ticked; what they share stands above them."""
    shared = [step for step in stage.steps if len(step.lines) > 1]
    about = tuple(
        f"{step.do}{f'. Behind each: `{step.behind}`' if step.behind else ''}" for step in shared
    )
    tasks = [
        Task(
            f"[{line.number}] {'' if step in shared else f'{step.do}: '}{line.entry}", line.expected
        )
        for step in stage.steps
        for line in step.lines
    ]
    tasks += [Task(step.do) for step in stage.steps if not step.lines]
    return WorkPart(title, about, tuple(tasks), is_list=True)
