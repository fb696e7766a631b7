"""Lines, blocks and the items they are made of, each with its place in the text."""

from typing import Literal

from rigfolio.findings import Edit, Finding, Fix, Label, Severity, Span
from rigfolio.record import record

Kind = Literal[
    "number", "quantity", "place", "word", "label", "date", "unknown", "comma", "slash", "percent"
]


@record
class Token:
    """One piece of a line.

    A quantity holds its number in `text` and its unit in `unit`; everything else only `text`
    (a label without its quotes).
    """

    kind: Kind
    text: str
    span: Span
    unit: str = ""

    @property
    def plain(self) -> str:
        """The text in small letters: capitals never matter to a word of the language."""
        return self.text.casefold()


@record
class TextLine:
    """One line that says something: its items, the head first, and the blanks before them.

    A line `is_cut` that cannot be read to its end: its items are those before that place, where
    there is none a comma that is not there.
    """

    items: tuple[Token, ...]
    span: Span
    indent: str = ""
    is_cut: bool = False

    @property
    def head(self) -> str:
        """The word that opens the line, in small letters, or nothing."""
        first = self.items[0]
        return first.plain if first.kind == "word" else ""


@record
class Block:
    """A header and the indented lines below it."""

    header: TextLine
    body: tuple[TextLine, ...] = ()


def error(
    rule: str,
    span: Span,
    headline: str,
    *,
    here: str = "",
    fix: str = "",
    edits: tuple[Edit, ...] = (),
    otherwise: str = "",
) -> Finding:
    """A finding that says the text was not understood.

    Parameters
    ----------
    rule : str
        Its name.
    span : Span
        The place.
    headline : str
        What was found.
    here : str
        What is to be said at the place.
    fix : str
        What is most likely meant; it never states a figure or a word that the text does not hold.
    edits : tuple of Edit
        The edits that write that, to be tried; none where it is only said.
    otherwise : str
        What is to be said where the edits do not serve.
    """
    return Finding(
        rule,
        Severity.ERROR,
        headline,
        Label(span, here),
        fix=Fix(fix, "ask" if edits else "show", (), edits, otherwise) if fix else None,
    )


def is_deeper(line: TextLine, above: TextLine) -> bool:
    """Whether a line is indented further than another; tabs and spaces are not compared."""
    return line.indent != above.indent and line.indent.startswith(above.indent)


def blocks(lines: tuple[TextLine, ...]) -> tuple[tuple[Block, ...], tuple[Finding, ...]]:
    """Headers with their bodies; an indented line with no header above it is an error."""
    found: list[Finding] = []
    made: list[tuple[TextLine, list[TextLine]]] = []
    for line in lines:
        if not line.indent:
            made.append((line, []))
        elif made:
            made[-1][1].append(line)
        else:
            found.append(
                error(
                    "indent-without-header",
                    line.items[0].span,
                    "an indented line, and no header line above it",
                    here="belongs to nothing",
                    fix="start the line in the first column",
                )
            )
    return tuple(Block(head, tuple(body)) for head, body in made), tuple(found)
