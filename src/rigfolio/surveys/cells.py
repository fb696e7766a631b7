"""One cell of a survey by its column: colours, counts, marks of heat and damp, labels."""

import re
from collections.abc import Mapping

from rigfolio.kinds import CONDITIONS
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading import context
from rigfolio.surveys.columns import Column, Heading
from rigfolio.surveys.quantities import ReadCell, is_read, quantity

NO_COLOUR = "no colour that is known, such as `red/black`"
NO_COUNT = "no whole number"
NO_MARK = f"nearly {', '.join(f'`{word}`' for word in CONDITIONS)}"
NO_LABEL = "letters that cannot be seen, or more than 80 of them"
NO_PLATE = "not the words of its statement, which `rigfolio help {}` lists"
_KINDS: Mapping[Column, str] = {
    "gauge": "size", "length": "length", "tail": "length", "leaves loom at": "length",
    "found": "current", "marked": "current", "belongs": "current",
}  # fmt: skip
_LONGEST = 80
_LONGEST_LIST = 600

_MARK_OF = {word: mark for mark, kind in CONDITIONS.items() for word in kind.called}
_FINE = frozenset({
    "ok", "okay", "o.k.", "good", "fine", "clean", "none", "nothing", "no", "n/a", "na", "tight",
    "dry", "sound", "like new", "new", "looks good", "looks ok", "all good", "✓",
})  # fmt: skip
_FAIRLY = re.compile(r"^(?:a bit|bit|slightly|a little|little|some|very|badly|partly|is|looks)\s+")

_SHORT = {
    "blk": "black", "brn": "brown", "grn": "green", "wht": "white", "yel": "yellow",
    "ylw": "yellow", "org": "orange", "orn": "orange", "blu": "blue", "pur": "violet",
    "vio": "violet", "prp": "violet", "gry": "grey", "pnk": "pink", "turq": "turquoise",
    "bge": "beige",
}  # fmt: skip
_SHADES = {"dk": "dark", "drk": "dark", "lt": "light", "lgt": "light", "lite": "light",
           "pale": "light"}  # fmt: skip
_WITH = re.compile(r"\s*(?:\bwith\b|\bw/|\bw\b|/|\()\s*(?:an?\s+)?")
_STRIPE = re.compile(r"\b(?:stripes?|striped|tracer|trace|line|wire|insulation|coloured|colored)\b")
_WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNTS = {word: str(number) for number, word in enumerate(_WORDS)}


def hear(head: Heading, cell: str, *, has_commas: bool) -> ReadCell:
    """A cell that says something.

    Parameters
    ----------
    head : Heading
        That of its column.
    cell : str
        What it says.
    has_commas : bool
        Whether a comma between digits is a decimal one.
    """
    column = head.column
    if column in _KINDS:
        return quantity(cell, _KINDS[column], head.unit, has_commas=has_commas)
    if column == "colour":
        return colour(cell)
    if column == "wires":
        return _count(cell)
    if column == "condition":
        return _condition(cell)
    if column == "draws":
        return _draws(cell, head.unit, has_commas=has_commas)
    if column in ("went dead", "plate"):
        return _label(";".join(re.split(r"[;\n]", cell)), _LONGEST_LIST)
    # The kind of a part stands before its label, and of a wire both ends are its name.
    return _label(cell, _LONGEST_LIST if column == "name" else _LONGEST)


def colour(cell: str) -> ReadCell:
    """A colour with its stripe.

    Examples
    --------
    >>> [colour(cell).value for cell in ("Red w/ black stripe", "dk green", "blk", "WH/BU")]
    ['red/black', 'dark green', 'black', 'WH/BU']
    """
    if is_read(cell, ("<colour>",)):
        return ReadCell(" ".join(cell.split()))
    plain = " ".join(cell.casefold().replace(")", " ").replace(".", " ").split())
    pieces = [_STRIPE.sub(" ", piece) for piece in _WITH.split(plain)]
    found = [_one_colour(" ".join(piece.split())) for piece in pieces]
    value = "/".join(found)
    if all(found) and is_read(value, ("<colour>",)):
        return ReadCell(value)
    code = next((one for one in pieces if one.strip() in context().ambiguous), "").strip()
    if code:
        return ReadCell(wrong=NO_COLOUR, hint=f"`{code}` is {context().ambiguous[code]}")
    near = nearest(cell, context().colours, least=ENOUGH)
    return ReadCell(wrong=NO_COLOUR, hint=f"the nearest is `{near}`" if near else "")


