"""What to say of items that no fact of a statement starts with: one answer for one mistake."""

import re
from collections.abc import Callable, Sequence

from rigfolio.findings import Edit, Finding, Span
from rigfolio.lang.amounts import measures
from rigfolio.lang.diagnostics.bare_number import unitless
from rigfolio.lang.diagnostics.meant import instead, meant
from rigfolio.lang.diagnostics.misread import no_day, no_quantity, taken
from rigfolio.lang.diagnostics.turned import turned_round, value_behind, written
from rigfolio.lang.fact import Context, Fact
from rigfolio.lang.lines import Token, error
from rigfolio.lang.patterns import is_day, match
from rigfolio.nearness import ENOUGH, nearest
from rigfolio.units import UNITS

MOST_EXAMPLES = 8
NO_PLACE = "take it out, or say it in a `note`"
Answer = tuple[Finding, int]
_WIRE = re.compile(r"W[1-9]\d*", re.IGNORECASE)
"""What the wires of a rig are numbered with (IEC 81346-2, from memory)."""


def reply(
    takes: tuple[Fact, ...],
    context: Context,
    given: frozenset[str],
    items: Sequence[Token],
    at: int,
) -> Answer:
    """An error about the items from a place on, and where to go on reading."""
    return _answer(_Halt(takes, context, given, items, at))


class _Halt:
    """Where reading came to a halt: the items, and the facts that may still be given."""

    def __init__(
        self,
        takes: tuple[Fact, ...],
        context: Context,
        given: frozenset[str],
        items: Sequence[Token],
        at: int,
    ) -> None:
        self.takes = takes
        self.context = context
        self.open = tuple(fact for fact in takes if fact.key not in given or fact.many)
        self.items = items
        self.at = at
        self.item = items[at]

    def kind(self, at: int) -> str:
        """The kind of an item; empty behind the last one."""
        return self.items[at].kind if at < len(self.items) else ""

    def span(self, at: int, end: int) -> Span:
        """The place of some items."""
        first, last = self.items[at].span, self.items[end - 1].span
        return Span(first.file, first.start, last.end)

    def written(self, at: int, end: int) -> str:
        """Some items as they were written."""
        return written(self.items, at, end)

    def words(self) -> list[str]:
        """Every word that some fact or colour has."""
        words = [word for fact in self.takes for word in _literals(fact)]
        if any("<colour>" in fact.parts for fact in self.takes):
            words += self.context.colours
        return list(dict.fromkeys(words))

    def expected(self) -> str:
        """What may still be given."""
        shown = [f"`{fact.example()}`" for fact in self.open or self.takes]
        if not shown:
            return "nothing more is taken here"
        more = len(shown) - MOST_EXAMPLES
        rest = f" and {more} more" if more > 1 else ""
        return f"expected: {', '.join(shown[:MOST_EXAMPLES] if rest else shown)}{rest}"

    def stands(self, at: int) -> bool:
        """Whether some fact starts at an item."""
        return any(match(one.parts, self.items, at, self.context) for one in self.takes)

    def is_open(self, at: int) -> bool:
        """Whether a fact that has not been given yet starts at an item."""
        return any(match(one.parts, self.items, at, self.context) for one in self.open)

    def chain(self, at: int) -> int:
        """Past the stripes that hang on a colour."""
        while self.kind(at) == "slash":
            at += 2 if self.kind(at + 1) in ("word", "unknown", "place") else 1
        return at

    def behind(self, at: int) -> int:
        """Past a bad quantity, and past a unit that a bad number has left behind."""
        after = self.items[at + 1] if at + 1 < len(self.items) else None
        return at + 2 if after and after.kind == "word" and after.text in UNITS else at + 1

    def is_name(self) -> bool:
        """Whether a word looks like the name of a part and like nothing else."""
        text = self.item.text
        if self.kind(self.at + 1) == "slash" or text.casefold() in self.context.ambiguous:
            return False
        return any(letter.isdigit() for letter in text) or not nearest(
            text, self.words(), least=ENOUGH
        )


def _answer(halt: _Halt) -> Answer:
    turned = turned_round(halt.takes, halt.items, halt.at, halt.context)
    if turned is not None:
        return turned
    broken = _broken(halt)
    is_trade = halt.item.kind == "word" and instead(halt.item.text)
    if broken is not None and not (is_trade and halt.item.plain not in halt.words()):
        return broken
    kinds: dict[str, Callable[[_Halt], Answer]] = {
        "number": _number,
        "quantity": _quantity,
        "word": _word,
        "slash": _mark,
        "percent": _mark,
    }
    return kinds.get(halt.item.kind, _other)(halt)


def _broken(halt: _Halt) -> Answer | None:
    """An answer to a phrase that starts well and does not go on as it should."""
    best: tuple[int, Fact, int] | None = None
    for fact in halt.takes:
        for done in range(len(fact.parts) - 1, 0, -1):
            got = match(fact.parts[:done], halt.items, halt.at, halt.context)
            if got is not None and (best is None or done > best[0]):
                best = (done, fact, got.end)
            if got is not None:
                break
    if best is None:
        return None
    done, fact, end = best
    part = fact.parts[done]
    if part.startswith("<"):
        return _wrong_value(halt, fact, part, end)
    # A word that starts a run of places may as well be a colour with a slip in it.
    if fact.parts[0] == "<place>" and halt.item.kind == "word" and not halt.is_name():
        return None
    return _cut_short(halt, fact, done, end)


