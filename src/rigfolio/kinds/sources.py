"""Kinds of sources, and what has to happen for some of them to give anything.

The letters are the main classes of IEC 81346-2, from memory: C stores, F protects, G generates,
Q switches power, T converts, W guides from place to place, X joins, B senses.
"""

from rigfolio.record import record


@record
class Occasion:
    """What has to happen for some sources to give anything.

    `only` says so in a word, `how` what a state of that name means. `at_any_time` is said where
    nobody can rule it out, `doubt` where it may happen in one of `perhaps_with`, other occasions.
    What may happen at any time happens beside everything else: `full` calls the hours in which it
    gives the most.
    """

    only: str
    how: str
    at_any_time: str = ""
    perhaps_with: tuple[str, ...] = ()
    doubt: str = ""
    full: str = ""


OCCASIONS = {
    "towing": Occasion("only when towing", "the tow vehicle is plugged in and its engine runs"),
    "shore": Occasion("only on shore power", "the shore cord is plugged in"),
    "engine": Occasion(
        "only with the engine running", "the engine runs", perhaps_with=("towing",),
        doubt="not known whether it is this engine",
    ),
    "sun": Occasion(
        "only with sun", "the sun shines on the panels", "which may shine at any time",
        full="hours of full sun",
    ),
    "wind": Occasion(
        "only with wind", "the wind blows", "which may blow at any time",
        full="hours of full wind, how many a day has is not known",
    ),
}  # fmt: skip
"""When sources give current, in the order in which such states are supplied."""


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
        What else charges at the same time, `shore`, `engine`, `sun` or `wind`: shore and engine do
        not go together, what may happen at any time comes on top. Empty where it charges nothing.
    has_input : bool
        Whether it passes on what its terminal `.in` gets.
    serves : bool
        Whether loads can be left on it for hours.
    takes_back : bool
        Whether current may flow back into it, where nothing limits its output.
    own_frame : bool
        Whether its current comes back by a frame that is not part of the rig.
    needs_battery : bool
        Whether it may do harm when its last battery is taken off while it runs: alternators, solar
        controllers, turbines. What regulates its own output holds its volts or stops (common
        practice).
    runs_away : bool
        Whether it speeds up, and its volts with it, as soon as nothing takes its current: a fuse or
        a switch in its output ends nothing, only its own brake does (common practice).
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
    runs_away: bool = False
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
    "turbine": SourceKind(
        "G", "T", "turbine", "source",
        "brake it by its own brake switch (shorted) and tag that, before any battery lead or "
        "switch is opened", -1, "turning", runs_with="wind", charges_with="wind",
        needs_battery=True, runs_away=True, has_capacitors=True, in_legend="wind turbine",
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
