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
        first, last = items[at].span, items[end].span
        where = Span(first.file, first.start, last.end)
        said = " ".join(f"{one.text} {one.unit}".rstrip() for one in items[at:end])
        whole = f"{items[end].text} {said}"
        found = error(
            "phrase-broken", where, f"`{said} {items[end].text}` is not read in this order",
            fix=f"`{whole}`", edits=(Edit(where, whole),),
        )  # fmt: skip
        return found, end + 1
    return None


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