def _cut_short(halt: _Halt, fact: Fact, done: int, end: int) -> Answer:
    """A phrase in which a word is missing or another word stands."""
    part = fact.parts[done]
    # "B1+ F1" without its "to": the place behind belongs to the same mistake.
    rest = fact.parts[done + 1 : done + 2]
    said = halt.written(halt.at, end)
    choices = part.split("|")
    wrong = halt.items[end].text if halt.kind(end) == "word" else ""
    near = nearest(wrong, choices, least=ENOUGH) if wrong else ""
    other = instead(wrong)
    start = end + 1 if near else end
    behind = match(rest, halt.items, start, halt.context) if rest else None
    stop = behind.end if behind else start
    if wrong and not near and behind is None and not halt.stands(end):
        stop = end + 1
    sample = f"as in `{fact.example()}`"
    fix = other or sample
    edits: tuple[Edit, ...] = ()
    if near:
        whole = " ".join(each for each in (said, near, halt.written(start, stop)) if each)
        fix, edits = f"`{whole}`", (Edit(halt.items[end].span, near),)
    elif behind and len(choices) == 1:
        # Only the one word between two that are there is missing, or stands otherwise.
        fix = f"`{said} {part} {halt.written(start, stop)}`"
    return (
        error(
            "phrase-broken", halt.span(halt.at, stop),
            f"`{said}` is not followed by `{part.replace('|', '` or `')}`",
            here=f"`{wrong}` stands there" if wrong else "a phrase that stops short",
            fix=fix, edits=edits, otherwise=sample,
        ),
        stop,
    )  # fmt: skip


def _wrong_value(halt: _Halt, fact: Fact, part: str, end: int) -> Answer:
    """A keyword that is followed by something else than its value."""
    # The value may stand before its word, and have been read as something else.
    turned = halt.at and turned_round((fact,), halt.items, halt.at - 1, halt.context)
    turned = turned or value_behind(halt.takes, halt.items, (halt.at, end), part, halt.context)
    if turned:
        return turned
    said = halt.written(halt.at, end)
    what = part[1:-1].removeprefix("n ")
    item = halt.items[end] if end < len(halt.items) else None
    if item is not None and item.kind == "number":
        return unitless(item, (part,)), end + 1
    if item is not None and item.kind == "quantity" and measures(item) == "":
        return no_quantity(item, (part,), halt.expected()), halt.behind(end)
    if item is not None and item.kind == "word" and what in ("place", "name", "tag"):
        return taken(item, halt.context), end + 1
    if item is not None and item.kind == "date" and what == "date":
        return no_day(item), end + 1
    found = f", `{halt.written(end, end + 1)}` found" if item else ""
    return (
        error(
            "value-missing", halt.span(halt.at, end),
            f"`{said}` is followed by {_a(what)}{found}", fix=f"as in `{fact.example()}`",
        ),
        end if item is None or halt.stands(end) else end + 1,
    )  # fmt: skip


def _number(halt: _Halt) -> Answer:
    alone = [fact.parts[0] for fact in halt.open if len(fact.parts) == 1]
    return unitless(halt.item, alone), halt.at + 1


def _quantity(halt: _Halt) -> Answer:
    what = measures(halt.item)
    if what == "":
        return no_quantity(
            halt.item, [f.parts[0] for f in halt.open], halt.expected()
        ), halt.behind(halt.at)
    lacking = _lacking(halt)
    if lacking is not None:
        return lacking
    # Which word belongs before it nobody can tell but the one who read the figure.
    return (
        error(
            "fact-not-taken", halt.item.span, f"{_a(what)} is not taken here",
            here=halt.expected(), fix=NO_PLACE,
        ),
        halt.at + 1,
    )  # fmt: skip


def _word(halt: _Halt) -> Answer:
    text = halt.item.text
    clash = halt.context.ambiguous.get(text.casefold())
    if clash:
        return (
            error(
                "colour-ambiguous", halt.item.span,
                f"`{text}` is read in more than one way: {clash}",
                fix="write the colour in plain words",
            ),
            halt.chain(halt.at + 1),
        )  # fmt: skip
    if halt.kind(halt.at + 1) == "slash" and any("<colour>" in f.parts for f in halt.takes):
        return _stripe(halt)
    other = instead(text)
    near = meant(text, halt.words()) or nearest(text, halt.words(), least=ENOUGH)
    # A word that another phrase goes on with is right as it is spelt, and has no place here.
    near = "" if other or near == text else near
    has_figure = halt.kind(halt.at + 1) == "quantity" and not halt.is_open(halt.at + 1)
    is_label = not near and not has_figure and not other
    lacking = _lacking(halt)
    if lacking is not None and not near:
        return lacking
    if is_label and any(fact.parts == ("<label>",) for fact in halt.open):
        return _unquoted(halt)
    fix = f"the nearest word is `{near}`" if near else other or NO_PLACE
    if near and near == meant(text, [near]):
        fix = f"the word for it is `{near}`"
    if near in halt.context.colours:
        fix = f"the nearest colour is `{near}`"
    phrases = [fact for fact in halt.open if near and near in _literals(fact)]
    edits = (Edit(halt.item.span, near),) if near else ()
    here, said = halt.expected(), f"`{text}` is not understood here"
    end = halt.at + 1
    has_value = bool(phrases) and len(phrases[0].parts) > 1
    if halt.kind(end) == "quantity" and (has_value or not halt.is_open(end)):
        # The value of a fact that is misspelt, or that the statement does not have.
        end += 1
    found = error(
        "word-not-taken", halt.item.span, said, here=here, fix=fix, edits=edits, otherwise=NO_PLACE
    )
    return found, end


