"""Facts: what a line says, told apart by units and keywords and not by their order.

A statement lists what it takes as short patterns, which are also its documentation:
`internal <resistance>`, `<current> in all`, `flooded|agm|gel|lithium`, `<n slots>`.
"""

from collections.abc import Iterable, Iterator, Mapping

from rigfolio.findings import UNKNOWN, Span, Unknown
from rigfolio.record import record, replace
from rigfolio.units import Size
from rigfolio.values import Colour, Place

One = float | str | bool | Size | Colour | Place | Unknown
Value = One | tuple[One, ...]

EXAMPLES = {
    "length": "18 ft", "current": "7.5 A", "voltage": "12 V", "power": "48 W",
    "resistance": "10 mohm", "charge": "105 Ah", "energy": "1200 Wh", "share": "3 %",
    "temperature": "40 degC", "duty": "4 h/day", "time": "2 h", "torque": "4 Nm",
    "size": "16 AWG", "colour": "red/black", "place": "B1+", "name": "B1", "label": '"Pump"',
    "date": "2026-03-14", "stud": "M8", "terminal": "ring M8", "tag": "W12", "title": "stored",
    "thing": "F1", "called": "W12",
}  # fmt: skip
"""How each kind of value looks, for messages and for the reference."""

WHOLE = {
    "insulation <temperature>": "insulation 105 degC", "insulation <name>": "insulation GXL",
    "interrupts <current>": "interrupts 10 kA", "delivers <current>": "delivers 2 kA",
    "<current> in all": "75 A in all", "of <current>": "of 20 A", "pitch <length>": "pitch 14 mm",
    "window <length> by <length>": "window 45 mm by 12 mm",
    "main fuse|breaker <current>": "main fuse 50 A", "negative <place>": "negative N1",
    "leads <size> <length>": "leads 18 AWG 6 in", "after <length>": "after 6 in",
    "from <voltage> to <voltage>": "from 24 V to 12 V", "<place> to <place>": "B1+ to F1",
    "<length> from <place>": "6 in from B1+", "from <place>": "from J1", "to <place>": "to J1",
    "efficiency <share>": "efficiency 90 %", "note <label>": 'note "rubs on the frame"',
    "open circuit <voltage>": "open circuit 22.4 V",
    "short circuit <current>": "short circuit 6.1 A", "works at <voltage>": "works at 18.6 V",
    "gains <share> a degree colder": "gains 0.29 % a degree colder",
    "series fuse <current>": "series fuse 15 A", "input <voltage>": "input 75 V",
    "<n modules> in series": "2 modules in series",
    "<n strings> in parallel": "2 strings in parallel",
    "cold cranking <current>": "cold cranking 650 A",
    "marine cranking <current>": "marine cranking 812 A",
    "gives <current> for hours": "gives 100 A for hours",
    "cuts off above <current>": "cuts off above 100 A",
    "no charge below <temperature>": "no charge below 0 degC",
    "takes <current> at rest": "takes 0.8 A at rest", "made for <voltage>": "made for 24 V",
    "revision <label>": 'revision "B"', "ends <terminal> and <terminal>": "ends ring M8 and butt",
}  # fmt: skip
"""Whole patterns that read better with other values than those above."""

COUNTS = {"slots": 12, "pins": 7, "columns": 2, "conductors": 2, "ways": 6}
"""How many of a thing an example has."""


@record
class Context:
    """The words of the trade that the language must know: colour words and codes."""

    colours: Mapping[str, str]
    ambiguous: Mapping[str, str]
    keywords: frozenset[str]


@record
class Fact:
    """One thing a statement takes: its key and the pattern it is written in.

    `essential` means a bare `?` may stand for it; `many` that it may be said more than once.
    `opens` are the words that it may start with, none where it starts with a value.
    """

    key: str
    parts: tuple[str, ...]
    essential: bool = False
    many: bool = False
    opens: tuple[str, ...] = ()

    def example(self) -> str:
        """The pattern with every value filled in."""
        return WHOLE.get(" ".join(self.parts)) or " ".join(_shown(part) for part in self.parts)


