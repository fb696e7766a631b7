"""The columns of each shape of line, from left to right."""

from rigfolio.record import record


@record
class TabStop:
    """One column of lines of a shape.

    `gap` is the least number of blanks behind it. `least` is how wide it is at least. `apart` is
    how many blanks a line that is wider than the column is worth: the more, the sooner the column
    grows for it. Columns of one `table` have one width in a section.
    """

    table: str
    name: str
    gap: int
    apart: int = 20
    least: int = 0


@record
class LineShape:
    """The columns of a line; what comes behind the last one is set with single blanks."""

    columns: tuple[TabStop, ...]


_STIFF = 40
"""A word that opens a line, and a terminal, hardly ever stands beside its column."""
_INNER = 6
"""Letters of `return` and `switch`: bodies of circuits line up with each other by them."""

PART = LineShape((
    TabStop("part", "head", 2, _STIFF), TabStop("part", "name", 2, _STIFF),
    TabStop("part", "label", 2),
))  # fmt: skip
WIRE = LineShape((
    TabStop("wire", "head", 2, _STIFF), TabStop("wire", "name", 2, _STIFF),
    TabStop("wire", "from", 1, _STIFF), TabStop("wire", "to", 2, _STIFF),
    TabStop("wire", "size", 1, _STIFF), TabStop("wire", "colour", 2), TabStop("wire", "length", 2),
))  # fmt: skip
RUN = LineShape((
    TabStop("inner", "head", 1, 0, _INNER), TabStop("run", "name", 1, _STIFF),
    TabStop("run", "size", 1, _STIFF), TabStop("run", "colour", 1), TabStop("run", "length", 2),
))  # fmt: skip
HEAD = LineShape((TabStop("inner", "head", 1, 0, _INNER),))
CIRCUIT = LineShape((TabStop("circuit", "opening", 2),))
LISTED = LineShape((TabStop("listed", "head", 1), TabStop("listed", "name", 2)))
PLAIN = LineShape(())


def inner(word: str) -> LineShape:
    """The columns of a load or a device inside a circuit; each word has a table of its own."""
    return LineShape((
        TabStop("inner", "head", 1, 0, _INNER), TabStop(word, "name", 1),
        TabStop(word, "label", 2), TabStop(word, "figure", 1),
    ))  # fmt: skip


def state(settings: int) -> LineShape:
    """The columns of a state: its title, and each of its settings."""
    each = (TabStop("state", f"set {number}", 1) for number in range(settings))
    return LineShape((TabStop("state", "head", 1), TabStop("state", "title", 2), *each))


def fact(key: str, items: int) -> LineShape:
    """The columns of a line that says one fact of its header; those of one key line up."""
    each = (TabStop(f"fact {key}", f"item {number}", 1, _STIFF) for number in range(items - 1))
    return LineShape((TabStop("fact", "head", 2, _STIFF), *each))