def _lacking(halt: _Halt) -> Answer | None:
    """A phrase of which only the first word is missing, where no other phrase goes on so.

    A figure alone may belong behind many a word; two with a word between, or a place, may not.
    """
    for fact in halt.open:
        word, rest = fact.parts[0], fact.parts[1:]
        if word[0] == "<" or "|" in word or not (len(rest) > 1 or rest == ("<place>",)):
            continue
        got = match(rest, halt.items, halt.at, halt.context)
        if got is None or (rest == ("<place>",) and not any(map(str.isdigit, halt.item.text))):
            continue
        said = halt.written(halt.at, got.end)
        start = halt.item.span
        tag = next((one for one in halt.open if one.parts[0] == "tag"), None)
        if rest == ("<place>",) and tag is not None and _WIRE.fullmatch(said):
            # A wire is no place to lead to: who writes its number calls this one so.
            word = "tag"
        return (
            error(
                "phrase-broken", halt.span(halt.at, got.end), f"`{said}` lacks its `{word}`",
                here=halt.expected(), fix=f"`{word} {said}`", otherwise=f"as in `{fact.example()}`",
                edits=(Edit(Span(start.file, start.start, start.start), f"{word} "),),
            ),
            got.end,
        )  # fmt: skip
    return None


def _stripe(halt: _Halt) -> Answer:
    """A colour with a stripe of which one word is no colour."""
    base = halt.item
    bad = base
    if base.plain in halt.context.colours and halt.at + 2 < len(halt.items):
        bad = halt.items[halt.at + 2]
    near = nearest(bad.text, _colour_words(halt), least=ENOUGH) if bad.kind == "word" else ""
    no_colour = "take the `/` out, or write `?` for the whole colour"
    return (
        error(
            "colour-not-read", bad.span, f"`{bad.text}` is not a colour",
            here="colours are plain words or IEC 60757 codes",
            fix=f"the nearest colour is `{near}`" if near else no_colour,
            edits=(Edit(bad.span, near),) if near else (), otherwise=no_colour,
        ),
        halt.chain(halt.at + 1),
    )  # fmt: skip


def _colour_words(halt: _Halt) -> list[str]:
    """Every colour by its plain word, in one order."""
    return sorted(set(halt.context.colours.values()))


def _unquoted(halt: _Halt) -> Answer:
    """Words that were most likely meant as a label."""
    end = halt.at + 1
    words = halt.words()
    while halt.kind(end) == "word" and not nearest(halt.items[end].text, words, least=ENOUGH):
        end += 1
    text = halt.written(halt.at, end)
    return (
        error(
            "word-not-taken", halt.span(halt.at, end), f"`{text}` is not understood here",
            here=halt.expected(), fix=f'a label stands in quotes: `"{text}"`',
        ),
        end,
    )  # fmt: skip


def _mark(halt: _Halt) -> Answer:
    return (
        error(
            "mark-not-read", halt.item.span, f"`{halt.item.text}` found where it means nothing",
            fix="a stripe is written `red/black`, a share `3 %`",
        ),
        max(halt.chain(halt.at), halt.at + 1),
    )  # fmt: skip


def _other(halt: _Halt) -> Answer:
    item = halt.item
    if item.kind == "date" and not is_day(item.text):
        return no_day(item), halt.at + 1
    text, end, fix = item.text, halt.at + 1, NO_PLACE
    if item.kind == "place" and any(fact.parts == ("to", "<place>") for fact in halt.open):
        fix = f"`from {text}` or `to {text}`; a line in the first column joins two places"
    if item.kind == "place" and halt.kind(end) == "word" and halt.items[end].plain == "to":
        end = min(end + 2, len(halt.items))
    said = f"`{halt.written(halt.at, end)}` is not taken here"
    where = halt.span(halt.at, end)
    return error("fact-not-taken", where, said, here=halt.expected(), fix=fix), end


def _literals(fact: Fact) -> list[str]:
    return [word for part in fact.parts if part[0] != "<" for word in part.split("|")]


def _a(what: str) -> str:
    if what.endswith("s"):
        return f"a number of {what}"
    return f"{'an' if what[0] in 'aeiou' else 'a'} {what}"
