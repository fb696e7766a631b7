"""From text to lines; the only door to lark.

Every line is parsed by itself, so all mistakes of a file come out in one run and each keeps its
true place in the text.
"""

import os
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import lark
from lark.exceptions import UnexpectedCharacters, UnexpectedInput

from rigfolio.findings import Finding, Span
from rigfolio.lang.lines import Item, Kind, Line, error

LONGEST_LINE = 2000
LONGEST_LABEL = 120
LONGEST_NUMBER = 12
MOST_ERRORS = 100

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
    here = Path(__file__).resolve()
    for folder in (here.parents[1] / "grammar", here.parents[3] / "grammar"):
        file = folder / "rigfolio.lark"
        if file.is_file():
            return file.read_text(encoding="utf-8")
    raise FileNotFoundError("rigfolio.lark")


def _cache_file() -> str | bool:
    """Where lark keeps its built tables: the user's own cache folder, else nowhere.

    Never the shared temporary folder: the tables are a pickle, and a pickle from a folder that
    others may write to could run their code.
    """
    home = os.environ.get("XDG_CACHE_HOME") or str(Path("~/.cache").expanduser())
    folder = Path(home) / "rigfolio"
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        owned = folder.stat().st_uid == os.getuid() if hasattr(os, "getuid") else True
    except OSError:
        return False
    usable = owned and os.access(folder, os.W_OK) and folder != Path(tempfile.gettempdir())
    return str(folder / f"grammar-{lark.__version__}.lark-cache") if usable else False


@cache
def _parser() -> lark.Lark:
    return lark.Lark(
        grammar_text(), parser="lalr", start="line", cache=_cache_file(), maybe_placeholders=False
    )


def _item(child: lark.Token | lark.Tree[lark.Token], file: str) -> Item:
    if isinstance(child, lark.Token):
        text = child[1:-1] if child.type == "LABEL" else str(child)
        return Item(_KINDS[child.type], text, _span(child, child, file))
    tokens = [token for token in child.children if isinstance(token, lark.Token)]
    span = _span(tokens[0], tokens[-1], file)
    if child.data != "quantity":
        return Item("place" if child.data == "place" else "word", str(tokens[0]), span)
    if len(tokens) == 1:
        return Item("number", str(tokens[0]), span)
    return Item("quantity", str(tokens[0]), span, "".join(tokens[1:]))


def _span(first: lark.Token, last: lark.Token, file: str) -> Span:
    return Span(file, first.start_pos or 0, last.end_pos or 0)


def _too_long(items: tuple[Item, ...]) -> Iterator[Finding]:
    for item in items:
        if item.kind == "label" and len(item.text) > LONGEST_LABEL:
            yield error(
                "label-too-long",
                item.span,
                f"a label of {len(item.text)} characters, {LONGEST_LABEL} are read",
                fix="say it shorter, and put the rest into a comment",
            )
        if item.kind == "label" and not item.text.isprintable():
            yield error(
                "control-character",
                item.span,
                "a label with a control character in it",
                fix="type the label again, without copying it",
            )
        if item.kind in ("number", "quantity") and len(item.text) > LONGEST_NUMBER:
            yield error(
                "number-too-long",
                item.span,
                f"a number of {len(item.text)} characters, {LONGEST_NUMBER} are read",
            )


def _not_read(text: str, at: int, end: int, file: str) -> Finding:
    """What to say of a character that no item starts with."""
    char = text[at]
    if char == '"':
        return error(
            "label-not-closed",
            Span(file, at, end),
            "a label that is not closed",
            here="starts here",
            fix='end the label with `"`; inches are written `in`, feet `ft`',
        )
    if char in "“”„″":
        return error(
            "curly-quote",
            Span(file, at, at + 1),
            f"`{char}` found where a label or a number was expected",
            fix='labels stand in straight quotes, `"like this"`; inches are written `in`',
        )
    shown = char if char.isprintable() else f"U+{ord(char):04X}"
    return error(
        "character-not-read",
        Span(file, at, at + 1),
        f"`{shown}` found, expected a word, a number with its unit, a label or `?`",
        fix="take it out, or put `#` before a comment",
    )


def _decimal_comma(items: tuple[Item, ...]) -> Iterator[Finding]:
    """`7,5 A` must never become 75 A, nor 5 A."""
    for one, two, three in zip(items, items[1:], items[2:], strict=False):
        touching = one.span.end == two.span.start and two.span.end == three.span.start
        numbers = one.kind == "number" and three.kind in ("number", "quantity")
        if touching and two.kind == "comma" and numbers:
            unit = f" {three.unit}" if three.unit else ""
            yield error(
                "decimal-comma",
                Span(one.span.file, one.span.start, three.span.end),
                f"`{one.text},{three.text}` is not read as a number",
                here="a comma between digits",
                fix=f"`{one.text}.{three.text}{unit}`",
            )


def _body_end(text: str, start: int, end: int) -> int:
    """Where the comment of a line starts, quotes minded; or where the line ends."""
    quoted = False
    for at in range(start, end):
        if text[at] == '"':
            quoted = not quoted
        elif text[at] == "#" and not quoted:
            return at
    return end


def _line(text: str, start: int, end: int, file: str) -> tuple[Line | None, list[Finding]]:
    stop = _body_end(text, start, end) if "#" in text[start:end] else end
    if not text[start:stop].strip():
        return None, []
    if stop - start > LONGEST_LINE:
        span = Span(file, start, start + 40)
        return None, [
            error(
                "line-too-long",
                span,
                f"a line of {stop - start} characters, {LONGEST_LINE} are read",
                fix="one fact a line: indent the rest below the header",
            )
        ]
    try:
        tree = _parser().parse(lark.TextSlice(text, start, stop))
    except UnexpectedCharacters as problem:
        return None, [_not_read(text, problem.pos_in_stream, stop, file)]
    except UnexpectedInput as problem:
        at = min(max(problem.pos_in_stream or start, start), stop - 1)
        return None, [
            error(
                "character-not-read",
                Span(file, at, at + 1),
                f"`{text[at]}` found, expected a word, a number with its unit, a label or `?`",
            )
        ]
    items = tuple(
        _item(child, file) for child in tree.children if isinstance(child, lark.Token | lark.Tree)
    )
    found = [*_decimal_comma(items), *_too_long(items)]
    if found:
        return None, found
    shown = tuple(item for item in items if item.kind != "comma")
    if not shown:
        return None, []
    first = shown[0].span.start
    return Line(shown, Span(file, first, shown[-1].span.end), indented=first > start), []


def parse(text: str, file: str) -> tuple[tuple[Line, ...], tuple[Finding, ...]]:
    """All lines of a text that say something, and what was not understood.

    Never raises for any text; stops after `MOST_ERRORS` lines that could not be read.
    """
    lines: list[Line] = []
    found: list[Finding] = []
    start = 0
    while start <= len(text):
        end = text.find("\n", start)
        end = len(text) if end < 0 else end
        stop = end - 1 if end > start and text[end - 1] == "\r" else end
        line, problems = _line(text, start, stop, file)
        found += problems
        if line is not None:
            lines.append(line)
        elif len(found) >= MOST_ERRORS:
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
