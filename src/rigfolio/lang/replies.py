"""What to say of items that no fact of a statement starts with: one answer for one mistake."""

from collections.abc import Callable, Sequence

from rigfolio.findings import Finding, Span
from rigfolio.lang.amounts import SIZE_UNITS, measures, why_not
from rigfolio.lang.fact import EXAMPLES, Context, Fact
from rigfolio.lang.lines import Item, error
from rigfolio.lang.patterns import is_day, match
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.units import MEANT, UNITS

MOST_EXAMPLES = 8
NO_PLACE = "take it out, or say it in a `note`"
Answer = tuple[Finding, int]


def reply(
    takes: tuple[Fact, ...], context: Context, given: frozenset[str], items: Sequence[Item], at: int
) -> Answer:
    """An error about the items from a place on, and where to go on reading."""
    return _Reply(takes, context, given, items, at).answer()


class _Reply:
    def __init__(
        self,
        takes: tuple[Fact, ...],
        context: Context,
        given: frozenset[str],
        items: Sequence[Item],
        at: int,
    ) -> None:
        self.takes = takes
        self.context = context
        self.open = tuple(fact for fact in takes if fact.key not in given or fact.many)
        self.items = items
        self.at = at
        self.item = items[at]

    def answer(self) -> Answer:
        broken = self._broken()
        if broken is not None:
            return broken
        kinds: dict[str, Callable[[], Answer]] = {
            "number": self._number,
            "quantity": self._quantity,
            "word": self._word,
            "slash": self._mark,
            "percent": self._mark,
        }
        return kinds.get(self.item.kind, self._other)()

    def _broken(self) -> Answer | None:
        """An answer to a phrase that starts well and does not go on as it should."""
        best: tuple[int, Fact, int] | None = None
        for fact in self.takes:
            for done in range(len(fact.parts) - 1, 0, -1):
                got = match(fact.parts[:done], self.items, self.at, self.context)
                if got is not None and (best is None or done > best[0]):
                    best = (done, fact, got.end)
                if got is not None:
                    break
        if best is None:
            return None
        done, fact, end = best
        part = fact.parts[done]
        if part.startswith("<"):
            return self._wrong_value(fact, part, end)
        # A word that starts a run of places may as well be a colour with a slip in it.
        if fact.parts[0] == "<place>" and self.item.kind == "word" and not self._is_name():
            return None
        return self._cut_short(fact, done, end)

    def _is_name(self) -> bool:
        """Whether a word looks like the name of a part and like nothing else."""
        text = self.item.text
        if self._kind(self.at + 1) == "slash" or text.upper() in self.context.ambiguous:
            return False
        return any(letter.isdigit() for letter in text) or not nearest(
            text, self._words(), least=ENOUGH
        )

    def _cut_short(self, fact: Fact, done: int, end: int) -> Answer:
        """A phrase in which a word is missing or another word stands."""
        part = fact.parts[done]
        # "B1+ F1" without its "to": the place behind belongs to the same mistake.
        rest = fact.parts[done + 1 : done + 2]
        said = self._written(self.at, end)
        choices = part.split("|")
        wrong = self.items[end].text if self._kind(end) == "word" else ""
        near = nearest(wrong, choices, least=ENOUGH) if wrong else ""
        start = end + 1 if near else end
        behind = match(rest, self.items, start, self.context) if rest else None
        stop = behind.end if behind else start
        if wrong and not near and behind is None and not self._stands(end):
            stop = end + 1
        tail = self._written(start, stop) if behind else Fact("", fact.parts[done + 1 :]).example()
        whole = " ".join(each for each in (said, near or choices[0], tail) if each)
        return (
            error(
                "phrase-broken", self._span(self.at, stop),
                f"`{said}` is not followed by `{part.replace('|', '` or `')}`",
                here=f"`{wrong}` stands there" if wrong else "a phrase that stops short",
                fix=f"`{whole}`",
            ),
            stop,
        )  # fmt: skip

    def _stands(self, at: int) -> bool:
        """Whether some fact starts at an item."""
        return any(match(one.parts, self.items, at, self.context) for one in self.takes)

    def _wrong_value(self, fact: Fact, part: str, end: int) -> Answer:
        """A keyword that is followed by something else than its value."""
        said = self._written(self.at, end)
        what = part[1:-1].removeprefix("n ")
        item = self.items[end] if end < len(self.items) else None
        if item is not None and item.kind == "number":
            return self._unitless(item, (part,)), end + 1
        if item is not None and item.kind == "quantity" and measures(item) == "":
            return self._no_quantity(item, (part,)), self._behind(end)
        if item is not None and item.kind == "word" and what in ("place", "name", "tag"):
            return taken(item, self.context), end + 1
        if item is not None and item.kind == "date" and what == "date":
            return self._no_day(item), end + 1
        found = f", `{self._written(end, end + 1)}` found" if item else ""
        return (
            error(
                "value-missing", self._span(self.at, end),
                f"`{said}` is followed by {_a(what)}{found}", fix=f"`{fact.example()}`",
            ),
            end if item is None or self._stands(end) else end + 1,
        )  # fmt: skip

    def _number(self) -> Answer:
        alone = [fact.parts[0] for fact in self.open if len(fact.parts) == 1]
        return self._unitless(self.item, alone), self.at + 1

    def _unitless(self, item: Item, parts: Sequence[str]) -> Finding:
        units = [Fact("", (part,)).example().split()[-1] for part in parts if _is_counted(part)]
        likely = list(dict.fromkeys(units))[:3]
        return error(
            "bare-number", item.span, f"`{item.text}` has no unit",
            here="the unit says what a number is",
            fix=" or ".join(f"`{item.text} {unit}`" for unit in likely)
            or "take it out, or write its unit behind it",
        )  # fmt: skip

    def _quantity(self) -> Answer:
        what = measures(self.item)
        if what == "":
            return self._no_quantity(self.item, [f.parts[0] for f in self.open]), self._behind(
                self.at
            )
        phrases = [
            " ".join((*fact.parts[:at], self._written(self.at, self.at + 1), *fact.parts[at + 1 :]))
            for fact in self.open
            for at, part in enumerate(fact.parts)
            if part == f"<{what}>" and len(fact.parts) == 2 and "|" not in "".join(fact.parts)
        ]
        return (
            error(
                "fact-not-taken", self.item.span, f"{_a(what)} is not taken here",
                here=self._expected(),
                fix=" or ".join(f"`{phrase}`" for phrase in phrases[:3]) or NO_PLACE,
            ),
            self.at + 1,
        )  # fmt: skip

    def _no_quantity(self, item: Item, parts: Sequence[str]) -> Finding:
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
        fix = f"`{item.text} {near}`" if near else "write one of the units that are read"
        if low == "o":
            fix = f"`{item.text}0`, with the digit and not the letter"
        return error(
            "unknown-unit", item.span, f"`{item.unit}` is not a unit",
            here=self._expected(), fix=fix,
        )  # fmt: skip

    def _behind(self, at: int) -> int:
        """Past a bad quantity, and past a unit that a bad number has left behind."""
        after = self.items[at + 1] if at + 1 < len(self.items) else None
        return at + 2 if after and after.kind == "word" and after.text in UNITS else at + 1

    def _word(self) -> Answer:
        text = self.item.text
        clash = self.context.ambiguous.get(text.upper())
        if clash:
            return (
                error(
                    "colour-ambiguous", self.item.span,
                    f"`{text}` is read in more than one way: {clash}",
                    fix="write the colour in plain words",
                ),
                self._chain(self.at + 1),
            )  # fmt: skip
        if self._kind(self.at + 1) == "slash" and any("<colour>" in f.parts for f in self.takes):
            return self._stripe()
        near = nearest(text, self._words(), least=ENOUGH)
        has_figure = self._kind(self.at + 1) == "quantity" and not self._is_open(self.at + 1)
        is_label = not near and not has_figure
        if is_label and any(fact.parts == ("<label>",) for fact in self.open):
            return self._unquoted()
        fix = f"the nearest word is `{near}`" if near else NO_PLACE
        if near in self.context.colours:
            fix = f"the nearest colour is `{near}`"
        phrases = [fact for fact in self.open if near and near in _literals(fact)]
        if phrases and len(phrases[0].parts) > 1:
            fix = f"`{phrases[0].example()}`"
        here, said = self._expected(), f"`{text}` is not understood here"
        end = self.at + 1
        has_value = bool(phrases) and len(phrases[0].parts) > 1
        if self._kind(end) == "quantity" and (has_value or not self._is_open(end)):
            # The value of a fact that is misspelt, or that the statement does not have.
            end += 1
        return error("word-not-taken", self.item.span, said, here=here, fix=fix), end

    def _is_open(self, at: int) -> bool:
        """Whether a fact that has not been given yet starts at an item."""
        return any(match(one.parts, self.items, at, self.context) for one in self.open)

    def _stripe(self) -> Answer:
        """A colour with a stripe of which one word is no colour."""
        base = self.item
        bad = base
        if base.text in self.context.colours and self.at + 2 < len(self.items):
            bad = self.items[self.at + 2]
        near = (
            nearest(bad.text, list(self.context.colours), least=ENOUGH)
            if bad.kind == "word"
            else ""
        )
        return (
            error(
                "colour-not-read", bad.span, f"`{bad.text}` is not a colour",
                here="colours are plain words or IEC 60757 codes",
                fix=f"the nearest colour is `{near}`" if near
                else "take the `/` out, or write `?` for the whole colour",
            ),
            self._chain(self.at + 1),
        )  # fmt: skip

    def _chain(self, at: int) -> int:
        """Past the stripes that hang on a colour."""
        while self._kind(at) == "slash":
            at += 2 if self._kind(at + 1) in ("word", "unknown", "place") else 1
        return at

    def _unquoted(self) -> Answer:
        """Words that were most likely meant as a label."""
        end = self.at + 1
        words = self._words()
        while self._kind(end) == "word" and not nearest(self.items[end].text, words, least=ENOUGH):
            end += 1
        text = self._written(self.at, end)
        return (
            error(
                "word-not-taken", self._span(self.at, end), f"`{text}` is not understood here",
                here=self._expected(), fix=f'a label stands in quotes: `"{text}"`',
            ),
            end,
        )  # fmt: skip

    def _mark(self) -> Answer:
        return (
            error(
                "mark-not-read", self.item.span, f"`{self.item.text}` found where it means nothing",
                fix="a stripe is written `red/black`, a share `3 %`",
            ),
            max(self._chain(self.at), self.at + 1),
        )  # fmt: skip

    def _other(self) -> Answer:
        item = self.item
        if item.kind == "date" and not is_day(item.text):
            return self._no_day(item), self.at + 1
        text, end, fix = item.text, self.at + 1, NO_PLACE
        if item.kind == "place" and any(fact.parts == ("to", "<place>") for fact in self.open):
            fix = f"`from {text}` or `to {text}`; a line in the first column joins two places"
        if item.kind == "place" and self._kind(end) == "word" and self.items[end].text == "to":
            end = min(end + 2, len(self.items))
        said = f"`{self._written(self.at, end)}` is not taken here"
        where = self._span(self.at, end)
        return error("fact-not-taken", where, said, here=self._expected(), fix=fix), end

    def _no_day(self, item: Item) -> Finding:
        return error(
            "date-not-read", item.span, f"there is no day `{item.text}`",
            fix="year, month and day, as in `2026-03-14`",
        )  # fmt: skip

    def _kind(self, at: int) -> str:
        return self.items[at].kind if at < len(self.items) else ""

    def _span(self, at: int, end: int) -> Span:
        first, last = self.items[at].span, self.items[end - 1].span
        return Span(first.file, first.start, last.end)

    def _written(self, at: int, end: int) -> str:
        return " ".join(
            f'"{i.text}"' if i.kind == "label" else f"{i.text} {i.unit}".rstrip()
            for i in self.items[at:end]
        )

    def _words(self) -> list[str]:
        words = [word for fact in self.takes for word in _literals(fact)]
        if any("<colour>" in fact.parts for fact in self.takes):
            words += self.context.colours
        return list(dict.fromkeys(words))

    def _expected(self) -> str:
        shown = [f"`{fact.example()}`" for fact in self.open or self.takes]
        if not shown:
            return "nothing more is taken here"
        more = len(shown) - MOST_EXAMPLES
        rest = f" and {more} more" if more > 1 else ""
        return f"expected: {', '.join(shown[:MOST_EXAMPLES] if rest else shown)}{rest}"


def taken(item: Item, context: Context) -> Finding:
    """A word that has a meaning of its own and cannot be a name."""
    why = "a colour" if item.text in context.colours else "a word of the language"
    return error(
        "name-taken", item.span, f"`{item.text}` is {why} and cannot be a name",
        fix=f"another name, such as `{item.text}1`",
    )  # fmt: skip


def _literals(fact: Fact) -> list[str]:
    return [word for part in fact.parts if part[0] != "<" for word in part.split("|")]


def _is_counted(part: str) -> bool:
    """Whether a value is a number with a unit or a noun."""
    name = part[1:-1]
    if not part.startswith("<") or name in ("date", "stud", "place", "thing", "tag"):
        return part.startswith("<n ")
    return name.startswith("n ") or EXAMPLES[name][0].isdigit()


def _a(what: str) -> str:
    if what.endswith("s"):
        return f"a number of {what}"
    return f"{'an' if what[0] in 'aeiou' else 'a'} {what}"
