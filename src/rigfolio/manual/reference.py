"""The reference of the language as a person asks for it: a word, a fact, a value.

The page lies in the package beside the grammar, so that it is there wherever the program is.
"""

import re
from collections.abc import Iterator, Mapping
from functools import cache

from rigfolio.books import TradeColour, colour_book
from rigfolio.lang import grammar_page, instead
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading import in_our_words, reference, trade_words

_PAGE = "REFERENCE.md"
_SECTION = re.compile(r"^## ", re.MULTILINE)
_LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
_INDENT = "    "
_MOST = 4


def section(word: str) -> str:
    """What the reference says of a word; of a fact or a value where it is said, with all places.

    It ends in a line break.

    Raises
    ------
    KeyError
        The reference does not speak of it.
    """
    key = word.strip().strip("`<>").casefold()
    held = _sections()
    heading = next((one for one in held if one.casefold() == key), None)
    if heading is not None:
        return f"{heading}\n\n{_plain(held[heading])}"
    found = list(_facts(key))
    colour = colour_book().find(key) if key else None
    told = [f"{heading}:\n{_plain(told)}" for heading, told in found] if key else []
    told += [_colour(colour)] if colour is not None else []
    if not told:
        raise KeyError(word)
    return "\n".join(told)


def _colour(colour: TradeColour) -> str:
    """What a colour is written as, and what is printed for it."""
    book = colour_book()
    words = [word for word, one in book.by_word.items() if one is colour]
    written = ", ".join(f"`{each}`" for each in (*words, *filter(None, (colour.code,))))
    code = f", {colour.code} in IEC 60757" if colour.code else ", without a code in IEC 60757"
    return f"Colour: written {written}; printed `{colour.word}`{code}\n"


def reference_words() -> tuple[str, ...]:
    """The words and headings that have a section."""
    return tuple(_sections())


def nearest_word(word: str) -> str:
    """The word of the reference that is most like another; empty where none is."""
    return nearest(word, reference_words(), least=ENOUGH)


def other_word(word: str) -> str:
    """What the language says for a word of the trade, as a fix; empty where it has none.

    A word that only the sentences of the reference hold is told by the sections that hold it.
    """
    known = reference()
    found = trade_words(word, known) or trade_words(word.removesuffix("s"), known)
    told = in_our_words(found) if found else instead(word)
    if told:
        return told
    whole = re.compile(rf"(?<![\w-]){re.escape(word)}(?![\w-])", re.IGNORECASE)
    held = [f"`{each}`" for each, body in _sections().items() if whole.search(body)]
    return f"it is spoken of under {', '.join(held[:_MOST])}" if held and word.strip() else ""


@cache
def _sections() -> Mapping[str, str]:
    parts = _SECTION.split(grammar_page(_PAGE))[1:]
    return {heading: body for heading, _, body in (part.partition("\n") for part in parts)}


def _facts(key: str) -> Iterator[tuple[str, str]]:
    """The items of lists and rows of tables whose pattern has a word in it, by section."""
    whole = re.compile(rf"(?<![\w-]){re.escape(key)}(?![\w-])", re.IGNORECASE)
    for heading, body in _sections().items():
        items = re.findall(r"^- .*(?:\n  .*)*", body, re.MULTILINE)
        items += re.findall(r"^\| `.*", body, re.MULTILINE)
        told = [item for item in items if whole.search(_pattern(item))]
        if told:
            yield heading, "\n".join(told)


def _pattern(item: str) -> str:
    """What of an item is typed: what stands in backticks before its colon, or in a row's cells."""
    head = item if item.startswith("|") else item.split(": ", maxsplit=1)[0]
    return " ".join(re.findall(r"`([^`]*)`", head))


def _plain(text: str) -> str:
    """A piece of the page without its marks: links by their words, examples set in."""
    lines = []
    in_block = False
    for line in text.strip().split("\n"):
        if line.startswith("```"):
            in_block = not in_block
            continue
        if re.fullmatch(r"[|:\- ]+", line):
            continue
        words = f"{_INDENT}{line}" if in_block else _LINK.sub(r"\1", line)
        if words.startswith("|"):
            words = ": ".join(cell.strip() for cell in words.strip("|").split("|") if cell.strip())
        lines.append(words.rstrip())
    return "\n".join(lines) + "\n"
