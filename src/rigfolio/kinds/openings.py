"""How a person keeps a part from passing or driving current."""

from rigfolio.record import record


@record
class Opening:
    """A way in which a person keeps a part from passing or driving current.

    `turn` is its place in the order of work, `rank` how readily people use it, least first, of
    equally many. `by_wrench` is whether it takes a wrench, `at_live_stud` whether that is put to
    what stays live: nothing is made dead so where a lead can be lifted instead. `shut` is how it is
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
    at_live_stud: bool = False


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
        9, 8, "take it out with an insulated wrench; it is held by nuts and one stud stays live",
        "put it back on", "its two studs",
        by_wrench=True, is_no_switch=True, at_live_stud=True,
    ),
    "resetting": Opening(
        8, 8, "it has no handle and closes again by itself: take the lead off its load stud with "
        "an insulated wrench, nothing drawing, and insulate it", "the lead back on its load stud",
        "its load stud and the lifted lead", by_wrench=True, at_live_stud=True,
    ),
    "vehicle": Opening(
        3, 9, "at its own battery, engine off and key out: lift the minus lead there and tape it; "
        "pulling the plug leaves this half live", "the lead on again at its own battery",
        by_wrench=True,
    ),
}  # fmt: skip
"""Ways to open a part by hand, or with a wrench."""

RESETTING = "resetting"
"""How a breaker is parted that resets by itself: common practice, type 1 of the trade."""
VEHICLE = "vehicle"
"""How a vehicle is kept from feeding its own half of the plug."""
