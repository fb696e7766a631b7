"""Words, letter codes and print shades of colours."""

from collections.abc import Mapping
from functools import cache

from rigfolio.books.tables import read, source_of, tables, text, texts
from rigfolio.findings import Citation
from rigfolio.record import record


@record
class TradeColour:
    """A colour: its word, its IEC 60757 code if it has one, its shade in print (`#rrggbb`).

    `called` are other words for it.
    """

    word: str
    code: str | None
    rgb: str
    source: Citation
    called: tuple[str, ...] = ()


@record
class ColourBook:
    """The colours by word (other spellings too) and by code, and what cannot be told.

    Words are in lower case, codes and ambiguous letters in upper case.
    """

    colours: tuple[TradeColour, ...]
    by_word: Mapping[str, TradeColour]
    by_code: Mapping[str, TradeColour]
    ambiguous: Mapping[str, tuple[str, ...]]

    def find(self, written: str) -> TradeColour | None:
        """The colour of a word or a code in any case; None if it is unknown or ambiguous.

        Examples
        --------
        >>> colour_book().find("rd").word, colour_book().find("BL")
        ('red', None)
        """
        return self.by_word.get(written.lower()) or self.by_code.get(written.upper())


@cache
def colour_book() -> ColourBook:
    """Every colour of the language."""
    data = read("colours")
    by_word: dict[str, TradeColour] = {}
    colours = []
    for row in tables(data, "colour"):
        code = text(row, "code") if "code" in row else None
        called = texts(row, "called")
        colour = TradeColour(text(row, "word"), code, text(row, "rgb"), source_of(row), called)
        colours.append(colour)
        for word in (colour.word, *called, *texts(row, "also")):
            by_word[word] = colour
    return ColourBook(
        tuple(colours),
        by_word,
        {colour.code: colour for colour in colours if colour.code},
        {text(row, "text"): texts(row, "words") for row in tables(data, "ambiguous")},
    )
