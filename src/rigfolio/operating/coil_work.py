"""What a coil sets going: the contacts that close with it, and what runs behind them.

A person who switches a coil on has the heavy load run that hangs behind its contact, and may have a
hand on it.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.isolation import Open, served, unbolted_words
from rigfolio.model import Circuit, Device, Load
from rigfolio.network import (
    Edge,
    coil_names,
    coils_of,
    contacts_of,
    edge_name,
    hangs_behind,
    is_guard,
    path,
    resting_open,
)
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.wording import in_a_row, joined_words, load_words, off_words

MOMENT = ", no longer than it takes to read"
"""What is minded of what runs a moment."""


@record
class SetGoing:
    """What a coil sets going: its contacts by name, the loads that run, what each hangs behind.

    `behind` is the fuse or breaker next before each load, in turn and once each.
    """

    coil: Load
    contacts: tuple[str, ...]
    loads: tuple[Load, ...]
    behind: tuple[Device, ...]


@once
def set_going(study: Study, name: str) -> SetGoing | None:
    """What a load, by name, sets going as the coil that it is; None where it works no contact.

    A coil behind the contact is on with it and closes its own. Switches that rest open stay so.
    """
    if name not in coil_names(study.rig):
        return None
    closed, found, opened = _closed_by(study, frozenset({name}))
    contacts = dict.fromkeys(d.about.name for d in study.rig.devices if edge_name(d) in closed)
    coil = study.rig.by_name.loads[name]
    guards = {d.about.name: d for one in found for d in _guards(study, one, coil, opened)}
    return SetGoing(coil, tuple(contacts), tuple(found), tuple(guards.values()))


@once
def _closed_by(study: Study, on: frozenset[str]) -> tuple[frozenset[str], tuple[Load, ...], Open]:
    """The contacts that close with the coils among some loads, what runs by them, what is open."""
    coils = coils_of(study.rig)
    resting = resting_open(study.rig).union(coils)
    closed = frozenset(edge for edge, coil in coils.items() if coil.about.name in on)
    before, loads = served(study, Open(resting)), study.rig.loads
    while True:
        opened = Open(resting - closed)
        new = served(study, opened) - before
        found = [one for one in loads if one.about.name in new]
        more = {edge for edge, coil in coils.items() if coil.about.name in new} - closed
        if not more:
            return closed, tuple(found), opened
        closed |= more


@record
class Running:
    """What runs while some loads are switched on, by name, and which fuses and breakers are out."""

    on: frozenset[str]
    out: tuple[Device, ...] = ()


@once
def on_with(study: Study, on: frozenset[str], *, kept_off: bool = True) -> Running:
    """Some loads that are switched on with what runs by the contacts that they close.

    What hangs behind a fuse or breaker that may be out meanwhile does not run, where it is to be
    `kept_off`: none is out that feeds anything that is switched on.
    """
    works = [work for work in (set_going(study, name) for name in sorted(on)) if work is not None]
    if not works:
        return Running(on)
    _, found, opened = _closed_by(study, on)
    running = {one.about.name for one in found}
    guards = {one.about.name: one for work in works for one in work.behind if kept_off}
    out = Open(opened.edges | set(map(edge_name, guards.values())))
    fed, left = served(study, opened), served(study, out)
    if on & fed <= left and running - left:
        return Running(on | (running & left), tuple(guards.values()))
    return Running(on | running)


def set_going_words(study: Study, turns: Iterable[Collection[str]]) -> str:
    """What coils set going among loads that are on in turn, and what works theirs; or nothing.

    Of each turn all that is on at one time: what a coil sets going and is none of it is kept off by
    the fuse or breaker before it, of all else one stands clear.
    """
    held = [frozenset(turn) for turn in turns]
    made = [set_going(study, name) for name in dict.fromkeys(n for on in held for n in sorted(on))]
    works = [work for work in made if work is not None]
    parts = dict[tuple[Load, ...], list[SetGoing]]()
    for work in works:
        parts.setdefault(work.loads, []).append(work)
    each = [one for loads in parts for one in loads]
    joint = [one for on in held for one in _closed_by(study, on)[1] if one not in each]
    by = _worked_by(study, held)
    if not each and not joint:
        return by
    coils = {work.coil.about.name for work in works if work.loads}
    in_turn = all(len(coils & on) <= 1 for on in held)
    told = [_told(study, some, in_turn=in_turn) for loads, some in parts.items() if loads or joint]
    if joint:
        words = dict.fromkeys(load_words(study.rig, one) for one in joint)
        told.append(f"together they turn on {joined_words(list(words))}")
    loads = {one.about.name: one for one in (*each, *joint)}
    minded = _minded(study, loads, held)
    return "; ".join((*filter(None, [by]), *told)) + (f": {minded}" if minded else "")


def _worked_by(study: Study, turns: Iterable[frozenset[str]]) -> str:
    """Which coils have to be on, beside what is, for loads to get current; empty for none."""
    rig, found = study.rig, dict[str, str]()
    for on in turns:
        loads = [rig.by_name.loads[name] for name in on]
        for relay, coil in contacts_of(rig).values():
            if coil.about.name not in on and any(hangs_behind(rig, relay, one) for one in loads):
                at = f" ({coil.circuit})" if coil.circuit else ""
                found[relay.about.name] = f"{load_words(rig, coil)}{at}"
    return "; ".join(f"with {coil} on, for {name} to close" for name, coil in found.items())


def _minded(study: Study, loads: Mapping[str, Load], turns: list[frozenset[str]]) -> str:
    """What is out before coils are switched on, and what is minded of what they set going."""
    runs, said = loads.keys() & frozenset().union(*turns), list[str]()
    guards = {one.about.name: one for on in turns for one in on_with(study, on).out}
    out = []
    for name, one in guards.items():
        how = unbolted_words(study, one)
        out.append(f"{name} {off_words(one)}" + (f" ({how})" if how else ""))
    if out:
        said.append(f"{in_a_row(out)} first, then back")
    if runs:
        is_moment = any(loads[name].traits.is_moment for name in runs)
        said.append(f"stand clear{MOMENT if is_moment else ''}")
    return "; ".join(said)


def _told(study: Study, works: list[SetGoing], *, in_turn: bool) -> str:
    closes = joined_words(
        [f"{work.coil.about.label or work.coil.about.name} closes {in_a_row(work.contacts)}"
         for work in works]
    )  # fmt: skip
    loads = dict.fromkeys(load_words(study.rig, one) for one in works[0].loads)
    if not loads:
        return closes
    each = "which turns on" if len(works) == 1 else "and turn on"
    if in_turn and len(works) > 1:
        each = "one at a time, each turns on"
    return f"{closes}, {each} {joined_words(list(loads))}"


def pressed_apart(study: Study, circuit: Circuit) -> tuple[Load, ...]:
    """The coils of a circuit that are not on at one time: each has a switch that others lack."""
    loads, works = study.rig.by_name.loads, coil_names(study.rig)
    coils = [loads[name] for name in circuit.loads if name in works]
    if len(coils) < 2:
        return ()
    back = study.net.walk([circuit.start])
    switches = {
        one.about.name: {edge_name(edge) for edge in path(back, one.plus) if _is_switch(edge)}
        for one in coils
    }

    def is_apart(one: Load, other: Load) -> bool:
        own, its = switches[one.about.name], switches[other.about.name]
        return bool(own - its and its - own)

    return tuple(one for one in coils if any(is_apart(one, other) for other in coils))


def _is_switch(edge: Edge) -> bool:
    return isinstance(edge, Device) and (edge.traits.starts_load or edge.traits.has_coil)


def _guards(study: Study, load: Load, coil: Load, opened: Open) -> Iterator[Device]:
    """The fuse or breaker next before a load, if the coil gets its current without it."""
    posts = [one.plus for one in study.rig.sources]
    back = study.net.walk(posts, opened.bars)
    for guard in [edge for edge in path(back, load.plus) if is_guard(edge)][:1]:
        waits = resting_open(study.rig) - coils_of(study.rig).keys()
        without = Open((opened.edges - waits) | {edge_name(guard)})
        if coil.plus in study.net.walk(posts, without.bars):
            yield guard
