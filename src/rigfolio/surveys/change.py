"""What a survey changes in a text, and what it says of that, row by row."""

from collections.abc import Iterator, Mapping, Sequence
from math import isclose

from rigfolio.findings import UNKNOWN, Edit, Span
from rigfolio.kinds import DEVICES, guards
from rigfolio.lang import Facts, Value
from rigfolio.reading import Said
from rigfolio.surveys.cells import NO_PLATE
from rigfolio.surveys.statement_index import StatementIndex, read_statement
from rigfolio.surveys.told import Spelt, Surveyed, Trouble
from rigfolio.wording import length_words

LONGEST_NOTE = 80
_LINES = ("wire", "circuit")
"""Statements of which a fuse is a part: only what is printed on that fuse is a plate."""
_NO_FUSE_PLATE = (
    "not what is printed on a fuse besides its rating: `interrupts 10 kA`, `rated 58 V`"
)
NO_FIGURES: Mapping[str, float | None] = {}
_LENGTHS = frozenset({"length", "tail", "breakout"})


class SurveyChange:
    """Edits of texts, lines to be added behind them, and what is told.

    What is asked with `?` is filled in and what is not said is added; where the survey says
    something else than the text, that is told and the text stays as it is.
    """

    def __init__(self, index: StatementIndex) -> None:
        self.index = index
        self.edits: list[Edit] = []
        self.added: list[tuple[str, str]] = []
        self.done: list[Trouble] = []
        self.trouble: list[Trouble] = []
        self.spelt: list[Spelt] = []

    def told(self, row: Surveyed, words: str) -> None:
        """Tell what was left alone."""
        self.trouble.append(Trouble(row.line, f"{row.place}: {words}"))

    def did(self, row: Surveyed, words: str) -> None:
        """Tell what was filled in or added."""
        self.done.append(Trouble(row.line, f"{row.place}: {words}"))

    def add(self, row: Surveyed, place: str, text: str, words: str) -> None:
        """Lines of their own for the end of the rig file, in the order of their places."""
        self.added.append((place, text))
        self.did(row, words)

    def put(self, row: Surveyed, said: Said, words: str, column: str) -> None:
        """One more fact behind a statement."""
        end = said.span.end
        self.replace(row, Span(said.span.file, end, end), f", {words}", _once_said(column, words))

    def replace(self, row: Surveyed, span: Span, words: str, told: str) -> None:
        """Something in the place of what stands in the text."""
        self.edits.append(Edit(span, words))
        self.did(row, told)

    def fact(self, row: Surveyed, said: Said, key: str, words: str, column: str) -> None:
        """Fill in one fact; `words` are how it is written.

        Where a block of wires says it of all of them, a line of its own says it of one.
        """
        own = said.facts.all(key)
        given = own or self.index.shared(said).all(key)
        value = self.value(said, key, words)
        if not given or (not own and given[0].value is UNKNOWN):
            self.put(row, said, words, column)
        elif given[0].value is UNKNOWN:
            self.replace(row, given[0].span, words, _once_said(column, words))
        elif value is None or not is_same(value, given[0].value, is_length=key in _LENGTHS):
            was = self.index.words(given[0].span)
            self.told(row, f"the text says `{was}`, the survey `{words}`")

    def differs(self, said: Said, key: str, words: str) -> bool:
        """Whether the text knows one value of a fact, and words say another one."""
        given = said.facts.all(key) or self.index.shared(said).all(key)
        value = self.value(said, key, words)
        known = given[0].value if given else UNKNOWN
        return value is not None and known is not UNKNOWN and not is_same(value, known)

    def value(self, said: Said, key: str, words: str) -> Value | None:
        """What the words of one fact say, read as a part of their statement."""
        read = read_statement(f"{_head(said)} {words}")
        return _first(read.facts, key) if read is not None else None

    def plate(
        self, row: Surveyed, said: Said, known: Mapping[str, float | None] = NO_FIGURES
    ) -> None:
        """What is printed on a part, as its own statement would say it.

        `known` are figures that follow from others of the text, by the fact that would say them.
        """
        cell = row.cells.get("plate", "")
        if not cell:
            return
        head = _head(said)
        text = f"{head} {cell}"
        read = read_statement(text)
        if read is None:
            # Of several facts only those are told that were not understood.
            facts = [each.strip() for each in cell.split(",")]
            unread = [each for each in facts if read_statement(f"{head} {each}") is None] or facts
            where = f"{row.place}, plate: `{', '.join(unread)}`"
            self.trouble.append(Trouble(row.line, where, NO_PLATE.format(said.word)))
            return
        for key, given in read.facts.given.items():
            if key not in ("interrupts", "rated", "family") and said.word in _LINES:
                where = f"{row.place}, plate: `{cell}`"
                self.trouble.append(Trouble(row.line, where, _NO_FUSE_PLATE))
                continue
            span, figure = given[0].span, known.get(key)
            if figure is not None and is_same(given[0].value, figure):
                continue
            self.fact(row, said, key, text[span.start : span.end], "plate")

    def condition(self, row: Surveyed, said: Said, known: str) -> None:
        """The first mark of heat or damp; a text has room for one, the others are noted."""
        words = row.cells.get("condition", "").split(", ")
        if words == [""]:
            return
        if known and known not in words:
            self.told(row, f"the text says `{known}`, the survey `{words[0]}`")
        elif not known:
            self.put(row, said, words[0], "condition")

    def note(self, row: Surveyed, said: Said, known: str) -> None:
        """Keep what has no word of its own as a remark, behind the one that is there."""
        words = note_words(row, known)
        new = [part for part in words if part.casefold() not in known.casefold()]
        whole = "; ".join((*([known] if known else []), *new))
        if not new:
            return
        span = said.facts.span("note")
        if span is None:
            self.put(row, said, f'note "{self.noted(row, new)}"', "note")
        elif len(whole) <= LONGEST_NOTE:
            self.replace(row, span, f'note "{whole}"', f'note "{whole}"')
        else:
            self.told(row, f"the text notes `{known}`, the survey `{'; '.join(new)}`")

    def noted(self, row: Surveyed, parts: Sequence[str]) -> str:
        """As much of a note as a text has room for; the rest is told."""
        whole = "; ".join(parts)
        kept = whole[:LONGEST_NOTE]
        if kept != whole:
            rest = whole[LONGEST_NOTE:]
            self.told(row, f"a note has room for {LONGEST_NOTE} letters: `{rest}` is NOT TAKEN")
        return kept


