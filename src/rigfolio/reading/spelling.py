"""One spelling for every name of a rig, however it is capitalised where it is used."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from rigfolio.lang import Block, TextLine, Token
from rigfolio.reading.text import own_name
from rigfolio.record import replace


def one_spelling(blocks: Sequence[Block]) -> list[Block]:
    """Blocks in which every name is spelt as where it is first defined.

    The ends of parts, `F1.Line`, are in small letters. Where things stand in the text stays.
    """
    names: dict[str, str] = {}
    for block in blocks:
        for line in (block.header, *block.body):
            for name in _defined(line):
                names.setdefault(name.casefold(), name)
    return [
        Block(_line(block.header, names), tuple([_line(line, names) for line in block.body]))
        for block in blocks
    ]


def _defined(line: TextLine) -> Iterator[str]:
    items = line.items
    name = own_name(line)
    if name:
        yield name
    for before, item in pairwise(items):
        if before.kind == "word" and before.plain == "tag" and item.kind in ("word", "quantity"):
            yield item.text + item.unit


def _line(line: TextLine, names: Mapping[str, str]) -> TextLine:
    items = tuple([_spelt(item, names) for item in line.items])
    return line if items == line.items else replace(line, items=items)


def _spelt(item: Token, names: Mapping[str, str]) -> Token:
    if item.kind == "word":
        text = names.get(item.plain, item.text)
    elif item.kind == "place":
        text = _place(item.text, names)
    else:
        return item
    return item if text == item.text else replace(item, text=text)


def _place(text: str, names: Mapping[str, str]) -> str:
    """A place, `b1+` or `f1.Line`, by the name of its part as that is defined."""
    name, dot, end = text.partition(".")
    sign = "" if dot else name[-1]
    return names.get(name.removesuffix(sign).casefold(), name.removesuffix(sign)) + (
        sign or dot + end.casefold()
    )
