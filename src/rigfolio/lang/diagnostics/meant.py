"""Words of the trade that the language has another word for, or nothing of the same meaning."""

from collections.abc import Collection

WORDS = {"lifepo4": "lithium", "lifepo": "lithium", "lfp": "lithium"}
"""Other names of what a word of the language says, in small letters, and that word."""

INSTEAD = {
    "lead-acid": "`flooded`, `agm` or `gel`, as its case says",
    "lead": "`flooded`, `agm` or `gel`, as its case says",
    "midget": "what it breaks, by its print: `interrupts 10 kA`",
    "cca": "say whose amperes they are, as in `cold cranking 650 A`",
    "panels": "of solar modules, `2 modules in series` or `2 strings in parallel`",
    "voc": "the volts with nothing on it, as in `open circuit 22.4 V`",
    "isc": "the current of its label, as in `short circuit 6.1 A`",
    "vmp": "the volts at its watts, as in `works at 18.6 V`",
    "imp": "its watts and the volts at these, as in `105 W, works at 18.6 V`",
    "mca": "say whose amperes they are, as in `marine cranking 812 A`",
    "glow": "what it draws then, in times of what it draws, as in `starts at 7 times for 3 min`",
    "preheat": "what it draws then, in times of what it draws, as in `starts at 7 times for 3 min`",
    "inrush": "in times of what it draws, as in `starts at 3 times`",
    "surge": "in times of what it draws, as in `starts at 3 times`",
    **dict.fromkeys(
        ("hot", "warm"), 'what was felt is a remark, as in `note "hot to the touch"`; why it is, '
        "`rigfolio diagnose` looks for",
    ),
    "each": "of the slots of a panel, as in `8 slots of 30 A`",
    "sq": "square millimetres are `mm2`, as in `4 mm2`",
    "square": "square millimetres are `mm2`, as in `4 mm2`",
    **dict.fromkeys(
        ("length", "long", "size", "gauge", "cross-section", "colour", "color", "draws", "power",
         "capacity", "voltage", "current"),
        "leave it out: the unit says what a figure is, as in `4 mm2 red 2 m`",
    ),
}  # fmt: skip
"""What to write in place of a word or a unit that tells something else, in small letters."""


def meant(word: str, known: Collection[str]) -> str:
    """The word of a statement that is meant by another one; empty if there is none.

    Examples
    --------
    >>> meant("LiFePO4", ["flooded", "lithium"]), meant("LiFePO4", ["red"])
    ('lithium', '')
    """
    found = WORDS.get(word.casefold(), "")
    return found if found in known else ""


def instead(word: str) -> str:
    """What to write in place of a word or a unit; empty where nothing is known of it."""
    return INSTEAD.get(word.casefold(), "")
