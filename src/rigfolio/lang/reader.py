"""Reads the facts of a statement, in whatever order they stand."""

from collections.abc import Collection, Iterator, Sequence

from rigfolio.findings import UNKNOWN, Finding, Span
from rigfolio.lang.amounts import spelt
from rigfolio.lang.fact import Context, Fact, Facts, Given, One, Value
from rigfolio.lang.lines import Token, error
from rigfolio.lang.patterns import Got, match, starts_of
from rigfolio.units import UNITS

MOST_ERRORS = 100
"""Errors of one statement after which its rest is not read."""


class Reader:
    """Reads the facts of one statement from its items.

    `settled` are the facts that need not be said here, because a block says them for all.
    """

    def __init__(
        self, takes: tuple[Fact, ...], context: Context, settled: Collection[str] = ()
    ) -> None:
        self.takes = takes
        self._starts = starts_of(self.takes)
        self.settled = settled
        self.context = context
        self.given: dict[str, list[Given]] = {}
        self.found: list[Finding] = []
        self.bare: list[Token] = []

    def read(self, lines: Sequence[Sequence[Token]]) -> tuple[Facts, tuple[Finding, ...]]:
        """All facts that some lines give, and what was not understood."""
        for items in lines:
            self._line(items)
        self.found += self._fill()
        return Facts({key: tuple(each) for key, each in self.given.items()}), tuple(self.found)

    def _line(self, items: Sequence[Token]) -> None:
        at = 0
        while at < len(items) and len(self.found) < MOST_ERRORS:
            best = self._best(items, at)
            if best is None:
                at = self._odd(items, at)
                continue
            fact, got = best
            span = Span(items[at].span.file, items[at].span.start, items[got.end - 1].span.end)
            given = Given(_value(got.values), span, items[got.end - 1].unit)
            if fact.key in self.given and not fact.many:
                problem, at = self._twice(fact, given, items, at, got.end)
                self.found.append(problem)
                continue
            self.given.setdefault(fact.key, []).append(given)
            at = got.end

    def _best(self, items: Sequence[Token], at: int) -> tuple[Fact, Got] | None:
        best: tuple[Fact, Got] | None = None
        for fact in self._starts.at(items[at]):
            got = match(fact.parts, items, at, self.context)
            if got is not None and (best is None or got.end > best[1].end):
                best = (fact, got)
        return best

    def _odd(self, items: Sequence[Token], at: int) -> int:
        """Keep what no fact starts with; returns where to go on."""
        if items[at].kind == "unknown":
            self.bare.append(items[at])
            return at + 1
        # Only a text with a mistake in it needs the module that words the answers.
        from rigfolio.lang.diagnostics import reply

        finding, end = reply(self.takes, self.context, frozenset(self.given), items, at)
        self.found.append(finding)
        return end

    def _fill(self) -> Iterator[Finding]:
        missing = [
            fact
            for fact in self.takes
            if fact.essential and fact.key not in self.given and fact.key not in self.settled
        ]
        for item in self.bare:
            if not missing:
                yield error(
                    "unknown-for-nothing",
                    item.span,
                    "`?` found, and nothing is missing that it could stand for",
                    fix="take it out, or write it with its unit or keyword, as in `? A`",
                )
            else:
                self.given[missing.pop(0).key] = [Given(UNKNOWN, item.span)]

    def _twice(
        self, fact: Fact, given: Given, items: Sequence[Token], at: int, end: int
    ) -> tuple[Finding, int]:
        """What to say of a fact that has been given, and where to go on."""
        from rigfolio.lang.diagnostics import turned_round, two_lengths

        turned = turned_round(self.takes, items, at, self.context)
        if turned is not None:
            return turned
        if fact.key == "length" and "size" not in self.given:
            lengths = two_lengths(self.takes, self.given[fact.key][0], given)
            if lengths is not None:
                return lengths, end
        fix = "keep one of them"
        if fact.key == "colour":
            fix = "a stripe is written `red/black`; otherwise keep one of them"
        said = " ".join(f"{item.text} {item.unit}".strip() for item in items[at:end])
        headline = f"`{said}` is a second value of its kind in one statement"
        return error("said-twice", given.span, headline, fix=fix), end


_PLAIN = frozenset({"", "AWG", *UNITS})


def parted(
    items: Sequence[Token], takes: Sequence[Fact], context: Context, names: Sequence[str]
) -> tuple[Token, ...]:
    """Items in which a word behind a lone number is not taken for the number's unit.

    `SEL1 1 S1 open` and `tag 104 red` are read so; `names` are further words that are no units.
    A noun that is also a word of the language is put back to its number: `bundle of 4 wires`.
    """
    if not any(item.kind == "number" or item.unit not in _PLAIN for item in items):
        return tuple(items)
    nouns = _nouns(takes)
    literals = [word for fact in takes for part in fact.parts if part[0] != "<"
                for word in part.split("|")]  # fmt: skip
    known = {*literals, *names, *context.colours} - nouns
    has_numbers = any(word.isdigit() for word in literals)
    made: list[Token] = []
    for item in items:
        is_called = bool(made) and made[-1].plain == "tag"
        first = item.unit.split("/")[0].casefold()
        own_word = item.unit not in UNITS and (has_numbers or first in known)
        gap = item.span.end - item.span.start > len(item.text) + len(item.unit)
        if item.kind == "quantity" and gap and (is_called or own_word):
            made += _split(item)
        elif item.plain in nouns and made and made[-1].kind == "number":
            number = made.pop()
            span = Span(item.span.file, number.span.start, item.span.end)
            made.append(Token("quantity", number.text, span, spelt(item.text)))
        else:
            made.append(item)
    return tuple(made)


def _nouns(takes: Sequence[Fact]) -> set[str]:
    return {"AWG"} | {
        noun for fact in takes for part in fact.parts if part.startswith("<n ")
        for noun in (part[3:-1], part[3:-1].rstrip("s"))
    }  # fmt: skip


def _split(item: Token) -> Iterator[Token]:
    """A number and the words of what was read as its unit, `104 red/black`."""
    file, start = item.span.file, item.span.start
    yield Token("number", item.text, Span(file, start, start + len(item.text)))
    at = item.span.end - len(item.unit)
    for number, word in enumerate(item.unit.split("/")):
        if number:
            yield Token("slash", "/", Span(file, at - 1, at))
        yield Token("word", word, Span(file, at, at + len(word)))
        at += len(word) + 1


def _value(values: tuple[One, ...]) -> Value:
    if not values:
        return True
    return values[0] if len(values) == 1 else values
