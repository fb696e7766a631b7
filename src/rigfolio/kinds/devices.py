"""Kinds of devices in series with a wire.

The letters are the main classes of IEC 81346-2, from memory: C stores, F protects, G generates,
Q switches power, T converts, W guides from place to place, X joins, B senses.
"""

from rigfolio.record import record


@record
class DeviceKind:
    """A kind of device in series with a wire.

    Parameters
    ----------
    letter, mark, symbol
        As of a `SourceKind`.
    protects : bool
        Whether it opens by itself on too much current.
    opened_by : str
        What else opens it: `hand`, `signal`, or empty.
    parts_rig : bool
        Whether it is there to make a part of the rig dead: it stands open in storage.
    is_plug : bool
        Whether it is a plug with numbered pins, which part together.
    ends : tuple of str
        The names of its ends, or of those of each pin.
    ways : tuple of (int, int)
        The ends that it joins, by their place in `ends`: more than one way where it selects.
    excludes : bool
        Whether only one of its ways is made at a time, and none in between.
    alike : bool
        Whether nobody needs to know which end is which.
    line_to_battery : bool
        Whether its first end is that of the battery, however else it is fed.
    joins_banks : bool
        Whether it closes by itself while something charges, and joins banks then.
    needs_rating : bool
        Whether its rating is wanted even where the text does not ask for it.
    resets : bool
        Whether it is switched on again after it has opened; if not, something new is put in.
    starts_load : bool
        Whether it starts and stops one load, so that it rests open where the load waits.
    column : str
        Which device of a rule book it is judged as.
    families : tuple of str
        The families that it can be of, where the text names none; empty for any.
    slot_family : str
        The family that a slot holds where the text names none.
    opening : str
        How it is opened by hand: a key of `OPENINGS`; empty where it cannot be.
    bolted : str
        The same where it is held by nuts.
    do, shut : str
        The order for it where that of its `opening` does not fit, and how that is undone.
    fails : str
        What is wrong where it passes nothing.
    contact : str
        Where its contacts are, before its word; empty where it is all one.
    goes, out : str
        What it is when it is in place, and what those of a panel are when none is.
    many : str
        What several of them are called above a list, those that a reader takes for alike among
        them, where it is not its word with an s.
    in_legend : str
        What a legend of symbols calls it, where that is not its word.
    sided : bool
        Whether its two ends bear line and load on the part itself, and are not to be swapped.
    in_circuit : bool
        Whether it may stand in a circuit, among its wires.
    has_coil : bool
        Whether a coil closes it, which is a load of its own.
    symbol_closed : str
        The name of the symbol of one that rests closed; empty where nothing is said of its rest.
    """

    letter: str
    mark: str
    symbol: str
    protects: bool = False
    opened_by: str = ""
    parts_rig: bool = False
    is_plug: bool = False
    ends: tuple[str, ...] = ("line", "load")
    ways: tuple[tuple[int, int], ...] = ((0, 1),)
    excludes: bool = False
    alike: bool = False
    line_to_battery: bool = False
    joins_banks: bool = False
    needs_rating: bool = False
    starts_load: bool = False
    resets: bool = False
    column: str = "fuse"
    families: tuple[str, ...] = ()
    slot_family: str = ""
    opening: str = ""
    bolted: str = ""
    do: str = ""
    shut: str = ""
    fails: str = "is open or gives no contact"
    contact: str = ""
    goes: str = "on"
    out: str = ""
    many: str = ""
    in_legend: str = ""
    sided: bool = False
    in_circuit: bool = False
    has_coil: bool = False
    symbol_closed: str = ""

    @property
    def has_positions(self) -> bool:
        """Whether it joins one of several ends, or more, to one that they share."""
        return len(self.ways) > 1

    @property
    def selects(self) -> bool:
        """Whether it joins banks to what they feed: one of them, or all at one time."""
        return self.has_positions and not self.excludes

    @property
    def common(self) -> str:
        """The end that all its ways share; empty where it has one way."""
        return self.ends[self.ways[0][1]] if self.has_positions else ""

    @property
    def shares_name(self) -> bool:
        """Whether a part of this kind is more than one edge under one name."""
        return self.is_plug or self.has_positions

    @property
    def opens(self) -> bool:
        """Whether a person or a signal opens it: what lies behind it can be dead."""
        return bool(self.opened_by)


DEVICES = {
    "fuse": DeviceKind(
        "F", "F", "fuse", protects=True, alike=True, slot_family="regular", opening="fuse",
        bolted="unbolt", fails="is blown, missing or without contact", contact="holder", goes="in",
        out="fuses out", in_circuit=True,
    ),
    "breaker": DeviceKind(
        "F", "F", "breaker", protects=True, alike=True, resets=True, column="breaker",
        families=("breaker",), opening="breaker", fails="has opened", out="breakers off",
        sided=True, in_circuit=True,
    ),
    "disconnect": DeviceKind(
        "Q", "S", "disconnect", opened_by="hand", parts_rig=True, line_to_battery=True,
        needs_rating=True, opening="disconnect", many="switches", sided=True,
    ),
    "selector": DeviceKind(
        "Q", "X", "selector", opened_by="hand", parts_rig=True, ends=("1", "2", "common"),
        ways=((0, 2), (1, 2)), needs_rating=True, opening="disconnect", do="turn it to OFF",
        shut="turn it back on", many="switches",
    ),
    "combiner": DeviceKind(
        "Q", "Q", "combiner", opened_by="signal", ends=("1", "2"), alike=True, joins_banks=True,
        needs_rating=True, many="relays", in_legend="combining relay",
    ),
    "relay": DeviceKind("Q", "K", "relay", opened_by="signal", has_coil=True, needs_rating=True,
                        in_circuit=True, symbol_closed="break relay"),
    "switch": DeviceKind("Q", "K", "switch", opened_by="hand", opening="switch", starts_load=True,
                         many="switches", in_circuit=True, symbol_closed="break switch"),
    "changeover": DeviceKind("Q", "K", "changeover", opened_by="hand", opening="switch",
                             ends=("1", "2", "common"), ways=((0, 2), (1, 2)), excludes=True,
                             starts_load=True, in_circuit=True, do="turn it to OFF",
                             shut="turn it back on", many="switches",
                             in_legend="change-over switch"),
    "shunt": DeviceKind("B", "H", "shunt", alike=True, needs_rating=True),
    "connector": DeviceKind("X", "J", "connector", is_plug=True, opening="unplug",
                            many="plugs", in_legend="plug"),
}  # fmt: skip
"""Every kind of series device by its word; `out` words are listed in this order."""

USUAL_GUARD = "fuse"
"""What is meant where something protects and nobody said what; rule books list it always."""


def guards() -> tuple[str, ...]:
    """The kinds that open by themselves on too much current."""
    return tuple(word for word, kind in DEVICES.items() if kind.protects)


def in_circuits() -> tuple[str, ...]:
    """The kinds that may stand in a circuit, among its wires."""
    return tuple(word for word, kind in DEVICES.items() if kind.in_circuit)
