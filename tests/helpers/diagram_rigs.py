"""Rigs made by kind and seed: trees, rings, parallel banks, many sources, selectors, plugs."""

from random import Random

KINDS = ("tree", "ring", "banks", "sources", "selector", "converter", "plug", "slots", "names",
         "mixed")  # fmt: skip
_COLOURS = ("red", "black", "yellow/blue", "orange", "brown/red", "grey", "?", "white")
_SIZES = ("14 AWG", "6 AWG", "2 AWG", "1/0 AWG", "10 AWG")
_LONG = (
    "Beleuchtung im Vorschiff und in der Achterkajüte, dimmbar",
    "Αντλία υδροσυλλεκτών πρωραίου διαμερίσματος",
    "Освещение кормовой каюты и машинного отделения",
    "Pompa zęzowa w komorze silnika, sterowana pływakiem",
)


class _Writer:
    def __init__(self, kind, seed):
        self.chance = Random(f"{kind} {seed}")
        self.lines = [f'rig "R{seed} {kind}"', "    rules boat"]
        self.wires = []
        self.count = 0

    def say(self, line):
        self.lines.append(line)

    def wire(self, one, two, fuse="", colour=""):
        size = self.chance.choice(_SIZES)
        colour = colour or self.chance.choice(("red", "red", "grey", "green"))
        tail = f", fuse {fuse} at {one}" if fuse else ""
        self.wires.append(
            f"wire {one} to {two} {size} {colour} {self.chance.randint(1, 20)} ft{tail}"
        )

    def minus(self, one, two="N1"):
        self.wire(one, two, colour="black")

    def bank(self, number, plus="D1"):
        self.say(f'battery B{number} "Bank {number}" agm, {self.chance.randint(80, 400)} Ah')
        self.say(f'fuse F{number} "Bank fuse {number}" 150 A on B{number}+')
        self.wire(f"F{number}.load", plus)
        self.minus(f"B{number}-")

    def bars(self, count=1):
        for number in range(1, count + 1):
            self.say(f'busbar D{number} "Plus bar {number}" 250 A')
        self.say('busbar N1 "Minus bar" 250 A')
        for number in range(2, count + 1):
            if self.chance.random() < 0.5:
                self.say(f'disconnect S{number} "Disconnect {number}" 200 A')
                self.wire(f"D{self.chance.randint(1, number - 1)}", f"S{number}.line")
                self.wire(f"S{number}.load", f"D{number}")
            else:
                self.wire(f"D{self.chance.randint(1, number - 1)}", f"D{number}", fuse="100 A")

    def source(self, number, bar):
        kind = self.chance.choice(("solar", "charger", "alternator"))
        self.say(f'{kind} U{number} "Source {number}" {self.chance.randint(10, 60)} A')
        self.wire(bar, f"U{number}+", fuse="60 A")
        self.minus(f"U{number}-")

    def direct(self, number, bar):
        self.say(f'circuit {bar} "Direct {number}" fuse 20 A')
        self.say("    wire 10 AWG red 5 ft")
        self.say(f'    load "Thing {number}" {number + 1} A')
        self.say("    return 10 AWG black 5 ft")

    def panel(self, number, slots, bar, names=None):
        self.say(f'panel P{number} "Panel {number}" {slots} slots of 30 A, negative N1')
        self.wire(bar, f"P{number}", fuse="60 A")
        for slot in range(1, slots + 1):
            self.slot(f"P{number}.{slot}", names)

    def slot(self, place, names):
        chance = self.chance
        if chance.random() < 0.1:
            self.say(f"slot {place} spare")
            return
        label = chance.choice(names) if names else f"Circuit {place}"
        self.say(f'circuit {place} "{label}" fuse {chance.choice(("5 A", "10 A", "?"))}')
        self.say(f"    wire 14 AWG {chance.choice(_COLOURS)} {chance.randint(2, 30)} ft")
        if chance.random() < 0.2:
            self.say("    switch 10 A")
            self.say(f"    wire 14 AWG {chance.choice(_COLOURS)} 3 ft")
        for load in range(chance.choice((1, 1, 1, 2, 3))):
            name = chance.choice(names) if names else f"Load {place} {load}"
            self.say(f'    load "{name}" {load + 1} A')
        if chance.random() < 0.2:
            self.say("    wire 16 AWG blue 7 ft")
            self.say('    load "Far end" 12 W, led')
        if chance.random() < 0.3:
            self.say("    return 14 AWG white 9 ft")

    def text(self):
        return "\n".join((*self.lines, *self.wires)) + "\n"