@record
class Given:
    """The value of a fact, the place that gave it, and the unit that its last word has."""

    value: Value
    span: Span
    unit: str = ""

    def moved(self, file: str, by: int) -> "Given":
        """The same, said in a file so many characters further on."""
        value = self.value
        here = moved(value, by) if isinstance(value, tuple) else moved((value,), by)[0]
        return Given(here, Span(file, self.span.start + by, self.span.end + by), self.unit)


def moved(values: tuple[One, ...], by: int) -> tuple[One, ...]:
    """The same values, so many characters further on."""
    return tuple(
        [
            replace(one, start=one.start + by, end=one.end + by)
            if isinstance(one, Place) and one.start >= 0
            else one
            for one in values
        ]
    )


@record
class Facts:
    """What was given, by key."""

    given: Mapping[str, tuple[Given, ...]]

    def moved(self, file: str, by: int) -> "Facts":
        """The same, said in a file so many characters further on."""
        return Facts(
            {key: tuple([one.moved(file, by) for one in each]) for key, each in self.given.items()}
        )

    def has(self, key: str) -> bool:
        """Whether the fact was said at all."""
        return key in self.given

    def span(self, key: str) -> Span | None:
        """Where the fact was said."""
        return self.given[key][0].span if key in self.given else None

    def all(self, key: str) -> tuple[Given, ...]:
        """Every time the fact was said."""
        return self.given.get(key, ())

    def _first(self, key: str) -> Value | None:
        return self.given[key][0].value if key in self.given else None

    def number(self, key: str) -> float | Unknown | None:
        """A quantity in SI units; None where it was not said."""
        value = self._first(key)
        return value if isinstance(value, float | Unknown) else None

    def known(self, key: str) -> float | None:
        """A quantity in SI units; None where it was not said or is unknown."""
        value = self._first(key)
        return value if isinstance(value, float) else None

    def needed(self, key: str) -> float | Unknown:
        """A quantity in SI units; unknown where it was not said."""
        value = self.number(key)
        return UNKNOWN if value is None else value

    def unit(self, key: str) -> str:
        """The symbol of the unit that a quantity was written in; empty where there is none."""
        return self.given[key][0].unit if key in self.given else ""

    def word(self, key: str) -> str:
        """A word or a label; empty where it was not said."""
        value = self._first(key)
        return value if isinstance(value, str) else ""

    def place(self, key: str) -> Place | Unknown | None:
        """A place; None where it was not said."""
        value = self._first(key)
        return value if isinstance(value, Place | Unknown) else None

    def asked(self) -> tuple[tuple[str, Span], ...]:
        """The facts that were given as `?`, each with its place."""
        return tuple(
            (key, given.span)
            for key, values in self.given.items()
            for given in values
            if given.value is UNKNOWN
        )

    def size(self, key: str = "size") -> Size | Unknown | None:
        """A conductor size; None where it was not said."""
        value = self._first(key)
        return value if isinstance(value, Size | Unknown) else None

    def colour(self, key: str = "colour") -> Colour | Unknown | None:
        """A colour; None where it was not said."""
        value = self._first(key)
        return value if isinstance(value, Colour | Unknown) else None


def facts(*patterns: str) -> tuple[Fact, ...]:
    """Facts from their patterns: `key: words <value>`; `key!` is essential, `key*` repeats.

    Examples
    --------
    >>> facts("capacity!: <charge>", "spare: spare")[0].example()
    '105 Ah'
    """
    made = []
    for pattern in patterns:
        key, _, body = pattern.partition(":")
        parts: list[str] = []
        for piece in body.split():
            if parts and parts[-1].startswith("<") and not parts[-1].endswith(">"):
                parts[-1] += f" {piece}"
            else:
                parts.append(piece)
        opens = () if parts[0].startswith("<") else tuple(_openers(parts[0].split("|")))
        made.append(Fact(key.rstrip("!*"), tuple(parts), "!" in key, "*" in key, opens))
    return tuple(made)


def _openers(words: Iterable[str]) -> Iterator[str]:
    """Words that a fact may start with; of one with a hyphen its first half too, `class T`."""
    for word in words:
        yield word
        if "-" in word:
            yield word.partition("-")[0]


def _shown(part: str) -> str:
    if part.startswith("<n "):
        return f"{COUNTS.get(part[3:-1], 3)} {part[3:-1]}"
    return EXAMPLES[part[1:-1]] if part.startswith("<") else part.partition("|")[0]
