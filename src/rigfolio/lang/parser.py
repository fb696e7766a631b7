"""From text to lines; the only door to lark.

Every line is parsed by itself, so all mistakes of a file come out in one run and each keeps its
true place in the text.
"""

import re
from collections.abc import Callable, Iterator
from functools import cache, lru_cache
from pathlib import Path

import lark
from lark.exceptions import UnexpectedInput

from rigfolio.findings import Finding, Span
from rigfolio.lang.amounts import spelt
from rigfolio.lang.diagnostics import decimal_comma, gauge_in_comment, not_read, out_of_bounds
from rigfolio.lang.lines import Kind, TextLine, Token, error
from rigfolio.own_folder import own_folder

LONGEST_LINE = 2000
MOST_ERRORS = 100
_LINES_KEPT = 10_000
_LINES_KEPT_IN_PLACE = 2_000
_TAPE = re.compile(
    r"(?P<feet>\d+(?:\.\d+)?)['’′](?:[ ]?(?P<inches>\d+(?:\.\d+)?)(?:[ ](?P<part>\d+/\d+))?[\"″])?"
)
_INCHES = re.compile(r"\d['’′][ ]?\d+(?:\.\d+|[ ]\d+/\d+)?\"\Z")
BLANKS = " \t\f\xa0"
"""What may stand between items."""

_KINDS: dict[str, Kind] = {
    "LABEL": "label",
    "DATE": "date",
    "UNKNOWN": "unknown",
    "COMMA": "comma",
    "SLASH": "slash",
    "PERCENT": "percent",
}


def grammar_text() -> str:
    """The grammar file, from the installed package or from the work tree."""
    return grammar_page("rigfolio.lark")


def grammar_page(name: str) -> str:
    """A file of the folder of the grammar, from the installed package or from the work tree.

    Raises
    ------
    FileNotFoundError
        There is none of that name.
    """
    here = Path(__file__).resolve()
    for folder in (here.parents[1] / "grammar", here.parents[3] / "grammar"):
        file = folder / name
        if file.is_file():
            return file.read_text(encoding="utf-8")
    raise FileNotFoundError(name)


def cache_file() -> str | None:
    """Where lark keeps its built tables, a pickle: the user's own folder, else nowhere."""
    folder = own_folder()
    return None if folder is None else str(folder / f"grammar-{lark.__version__}.lark-cache")


@cache
def _parser() -> lark.Lark:
    return lark.Lark(
        grammar_text(),
        parser="lalr",
        start="line",
        cache=cache_file() or False,
        maybe_placeholders=False,
    )


_Item = tuple[Kind, str, int, int, str]
"""An item of a line: kind, text, its first character in the line, the one behind it, and unit."""


def _item(child: object) -> tuple[_Item, ...]:
    if isinstance(child, lark.Token) and child.type == "FEET":
        return tuple(_feet(child))
    return (_plain_item(child),)


def _feet(token: lark.Token) -> Iterator[_Item]:
    """`2'6 1/2"` as what it is: feet, whole inches, and a part of one."""
    found = _TAPE.fullmatch(token)
    assert found is not None  # noqa: S101
    at = token.start_pos or 0

    def item(kind: Kind, group: str, unit: str, *, with_mark: int = 0) -> _Item:
        first, last = found.span(group)
        return kind, found[group], at + first, at + last + with_mark, unit

    yield item("quantity", "feet", "ft", with_mark=1)
    if found["part"]:
        yield item("number", "inches", "")
        yield item("quantity", "part", "in", with_mark=1)
    elif found["inches"]:
        yield item("quantity", "inches", "in", with_mark=1)


def _plain_item(child: object) -> _Item:
    if isinstance(child, lark.Token):
        text = child[1:-1] if child.type == "LABEL" else str(child)
        return _KINDS[child.type], text, *_place(child, child), ""
    assert isinstance(child, lark.Tree)  # noqa: S101
    tokens = [token for token in child.children if isinstance(token, lark.Token)]
    place = _place(tokens[0], tokens[-1])
    if child.data != "quantity":
        return "place" if child.data == "place" else "word", str(tokens[0]), *place, ""
    if len(tokens) == 1:
        return "number", str(tokens[0]), *place, ""
    return "quantity", str(tokens[0]), *place, spelt("".join(tokens[1:]))


def _place(first: lark.Token, last: lark.Token) -> tuple[int, int]:
    return first.start_pos or 0, last.end_pos or 0


@lru_cache(maxsize=_LINES_KEPT)
def _split(line: str) -> tuple[_Item, ...]:
    """The items of a line; most lines of a text are read again for every edit that is tried.

    Raises
    ------
    UnexpectedInput
        The line is not of the language.
    """
    return tuple([item for child in _parser().parse(line).children for item in _item(child)])


