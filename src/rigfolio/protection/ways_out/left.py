"""What is left to do where no wire and no fuse in stock serves: by how many loads ask for it."""

from collections.abc import Callable, Iterable, Sequence

from rigfolio.books import Limit
from rigfolio.demand import flows_of
from rigfolio.model import Conductor, Device
from rigfolio.network import edge_name
from rigfolio.operating import user_of
from rigfolio.record import replace
from rigfolio.standard_sizes import is_thicker, rating_above, thinnest
from rigfolio.study import Study
from rigfolio.units import Size
from rigfolio.wording import listed_wires

LimitOf = Callable[[Conductor, Size], Limit | None]
_PART = "part the loads"
OUTSIDE = "from outside the panel"
"""Where loads get their current that are too much for a slot."""
_MOST_BESIDE = 4


def serves_several(study: Study, edges: Iterable[str]) -> bool:
    """Whether some edges serve more than one load, so that there is something to part."""
    flows = flows_of(study)
    users = {user for edge in edges for user in flows.users(edge)}
    return sum(user_of(load) in users for load in study.rig.loads) > 1


def or_parted(study: Study, edges: Iterable[str], rest: str) -> str:
    """Another way out in words, behind that of parting the loads where there are several."""
    return f"{_PART}, or {rest}" if serves_several(study, edges) else rest


def parted(study: Study, edges: Sequence[str]) -> str:
    """What takes current off some edges where nothing there can carry more, in words."""
    return _PART if serves_several(study, edges) else _less(study, edges)


def led_elsewhere(study: Study, edges: Sequence[str], where: str, of_several: str = "") -> str:
    """That a load is fed another way, which `where` says, or `of_several` that are not parted."""
    if serves_several(study, edges):
        return f"{_PART}, or feed them {of_several or where}"
    return f"feed it {where}"


def copper_left(
    study: Study,
    wires: Sequence[Conductor],
    current_a: float,
    limit_of: LimitOf,
    fuse: str = "",
) -> str:
    """What is left where no single wire carries a current [A]; `fuse` is one that it asks for.

    Loads are parted where there are several. One alone asks for conductors side by side, as far as
    the rule book bears that many.
    """
    if serves_several(study, (wire.name for wire in wires)):
        return _PART
    found = _beside(study, wires, current_a, limit_of)
    if found is None:
        return _less(study, (wire.name for wire in wires))
    beside = " and ".join(
        f"`{count} conductors in parallel` of `{size.text}` for {listed_wires(group)}"
        for (count, size), group in found.items()
    )
    return f"{beside}, and {fuse}" if fuse else beside


def section_left(
    study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf
) -> str:
    """As `copper_left`, without a number; of several loads it says nothing."""
    if serves_several(study, (wire.name for wire in wires)):
        return ""
    if _beside(study, wires, current_a, limit_of) is None:
        return _less(study, (wire.name for wire in wires))
    is_carried = all(thinnest(wire, current_a, study.book, limit_of) for wire in wires)
    return f"conductors in parallel, {'or a shorter way' if is_carried else 'out and back'}"


def fuse_left(study: Study, device: Device, needed_a: float) -> str:
    """What is left where no fuse of the kind of a device carries what it must [A]."""
    edges = [edge_name(device)]
    if serves_several(study, edges):
        return _PART
    if rating_above(needed_a) is None:
        return _less(study, edges)
    return f"feed it {OUTSIDE}" if device.in_slot else "another kind of fuse"


def _less(study: Study, edges: Iterable[str]) -> str:
    most = flows_of(study).most(edges)
    if most.charge_a > most.loads_a:
        return "a charger that gives less"
    return "a load that draws less, or works at more volts"


def _beside(
    study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf
) -> dict[tuple[int, Size], list[Conductor]] | None:
    """How many conductors of what size each wire is to be, as few as do; None if too many."""
    found: dict[tuple[int, Size], list[Conductor]] = {}
    for wire in wires:
        for count in range(wire.count + 1, _MOST_BESIDE + 1):
            size = thinnest(replace(wire, count=count), current_a, study.book, limit_of)
            if size is None:
                continue
            # Nobody is told to lay thinner wire than is there.
            if isinstance(wire.size, Size) and not is_thicker(size, wire):
                size = wire.size
            found.setdefault((count, size), []).append(wire)
            break
        else:
            return None
    return found
