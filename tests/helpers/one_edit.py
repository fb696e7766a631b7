"""One edit of a rig, as a person would make it: a figure, a colour, a name, a fact, a line."""

import re
from collections.abc import Callable
from random import Random

_FIGURE = re.compile(r"(?<![\w.\"-])\d+(\.\d+)?(?= (A|W|V|ft|in|Ah|AWG|h/day|slots|mm2|m)\b)")
_COLOURS = ("red", "black", "yellow", "blue", "white/green", "brown")
_COLOUR = re.compile(rf"\b({'|'.join(_COLOURS)})\b")
_NAME = re.compile(r'"[^"\n]+"')
_FACT = re.compile(r", [^,\n\"#]+(?=,|\n)")


def _figure(text: str, chance: Random) -> str:
    def other(found: re.Match[str]) -> str:
        pool = ("2", "6", "10", "12", "14", "16", "18") if found[2] == "AWG" else ("1", "5", "20")
        return chance.choice([one for one in pool if one != found[0]])

    return _at_one(text, _FIGURE, other, chance)


def _unknown(text: str, chance: Random) -> str:
    return _at_one(text, re.compile(_FIGURE.pattern + r" \w+"), lambda _: "?", chance)


def _colour(text: str, chance: Random) -> str:
    def other(found: re.Match[str]) -> str:
        return chance.choice([one for one in _COLOURS if one != found[0]])

    return _at_one(text, _COLOUR, other, chance)


def _name(text: str, chance: Random) -> str:
    new = chance.choice(('"Pump"', '"A name that is far too long for any label at all"', '"X"'))
    return _at_one(text, _NAME, lambda _: new, chance)


def _fact(text: str, chance: Random) -> str:
    return _at_one(text, _FACT, lambda _: "", chance)


def _line(text: str, chance: Random) -> str:
    lines = text.splitlines(keepends=True)
    del lines[chance.randrange(len(lines))]
    return "".join(lines)


def _order(text: str, chance: Random) -> str:
    blocks = re.split(r"(?m)^(?=\S)", text)
    at = chance.randrange(1, max(2, len(blocks) - 1))
    blocks[at : at + 2] = reversed(blocks[at : at + 2])
    return "".join(blocks)


def _remark(text: str, chance: Random) -> str:
    lines = text.splitlines(keepends=True)
    lines.insert(chance.randrange(len(lines)), "# seen again\n")
    return "".join(lines)


_EDITS: tuple[Callable[[str, Random], str], ...] = (
    _figure, _figure, _figure, _unknown, _colour, _name, _fact, _line, _order, _remark,
)  # fmt: skip


def _at_one(
    text: str, sought: re.Pattern[str], other: Callable[[re.Match[str]], str], chance: Random
) -> str:
    """The text with one of the places that are sought replaced."""
    found = list(sought.finditer(text))
    if not found:
        return text
    at = chance.choice(found)
    return text[: at.start()] + other(at) + text[at.end() :]


def edited(text: str, seed: int) -> str:
    """The text with one edit; the same seed makes the same one."""
    chance = Random(seed)
    return chance.choice(_EDITS)(text, chance)
