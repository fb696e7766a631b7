"""What a message calls a wire, a load, a place or a limit, in backticks and in a row."""

from collections.abc import Iterable, Sequence

from rigfolio.books import Limit
from rigfolio.model import Conductor, Load, Rig
from rigfolio.units import apart, is_over, show, show_limit
from rigfolio.values import MINUS
from rigfolio.wording.names import short_end

_IN_INCHES_M = 2.54
"""Up to here a length beside a gauge is spoken in inches, as the rule books do."""


def name_of(wire: Conductor) -> str:
    """A conductor as a message calls it."""
    return f"the leads of `{wire.circuit}`" if wire.lead else f"`{wire.name}`"


def label_of(load: Load) -> str:
    """A load as a message calls it: by its name, with the label where it has one beside it."""
    return str(load.about)


def load_name(rig: Rig, name: str) -> str:
    """A load as a message calls it."""
    load = rig.by_name.loads.get(name)
    return f"`{label_of(load)}`" if load is not None else f"`{name}`"


def capital(words: str) -> str:
    """Words as they begin a sentence; a name that goes on keeps its letters."""
    return words[:1].upper() + words[1:]


def all_dark_words(kept: Iterable[Load], *, is_one: bool) -> str:
    """What batteries do that cut off: `all that it feeds goes dark, `Alarm` with it`.

    `kept` are those of the loads that must stay on, `is_one` is whether it is one battery alone.
    """
    names = [label_of(load) for load in kept]
    with_it = f", {listed(names)} with it" if names else ""
    return f"all that {'it feeds' if is_one else 'they feed'} goes dark{with_it}"


def place(rig: Rig, terminal: str) -> str:
    """A terminal as a message calls it, to be typed."""
    return f"`{short_end(rig, terminal).replace(MINUS, '-')}`"


def listed_wires(wires: Sequence[Conductor]) -> str:
    """Conductors as a message calls them."""
    return joined_words(list(dict.fromkeys(name_of(wire) for wire in wires)))


def listed(names: Iterable[str], most: int = 5) -> str:
    """Names in backticks, `a`, `b` and `c`; beyond some only how many more."""
    quoted = [f"`{name}`" for name in dict.fromkeys(names)]
    return joined_words(quoted, most)


def joined_words(words: Sequence[str], most: int = 5, by: str = "and") -> str:
    """Words with commas and `and`, or `or`; beyond some only how many more."""
    if len(words) > most:
        return f"{', '.join(words[: most - 1])} {by} {len(words) - most + 1} more"
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {by} {words[-1]}"


def carrying(limit: Limit) -> str:
    """What a conductor may carry, or how it may be fused, and how that was worked out."""
    value = show_limit(limit.value, "A")
    may = may_words(of_device=limit.of_device)
    if limit.is_bound:
        return f"{may} less than {limit.how}"
    if limit.how.startswith(f"{value} for"):
        return f"{may} {limit.how}"
    return f"{may} {value}: {limit.how}"


def may_bear(limit: Limit, shown: str = "") -> str:
    """What a conductor may carry, with the verb; how it may be fused where that is more.

    Examples
    --------
    >>> from rigfolio.findings import Citation
    >>> row = Citation("a row", "seen")
    >>> may_bear(Limit(80.0, row)), may_bear(Limit(120.0, row, of_device=True))
    ('may carry 80 A', 'may be fused at 120 A')
    """
    return f"{may_words(of_device=limit.of_device)} {bears(limit, shown)}"


def may_words(*, of_device: bool) -> str:
    """The verb before what a conductor may carry, or before what the device ahead of it may be."""
    return "may be fused at" if of_device else "may carry"


def bears(limit: Limit, shown: str = "") -> str:
    """What a conductor may carry, in a figure; `less than` it where no more is known."""
    value = shown or show_limit(limit.value, "A")
    return f"less than {value}" if limit.is_bound else value


def distance(length_m: float, wire: Conductor, beside_m: float = 0.0) -> str:
    """A length as it is spoken beside a wire: inches or feet for a gauge, millimetres or metres.

    It is how far something is, where there is a limit to hold it against, else such a limit.
    """
    unit = "mm" if length_m < 1.0 else "m"
    if wire.size_is_awg:
        unit = "in" if length_m <= _IN_INCHES_M else "ft"
    return apart(length_m, beside_m, unit) if beside_m else show_limit(length_m, unit)


def lost_words(wire: Conductor, wire_v: float, whole_v: float) -> str:
    """Which wire loses the largest share of some volts; most of them only if more than half."""
    if is_over(wire_v, whole_v / 2.0):
        return f"most of it is lost in {name_of(wire)}"
    return f"{name_of(wire)} loses more than any other wire, {show(wire_v, 'V')} of it"
