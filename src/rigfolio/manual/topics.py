"""What a rule forbids and why, and what the errors of the text mean."""

import re
from collections.abc import Iterator, Sequence
from textwrap import fill

from rigfolio.books import (
    CARRIES,
    Book,
    CurrentColumn,
    Figure,
    book_names,
    figures_of,
    load_book,
    trade_figures,
)
from rigfolio.findings import Citation
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.reports import DEFERS
from rigfolio.rule import Rule, rule, rule_names
from rigfolio.units import show
from rigfolio.wording import how_many

ERRORS = {
    "bare-number": "a number without a unit: the unit says what a number is",
    "batteries-in-series": "batteries one after the other, which are written as one",
    "character-not-read": "a character that opens no word, number, label or `?`",
    "colour-ambiguous": "a colour code that stands for more than one colour",
    "colour-not-read": "a colour or a stripe that is no colour word and no code",
    "column-count": "a panel of more columns than are read",
    "control-character": "a label that holds characters which cannot be seen",
    "curly-quote": "a typographic quote; labels stand in straight ones",
    "date-not-read": "a day that is in no calendar",
    "decimal-comma": "a comma between digits; decimals are written with a point",
    "except-not-there": "an `except` that nothing in the included file is called by",
    "except-several": "an `except` that more than one statement of the included file is called by",
    "fact-missing": "a statement without a value that it cannot do without",
    "fact-not-taken": "a value that the statement has no use for",
    "file-empty": "a file in which nothing is said",
    "file-not-read": "a file that is missing, not allowed to be read, or no plain file",
    "file-too-large": "a file far larger than any rig, table or log",
    "fuse-past-end": "a fuse further along a wire than the wire is long",
    "field-not-on-grid": "a place on a picture that its grid does not have",
    "gauge-in-comment": "a `#` before a number: it starts a comment, a gauge is written `6 AWG`",
    "include-many": "a rig in more files than are read",
    "include-outside": "an included file that does not lie beside the rig file or below it",
    "include-twice": "a file that is included more than once, or that includes itself",
    "indent-without-header": "an indented line with no header above it",
    "label-impossible": "figures of one label that no part can have together",
    "label-not-closed": "a label without its closing quote",
    "label-too-long": "a label longer than any sheet could show",
    "line-too-long": "a line longer than any statement",
    "mark-not-read": "a `/` or `%` where it means nothing",
    "merge-not-finished": "two versions of a place in one text, as a merge leaves them",
    "name-taken": "a name that is a word of the language or a colour",
    "not-inside": "a statement inside a block where it does not belong",
    "not-utf-8": "bytes that are not UTF-8 text",
    "number-too-long": "a number with more digits than anything could have",
    "opening-missing": "a statement without the name, place or label that follows its word",
    "pin-count": "a plug with more pins than are read",
    "pitch-too-small": "slots closer together than any fuse is thick",
    "phrase-broken": "a phrase that stops before its last word",
    "quantity-not-read": "a size or fraction that does not exist",
    "reading-not-understood": "a line of readings that is no reading, symptom or work done",
    "said-twice": "a value that one statement gives twice",
    "side-by-side-crowded": "more wires from one terminal to another than are read",
    "slot-count": "a panel without slots, or with more than are read",
    "sources-crowded": "more sources than are read, or than `size` and `diagnose` try",
    "terminal-crowded": "more wires and devices at one terminal than are read",
    "too-many-errors": "so many errors that the rest was not read",
    "too-many-lines": "a rig of more lines than are read",
    "tag-not-read": "what `tags used to` names is not W and a number",
    "two-rigs": "a second `rig` in one text",
    "unknown-for-nothing": "a `?` where nothing is missing",
    "unknown-unit": "a unit that is not known",
    "unknown-word": "a line that opens with a word which is no statement",
    "value-missing": "a keyword without the value that follows it",
    "window-too-high": "an opening for a label that reaches over the next slot",
    "window-too-small": "an opening for a label in which none could be read",
    "word-not-taken": "a word that the statement has no use for",
    "word-too-long": "a word longer than any name",
}
"""Errors of the text: what each says was found."""


