"""What to say of a line that cannot be cut into items, or holds items that are out of bounds."""

import re
from collections.abc import Iterator, Sequence

from rigfolio.findings import Edit, Finding, Span
from rigfolio.lang.lines import Token, error

LONGEST_LABEL = 120
LONGEST_NUMBER = 12
LONGEST_WORD = 60

_LABEL_FIX = 'end the label with `"`; inches are written `in`, feet `ft`'
_GAUGE = re.compile(r"#(\d{1,2}|[1-4]/0)(?=\s|$)")


def not_read(text: str, at: int, end: int, file: str) -> Finding:
    """An answer to the first character of a line that no item starts with."""
    char = text[at]
    span = Span(file, at, at + 1)
    if char == '"':
        return error(
            "label-not-closed", Span(file, at, end), "a label that is not closed",
            here="starts here", fix=_LABEL_FIX,
        )  # fmt: skip
    if char in "“”„″«»":
        return error(
            "curly-quote", span, f"`{char}` found where a label or a number was expected",
            fix='labels stand in straight quotes, `"like this"`; inches are written `in`',
        )  # fmt: skip
    return error(
        "character-not-read",
        span,
        f"`{_shown(char)}` found, expected a word, a number with its unit, a label or `?`",
        fix=_way_out(text[at:end]),
    )


def _shown(char: str) -> str:
    return char if char.isprintable() and not char.isspace() else f"U+{ord(char):04X}"


def _way_out(rest: str) -> str:
    char, after = rest[0], rest[1:2]
    if char in "'’′‘":
        return 'feet are written `ft`, inches `in`, labels in `"`'
    if char == "." and after.isdigit():
        return f"a number starts with a digit: `0{rest[: _digits(rest)]}`"
    if char in "+-−" and after.isdigit():
        return "numbers have no sign"
    if char in "½¼¾":
        return f"`{ {'½': '1/2', '¼': '1/4', '¾': '3/4'}[char] } in`, as a fraction of an inch"
    if char == "^":
        return "a size is written `4 mm2`"
    if char == ";":
        return "facts are parted by `,` or by nothing"
    return "take it out, or put `#` before a comment"


def _digits(rest: str) -> int:
    end = 1
    while end < min(len(rest), LONGEST_NUMBER) and rest[end].isdigit():
        end += 1
    return end


def gauge_in_comment(text: str, at: int, end: int, file: str) -> Finding | None:
    """An answer to `#14`, which reads as a gauge and would be lost as a comment."""
    found = _GAUGE.match(text, at, end)
    if found is None:
        return None
    return error(
        "gauge-in-comment", Span(file, at, found.end()),
        f"`{found.group()}` starts a comment and is not read as a gauge",
        fix=f"`{found.group(1)} AWG`; or a blank after the `#` of a comment",
    )  # fmt: skip


def out_of_bounds(items: Sequence[Token]) -> Iterator[Finding]:
    """Errors about items that are longer than anyone would write, or not made by hand."""
    for item in items:
        if item.kind == "label" and len(item.text) > LONGEST_LABEL:
            yield error(
                "label-too-long", item.span,
                f"a label of {len(item.text)} characters, {LONGEST_LABEL} are read",
                fix="say it shorter, and put the rest into a comment",
            )  # fmt: skip
        elif item.kind == "label" and not item.text.replace("\t", " ").isprintable():
            yield error(
                "control-character", item.span, "a label with a control character in it",
                fix="type the label again, without copying it",
            )  # fmt: skip
        elif item.kind in ("number", "quantity") and len(item.text) > LONGEST_NUMBER:
            yield error(
                "number-too-long", item.span,
                f"a number of {len(item.text)} characters, {LONGEST_NUMBER} are read",
                fix="write the figure again, or `?` where it is not known",
            )  # fmt: skip
        elif len(item.text) > LONGEST_WORD and item.kind in ("word", "place"):
            yield error(
                "word-too-long", item.span,
                f"a word of {len(item.text)} characters, {LONGEST_WORD} are read",
                fix="say it shorter",
            )  # fmt: skip


def decimal_comma(items: Sequence[Token]) -> Iterator[Finding]:
    """`7,5 A` must never become 75 A, nor 5 A."""
    for one, two, three in zip(items, items[1:], items[2:], strict=False):
        touching = one.span.end == two.span.start and two.span.end == three.span.start
        numbers = one.kind == "number" and three.kind in ("number", "quantity")
        if touching and two.kind == "comma" and numbers:
            unit = f" {three.unit}" if three.unit else ""
            whole = Span(one.span.file, one.span.start, three.span.end)
            ways = [f"`{one.text}.{three.text}{unit}`"]
            if len(three.text) == 3:
                ways.append(f"`{one.text}{three.text}{unit}`")
            yield error(
                "decimal-comma",
                whole,
                f"`{one.text},{three.text}` is not read as a number",
                here="a comma between digits",
                fix=" or ".join(ways),
                edits=(Edit(whole, ways[0].strip("`")),) if len(ways) == 1 else (),
                otherwise="a point between digits",
            )
