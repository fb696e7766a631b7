"""What each kind of part is and does: the one place that tells kinds apart.

Everything else asks: `source.stores`, `device.traits.resets`. To add a kind, add its row here and
its word in `statements/`. Rows are looked up when they are asked for and never gathered at import.

The letters are the main classes of IEC 81346-2, from memory: C stores, F protects, G generates,
Q switches power, T converts, W guides from place to place, X joins, B senses.
"""

from rigfolio.record import record


@record
class Occasion:
    """What has to happen for some sources to give anything.

    `only` says so in a word, `how` what a state of that name means. `at_any_time` is said where
    nobody can rule it out, `doubt` where it may happen in one of `perhaps_with`, other occasions.
    """

    only: str
    how: str
    at_any_time: str = ""
    perhaps_with: tuple[str, ...] = ()
    doubt: str = ""


OCCASIONS = {
    "towing": Occasion("only when towing", "the tow vehicle is plugged in and its engine runs"),
    "shore": Occasion("only on shore power", "the shore cord is plugged in"),
    "engine": Occasion(
        "only with the engine running", "the engine runs", perhaps_with=("towing",),
        doubt="not known whether it is this engine",
    ),
    "sun": Occasion("only with sun", "the sun shines on the panels", "which may shine at any time"),
}  # fmt: skip
"""When sources give current, in the order in which such states are supplied."""


@record
class Opening:
    """A way in which a person keeps a part from passing or driving current.

    `turn` is its place in the order of work, `rank` how readily people use it, least first, of
    equally many. `by_wrench` is whether it takes a wrench on a live stud. `shut` is how it is
    undone, `sides` what a lamp is held between before that, `do` what to do where the kind of part
    says nothing better. What `is_no_switch` parts no current: it is opened with nothing drawing.
    """

    turn: int
    rank: int
    do: str = ""
    shut: str = "on again"
    sides: str = ""
    by_wrench: bool = False
    is_no_switch: bool = False


OPENINGS = {
    "source": Opening(1, 2),
    "converter": Opening(2, 6),
    "unplug": Opening(3, 1, "pull the plug"),
    "disconnect": Opening(4, 0, "open it", "close it", "its two sides"),
    "switch": Opening(5, 4, "switch it off", "close it", "its two sides"),
    "breaker": Opening(6, 3, "switch it off", "close it", "its two sides"),
    "fuse": Opening(7, 5, "pull it", "put it back", "the two sides of its holder",
                    is_no_switch=True),
    "lead": Opening(8, 7, "", "put it back on", "the post and the lifted lead", by_wrench=True),
    "unbolt": Opening(
        9, 8, "take it out with an insulated wrench", "put it back on", "its two studs",
        by_wrench=True, is_no_switch=True,
    ),
}  # fmt: skip
"""Ways to open a part by hand, or with a wrench."""