def explain(name: str) -> str:
    """The manual page of a rule or a rule book, or what an error of the text means.

    It ends in a line break.

    Raises
    ------
    KeyError
        Neither a rule, nor a rule book, nor an error has that name.
    """
    if name in rule_names():
        return _rule_page(name)
    if name in book_names():
        return _book_page(load_book(name))
    return f"{name}\n\nError of the text: {ERRORS[name]}. Nothing is judged before it is mended.\n"


def _rule_page(name: str) -> str:
    one, _, manual = rule(name)
    held = sorted(one.books)
    books = "\n          ".join(f"{book:<8}  {load_book(book).title}" for book in held)
    parts = [
        f"{one.name}\n\n{_page(manual)}\n\n"
        f"severity  {one.severities}\n"
        f"books     {books}\n"
        f"source    {one.source.title}\n"
        f"status    {one.source.status}\n"
    ]
    for book in map(load_book, held):
        told = [*_tables_of(book, name), *figures_of(book, name)]
        if told:
            parts.append(f"limits in {book.name}:\n{_listed(told)}")
    trade = [Figure(place, "", source) for place, source in trade_figures(name)]
    if trade:
        parts.append(f"figures of the trade:\n{_listed(trade)}")
    return "\n".join(parts)


def _tables_of(book: Book, name: str) -> Iterator[Figure]:
    """The tables of currents of a book, without their rows, where a rule turns on them."""
    if name not in CARRIES:
        return
    told = dict.fromkeys((column.source.title, column.device) for column in book.columns)
    for title, device in told:
        same = [c for c in book.columns if (c.source.title, c.device) == (title, device)]
        for status in dict.fromkeys(column.source.status for column in same):
            count = sum(len(c.rows) for c in same if c.source.status == status)
            by = "size" if any(column.metric for column in same) else "gauge"
            what = f"{device} by {by}" if device else f"current by {by}"
            yield Figure(what, how_many(count, "figure"), Citation(title, status))


def _book_page(book: Book) -> str:
    """A rule book in full, for a person with the printed code beside it."""
    parts = [f"{book.name}\n\n{book.title}\nmade for  {book.made_for}\nsource    {book.source}\n"]
    recalled = _recalled(book)
    if recalled:
        parts.append(
            "from memory, to be compared with the printed code before they are relied on:\n"
            + "".join(f"{_hung(line, 2)}\n" for line in recalled)
        )
    for column in book.columns:
        parts.append(_column_page(column))
    factors = [*_factor_lines(book)]
    if factors:
        parts.append("corrections:\n" + _listed(factors))
    parts.append("single limits:\n" + _listed(list(figures_of(book))))
    if book.notes:
        notes = [Figure(note.text, "", note.source) for note in book.notes]
        parts.append("notes:\n" + _listed(notes))
    parts.append(f"`rigfolio explain RULE` says which of these a rule turns on.\n{DEFERS}\n")
    return "\n".join(parts)


def _recalled(book: Book) -> list[str]:
    """What of a book has not been read in its source."""
    found = [
        f"{column.source.title}{_kind(column)}: "
        + ", ".join(f"{row.size.text} {show(row.ampere, 'A', 4)}" for row in column.rows)
        for column in book.columns
        if column.source.status == "memory"
    ]
    figures = [*_factor_lines(book), *figures_of(book)]
    found += [f"{one.what}: {one.value}" for one in figures if one.source.status == "memory"]
    return found + [note.text for note in book.notes if note.source.status == "memory"]


def _kind(column: CurrentColumn) -> str:
    """Which column of its table it is, where the title does not say it."""
    words = [f"{column.device}s"] if column.device else []
    if column.insulation_c is not None:
        words.append(f"{column.insulation_c:g} °C insulation")
    return "".join(f", {word}" for word in words if not column.source.title.endswith(word))


