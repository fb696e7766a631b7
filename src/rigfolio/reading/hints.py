"""What to say of a line that opens wrongly or stands in the wrong block."""

from collections.abc import Mapping, Sequence

from rigfolio.findings import Edit, Finding, Span
from rigfolio.lang import Context, Fact, TextLine, Token, error, taken
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reading.word import Word


def unknown_word(line: TextLine, known: Mapping[str, Word]) -> Finding:
    """A line whose first word opens no statement."""
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


def _opens_fact(kind: Word, text: str) -> bool:
    return any(text in fact.opens for fact in kind.takes)


def misplaced(line: TextLine, kind: Word) -> Finding:
    """A statement in a block where it does not belong."""
    allowed = ", ".join(kind.inside) or "no other statement"
    return error(
        "not-inside", line.items[0].span, f"`{line.head}` does not stand inside `{kind.name}`",
        here=f"inside `{kind.name}` stands {allowed}", fix="start the line in the first column",
    )  # fmt: skip


def slip(line: TextLine, kind: Word) -> Finding | None:
    """A line of a block whose first word is nearly a statement that may stand there."""
    near = nearest(
        line.head, [*kind.inside, *(w for fact in kind.takes for w in fact.opens)], least=ENOUGH
    )
    if near not in kind.inside:
        return None
    return error(
        "unknown-word", line.items[0].span, f"`{line.head}` opens no statement",
        fix=f"the nearest word is `{near}`", edits=(Edit(line.items[0].span, near),),
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
