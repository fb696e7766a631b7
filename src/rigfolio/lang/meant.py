"""Words of the trade that the language has another word for, or nothing of the same meaning."""

from collections.abc import Collection

WORDS = {"lifepo4": "lithium", "lifepo": "lithium", "lfp": "lithium"}
"""Other names of what a word of the language says, in small letters, and that word."""

INSTEAD = {
    "lead-acid": "`flooded`, `agm` or `gel`, as its case says",
    "lead": "`flooded`, `agm` or `gel`, as its case says",
    "midget": "what it breaks, by its print: `interrupts 10 kA`",
    "cca": "say whose amperes they are, as in `cold cranking 650 A`",
    "mca": "say whose amperes they are, as in `marine cranking 812 A`",
}
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