def note_words(row: Surveyed, kept: str = "") -> list[str]:
    """What a row says that has no word of its own; a mark that is kept elsewhere is left out.

    That one wire lands on a terminal is what everybody takes for granted.
    """
    marks = [mark for mark in row.cells.get("condition", "").split(", ")[1:] if mark != kept]
    parts = [f"also {', '.join(marks)}"] if marks else []
    count = row.cells.get("wires", "")
    if count not in ("", "1"):
        parts.append(f"{count} wires on its terminal")
    if "note" in row.cells:
        parts.append(row.cells["note"])
    return parts


def is_same(one: Value, other: Value, *, is_length: bool = False) -> bool:
    """Whether two values of a fact are the same; figures as far as anybody prints them.

    A length is printed in feet and inches or in metres, whatever it was written in.
    """
    pairs = list(_figures(one, other))
    if pairs:
        return all(
            isclose(a, b, rel_tol=1e-5) or (is_length and _is_printed_alike(a, b)) for a, b in pairs
        )
    return one == other


def _is_printed_alike(one_m: float, other_m: float) -> bool:
    return any(
        length_words(one_m, imperial=imperial) == length_words(other_m, imperial=imperial)
        for imperial in (True, False)
    )


def _figures(one: Value, other: Value) -> Iterator[tuple[float, float]]:
    if isinstance(one, float) and isinstance(other, float):
        yield one, other


def _first(facts: Facts, key: str) -> Value | None:
    given = facts.all(key)
    return given[0].value if given else None


def _head(said: Said) -> str:
    """How a statement begins; in a circuit a switch needs no name, by itself it does."""
    opening = " ".join(str(one) for one in said.opening)
    return f"{said.word} {opening or ('X' if said.word in DEVICES else '')}".strip()


def _once_said(column: str, words: str) -> str:
    """What was filled in, with the name of its column where the words do not hold it."""
    named = (column, *guards(), "breakout")
    is_plain = column == "plate" or words.startswith(tuple(f"{word} " for word in named))
    return words if is_plain else f"{column} {words}"