def text_of(kind, seed):
    """The text of a rig of a kind."""
    made = _Writer(kind, seed)
    _MAKERS[kind](made, made.chance)
    return made.text()


def _tree(made, chance):
    count = chance.randint(1, 6)
    made.bars(count)
    made.bank(1)
    for number in range(1, chance.randint(2, 7)):
        made.source(number, f"D{chance.randint(1, count)}")
    for number in range(chance.randint(0, 4)):
        made.direct(number, f"D{chance.randint(1, count)}")
    if chance.random() < 0.5:
        made.panel(1, chance.randint(2, 10), f"D{count}")


def _ring(made, chance):
    count = chance.randint(3, 6)
    made.bars(count)
    made.bank(1)
    made.bank(2, plus=f"D{count}")
    for _ in range(chance.randint(1, 3)):
        one, two = chance.sample(range(1, count + 1), 2)
        made.wire(f"D{one}", f"D{two}")
    for number in range(1, chance.randint(2, 5)):
        made.source(number, f"D{chance.randint(1, count)}")


def _banks(made, chance):
    made.bars(1)
    for number in range(1, chance.randint(3, 14)):
        made.bank(number)
    made.panel(1, chance.randint(2, 12), "D1")


def _sources(made, chance):
    made.bars(2)
    made.bank(1)
    for number in range(1, chance.randint(8, 30)):
        made.source(number, chance.choice(("D1", "D2")))


def _selector(made, chance):
    made.bars(2)
    made.bank(1)
    made.bank(2, plus="D2")
    made.say('selector X1 "Selector" 250 A')
    made.wire("D1", "X1.1")
    made.wire("D2", "X1.2")
    made.say('busbar D9 "House bar" 200 A')
    made.wire("X1.common", "D9")
    for number in range(1, chance.randint(2, 6)):
        made.source(number, chance.choice(("D1", "D2", "D9")))
    made.panel(1, chance.randint(2, 12), "D9")


def _converter(made, chance):
    made.bars(2)
    made.bank(1)
    made.bank(2, plus="D2")
    for number in range(1, chance.randint(2, 4)):
        made.say(f'dc-dc E{number} "Converter {number}" 30 A from 12 V to 12.8 V, draws 37 A')
        made.wire("D1", f"E{number}.in", fuse="50 A")
        made.wire(f"E{number}.out", "D2", fuse="50 A")
        made.minus(f"E{number}-")
    made.panel(1, chance.randint(2, 10), "D2")


def _plug(made, chance):
    made.bars(1)
    made.bank(1)
    pins = chance.randint(2, 7)
    made.say(f'connector J1 "Trailer plug" {pins} pins of 20 A')
    made.say('busbar N2 "Trailer minus bar" 100 A')
    for pin in range(1, pins):
        made.say(f'load M{pin} "Lamp group {pin}" {pin} A')
        made.wire("D1", f"J1.{pin}.line", fuse="10 A")
        made.wire(f"J1.{pin}.load", f"M{pin}+")
        made.minus(f"M{pin}-", "N2")
    made.minus("N1", f"J1.{pins}.line")
    made.minus(f"J1.{pins}.load", "N2")


def _slots(made, chance):
    made.bars(1)
    made.bank(1)
    made.panel(1, chance.randint(24, 60), "D1")


def _names(made, chance):
    made.bars(1)
    made.bank(1)
    made.panel(1, chance.randint(4, 14), "D1", names=_LONG)


def _mixed(made, chance):
    count = chance.randint(2, 5)
    made.bars(count)
    for number in range(1, chance.randint(2, 5)):
        made.bank(number, plus=f"D{chance.randint(1, count)}")
    for number in range(1, chance.randint(2, 8)):
        made.source(number, f"D{chance.randint(1, count)}")
    made.say('chassis G1 "Frame"')
    made.minus("N1", "G1")
    for number in range(chance.randint(0, 3)):
        made.say(f'load M{number} "Motor {number}" 40 A, motor')
        made.wire(f"D{chance.randint(1, count)}", f"M{number}+", fuse="50 A")
        made.minus(f"M{number}-", chance.choice(("G1", "N1")))
    made.panel(1, chance.randint(2, 12), f"D{count}")
    if chance.random() < 0.5:
        made.panel(2, chance.randint(2, 8), "D1")


_MAKERS = {"tree": _tree, "ring": _ring, "banks": _banks, "sources": _sources,
           "selector": _selector, "converter": _converter, "plug": _plug, "slots": _slots,
           "names": _names, "mixed": _mixed}  # fmt: skip
