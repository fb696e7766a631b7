"""What to say of one item that is read as nothing: a figure, a day, a word that is taken."""

from collections.abc import Sequence

from rigfolio.findings import Edit, Finding
from rigfolio.lang.amounts import SIZE_UNITS, why_not
from rigfolio.lang.diagnostics.meant import instead
from rigfolio.lang.fact import Context
from rigfolio.lang.lines import Token, error
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.units import MEANT, UNITS


def no_quantity(item: Token, parts: Sequence[str], expected: str) -> Finding:
    """A figure whose unit is none, or of which there is none such."""
    if item.unit in UNITS or item.unit in SIZE_UNITS:
        why, fix = why_not(item)
        return error(
            "quantity-not-read", item.span, f"there is no `{item.text} {item.unit}`",
            here=why, fix=fix,
        )  # fmt: skip
    nouns = [part[3:-1] for part in parts if part.startswith("<n ")]
    if item.unit in nouns or f"{item.unit}s" in nouns:
        return error(
            "quantity-not-read", item.span, f"there is no `{item.text} {item.unit}`",
            here="things are counted 1, 2, 3", fix="`?` where it is not known",
        )  # fmt: skip
    low = item.unit.lower()
    near = MEANT.get(low) or nearest(item.unit, [*UNITS, "AWG", *nouns], least=ENOUGH)
    otherwise = instead(item.unit) or "write one of the units that are read"
    if low == "o":
        fix = f"`{item.text}0`, with the digit and not the letter"
        return error(
            "unknown-unit", item.span, f"`{item.unit}` is not a unit", here=expected, fix=fix
        )  # fmt: skip
    # A unit that begins with another letter would be another measure, or a thousandfold.
    is_slip = bool(near) and (low in MEANT or near[0].lower() == low[0])
    fix = f"{item.text} {near}"
    return error(
        "unknown-unit", item.span, f"`{item.unit}` is not a unit", here=expected,
        fix=f"`{fix}`" if is_slip else otherwise,
        edits=(Edit(item.span, fix),) if is_slip else (), otherwise=otherwise,
    )  # fmt: skip


def no_day(item: Token) -> Finding:
    """A date that the calendar does not have."""
    return error(
        "date-not-read", item.span, f"there is no day `{item.text}`",
        fix="year, month and day, as in `2026-03-14`",
    )  # fmt: skip


def taken(item: Token, context: Context) -> Finding:
    """A word that has a meaning of its own and cannot be a name."""
    why = "a colour" if item.plain in context.colours else "a word of the language"
    return error(
        "name-taken", item.span, f"`{item.text}` is {why} and cannot be a name",
        fix=f"another name, such as `{item.text}1`",
    )  # fmt: skip
