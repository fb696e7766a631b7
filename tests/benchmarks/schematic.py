"""Measures the diagram: pages, marks, bends, crossings, texts that lie upon something, time.

Run it as a program, with a number of generated rigs if fewer than 300 are wanted; it prints a row
for each example, for rigs as large as they may be, and sums for the faulty rigs and the generated
ones, by kind. `needless` are rigs that are drawn with a crossing though their graph is planar.
"""

import sys
from random import Random
from time import process_time

from helpers.diagram_checks import faults, is_planar
from helpers.diagram_rigs import KINDS, text_of
from helpers.home import EXAMPLES
from rigfolio.judgement import result as app
from rigfolio.render import dot
from rigfolio.schematic.chains import graph_of
from rigfolio.schematic.chains.units import blocks_of
from rigfolio.schematic.sheet import diagram

SAID = ("pages", "marks", "crossings", "needless", "seconds", "bend", "overlap", "struck", "off",
        "small", "paper", "lost")  # fmt: skip


HEAD = """\
rig "Large"
    rules rv
battery B1 105 Ah
fuse F1 100 A, on B1+
panel P1 {slots} slots of 20 A, 2 columns
busbar N1
wire F1 to P1 2 AWG red 4 ft
wire B1- to N1 2 AWG black 4 ft
"""


def many_slots(count):
    """A panel of which each slot has its circuit."""
    return HEAD.format(slots=count) + "".join(
        f'circuit P1.{n} "Lamp {n}" fuse 5 A\n    wire 16 AWG red 9 ft\n    load "Lamp {n}" 1 A\n'
        for n in range(1, count + 1)
    )


def many_sources(count):
    """Chargers on one bar."""
    lines = "".join(
        f"charger C{n} 10 A\nwire C{n}+ to D1 10 AWG red 5 ft, fuse 15 A at D1\n"
        f"wire C{n}- to N1 10 AWG black 5 ft\n"
        for n in range(1, count + 1)
    )
    return f"{HEAD.format(slots=4)}busbar D1\nwire D1 to P1 2 AWG red 3 ft\n{lines}"


def dense(bars, wires):
    """Bars joined at random."""
    chance = Random(1)
    lines = "".join(f"busbar D{n}\n" for n in range(1, bars + 1))
    for _ in range(wires):
        one, two = chance.sample(range(1, bars + 1), 2)
        lines += f"wire D{one} to D{two} 10 AWG red 5 ft\n"
    return f"{HEAD.format(slots=4)}{lines}wire D1 to P1 2 AWG red 3 ft\n"


LARGEST = {
    "60 slots": many_slots(60), "30 sources": many_sources(30), "dense tangle": dense(12, 40),
}  # fmt: skip
"""Rigs of which each takes long for a reason of its own."""


def measured(job):
    """Figures of one diagram, by name."""
    dot.forget()
    start = process_time()
    made = diagram(job)
    seconds = process_time() - start
    found = faults(job, made)
    found |= {"pages": len(made.pages), "seconds": seconds, "marks": made.marks,
              "crossings": sum(drawing.crossings for drawing in made.drawings)}  # fmt: skip
    found["needless"] = int(bool(found["crossings"]) and is_planar(blocks_of(graph_of(job))))
    return found


def row(name, figures):
    """One line of the table."""
    cells = (f"{figures[key]:9.2f}" if key == "seconds" else f"{figures[key]:9}" for key in SAID)
    sys.stdout.write(f"{name:32}" + "".join(cells) + "\n")
    sys.stdout.flush()


def job_of(name, text=None):
    """A job from a file or a text."""
    result = app.check(name) if text is None else app.check(name, text=text)
    return app.job_of(result) if result.study else None


def main():
    """Print the table."""
    sys.stdout.write(f"{'':32}" + "".join(f"{key:>9}" for key in SAID) + "\n")
    for path in sorted(EXAMPLES.glob("*.rig")):
        row(path.stem, measured(job_of(str(path))))
    for name, text in LARGEST.items():
        row(name, measured(job_of("made.rig", text)))
    total = dict.fromkeys(SAID, 0)
    for path in sorted((EXAMPLES / "faulty").glob("*.rig")):
        for key, value in measured(job_of(str(path))).items():
            total[key] += value
    row("all faulty rigs", total)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    for kind in KINDS:
        total = dict.fromkeys(SAID, 0)
        longest = 0.0
        for seed in range(count // len(KINDS)):
            figures = measured(job_of("made.rig", text_of(kind, seed)))
            longest = max(longest, figures["seconds"])
            for key, value in figures.items():
                total[key] += value
            bad = {k: figures[k] for k in SAID[5:] if figures[k]}
            if bad or figures["crossings"]:
                sys.stdout.write(f"    {kind} {seed}: {bad} crossings {figures['crossings']}\n")
        row(f"{count // len(KINDS)} x {kind}, longest {longest:.2f} s", total)


if __name__ == "__main__":
    main()
