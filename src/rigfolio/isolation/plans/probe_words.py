"""Where the probes go while a part is proved dead, and on which battery the meter is tried.

To a minus that the supply of a place does not come back to, a meter shows 0 V, live or not.
"""

from collections.abc import Collection, Iterable, Mapping

from rigfolio.isolation.energised import CLOSED, Open, source_reach
from rigfolio.isolation.plans.halves import half_of, halves, own_minus
from rigfolio.isolation.plans.plan import Plan
from rigfolio.isolation.plans.proofs import Proof, ProofPoint, contacts, measured_at, proof_of
from rigfolio.model import About, Rig, Source
from rigfolio.network import plug_pins
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.wording import in_a_row, joined_words, short_end


@record
class To:
    """To what a place is measured: its own minus, other ways back, and frames.

    `own` is empty where the rig has one minus and nobody can take another for it; `island` is one
    terminal of all that are joined to it. Without `frames` the text tells of none that the place
    comes back to.
    """

    own: str
    island: str
    others: tuple[str, ...]
    frames: tuple[About, ...]
    away: tuple[Source, ...]
    only_away: bool


def beside_words(
    study: Study, plan: Plan, proof: Proof, here: tuple[str, ...] = ()
) -> tuple[str, ...]:
    """Where else the meter is put, each with the reason: `K1.line (K1 may be open)`.

    Each to its minus, where that is not the one of what is measured `here`.
    """
    found, own = [], measured_to(study, here) if here else None
    for one in proof.points:
        to = measured_to(study, (one.end,))
        is_there = own is not None and (to.island, to.others) == (own.island, own.others)
        away = "" if is_there else f" to {black_words(study, plan, (one.end,))}"
        found.append(f"{short_end(study.rig, one.end)}{away}{_why(study, one)}")
    return tuple(found)


def _why(study: Study, point: ProofPoint) -> str:
    if not point.by:
        return ""
    device = study.device(point.by)
    if device is None:
        return f" ({point.by} may start by itself)"
    return f" ({point.by} may be {'out' if device.traits.is_plug else 'open'})"


def readings_at(study: Study, plan: Plan, place: str, bar: str = "") -> tuple[str, ...]:
    """Each reading by which a plan is proved, in words: the place itself, then what lies beside it.

    `P1 feed and each slot, to N1 and to the frame`, `K1.line (K1 may be open)`. `place` is what a
    meter is put on in words, and `bar` the minus bar of that where it has one.
    """
    ends = measured_at(study, plan)
    black, frame = black_words(study, plan, ends, bar), frame_words(study, plan, ends)
    beside = beside_words(study, plan, proof_of(study, plan, ends), ends)
    return f"{place}, to {black} and to {frame}", *beside


def closed_first(study: Study, plan: Plan) -> str:
    """What is closed while these are read, and why; empty for nothing."""
    return shut_words(study, proof_of(study, plan, measured_at(study, plan)))


def shut_words(study: Study, proof: Proof) -> str:
    """What is closed while it is measured, and why; empty for nothing.

    What joins banks closes by itself while something charges, and nobody closes it by hand.
    """
    held: dict[str, list[str]] = {}
    for name in proof.shut:
        traits = study.rig.poles[name][0].traits
        how = "plugged in" if traits.is_plug else "on a battery" if traits.selects else "closed"
        how = "turned to what it feeds" if traits.excludes else how
        held.setdefault("" if traits.joins_banks else how, []).append(name)
    left = joined_words(held.pop("", [""]), most=99)
    said = [f"{joined_words(names, most=99)} {how}" for how, names in held.items()]
    words = []
    if said:
        words.append(
            f"read with {', '.join(said)}, and mind what else that starts: else it is 0 V whatever "
            "was opened"
        )
    if left:
        words.append(
            f"with {left} open no meter shows whether it is parted from there: see that it is"
        )
    return "; ".join(words)


def red_words(rig: Rig, name: str) -> str:
    """Where the red probe goes while a part is proved dead: of a battery on its plus post."""
    source = rig.by_name.sources.get(name)
    return short_end(rig, source.plus) if source is not None and source.stores else name


def black_words(study: Study, plan: Plan, terminals: Iterable[str] = (), bar: str = "") -> str:
    """Where the black probe goes then: `minus`, and never a post whose lead is lifted.

    Between its posts a battery shows its volts whatever is opened. What lies on the half of a
    vehicle is measured to the minus of that half: the other one is no minus of it. Where a rig has
    more than one minus with its plugs out, it is told which. `terminals` are what is measured, all
    of the plan without them; `bar` is the minus bar beside it in words, where it has one.
    """
    rig = study.rig
    to = measured_to(study, tuple(terminals) or plan.terminals)
    lifted = (rig.by_name.sources.get(step.action.part) for step in plan.steps)
    posts = [short_end(rig, one.minus) for one in lifted if one is not None and one.stores]
    here = f"minus ({to.own})" if to.own else "minus"
    if posts:
        leads, post = ("lead", "its post") if len(posts) == 1 else ("leads", "a post")
        here = f"the lifted {leads} of {in_a_row(posts)} (never {post})"
    here = bar or here
    others = [one for one in to.others if one not in posts]
    every = " and to ".join((here, *others))
    if not to.away:
        return every
    away = in_a_row(_half_words(rig, one) for one in to.away)
    return away if to.only_away else f"{every}, and to {away}"


