"""The nearest of some known words to one that is not among them."""

from collections.abc import Iterable

ENOUGH = 0.6
"""How like a word must be to one that the text may have meant: 1 is the same [-]."""
ALIKE = 0.5
"""As `ENOUGH`, for short names of parts, where one letter is much."""


def nearest(word: str, known: Iterable[str], *, least: float = ALIKE) -> str:
    """The known word that is most like another, capitals and spaces aside; empty where none is.

    Parameters
    ----------
    word : str
        What was written.
    known : iterable of str
        What may have been meant; of two alike the first one counts.
    least : float
        How like it must be, from 0 to 1 [-].

    Examples
    --------
    >>> nearest("bateries", ["battery", "charger"]), nearest("xyz", ["battery"])
    ('battery', '')
    """
    # Only a text with a mistake in it needs this module.
    from difflib import get_close_matches

    names: dict[str, str] = {}
    for name in known:
        names.setdefault(_folded(name), name)
    said = _folded(word)
    # Likeness is twice what two have in common by what they have in all: what is much longer than
    # anything known is like none of it, and is not searched letter by letter.
    if len(said) > max(map(len, names), default=0) * (2 / least - 1):
        return ""
    close = get_close_matches(said, names, n=1, cutoff=least)
    return names[close[0]] if close else ""


def _folded(word: str) -> str:
    return " ".join(word.casefold().split())