def _column_page(column: CurrentColumn) -> str:
    base = "not corrected for heat" if column.base_c is None else f"ambient {column.base_c:g} °C"
    bundle = "corrected for bundles" if column.bundle else "not corrected for bundles"
    basis = f"; {column.basis}" if column.basis else ""
    wide = max(len(f"{row.ampere:g}") for row in column.rows) + 1
    unit = "mm²" if column.metric else "AWG"
    names = [row.size.text.removesuffix(f" {unit}") for row in column.rows]
    wide = max(wide, *(len(name) + 1 for name in names))
    gauges = "".join(f"{name:>{wide}}" for name in names)
    currents = "".join(f"{row.ampere:>{wide}g}" for row in column.rows)
    return (
        f"{column.source.title}{_kind(column)} ({column.source.status})\n"
        f"{_hung(f'{base}, {bundle}{basis}', 2)}\n  {unit} {gauges}\n  A   {currents}\n"
    )


def _factor_lines(book: Book) -> Iterator[Figure]:
    held = book.corrections
    yield Figure("heat", "x sqrt((Ti - Ta) / (Ti - Tb))", held.ambient_source)
    for step in held.engine:
        yield Figure(f"engine space, {step.value:g} °C", f"x {step.factor:.2f}", step.source)
    metric = tuple((step, ", metric sizes") for step in held.metric_bundles)
    for step, sizes in (*((step, "") for step in held.bundles), *metric):
        when = f", from {show(step.from_v, 'V')}" if step.from_v else ""
        when += f", below {show(step.below_v, 'V')}" if step.below_v else ""
        yield Figure(
            f"{step.value:g} or more together{sizes}{when}", f"x {step.factor:.2f}", step.source
        )


def _listed(figures: Sequence[Figure]) -> str:
    """One figure a line, and below it its source, unless that of the next line is the same."""
    wide = max((len(one.what) for one in figures if one.value), default=0)
    lines = []
    for place, one in enumerate(figures):
        lines.append(f"  {one.what:<{wide}}  {one.value}" if one.value else _hung(one.what, 2))
        after = figures[place + 1].source if place + 1 < len(figures) else None
        if one.source != after:
            lines.append(_hung(str(one.source), 6))
    return "".join(f"{line}\n" for line in lines)


def _hung(text: str, by: int) -> str:
    """Text in lines of 100 characters, those after the first set in further."""
    return fill(text, 100, initial_indent=" " * by, subsequent_indent=" " * (by + 2))


def _page(manual: str) -> str:
    """The docstring of a module as a page; stars that mean stress are left out."""
    return re.sub(r"\*(\w[^*\n]*)\*", r"\1", manual.strip())


def nearest_topic(name: str) -> str:
    """The rule, rule book or error whose name is most like another; empty where none is."""
    return nearest(name, [*rule_names(), *book_names(), *ERRORS], least=ENOUGH)


def overview() -> str:
    """All rules by the books that they belong to, then the names of the errors."""
    groups: dict[tuple[str, ...], list[Rule]] = {}
    for name in rule_names():
        one = rule(name)[0]
        groups.setdefault(tuple(sorted(one.books)), []).append(one)
    held = [load_book(name) for name in book_names()]
    parts = [
        "rule books, `rigfolio explain BOOK` prints one:\n"
        + "\n".join(
            f"  {book.name:<8}  {book.title}\n            {book.source}\n"
            f"            for {book.made_for}"
            for book in held
        )
    ]
    for books, rules in sorted(groups.items(), key=lambda pair: (-len(pair[0]), pair[0])):
        wide = max(len(one.name) for one in rules)
        bad = max(len(one.severities) for one in rules)
        lines = [f"rules of {', '.join(books)}:"]
        for one in rules:
            lines.append(f"  {one.name:<{wide}}  {one.severities:<{bad}}  {_first(one.name)}")
        parts.append("\n".join(lines))
    parts.append("errors of the text:\n" + "\n".join(_columns(sorted(ERRORS))))
    return "\n\n".join(parts) + "\n"


def _first(name: str) -> str:
    """The first sentence of a rule's page."""
    paragraph = rule(name)[2].strip().split("\n\n")[0]
    return " ".join(paragraph.split()).split(". ")[0].rstrip(".")


def _columns(names: list[str]) -> list[str]:
    wide = max(len(name) for name in names) + 2
    rows = (len(names) + 2) // 3
    return [
        "  " + "".join(f"{name:<{wide}}" for name in names[row::rows]).rstrip()
        for row in range(rows)
    ]
