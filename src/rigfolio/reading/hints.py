"""What to say of a line that opens wrongly or stands in the wrong block."""

from collections.abc import Mapping, Sequence

from rigfolio.findings import Edit, Finding, Span
from rigfolio.lang import Context, Fact, TextLine, Token, error, taken
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading.word import Word


def unknown_word(line: TextLine, known: Mapping[str, Word]) -> Finding:
    """A line whose first word opens no statement."""
    trade = trade_name(line, known)
    if trade is not None:
        return trade
    first = line.items[0]
    second = line.items[1].text if len(line.items) > 1 else ""
    owners = [name for name, kind in known.items() if _opens_fact(kind, first.text)]
    near = nearest(first.text, list(known), least=ENOUGH) if first.kind == "word" else ""
    is_lost = first.kind == "word" and not near and not owners
    if first.kind == "place" and second == "to":
        fix = f"`wire {first.text} to ...`"
    elif first.kind == "word" and owners:
        names = " or ".join(f"`{name}`" for name in owners[:3])
        fix = f"indent it below the {names} that it belongs to"
    elif near:
        fix = f"the nearest word is `{near}`"
    else:
        fix = "put `#` before a comment"
    return error(
        "unknown-word", first.span, f"`{first.text}` opens no statement",
        here=f"a line opens with one of: {', '.join(known)}" if is_lost else "", fix=fix,
        edits=(Edit(first.span, near),) if fix.startswith("the nearest") else (),
        otherwise="put `#` before a comment",
    )  # fmt: skip


def trade_words(called: str, known: Mapping[str, Word]) -> Mapping[str, str]:
    """The words by which the language has what people call so, each with when it is meant."""
    name = called.casefold()
    found: dict[str, str] = {}
    for word, kind in known.items():
        for each in kind.also:
            names, _, when = each.partition(": ")
            if name in names.split(", "):
                found[word] = when
    return found


def in_our_words(found: Mapping[str, str]) -> str:
    """What to write for what people call otherwise; not empty.

    Examples
    --------
    >>> in_our_words({"wire": ""}), in_our_words({"charger": "fed by the mains", "dc-dc": "else"})
    ('the word for it is `wire`', '`charger` (fed by the mains) or `dc-dc` (else)')
    """
    if len(found) == 1:
        word, when = next(iter(found.items()))
        return f"the word for it is `{word}`{f', {when}' if when else ''}"
    *some, last = (f"`{word}` ({when})" for word, when in found.items())
    return f"{', '.join(some)} or {last}"


def trade_name(line: TextLine, known: Mapping[str, Word]) -> Finding | None:
    """A line that opens with what people call a part, in one word or two; None for any other.

    `solar panel Y1` is an array, `main fuse F1` a fuse: of two words before a name the second says
    what it is, unless both together are called otherwise.
    """
    first, *rest = line.items
    words = [one for one in (first, *rest[:1]) if one.kind == "word"]
    both = len(words) == 2 and _is_name(rest[1:2])
    phrase = " ".join(one.text for one in words)
    found = dict(trade_words(phrase, known)) if both else {}
    if not found and both and words[1].plain in known:
        found = {words[1].plain: "and what it is called stands behind its name in quotes"}
    if not found:
        words = [first]
        found = {} if first.plain in known else dict(trade_words(first.text, known))
    if not found:
        return None
    where = Span(first.span.file, first.span.start, words[-1].span.end)
    return error(
        "unknown-word", where, f"`{' '.join(one.text for one in words)}` opens no statement",
        fix=in_our_words(found), edits=(Edit(where, next(iter(found))),) if len(found) == 1 else (),
        otherwise=in_our_words(found),
    )  # fmt: skip


def called_before(line: TextLine, kind: Word) -> Finding | None:
    """A line with what a part is called between its word and its name; None for any other."""
    first, *rest = line.items
    if "<name>" not in kind.opening or not rest or rest[0].kind != "word" or _is_name(rest[:1]):
        return None
    if not _is_name(rest[1:2]):
        return None
    where = Span(rest[0].span.file, rest[0].span.start, rest[1].span.end)
    fix = f'{rest[1].text} "{rest[0].text}"'
    return error(
        "opening-missing", where, f"`{rest[0].text}` stands where the name belongs",
        here=f"`{first.text}` is followed by a name", fix=f"`{first.text} {fix}`",
        edits=(Edit(where, fix),), otherwise="what it is called stands behind its name in quotes",
    )  # fmt: skip


def _is_name(items: Sequence[Token]) -> bool:
    """Whether an item looks like the name of one part: `F1`, and not `solar`."""
    return bool(items) and items[0].kind == "word" and any(map(str.isdigit, items[0].text))


def _opens_fact(kind: Word, text: str) -> bool:
    return any(text in fact.opens for fact in kind.takes)


def misplaced(line: TextLine, kind: Word) -> Finding:
    """A statement in a block where it does not belong."""
    allowed = ", ".join(kind.inside) or "no other statement"
    return error(
        "not-inside", line.items[0].span, f"`{line.head}` does not stand inside `{kind.name}`",
        here=f"inside `{kind.name}` stands {allowed}", fix="start the line in the first column",
    )  # fmt: skip


def slip(line: TextLine, kind: Word, known: Mapping[str, Word]) -> Finding | None:
    """A line of a block whose first word is nearly, or means, a statement that may stand there."""
    meant = [word for word in trade_words(line.head, known) if word in kind.inside]
    near = nearest(
        line.head, [*kind.inside, *(w for fact in kind.takes for w in fact.opens)], least=ENOUGH
    )
    if len(meant) == 1:
        near = meant[0]
    elif near not in kind.inside:
        return None
    return error(
        "unknown-word", line.items[0].span, f"`{line.head}` opens no statement",
        fix=f"the {'word for it' if meant else 'nearest word'} is `{near}`",
        edits=(Edit(line.items[0].span, near),),
        otherwise="put `#` before a comment",
    )  # fmt: skip


def no_opening(
    kind: Word, part: str, items: Sequence[Token], at: int, context: Context
) -> tuple[Finding, int]:
    """A word that is not followed by its name, place or label; and where to go on reading."""
    what = part.strip("<>")
    item = items[at] if at < len(items) else None
    if item is not None and item.kind == "word" and what in ("name", "place", "thing"):
        return taken(item, context), at + 1
    example = Fact("", (part,)).example()
    if what == "name":
        example = f"{kind.name[0].upper()}1"
    end, fix = at, f"`{kind.name} {example} ...`"
    if item is not None and item.kind in ("word", "place") and what == "label":
        while end < len(items) and items[end].kind in ("word", "place"):
            end += 1
        words = " ".join(each.text for each in items[at:end])
        fix = f'`{kind.name} "{words}"`'
    elif item is not None and item.kind == "label" and kind.name in ("load", "inverter"):
        fix = f"indent it below its circuit, or give it a name: `{kind.name} {example} ...`"
    elif item is not None and item.kind == "unknown":
        end, fix = at + 1, f"say where it is, {fix}; or keep the line as a comment until you know"
    elif item is not None and item.kind == "number":
        end, fix = at + 1, f"a name starts with a letter: `{kind.name} {example} ...`"
    where = item.span if item else items[0].span
    return (
        error(
            "opening-missing",
            Span(where.file, where.start, max(where.end, items[end - 1].span.end)),
            f"`{kind.name}` is not followed by a {what}",
            here=f"expected a {what}, such as `{example}`",
            fix=fix,
        ),
        end,
    )
