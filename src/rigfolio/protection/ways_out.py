"""Ways out that serve the wire and the load."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial

from rigfolio.books import Limit
from rigfolio.demand import flows_of
from rigfolio.findings import Fix
from rigfolio.model import Conductor, Device, Load
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.limits import limit_in, limit_of
from rigfolio.standard_sizes import is_thicker, rating_above, rating_below, thinnest
from rigfolio.study import Study
from rigfolio.units import Size, show_against, show_limit, show_load
from rigfolio.values import MINUS
from rigfolio.wording import short_end

_IN_INCHES_M = 2.54
"""Up to here a length beside a gauge is spoken in inches, as the rule books do."""

LimitOf = Callable[[Conductor, Size], Limit | None]


def fuse_or_copper(
    study: Study, wires: Sequence[Conductor], limit_a: float, devices: Sequence[Device]
) -> Fix:
    """A smaller fuse where the loads allow it; copper where they do not.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that may carry too little.
    limit_a : float
        What all devices together may let through, other supplies taken off [A].
    devices : Sequence[Device]
        The devices that let too much through.

    Returns
    -------
    Fix
        Never a rating above the limit of the wires that stay.
    """
    demands = [flows_of(study).demand(d.about.name) for d in devices]
    demands += [flows_of(study).demand(wire.name) for wire in wires]
    needed_a = max(demand.current_a for demand in demands)
    unknown = next((name for demand in demands for name in demand.unknown), "")
    smaller = rating_below(limit_a, devices[0])
    if smaller is not None and smaller >= needed_a and _is_one_place(study, devices):
        word = f"`{devices[0].kind} {show_limit(smaller, 'A')}`"
        if len(devices) > 1:
            word = f"one {word} in place of {listed(d.about.name for d in devices)}"
        if unknown:
            word += f", if that serves {load_name(study, unknown)}: what it draws is unknown"
        return Fix(word, "show" if unknown or len(devices) > 1 else "ask")
    bears = limit_of(study, wires[0])
    bears_a = limit_a if bears is None else bears.value
    if len(devices) > 1 or limit_a < bears_a:
        return _several_supplies(study, wires, bears_a)
    return _copper_and_fuse(study, wires, devices[0], needed_a)


def _several_supplies(study: Study, wires: Sequence[Conductor], bears_a: float) -> Fix:
    """A fuse of its own where a wire begins that more than one supply drives into."""
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    most_a = rating_below(bears_a)
    begins = f"where {name_of(wires[0])} begins"
    if most_a is not None and most_a >= needed_a:
        return Fix(f"a fuse of its own, {show_limit(most_a, 'A')} at most, {begins}")
    fitting = rating_above(needed_a)
    thicker = None if fitting is None else _thicker(study, wires, fitting, partial(limit_in, study))
    if fitting is None or thicker is None:
        return Fix(f"no fuse and no stock size serve {show_load(needed_a, 'A')}: part the loads")
    return Fix(f"{thicker}, and a fuse of its own, {show_limit(fitting, 'A')}, {begins}")


def _is_one_place(study: Study, devices: Sequence[Device]) -> bool:
    """Whether devices stand side by side, so that one can take their place."""
    zone = reach_of(study).zone
    return len({frozenset((zone[d.line], zone[d.load])) for d in devices}) == 1


def _copper_and_fuse(
    study: Study, wires: Sequence[Conductor], device: Device, needed_a: float
) -> Fix:
    need = need_of(study, [device.about.name, *(wire.name for wire in wires)])
    slot_a = slot_limit_a(study, device)
    fitting = rating_above(needed_a, device)
    if slot_a is not None and needed_a > slot_a:
        return Fix(
            f"no fuse is right here: {need}, the slot gives {show_limit(slot_a, 'A')}; feed them "
            "from outside the panel, by thicker wire with a fuse of its own"
        )
    where = None if fitting is None else _thicker(study, wires, fitting, partial(limit_in, study))
    if fitting is None or where is None:
        return Fix(f"no fuse and no stock size are right here: {need}; part the loads")
    also = f", and `{device.kind} {show_limit(fitting, 'A')}`" if fitting != device.rating_a else ""
    return Fix(f"{where}{also}: {need}")


def need_of(study: Study, edges: Iterable[str]) -> str:
    """What some edges must carry, in words: what the loads need, or what charging needs."""
    most = flows_of(study).most(edges)
    if most.charge_a > most.loads_a:
        return f"charging needs {show_load(most.charge_a, 'A')}"
    return f"the loads need {show_load(most.loads_a, 'A')}"


def copper(study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf) -> Fix:
    """A thicker wire for a current."""
    where = _thicker(study, wires, current_a, limit_of)
    if where is None:
        return Fix(f"no stock size carries {show_load(current_a, 'A')}: part the loads")
    return Fix(where, "ask")


def _thicker(
    study: Study, wires: Sequence[Conductor], current_a: float, limit_of: LimitOf
) -> str | None:
    """The copper that some wires need for a current, in words."""
    sizes = [(wire, thinnest(wire, current_a, limit_of)) for wire in wires]
    found: dict[str, list[Conductor]] = {}
    for wire, size in sizes:
        if size is None:
            return None
        if is_thicker(size, wire):
            found.setdefault(size.text, []).append(wire)
    if not found:
        return None
    parts = []
    for text, group in found.items():
        circuit = study.circuit(group[0].circuit)
        both = ", out and back" if circuit is not None and circuit.return_assumed else ""
        parts.append(f"`{text}` for {listed_wires(group)}{both}")
    return " and ".join(parts)


def slot_limit_a(study: Study, device: Device) -> float | None:
    """What the slot of a device is made for [A]; None where it sits in none or it is not known."""
    if not device.in_slot:
        return None
    panel = study.panel(device.load.rsplit(".", 1)[0])
    return panel.slot_a if panel is not None and isinstance(panel.slot_a, float) else None


def name_of(wire: Conductor) -> str:
    """A conductor as a message calls it."""
    return f"the leads of `{wire.circuit}`" if wire.lead else f"`{wire.name}`"


def load_name(study: Study, name: str) -> str:
    """A load as a message calls it."""
    load = study.rig.by_name.loads.get(name)
    return f"`{label_of(load)}`" if load is not None else f"`{name}`"


def label_of(load: Load) -> str:
    """A load as a message calls it: by its name, with the label where it has one beside it."""
    return str(load.about)


def listed_wires(wires: Sequence[Conductor]) -> str:
    """Conductors as a message calls them."""
    return joined_words(list(dict.fromkeys(name_of(wire) for wire in wires)))


def listed(names: Iterable[str], most: int = 5) -> str:
    """Names in backticks, `a`, `b` and `c`; beyond some only how many more."""
    quoted = [f"`{name}`" for name in dict.fromkeys(names)]
    return joined_words(quoted, most)


def joined_words(words: Sequence[str], most: int = 5) -> str:
    """Words with commas and `and`; beyond some only how many more."""
    if len(words) > most:
        return f"{', '.join(words[: most - 1])} and {len(words) - most + 1} more"
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def carrying(limit: Limit) -> str:
    """What a conductor may carry and how that was worked out."""
    value = show_limit(limit.value, "A")
    if limit.is_bound:
        return f"may carry less than {limit.how}"
    if limit.how.startswith(f"{value} for"):
        return f"may carry {limit.how}"
    return f"may carry {value}: {limit.how}"


def bears(limit: Limit, shown: str = "") -> str:
    """What a conductor may carry, in a figure; `less than` it where no more is known."""
    value = shown or show_limit(limit.value, "A")
    return f"less than {value}" if limit.is_bound else value


def sure_a(limit: Limit) -> float:
    """What a device before a conductor may surely be rated [A]: nothing where none is known."""
    return 0.0 if limit.is_bound else limit.value


def distance(length_m: float, wire: Conductor, beside_m: float = 0.0) -> str:
    """A length as it is spoken beside a wire: inches or feet for a gauge, millimetres or metres.

    It is how far something is, where there is a limit to hold it against, else such a limit.
    """
    unit = "mm" if length_m < 1.0 else "m"
    if wire.size_is_awg:
        unit = "in" if length_m <= _IN_INCHES_M else "ft"
    return apart(length_m, beside_m, unit) if beside_m else show_limit(length_m, unit)


def apart(value: float, beside: float, unit: str, digits: int = 3) -> str:
    """A load with as many digits as it takes to tell it from the limit that it is held against.

    Examples
    --------
    >>> apart(41.0, 30.0, "A"), apart(30.04, 30.0, "A"), apart(0.0304, 0.03, "%", 2)
    ('41 A', '30.1 A', '3.1 %')
    """
    return show_against(value, beside, unit, digits)[0]


def place(study: Study, terminal: str) -> str:
    """A terminal as a message calls it, to be typed."""
    return f"`{short_end(study.rig, terminal).replace(MINUS, '-')}`"


def fuse_near(
    study: Study, wires: Sequence[Conductor], limit_a: float, where: str, more: str = ""
) -> Fix:
    """A fuse for wires that have none, and thicker wire where the loads need more than they bear.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that nothing protects.
    limit_a : float
        What the thinnest of them may carry [A].
    where : str
        Where the fuse belongs, in words.
    more : str
        What else is to be said.
    """
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    most_a = rating_below(limit_a)
    if most_a is not None and most_a >= needed_a:
        return Fix(f"a fuse of no more than {show_limit(most_a, 'A')} {where}{more}")
    fitting = rating_above(needed_a)
    thicker = None if fitting is None else _thicker(study, wires, fitting, partial(limit_in, study))
    need = need_of(study, (wire.name for wire in wires))
    if fitting is None or thicker is None:
        return Fix(f"a fuse {where} and wire to match it: {need}{more}")
    return Fix(f"{thicker}, and a fuse of {show_limit(fitting, 'A')} {where}: {need}{more}")
