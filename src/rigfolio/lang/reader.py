"""Reads the facts of a statement, and says what was not understood."""

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches

from rigfolio.findings import UNKNOWN, Finding, Span
from rigfolio.lang.facts import EXAMPLES, Context, Fact, Facts, Given, One, Value
from rigfolio.lang.lines import Item, error
from rigfolio.lang.match import Got, match, measures
from rigfolio.units import UNITS


class Reader:
    """Reads the facts of one statement from its items."""

    def __init__(self, takes: Sequence[Fact], context: Context) -> None:
        self.takes = tuple(takes)
        self.context = context

    def read(self, lines: Sequence[Sequence[Item]]) -> tuple[Facts, tuple[Finding, ...]]:
        """All facts that some lines give, and what was not understood."""
        given: dict[str, list[Given]] = {}
        found: list[Finding] = []
        bare: list[Item] = []
        for items in lines:
            self._line(items, given, found, bare)
        found += self._fill(given, bare)
        return Facts({key: tuple(values) for key, values in given.items()}), tuple(found)

    def _line(
        self,
        items: Sequence[Item],
        given: dict[str, list[Given]],
        found: list[Finding],
        bare: list[Item],
    ) -> None:
        at = 0
        while at < len(items):
            best = self._best(items, at)
            if best is None:
                if items[at].kind == "unknown":
                    bare.append(items[at])
                else:
                    found += self._not_taken(items, at, given)
                at += 1
                continue
            fact, got = best
            span = Span(items[at].span.file, items[at].span.start, items[got.end - 1].span.end)
            if fact.key in given and not fact.many:
                found.append(_twice(fact, span))
            else:
                given.setdefault(fact.key, []).append(Given(_value(got.values), span))
            at = got.end

    def _best(self, items: Sequence[Item], at: int) -> tuple[Fact, Got] | None:
        best: tuple[Fact, Got] | None = None
        for fact in self.takes:
            got = match(fact.parts, items, at, self.context)
            if got is not None and (best is None or got.end > best[1].end):
                best = (fact, got)
        return best

    def _fill(self, given: dict[str, list[Given]], bare: Sequence[Item]) -> Iterator[Finding]:
        missing = [fact for fact in self.takes if fact.essential and fact.key not in given]
        for item in bare:
            if not missing:
                yield error(
                    "unknown-for-nothing",
                    item.span,
                    "`?` found, and nothing is missing that it could stand for",
                    fix="take it out, or write it with its unit or keyword, as in `? A`",
                )
            else:
                given[missing.pop(0).key] = [Given(UNKNOWN, item.span)]

    def _expected(self) -> str:
        return ", ".join(f"`{fact.example()}`" for fact in self.takes)

    def _not_taken(
        self, items: Sequence[Item], at: int, given: Mapping[str, object]
    ) -> Iterator[Finding]:
        item = items[at]
        if item.kind == "number":
            yield self._bare_number(item, given)
        elif item.kind == "quantity":
            yield self._odd_quantity(item)
        elif item.kind == "word":
            yield self._odd_word(item)
        elif item.kind == "slash" or (item.kind == "percent"):
            yield error(
                "mark-not-read", item.span, f"`{item.text}` found where it means nothing",
                fix="a stripe is written `red/black`, a share `3 %`",
            )  # fmt: skip
        else:
            yield error(
                "fact-not-taken",
                item.span,
                f"`{item.text}` is not taken here",
                here=f"expected: {self._expected()}",
            )

    def _bare_number(self, item: Item, given: Mapping[str, object]) -> Finding:
        likely = [
            fact.example().split()[-1]
            for fact in self.takes
            if fact.key not in given and len(fact.parts) == 1 and fact.parts[0][1:-1] in EXAMPLES
            and EXAMPLES[fact.parts[0][1:-1]][0].isdigit() and fact.parts[0] != "<date>"
        ]  # fmt: skip
        units = " or ".join(f"`{item.text} {unit}`" for unit in dict.fromkeys(likely[:3]))
        return error(
            "bare-number",
            item.span,
            f"`{item.text}` has no unit",
            here="the unit says what a number is",
            fix=units,
        )

    def _odd_quantity(self, item: Item) -> Finding:
        if "AWG" not in item.unit and item.unit not in UNITS:
            known = [*UNITS, "AWG", *self._nouns()]
            near = nearest(item.unit, known)
            return error(
                "unknown-unit",
                item.span,
                f"`{item.unit}` is not a unit",
                here=f"expected: {self._expected()}",
                fix=f"the nearest unit is `{near}`: `{item.text} {near}`" if near else "",
            )
        what = measures(item)
        if what == "":
            return error(
                "quantity-not-read",
                item.span,
                f"`{item.text} {item.unit}` is not a size or a quantity that exists",
                here="gauge numbers are 40 to 1, then 1/0 to 4/0; fractions only for inches",
            )
        return error(
            "fact-not-taken",
            item.span,
            f"a {what} is not taken here",
            here=f"expected: {self._expected()}",
        )

    def _nouns(self) -> Iterator[str]:
        for fact in self.takes:
            yield from (part[3:-1] for part in fact.parts if part.startswith("<n "))

    def _words(self) -> list[str]:
        words: list[str] = []
        for fact in self.takes:
            for part in fact.parts:
                if part == "<colour>":
                    words += self.context.colours
                elif not part.startswith("<"):
                    words += part.split("|")
        return list(dict.fromkeys(words))

    def _odd_word(self, item: Item) -> Finding:
        clash = self.context.ambiguous.get(item.text)
        if clash:
            return error(
                "colour-ambiguous",
                item.span,
                f"`{item.text}` is read in more than one way: {clash}",
                fix="write the colour in plain words",
            )
        near = nearest(item.text, self._words())
        phrases = [f.example() for f in self.takes if near in " ".join(f.parts).replace("|", " ")]
        fix = f"the nearest word is `{near}`" if near else ""
        if near in self.context.colours:
            fix = f"the nearest colour is `{near}`"
        elif phrases and item.text == near:
            fix = f"`{phrases[0]}`"
        return error(
            "word-not-taken",
            item.span,
            f"`{item.text}` is not understood here",
            here=f"expected: {self._expected()}",
            fix=fix,
        )


def nearest(text: str, known: Sequence[str]) -> str:
    """The closest known word, capitals not minded; empty where none is near."""
    low = {word.lower(): word for word in reversed(known)}
    near = get_close_matches(text.lower(), list(low), n=1, cutoff=0.6)
    return low[near[0]] if near else ""


def _twice(fact: Fact, span: Span) -> Finding:
    return error(
        "said-twice",
        span,
        f"a second `{fact.example()}` in one statement",
        fix="keep one of them",
    )


def _value(values: tuple[One, ...]) -> Value:
    if not values:
        return True
    return values[0] if len(values) == 1 else values
