"""Times the pages of the schematic against the layout of their parts alone.

Run it as a program; it prints a table of ratios. It is no test, since times differ by machine.
"""

import sys
from pathlib import Path
from time import perf_counter

sys.path.append(str(Path(__file__).parents[1] / "sheets"))

from rigs_for_schematic import panels_of

from rigfolio.render import dot
from rigfolio.schematic import stand as scheme_stand
from rigfolio.sheets import schematic

SLOTS = (6, 12, 24, 48, 60)
TIMES = 3


def least_s(work):
    """The least time of a few runs, each with layouts of its own [s]."""
    best = float("inf")
    for _ in range(TIMES):
        dot.forget()
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    return best


def layouts(job):
    """The calls of the layout engine that a schematic makes."""
    calls = []

    def noted(*given):
        calls.append(given)
        return dot.place(*given)

    scheme_stand.place = noted
    try:
        schematic.pages(job)
    finally:
        scheme_stand.place = dot.place
    return calls


def main():
    """Print one line for each number of slots."""
    say = sys.stdout.write
    say("slots  pages  layouts  one layout [ms]  all pages [ms]  ratio\n")
    for slots in SLOTS:
        job = panels_of(slots)
        calls = layouts(job)
        largest = max(calls, key=lambda given: len(given[0]))
        one = least_s(lambda given=largest: dot.place(*given))
        every = least_s(lambda job=job: schematic.pages(job))
        count = len(schematic.pages(job))
        say(f"{slots:5}  {count:5}  {len(calls):7}  {1000 * one:15.1f}  {1000 * every:14.1f}")
        say(f"  {every / one:5.1f}\n")


if __name__ == "__main__":
    main()