@record
class SourceKind:
    """A kind of source.

    Parameters
    ----------
    letter : str
        Its main class in IEC 81346-2.
    mark : str
        What names of such parts usually begin with in a rig file.
    symbol : str
        The name of its symbol.
    stores : bool
        Whether it keeps charge: it drives of itself at any time, and is charged.
    runs_with : str
        The occasion in which it gives current; empty where it is always there, or runs while its
        input is live.
    charges_with : str
        What else charges at the same time, `shore`, `engine` or `sun`: shore and engine do not go
        together, sun comes on top. Empty where it charges nothing.
    has_input : bool
        Whether it passes on what its terminal `.in` gets.
    serves : bool
        Whether loads can be left on it for hours.
    takes_back : bool
        Whether current may flow back into it, where nothing limits its output.
    own_frame : bool
        Whether its current comes back by a frame that is not part of the rig.
    needs_battery : bool
        Whether it may do harm when its last battery is taken off while it runs: alternators and
        solar controllers. What regulates its own output holds its volts or stops (common practice).
    guard_by_output : bool
        Whether rule books limit the device in its line by what it gives.
    opening : str
        How it is kept from driving: a key of `OPENINGS`.
    do : str
        The same as an order, `{name}` for its own, `{dark}` for what parts modules from it.
    turn : int
        Its place among sources that are ended in the same way.
    live_when : str
        What it is while it drives.
    in_legend : str
        What a legend of symbols calls it, where that is not its word.
    do_many : str
        The same where more than one wire has to come off, `{many}` and `{wires}` for them.
    has_capacitors : bool
        Whether capacitors at its terminals fill with a rush, and keep volts when it is parted.
    by_light : bool
        Whether light alone makes its current: it serves nothing but the input of a controller.
    """

    letter: str
    mark: str
    symbol: str
    opening: str
    do: str
    turn: int
    live_when: str
    stores: bool = False
    runs_with: str = ""
    charges_with: str = ""
    has_input: bool = False
    serves: bool = False
    takes_back: bool = False
    own_frame: bool = False
    needs_battery: bool = False
    guard_by_output: bool = False
    in_legend: str = ""
    do_many: str = ""
    has_capacitors: bool = False
    by_light: bool = False

    @property
    def charges(self) -> bool:
        """Whether it charges batteries."""
        return bool(self.charges_with)

    @property
    def only_gives(self) -> bool:
        """Whether it charges batteries, and nothing may flow back into it."""
        return self.charges and not self.takes_back


SOURCES = {
    "battery": SourceKind(
        "C", "B", "battery", "lead",
        "lift the minus lead ({name}\N{MINUS SIGN}) and tape it; the plus lead stays on", 9,
        "connected", stores=True, serves=True, takes_back=True,
        do_many="lift {many} wires on its minus post ({name}\N{MINUS SIGN}), {wires}, and tape "
        "each; the plus lead stays on",
    ),
    "charger": SourceKind(
        "T", "C", "charger", "source", "pull the shore cord, so that it cannot start by itself", 0,
        "on", runs_with="shore", charges_with="shore", has_capacitors=True,
    ),
    "solar": SourceKind(
        "G", "U", "solar", "source",
        "{dark}, before any battery lead", 3,
        "in the sun", runs_with="sun", charges_with="sun", needs_battery=True, has_capacitors=True,
    ),
    "array": SourceKind(
        "G", "Y", "array", "source",
        "cover the modules so that no light falls on them; they have no switch", 3, "in the sun",
        runs_with="sun", in_legend="solar modules", by_light=True,
    ),
    "alternator": SourceKind(
        "G", "A", "alternator", "source", "stop the engine and take the key out", 2, "running",
        runs_with="engine", charges_with="engine", needs_battery=True, guard_by_output=True,
    ),
    "vehicle": SourceKind(
        "G", "V", "vehicle", "source", "unplug the vehicle", 1, "plugged in", runs_with="towing",
        charges_with="engine", serves=True, takes_back=True, own_frame=True,
    ),
    "dc-dc": SourceKind(
        "T", "E", "dc-dc", "converter",
        "switch it off; without a switch, end what starts or feeds it, never by a fuse", 3, "on",
        charges_with="engine", has_input=True, serves=True, has_capacitors=True,
    ),
}  # fmt: skip
"""Every kind of source by its word."""

CAPACITIVE = {"inverter": True, "electronics": False}
"""Natures of loads with capacitors ahead of their switch, and whether these keep volts long."""


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
    in_legend : str
        What a legend of symbols calls it, where that is not its word.
    sided : bool
        Whether its two ends bear line and load on the part itself, and are not to be swapped.
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
    in_legend: str = ""
    sided: bool = False

    @property
    def selects(self) -> bool:
        """Whether it joins one of several ends to one that they share."""
        return len(self.ways) > 1

    @property
    def common(self) -> str:
        """The end that all its ways share; empty where it has one way."""
        return self.ends[self.ways[0][1]] if self.selects else ""

    @property
    def shares_name(self) -> bool:
        """Whether a part of this kind is more than one edge under one name."""
        return self.is_plug or self.selects

    @property
    def opens(self) -> bool:
        """Whether a person or a signal opens it: what lies behind it can be dead."""
        return bool(self.opened_by)