def _one_colour(plain: str) -> str:
    """One colour word; empty where it is none."""
    if plain in context().colours:
        return plain
    words = [_SHADES.get(word, _SHORT.get(word, word)) for word in plain.split()]
    whole = " ".join(words)
    if whole in context().colours:
        return whole
    # red-black is a stripe; green-yellow, which is one word of the trade, was found above.
    halves = [_one_colour(half) for half in plain.split("-")] if "-" in plain else []
    return "/".join(halves) if len(halves) == 2 and all(halves) else ""


def draw(text: str, unit: str, *, has_commas: bool) -> ReadCell:
    """What one load draws, in amperes or watts."""
    return quantity(text, "draw", unit, has_commas=has_commas)


def load_named(text: str, *, has_commas: bool) -> tuple[str, ReadCell]:
    """A load as it is written into the column of what went dead: its label, and what it draws.

    Examples
    --------
    >>> label, heard = load_named("pump 7amp", has_commas=False)
    >>> label, heard.value
    ('pump', '7 A')
    >>> load_named("Step lamp 2", has_commas=False)
    ('Step lamp 2', ReadCell(value='', is_about=False, wrong='', hint='', aside=''))
    """
    found = _DRAWN.fullmatch(text)
    if found is None:
        return text, ReadCell()
    heard = draw(found["draw"], "", has_commas=has_commas)
    return (found["label"], heard) if heard.value else (text, ReadCell())


_DRAWN = re.compile(
    r"(?P<label>.*?[^\s,(:=@-])[\s,(:=@-]+(?P<draw>~?\s*(?:\d+(?:[.,]\d+)?|\.\d+)\s*[^\W\d_]+\.?)\)?",
    re.IGNORECASE,
)


def _draws(cell: str, unit: str, *, has_commas: bool) -> ReadCell:
    """What each load draws, parted by semicolons as the loads are."""
    parts = [part.strip() for part in re.split(r"[;\n]", cell)]
    heard = [ReadCell("?") if part in ("", "?") else draw(part, unit, has_commas=has_commas)
             for part in parts]  # fmt: skip
    wrong = next((one for one in heard if one.wrong), None)
    if wrong is not None:
        return wrong
    return ReadCell("; ".join(one.value for one in heard), any(one.is_about for one in heard))


def _count(cell: str) -> ReadCell:
    plain = re.sub(r"\s*(?:wires?|x)$", "", cell.casefold()).strip()
    number = _COUNTS.get(plain, plain)
    if not (number.isascii() and number.isdigit() and len(number) < 4):
        return ReadCell(wrong=NO_COUNT)
    return ReadCell(number)


def _condition(cell: str) -> ReadCell:
    """Marks by the words of the language; what they have no word for is kept as a note."""
    known: list[str] = []
    aside: list[str] = []
    for piece in re.split(r"[,;/+\n]| and | & ", cell):
        word = _FAIRLY.sub("", " ".join(piece.casefold().split()).strip(" .!"))
        if not word or word in _FINE:
            continue
        mark = _MARK_OF.get(word)
        near = "" if mark else nearest(word, CONDITIONS, least=ENOUGH)
        if near:
            return ReadCell(wrong=NO_MARK, hint=f"the nearest is `{near}`")
        if mark:
            known.append(mark)
        else:
            aside.append(piece.strip())
    noted = _label("; ".join(aside), _LONGEST)
    if noted.wrong:
        return noted
    return ReadCell(", ".join(dict.fromkeys(known)), aside=noted.value)


def _label(cell: str, longest: int) -> ReadCell:
    plain = " ".join(cell.replace('"', "'").split())
    if not plain.isprintable() or len(plain) > longest:
        return ReadCell(wrong=NO_LABEL)
    return ReadCell(plain)
