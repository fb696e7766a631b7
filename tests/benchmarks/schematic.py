"""Measures the diagram: pages, marks, bends, crossings, texts that lie upon something, time.

Run it as a program, with a number of generated rigs if fewer than 300 are wanted; it prints a row
for each example and sums for the faulty rigs and the generated ones, by kind.
"""

import sys
from time import process_time

from helpers.diagram_checks import faults
from helpers.diagram_rigs import KINDS, text_of
from helpers.home import EXAMPLES
from rigfolio.judgement import result as app
from rigfolio.render import dot
from rigfolio.schematic.sheet import diagram

SAID = ("pages", "marks", "crossings", "seconds", "bend", "overlap", "struck", "off", "small",
        "paper", "lost")  # fmt: skip


def measured(job):
    """Figures of one diagram, by name."""
    dot.forget()
    start = process_time()
    made = diagram(job)
    seconds = process_time() - start
    found = faults(job, made)
    found |= {"pages": len(made.pages), "seconds": seconds, "marks": made.marks,
              "crossings": sum(drawing.crossings for drawing in made.drawings)}  # fmt: skip
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
            bad = {k: figures[k] for k in SAID[4:] if figures[k]}
            if bad or figures["crossings"]:
                sys.stdout.write(f"    {kind} {seed}: {bad} crossings {figures['crossings']}\n")
        row(f"{count // len(KINDS)} x {kind}, longest {longest:.2f} s", total)


if __name__ == "__main__":
    main()
