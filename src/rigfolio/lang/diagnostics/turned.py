"""What to say of a phrase whose words stand in another order, or whose unit tells another thing."""

from collections.abc import Sequence

from rigfolio.findings import Edit, Finding, Span
from rigfolio.lang.fact import Context, Fact, Given
from rigfolio.lang.lines import Token, error
from rigfolio.lang.patterns import match
from rigfolio.units import from_si


def turned_round(
    takes: Sequence[Fact], items: Sequence[Token], at: int, context: Context
) -> tuple[Finding, int] | None:
    """`10 A fuse` where `fuse 10 A` is read, and where to go on; None for anything else."""
    for fact in takes:
        if len(fact.parts) != 2 or fact.parts[0][0] == "<" or fact.parts[1][0] != "<":
            continue
        word, value = fact.parts
        got = match((value,), items, at, context)
        end = got.end if got is not None else len(items)
        if end >= len(items) or items[end].plain not in word.split("|"):
            continue
        # Whoever goes on with a value means that one: `10 A, fuse 15 A`.
        if match(fact.parts, items, end, context) is not None:
            continue
        return _in_order(items, at, (end, end + 1), (at, end)), end + 1
    return None


def value_behind(
    takes: Sequence[Fact], items: Sequence[Token], word: tuple[int, int], value: str,
    context: Context,
) -> tuple[Finding, int] | None:  # fmt: skip
    """`fuse mega 175 A`, the value of a word behind the next fact, and where to go on; else None.

    Parameters
    ----------
    takes : Sequence[Fact]
        What the statement takes.
    items : Sequence[Token]
        The statement.
    word : tuple of int
        Where the word begins, and where its value should.
    value : str
        The value that it takes, as in a fact.
    context : Context
        What is known of names.
    """
    at, end = word
    got = next((one for fact in takes if (one := match(fact.parts, items, end, context))), None)
    after = None if got is None else match((value,), items, got.end, context)
    if got is None or after is None:
        return None
    if any(match(fact.parts, items, got.end, context) for fact in takes):
        return None
    found = _in_order(items, at, (at, end), (got.end, after.end), (end, got.end))
    return found, after.end


def _in_order(items: Sequence[Token], at: int, *parts: tuple[int, int]) -> Finding:
    """What is not read as it stands, from an item on, with its parts in the order that is."""
    last = max(end for _, end in parts)
    where = Span(items[at].span.file, items[at].span.start, items[last - 1].span.end)
    whole = " ".join(written(items, *part) for part in parts)
    return error(
        "phrase-broken", where, f"`{written(items, at, last)}` is not read in this order",
        fix=f"`{whole}`", edits=(Edit(where, whole),),
    )  # fmt: skip


def written(items: Sequence[Token], at: int, end: int) -> str:
    """Some items as they were written."""
    return " ".join(
        f'"{one.text}"' if one.kind == "label" else f"{one.text} {one.unit}".rstrip()
        for one in items[at:end]
    )


def two_lengths(takes: Sequence[Fact], before: Given, after: Given) -> Finding | None:
    """`2.5 mm red 5 m`, whose millimetres were meant as a size; None where neither can be."""
    if not any(fact.parts == ("<size>",) for fact in takes) or before.unit == after.unit:
        return None
    meant = next((one for one in (before, after) if one.unit == "mm"), None)
    if meant is None or not isinstance(meant.value, float):
        return None
    size = f"{from_si(meant.value, 'mm'):g} mm2"
    return error(
        "said-twice", meant.span, "two lengths and no size in one statement",
        here="millimetres are a length, square millimetres a size",
        fix=f"`{size}`", edits=(Edit(meant.span, size),), otherwise="keep one of them",
    )  # fmt: skip