DEVICES = {
    "fuse": DeviceKind(
        "F", "F", "fuse", protects=True, alike=True, slot_family="regular", opening="fuse",
        bolted="unbolt", fails="is blown, missing or without contact", contact="holder", goes="in",
        out="fuses out",
    ),
    "breaker": DeviceKind(
        "F", "F", "breaker", protects=True, alike=True, resets=True, column="breaker",
        families=("breaker",), opening="breaker", fails="has opened", out="breakers off",
        sided=True,
    ),
    "disconnect": DeviceKind(
        "Q", "S", "disconnect", opened_by="hand", parts_rig=True, line_to_battery=True,
        needs_rating=True, opening="disconnect", sided=True,
    ),
    "selector": DeviceKind(
        "Q", "X", "selector", opened_by="hand", parts_rig=True, ends=("1", "2", "common"),
        ways=((0, 2), (1, 2)), needs_rating=True, opening="disconnect", do="turn it to OFF",
        shut="turn it back on",
    ),
    "combiner": DeviceKind(
        "Q", "Q", "combiner", opened_by="signal", ends=("1", "2"), alike=True, joins_banks=True,
        needs_rating=True, in_legend="combining relay",
    ),
    "relay": DeviceKind("Q", "K", "relay", opened_by="signal", needs_rating=True),
    "switch": DeviceKind("Q", "K", "switch", opened_by="hand", opening="switch", starts_load=True),
    "shunt": DeviceKind("B", "H", "shunt", alike=True, needs_rating=True),
    "connector": DeviceKind("X", "J", "connector", is_plug=True, opening="unplug",
                            in_legend="plug"),
}  # fmt: skip
"""Every kind of series device by its word; `out` words are listed in this order."""

USUAL_GUARD = "fuse"
"""What is meant where something protects and nobody said what; rule books list it always."""


def guards() -> tuple[str, ...]:
    """The kinds that open by themselves on too much current."""
    return tuple(word for word, kind in DEVICES.items() if kind.protects)


@record
class JunctionKind:
    """A kind of place where wires meet.

    `letter`, `mark` and `symbol` are as of a `SourceKind`. `is_bar` is whether it is a bar that
    returns may gather on and a meter is put on; `is_frame` whether it is the metal of the rig;
    `spoken` is what it is called in a sentence.
    """

    letter: str
    mark: str
    symbol: str
    spoken: str
    is_bar: bool = False
    is_frame: bool = False

    @property
    def is_joint(self) -> bool:
        """Whether it only joins wires and is no part by itself."""
        return not (self.is_bar or self.is_frame)


JUNCTIONS = {
    "busbar": JunctionKind("W", "N", "busbar", "bar", is_bar=True),
    "chassis": JunctionKind("X", "G", "chassis", "chassis", is_frame=True),
    "splice": JunctionKind("X", "Z", "splice", "splice"),
}
"""Every kind of junction by its word."""


def plural(word: str) -> str:
    """The word for several parts of a kind.

    Examples
    --------
    >>> plural("fuse"), plural("switch"), plural("chassis")
    ('fuses', 'switches', 'chassis')
    """
    if word.endswith("is"):
        return word
    return f"{word}es" if word.endswith(("ch", "s", "x")) else f"{word}s"


def with_article(word: str) -> str:
    """The word for one part of a kind with its article.

    Examples
    --------
    >>> with_article("relay"), with_article("alternator")
    ('a relay', 'an alternator')
    """
    return f"{'an' if word[:1] in 'aeiou' else 'a'} {word}"
