"""What a rule forbids and why, and what the errors of the text mean."""

import re

from rigfolio.books.loader import book_names, load_book
from rigfolio.study.rule import Rule, rule, rule_names

ERRORS = {
    "bare-number": "a number without a unit: the unit says what a number is",
    "character-not-read": "a character that opens no word, number, label or `?`",
    "colour-ambiguous": "a colour code that stands for more than one colour",
    "colour-not-read": "a colour or a stripe that is no colour word and no code",
    "control-character": "a label that holds characters which cannot be seen",
    "curly-quote": "a typographic quote; labels stand in straight ones",
    "date-not-read": "a day that is in no calendar",
    "decimal-comma": "a comma between digits; decimals are written with a point",
    "fact-missing": "a statement without a value that it cannot do without",
    "fact-not-taken": "a value that the statement has no use for",
    "file-empty": "a file in which nothing is said",
    "file-not-read": "a file that is missing, not allowed to be read, or no plain file",
    "file-too-large": "a file far larger than any rig file",
    "fuse-past-end": "a fuse further along a wire than the wire is long",
    "gauge-in-comment": "a `#` before a number: it starts a comment, a gauge is written `6 AWG`",
    "include-many": "a rig in more files than are read",
    "include-outside": "an included file that does not lie beside the rig file or below it",
    "include-twice": "a file that is included more than once, or that includes itself",
    "indent-without-header": "an indented line with no header above it",
    "label-not-closed": "a label without its closing quote",
    "label-too-long": "a label longer than any sheet could show",
    "line-too-long": "a line longer than any statement",
    "mark-not-read": "a `/` or `%` where it means nothing",
    "name-taken": "a name that is a word of the language or a colour",
    "not-inside": "a statement inside a block where it does not belong",
    "not-utf-8": "bytes that are not UTF-8 text",
    "number-too-long": "a number with more digits than anything could have",
    "opening-missing": "a statement without the name, place or label that follows its word",
    "phrase-broken": "a phrase that stops before its last word",
    "quantity-not-read": "a size or fraction that does not exist",
    "said-twice": "a value that one statement gives twice",
    "slot-count": "a panel without slots, or with more than are read",
    "too-many-errors": "so many errors that the rest was not read",
    "too-many-lines": "a rig of more lines than are read",
    "two-rigs": "a second `rig` in one text",
    "unknown-for-nothing": "a `?` where nothing is missing",
    "unknown-unit": "a unit that is not known",
    "unknown-word": "a line that opens with a word which is no statement",
    "value-missing": "a keyword without the value that follows it",
    "word-not-taken": "a word that the statement has no use for",
    "word-too-long": "a word longer than any name",
}
"""Errors of the text: what each says was found."""


def explain(name: str) -> str:
    """The manual page of a rule, or what an error of the text means; ends in a line break.

    Raises
    ------
    KeyError
        Neither a rule nor an error has that name.
    """
    if name in rule_names():
        one, _, manual = rule(name)
        books = "\n          ".join(
            f"{book:<8}  {load_book(book).title}" for book in sorted(one.books)
        )
        return (
            f"{one.name}\n\n{_page(manual)}\n\n"
            f"severity  {one.severity.value}\n"
            f"books     {books}\n"
            f"source    {one.source.title}\n"
            f"status    {one.source.status}\n"
        )
    return f"{name}\n\nError of the text: {ERRORS[name]}. Nothing is judged before it is mended.\n"


def _page(manual: str) -> str:
    """The docstring of a module as a page; stars that mean stress are left out."""
    return re.sub(r"\*(\w[^*\n]*)\*", r"\1", manual.strip())


def near(name: str) -> str:
    """The rule or error whose name is most like another; empty where none is."""
    from difflib import get_close_matches

    close = get_close_matches(name, [*rule_names(), *ERRORS], n=1, cutoff=0.5)
    return close[0] if close else ""


def overview() -> str:
    """All rules by the books that they belong to, then the names of the errors."""
    groups: dict[tuple[str, ...], list[Rule]] = {}
    for name in rule_names():
        one = rule(name)[0]
        groups.setdefault(tuple(sorted(one.books)), []).append(one)
    parts = ["\n".join(f"{book:<8}  {load_book(book).title}" for book in book_names())]
    for books, rules in sorted(groups.items(), key=lambda pair: (-len(pair[0]), pair[0])):
        wide = max(len(one.name) for one in rules)
        lines = [f"rules of {', '.join(books)}:"]
        for one in rules:
            lines.append(f"  {one.name:<{wide}}  {one.severity.value:<7}  {_first(one.name)}")
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
