"""What a person names to have it made dead: its terminals, and what feeds it, where hands go."""

from rigfolio.isolation.plans.parted import coming_back_by
from rigfolio.model import Circuit, Device, Rig
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import Named, NameKind, finder_of, terminals_of


@record
class Target:
    """What is to be made dead: name, label, terminals.

    `with_it` are terminals that have to be dead with it, since hands go to what feeds it: to the
    bar behind a slot. `condition` is what it is marked as, where that is the reason. `comes_back`
    are loads of others, by name, that have to be dead since they come back by the part.
    """

    name: str
    label: str
    terminals: tuple[str, ...]
    with_it: tuple[str, ...] = ()
    condition: str = ""
    comes_back: tuple[str, ...] = ()


def place_of(rig: Rig, text: str, kind: NameKind | None = None) -> Target:
    """What a person means to make dead: a panel with all its slots, a circuit, a part, an end.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    found = finder_of(rig).the(text, kind)
    return Target(found.name, found.label, terminals_of(rig, found.kind, found.key).plus)


def hands_at(study: Study, text: str, kind: NameKind | None = None) -> Target:
    """The same with what feeds it, where hands go there: a slot that is free, or to be mended.

    A panel with what comes back by its own minus bar.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    rig = study.rig
    found = finder_of(rig).the(text, kind)
    terminals, condition = terminals_of(rig, found.kind, found.key).plus, _condition(rig, found)
    with_it = _feeding(rig, found) if condition or found.kind == "slot" else ()
    with_it = tuple(end for end in with_it if end not in terminals)
    panel = study.panel(found.key) if found.kind == "panel" else None
    back = coming_back_by(study, panel) if panel is not None else ()
    ends = dict.fromkeys((*terminals, *with_it, *(load.plus for load in back)))
    names = tuple(load.about.name for load in back)
    return Target(found.name, found.label, tuple(ends), with_it, condition, names)


def _condition(rig: Rig, part: Named) -> str:
    """What a circuit, its first device or a slot is marked as; empty where nothing is wrong."""
    circuit, device = _begun_by(rig, part)
    marks = [circuit.condition] if circuit is not None else []
    marks += [device.about.condition] if device is not None else []
    marks += [one.condition for one in rig.remarks if one.place == part.key]
    return next(filter(None, marks), "")


def _feeding(rig: Rig, part: Named) -> tuple[str, ...]:
    """What feeds a slot or the first device of a circuit: the fuse that is out leaves it live."""
    if part.kind == "slot":
        return (rig.by_name.panels[part.key.rpartition(".")[0]].bus,)
    _, device = _begun_by(rig, part)
    return (device.line,) if device is not None else ()


def _begun_by(rig: Rig, part: Named) -> tuple[Circuit | None, Device | None]:
    """A part as a circuit, and the device that it begins with or is."""
    circuit = rig.by_name.circuits.get(part.key) if part.kind == "circuit" else None
    return circuit, rig.by_name.devices.get(circuit.device if circuit is not None else part.key)