def _body_end(text: str, start: int, end: int) -> int:
    """Where the comment of a line starts, quotes minded; or where the line ends."""
    quoted = False
    for at in range(start, end):
        if text[at] == '"':
            # Behind feet it stands for inches.
            is_mark = not quoted and _INCHES.search(text, start, at + 1) is not None
            quoted = quoted is is_mark
        elif text[at] == "#" and not quoted:
            return at
    return end


def _items(text: str, start: int, end: int, file: str) -> tuple[Token, ...] | Finding:
    """The items between two characters of one line, or what cannot be read there."""
    try:
        # Not as a slice of the text: lark would count the lines before it, once for every line.
        items = _split(text[start:end])
    except UnexpectedInput as problem:
        # At the end of a line lark knows no position.
        known: int | None = getattr(problem, "pos_in_stream", None)
        at = min(end if known is None else start + max(known, 0), end - 1)
        return not_read(text, at, end, file)
    return tuple(
        [
            Token(kind, said, Span(file, start + first, start + last), unit)
            for kind, said, first, last, unit in items
        ]
    )


def _line(text: str, start: int, end: int, file: str) -> tuple[TextLine | None, list[Finding]]:
    if end - start > LONGEST_LINE:
        long = error(
            "line-too-long",
            Span(file, start, start + 40),
            f"a line of {end - start} characters, {LONGEST_LINE} are read",
            fix="one fact a line: indent the rest below the header",
        )
        return _cut(text, start, long), [long]
    stop = _body_end(text, start, end) if text.find("#", start, end) >= 0 else end
    if not text[start:stop].strip():
        return None, []
    items = _items(text, start, stop, file)
    if isinstance(items, Finding):
        return _cut(text, start, items), [items]
    lost = gauge_in_comment(text, stop, end, file) if stop < end else None
    found = [*decimal_comma(items), *out_of_bounds(items), *([lost] if lost else [])]
    if found:
        return _cut(text, start, found[0]), found
    return _shown(items, text[start : items[0].span.start]), []


_IN_PLACE: dict[tuple[str, int, str], TextLine | None] = {}
"""Lines that were read without an error, by words, place and file: most of what stands above an
edit that is tried is the same as before it."""


def _line_in_place(
    text: str, start: int, end: int, file: str
) -> tuple[TextLine | None, list[Finding]]:
    """A line as it is read, or as it was read at this place before."""
    key = text[start:end], start, file
    if key in _IN_PLACE:
        return _IN_PLACE[key], []
    line, found = _line(text, start, end, file)
    if not found:
        if len(_IN_PLACE) >= _LINES_KEPT_IN_PLACE:
            del _IN_PLACE[next(iter(_IN_PLACE))]
        _IN_PLACE[key] = line
    return line, found


def _shown(items: tuple[Token, ...], indent: str, *, is_cut: bool = False) -> TextLine | None:
    shown = tuple(item for item in items if item.kind != "comma")
    if not shown:
        return None
    span = Span(shown[0].span.file, shown[0].span.start, shown[-1].span.end)
    return TextLine(shown, span, indent, is_cut)


def _cut(text: str, start: int, found: Finding) -> TextLine:
    """What can be read of a line before the place that cannot."""
    file, end = found.at.span.file, found.at.span.start
    first = start
    while first < len(text) and text[first] in BLANKS:
        first += 1
    indent = text[start:first]
    items = _items(text, start, end, file) if first < end else ()
    kept = None if isinstance(items, Finding) else _shown(items, indent, is_cut=True)
    if kept is not None:
        return kept
    nothing = Span(file, first, first)
    # No fact begins with a comma: a word without letters could be taken for a name.
    return TextLine((Token("comma", "", nothing),), nothing, indent, is_cut=True)


def parse(
    text: str, file: str, is_enough: Callable[[TextLine], bool] | None = None
) -> tuple[tuple[TextLine, ...], tuple[Finding, ...]]:
    """All lines of a text that say something, and what was not understood.

    Of a line that cannot be read to its end what stands before that place is a line, too.

    Never raises for any text; stops after `MOST_ERRORS` lines that could not be read.

    Parameters
    ----------
    text : str
        The whole text.
    file : str
        Its name.
    is_enough : callable, optional
        Asked of every line in turn; the text is read no further than a line that it says yes to.
    """
    lines: list[TextLine] = []
    found: list[Finding] = []
    start = 0
    while start <= len(text):
        end = text.find("\n", start)
        end = len(text) if end < 0 else end
        stop = end - 1 if end > start and text[end - 1] == "\r" else end
        line, problems = _line_in_place(text, start, stop, file)
        found += problems
        if line is not None:
            lines.append(line)
            if is_enough is not None and not line.is_cut and is_enough(line):
                break
        if problems and len(found) >= MOST_ERRORS:
            found.append(
                error(
                    "too-many-errors",
                    Span(file, start, stop),
                    f"{len(found)} lines not understood, the rest of the file was not read",
                    fix="see whether this is a rig file at all",
                )
            )
            break
        start = end + 1
    return tuple(lines), tuple(found)
