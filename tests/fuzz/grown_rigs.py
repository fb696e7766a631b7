"""Rigs grown from the grammar: every word with the facts that it takes, and values of every kind.

Nothing is listed here that the words themselves state, so that a new fact is grown, too. The same
seed gives the same rig.
"""

from random import Random

from rigfolio.lang import Fact
from rigfolio.reading import Word
from rigfolio.reading.text import known_word

NUMBERS = ("0.001", "0.5", "1", "3", "7.5", "12", "50", "400", "100000")
UNITS = {
    "length": ("ft", "in", "mm", "m"), "current": ("A", "mA", "kA"), "voltage": ("V",),
    "power": ("W",), "resistance": ("mohm", "ohm"), "charge": ("Ah",), "energy": ("Wh",),
    "share": ("%",), "temperature": ("degC",), "duty": ("h/day",), "time": ("h",),
    "torque": ("Nm",),
}  # fmt: skip
CHOICES = {
    "size": ("4/0 AWG", "2 AWG", "6 AWG", "10 AWG", "14 AWG", "16 AWG", "22 AWG", "4 mm2"),
    "colour": ("red", "black", "white/blue", "RD", "bare"),
    "label": ('"Pump"', '"Лампа <b>&"', '"A very long label that no tag could ever hold whole"'),
    "date": ("2026-03-14",), "stud": ("M8", "No10"), "terminal": ("ring M8",),
    "title": ("stored", "shore"),
}  # fmt: skip
PARTS = {
    "battery": "B", "fuse": "F", "disconnect": "S", "breaker": "CB", "charger": "C", "solar": "U",
    "array": "Y", "alternator": "A", "busbar": "N", "chassis": "G", "panel": "P", "combiner": "K",
    "shunt": "H", "selector": "SEL", "connector": "J", "dc-dc": "E", "inverter": "X", "relay": "R",
    "switch": "SW", "changeover": "SC", "vehicle": "V", "turbine": "T", "load": "L", "splice": "Z",
}  # fmt: skip
ENDS = ("", "", "", "+", "-", ".line", ".load", ".1", ".2", ".common", ".in", ".out")
NEEDED = {
    "battery": "105 Ah", "charger": "45 A", "panel": "6 slots of 20 A", "fuse": "50 A",
    "connector": "7 pins", "solar": "20 A", "turbine": "20 A", "load": "5 A", "breaker": "30 A",
    "changeover": "10 A",
    "array": "open circuit 22.4 V, short circuit 6.1 A",
}  # fmt: skip


class _Grown:
    """A rig on its way: what has a name by now, and where chance stands."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.names: list[str] = []

    def value(self, kind: str) -> str:
        """One value of a kind, as it is written."""
        pick = self.chance.choice
        if self.chance.random() < 0.06:
            return "?"
        if kind.startswith("n "):
            return f"{pick((1, 2, 3, 7, 12, 130))} {kind[2:]}"
        if kind in UNITS:
            return f"{pick(NUMBERS)} {pick(UNITS[kind])}"
        if kind in CHOICES:
            return pick(CHOICES[kind])
        if kind in ("place", "thing"):
            return self.place()
        return f"{pick('WTQ')}{self.chance.randrange(30)}"

    def place(self) -> str:
        """A terminal of something that is there, or of nothing."""
        if not self.names or self.chance.random() < 0.03:
            return "Y9"
        return self.chance.choice(self.names) + self.chance.choice(ENDS)

    def fact(self, fact: Fact) -> str:
        """One fact, as its pattern says."""
        told = []
        for part in fact.parts:
            if part.startswith("<"):
                told.append(self.value(part[1:-1].rstrip("?")))
            else:
                told.append(self.chance.choice(part.split("|")))
        return " ".join(told)

    def facts(self, word: Word, most: int, *, inner: bool = False) -> str:
        """Some of the facts that a word takes."""
        takes = word.inner_takes if inner and word.inner_takes is not None else word.takes
        chosen = self.chance.sample(takes, min(len(takes), self.chance.randrange(most + 1)))
        return ", ".join(self.fact(each) for each in chosen)

    def part(self, name: str) -> str:
        """A line that gives a part its name."""
        called = f"{PARTS[name]}{self.chance.randrange(1, 5)}"
        self.names.append(called)
        return f"{name} {called} {NEEDED.get(name, '')} {self.facts(known_word(name)[0], 3)}"

    def wire(self) -> str:
        """A wire between two places."""
        ends = f"{self.place()} to {self.place()}"
        size, length = self.value("size"), self.value("length")
        return f"wire {ends} {size} {length} {self.facts(known_word('wire')[0], 2)}"

    def circuit(self) -> list[str]:
        """A circuit with what may stand inside of it."""
        word = known_word("circuit")[0]
        lines = [f'circuit P{self.chance.randrange(1, 4)}.{self.chance.randrange(1, 8)} "Lamp" '
                 f"fuse {self.value('current')} {self.facts(word, 2)}",
                 f"    wire {self.value('size')} {self.value('length')}"]  # fmt: skip
        for name in self.chance.choices(word.inside, k=self.chance.randrange(3)):
            lines += self.inside(name, known_word(name)[0])
        return [*lines, f'    load "Lamp" {self.value("current")}']

    def inside(self, name: str, word: Word) -> list[str]:
        """A part of a circuit; behind one that has to have a name a wire from each of its ends."""
        facts = self.facts(word, 3, inner=True)
        if word.inner != ("<name>",) or name not in PARTS:
            return [f"    {name} {facts}"]
        called = f"{PARTS[name]}{self.chance.randrange(1, 5)}"
        self.names.append(called)
        lines = [f"    {name} {called} {NEEDED.get(name, '')} {facts}"]
        for end in self.chance.choice((("1",), ("2", "1"), ("1", "2"))):
            lines.append(f"    wire from {called}.{end} 14 AWG 3 ft")
            lines.append(f'    load "Lamp {end}" {self.value("current")}')
        return lines


def grown(seed: int) -> str:
    """The text of one rig."""
    made = _Grown(seed)
    chance = made.chance
    lines = [
        'rig "Grown"',
        "    system 12 V",
        f"    rules {chance.choice(('rv', 'boat', 'vehicle'))}",
    ]
    lines += [
        "battery B1 105 Ah, internal 10 mohm", "fuse F1 50 A", "panel P1 8 slots of 20 A",
        "busbar N1", "wire B1+ to F1 6 AWG 1 ft", "wire F1 to P1 6 AWG 3 ft",
        "wire N1 to B1- 6 AWG 3 ft",
    ]  # fmt: skip
    made.names += ["B1", "F1", "P1", "N1"]
    for name in chance.choices(tuple(PARTS), k=chance.randrange(2, 9)):
        lines.append(made.part(name))
    lines += [made.wire() for _ in range(chance.randrange(2, 14))]
    for _ in range(chance.randrange(5)):
        lines += made.circuit()
    for name in ("state", "note", "slot", "ac", "accept"):
        if chance.random() < 0.3:
            word = known_word(name)[0]
            opening = " ".join(made.value(each[1:-1].rstrip(">?")) for each in word.opening)
            lines.append(f"{name} {opening} {made.facts(word, 2)}")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def whole(text: str, errors: set[int]) -> str:
    """A text without the lines that have an error in them, counted from 1."""
    lines = text.split("\n")
    return "\n".join(line for number, line in enumerate(lines, 1) if number not in errors)
