"""What a coil sets going: the contacts that close with it, and what runs behind them.

A person who switches a coil on has the heavy load run that hangs behind its contact, and may have a
hand on it.
"""

from collections.abc import Collection, Iterable, Iterator

from rigfolio.isolation import Open
from rigfolio.model import Circuit, Device, Load
from rigfolio.network import Edge, coils_of, edge_name, is_guard, path, resting_open
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.wording import in_a_row, joined_words, load_words, off_words


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
    coils = coils_of(study.rig)
    closed = {edge for edge, coil in coils.items() if coil.about.name == name}
    if not closed:
        return None
    resting = resting_open(study.rig) | coils.keys()
    before = {one.about.name for one in _fed(study, Open(frozenset(resting)))}
    found: list[Load] = []
    while True:
        opened = Open(frozenset(resting - closed))
        found = [one for one in _fed(study, opened) if one.about.name not in before]
        names = {one.about.name for one in found}
        more = {edge for edge, coil in coils.items() if coil.about.name in names} - closed
        if not more:
            break
        closed |= more
    contacts = dict.fromkeys(d.about.name for d in study.rig.devices if edge_name(d) in closed)
    coil = study.rig.by_name.loads[name]
    guards = {d.about.name: d for one in found for d in _guards(study, one, coil, opened)}
    return SetGoing(coil, tuple(contacts), tuple(found), tuple(guards.values()))


def set_going_words(study: Study, turns: Iterable[Collection[str]]) -> str:
    """What loads set going that are on in turn, by name, and what keeps it from that; or nothing.

    Of each turn all that is on at one time.
    """
    held = [frozenset(turn) for turn in turns]
    made = [set_going(study, name) for name in dict.fromkeys(n for on in held for n in sorted(on))]
    works = [work for work in made if work is not None and work.loads]
    coils = {work.coil.about.name for work in works}
    in_turn = all(len(coils & on) <= 1 for on in held)
    if not works:
        return ""
    parts = dict[tuple[Load, ...], list[SetGoing]]()
    for work in works:
        parts.setdefault(work.loads, []).append(work)
    told = "; ".join(_told(study, some, in_turn=in_turn) for some in parts.values())
    guards = {one.about.name: one for work in works for one in work.behind}
    first = in_a_row([f"{name} {off_words(one)}" for name, one in guards.items()])
    return f"{told}: {f'{first} first, or ' if first else ''}stand clear"


def _told(study: Study, works: list[SetGoing], *, in_turn: bool) -> str:
    closes = joined_words(
        [f"{work.coil.about.label or work.coil.about.name} closes {in_a_row(work.contacts)}"
         for work in works]
    )  # fmt: skip
    loads = dict.fromkeys(load_words(study.rig, one) for one in works[0].loads)
    each = "which turns on" if len(works) == 1 else "and turn on"
    if in_turn and len(works) > 1:
        each = "one at a time, each turns on"
    return f"{closes}, {each} {joined_words(list(loads))}"


def pressed_apart(study: Study, circuit: Circuit) -> tuple[Load, ...]:
    """The coils of a circuit that are not on at one time: each has a switch that others lack."""
    works = {coil.about.name for coil in coils_of(study.rig).values()}
    loads = study.rig.by_name.loads
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


def _fed(study: Study, opened: Open) -> Iterator[Load]:
    """The loads that some source reaches at both ends."""
    sources = study.rig.sources
    plus = study.net.walk([one.plus for one in sources], opened.bars)
    minus = study.net.walk([one.minus for one in sources], opened.bars)
    yield from (one for one in study.rig.loads if one.plus in plus and one.minus in minus)


def _guards(study: Study, load: Load, coil: Load, opened: Open) -> Iterator[Device]:
    """The fuse or breaker next before a load, if the coil gets its current without it."""
    posts = [one.plus for one in study.rig.sources]
    back = study.net.walk(posts, opened.bars)
    for guard in [edge for edge in path(back, load.plus) if is_guard(edge)][:1]:
        waits = resting_open(study.rig) - coils_of(study.rig).keys()
        without = Open((opened.edges - waits) | {edge_name(guard)})
        if coil.plus in study.net.walk(posts, without.bars):
            yield guard
