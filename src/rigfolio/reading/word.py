"""A word of the language, and one use of it in a text, with what is asked there with `?`."""

from collections.abc import Callable, Iterator

from rigfolio.findings import Finding, Span
from rigfolio.kinds import CONDITIONS, guards
from rigfolio.lang import Fact, Facts, One, error, facts, moved
from rigfolio.model import About, Draft, Gap
from rigfolio.record import record, replace
from rigfolio.values import Place

CONDITION = f"condition: {'|'.join(CONDITIONS)}"
"""What a part may be marked as."""

COMMON = facts(
    "label: <label>",
    "rated: rated <voltage>",
    "stud: stud <stud>",
    "torque: torque <torque>",
    "note: note <label>",
    CONDITION,
)
"""What may be said of anything that has a name."""

CALLED = ("<called>?",)
"""The opening of a word behind which a name may stand, `wire W7`, which is its tag."""

# These are unknown in the graph itself, where each check meets them.
_HELD = frozenset({
    "size", "colour", "length", "rating", "limit", "current", "power", "resistance", "capacity",
    "internal", "delivers", "interrupts", "slot", "total", "draws", "leads", "main",
    "open", "short", "back", "input", "rest", "run", "to",
    "from", "at", "after", "found", "was", "marked", "beside",
})  # fmt: skip
_WORDS = {
    "insulation": "insulation temperature", "ambient": "ambient temperature",
    "coldest": "coldest temperature",
    "bundle": "number of wires in the bundle", "count": "number of conductors in parallel",
    "rated": "rated voltage", "volts": "voltage", "system": "system voltage",
    "hours": "hours a day", "sun": "hours of sun a day", "starts": "starting current",
    "start_time": "time of a start", "drop": "allowed drop",
    "negative": "negative bar", "slots": "number of slots", "pins": "number of pins",
    "ways": "number of ways",
    "series": "number of modules in series", "parallel": "number of strings in parallel",
    "works": "voltage at its watts", "gains": "gain of volts in the cold",
    "ohm": "resistance", "lasting": "current for hours", "cold": "cold cranking current",
    "marine": "marine cranking current", "made_for": "volts that it is made for",
    "own_guard": "current that it cuts off above",
    "cold_limit": "temperature that it takes no charge below",
}  # fmt: skip
"""What a value is called that the graph has no room for as unknown."""


@record
class Word:
    """A word of the language.

    `opening` are the values that follow the word in order, each optional if it ends in `?`;
    `takes` the facts in any order; `inside` the words that may open a line of its block. Where a
    statement means something narrower inside a circuit, `inner` and `inner_takes` say what;
    `inside_alone` means that the statements inside are read as they are on their own. `also` is
    what people call it, names with commas between, and behind a colon when they mean this word by
    them.
    """

    name: str
    opening: tuple[str, ...]
    takes: tuple[Fact, ...]
    inside: tuple[str, ...] = ()
    inner: tuple[str, ...] | None = None
    inner_takes: tuple[Fact, ...] | None = None
    inside_alone: bool = False
    also: tuple[str, ...] = ()

    def within(self, outer: "Word") -> "Word":
        """The word as a line in the block of another one is read."""
        if outer.inside_alone:
            return self
        opening = self.opening if self.inner is None else self.inner
        takes = self.takes if self.inner_takes is None else self.inner_takes
        return replace(self, opening=opening, takes=takes)


@record
class Said:
    """One use of a word: its opening values, its facts, and the statements inside its block."""

    word: str
    opening: tuple[One, ...]
    facts: Facts
    span: Span
    inside: tuple["Said", ...] = ()

    @property
    def name(self) -> str:
        """The opening value as a name; empty where none was given."""
        first = self.opening[0] if self.opening else ""
        return first if isinstance(first, str) else ""

    @property
    def place(self) -> Place:
        """The opening value as a place.

        Raises
        ------
        TypeError
            The word does not open with a place.
        """
        first = self.opening[0]
        if not isinstance(first, Place):
            raise TypeError(first)
        return first

    @property
    def about(self) -> About:
        """What was said of a thing with a name."""
        given = self.facts
        return About(
            name=self.name, label=given.word("label"), span=self.span,
            rated_v=given.known("rated"), stud=given.word("stud"), note=given.word("note"),
            condition=given.word("condition"), torque_nm=given.known("torque"),
        )  # fmt: skip

    def moved(self, file: str, by: int) -> "Said":
        """The same, said in a file so many characters further on."""
        return Said(
            self.word,
            moved(self.opening, by),
            self.facts.moved(file, by),
            Span(file, self.span.start + by, self.span.end + by),
            tuple([inner.moved(file, by) for inner in self.inside]),
        )

    def count(self, key: str, missing: int = 0) -> int:
        """A counted fact."""
        number = self.facts.known(key)
        return missing if number is None else int(number)


Add = Callable[[Said, Draft], None]


def needs(said: Said, draft: Draft, key: str, example: str) -> bool:
    """Whether a fact was given; an error of the text is noted where it was not."""
    if said.facts.has(key):
        return True
    draft.found.append(
        error(
            "fact-missing",
            said.span,
            f"`{said.word}` without {example}",
            here="something is missing here",
            fix=f"add {example}",
        )
    )
    return False


def problem(rule: str, span: Span, headline: str, fix: str) -> Finding:
    """An error of the text that only a statement can see."""
    return error(rule, span, headline, fix=fix)


def gaps_of(said: Said) -> Iterator[Gap]:
    """The values that a statement asks for and that the graph has no room for as unknown."""
    first = said.opening[0] if said.opening else ""
    name = str(first) if isinstance(first, str | Place) else ""
    for key, span in said.facts.asked():
        if key not in _HELD and key not in guards():
            yield Gap(name, key, _WORDS.get(key, key), span)
    for one in said.inside:
        yield from gaps_of(one)