def frame_words(
    study: Study, plan: Plan, terminals: Iterable[str] = (), *, named: bool = False
) -> str:
    """The frames to which it is measured as well: each half of a plug has its own.

    `named` is whether the only frame of a rig is told by name, too.
    """
    to = measured_to(study, tuple(terminals) or plan.terminals)
    frames = [one for one in study.rig.junctions if one.traits.is_frame]
    if len(frames) > 1 and to.frames:
        here = [str(one) for one in to.frames]
    elif named and to.frames:
        here = [f"the frame, {to.frames[0]}"]
    else:
        here = ["the frame around it" if frames and not to.frames else "the frame"]
    away = [f"the frame of {one.about.name}" for one in to.away]
    return " and ".join((*(() if to.only_away else here), *away))


def _half_words(rig: Rig, vehicle: Source) -> str:
    """The minus to which the half of a vehicle is measured."""
    end = short_end(rig, own_minus(rig, vehicle))
    return f"{end}, the minus on the half of {vehicle.about.name} (no other shows its volts)"


@once
def measured_to(study: Study, measured: tuple[str, ...]) -> To:
    """To what some terminals of a plan are measured.

    To where the place comes back, and to where every source comes back that could reach it, the
    plugs and all contacts taken as open.
    """
    rig = study.rig
    islands = _minus_islands(study)
    reaching = _reaching(study, measured)
    own = _own_minus(study, measured, sorted(reaching, key=lambda one: one.traits.own_frame))
    grounds = [one.minus for one in reaching if not one.traits.own_frame]
    seen, others = [islands.get(own, own)], list[str]()
    for end in grounds:
        if islands.get(end, end) not in seen:
            seen.append(islands.get(end, end))
            others.append(short_end(rig, end))
    frames = tuple(
        one.about for one in rig.junctions
        if one.traits.is_frame and islands.get(one.terminal, one.terminal) in seen
    )  # fmt: skip
    vehicles = half_of(rig, measured)
    parted = set().union(*(halves(rig)[one.about.name] for one in vehicles))
    every = {islands.get(one.minus, one.minus) for one in rig.sources if not one.traits.own_frame}
    is_plain = len(every | {seen[0]}) == 1 or not own
    return To(
        "" if is_plain else short_end(rig, own), seen[0], tuple(others), frames, vehicles,
        bool(vehicles) and parted.issuperset(measured),
    )  # fmt: skip


@once
def _minus_islands(study: Study) -> Mapping[str, str]:
    """The terminals of the way back by the first that each is joined to whatever stands open."""
    rig = study.rig
    apart = Open(contacts(study) | plug_pins(rig)).bars
    starts = [one.minus for one in rig.sources] + [one.minus for one in rig.loads]
    starts += [one.terminal for one in rig.junctions]
    starts += [one.negative for one in rig.panels if one.negative is not None]
    found: dict[str, str] = {}
    for start in starts:
        if start not in found:
            found |= dict.fromkeys(study.net.walk([start], apart), start)
    return found


def _reaching(study: Study, terminals: Iterable[str]) -> tuple[Source, ...]:
    """The sources that reach some terminals with nothing opened."""
    alive = source_reach(study).alive(CLOSED)
    names = dict.fromkeys(name for end in terminals for name in alive.get(end, ()))
    return tuple(study.rig.by_name.sources[name] for name in names)


def _own_minus(study: Study, measured: Collection[str], reaching: Iterable[Source]) -> str:
    """Where what is measured comes back: to its bar, its own minus, or to what feeds it."""
    rig = study.rig
    for panel in rig.panels:
        if panel.bus in measured and panel.negative:
            return panel.negative
    slots = ((rig.by_name.devices.get(c.device), study.panel(c.panel)) for c in rig.circuits)
    minus = {
        device.load: panel.negative for device, panel in slots
        if device is not None and panel is not None and panel.negative
    }  # fmt: skip
    loads = rig.by_name.loads
    minus |= {c.start: loads[c.loads[0]].minus for c in rig.circuits if c.loads and not c.slot}
    minus |= {load.plus: load.minus for load in rig.loads}
    minus |= {one.lit[0]: one.lit[1] for one in rig.sources if one.lit}
    minus |= {one.plus: one.minus for one in rig.sources}
    own = next((minus[end] for end in measured if end in minus), "")
    own = own or next((one.minus for one in reaching), "")
    # What lies on the way back itself is measured to a battery there.
    islands = _minus_islands(study)
    here = {islands[end] for end in measured if not own and end in islands}
    stores = (one.minus for one in rig.sources if one.stores)
    return own or next((end for end in stores if islands.get(end) in here), "")


def tried_on(study: Study, plan: Plan) -> Source | None:
    """The battery that the meter is tried on: one that the part itself is fed by, before others."""
    rig, drive = study.rig, source_reach(study)
    alive = drive.alive(CLOSED)
    names = list(plan.reached_by)
    # It grows as it is gone through: what feeds a converter feeds what hangs on it.
    for name in names:
        names += [one for one in alive.get(drive.inputs.get(name, ""), ()) if one not in names]
    every = [rig.by_name.sources[name] for name in names] + list(rig.sources)
    return next((one for one in every if one.stores), None)
