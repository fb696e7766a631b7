"""How long sizing takes on rigs made by chance, and whether it settles and leaves nothing worse.

``PYTHONPATH=src:tests python tests/benchmarks/size.py 1000`` tries that many and prints what was
wrong. With ``--bank 15 30 60`` it sizes banks of so many fused batteries side by side instead, and
prints the processor time of each beside that of judging the same rig.
"""

import sys
import time
from collections import Counter

from rigfolio.judgement import check
from rigfolio.sizing import sizes
from sizing.settle import wrong


def main(count: int) -> None:
    """Try rigs and print what was found."""
    tally: Counter[str] = Counter()
    longest = 0.0
    for seed in range(count):
        start = time.perf_counter()
        for words in wrong(seed, tally):
            tally["wrong"] += 1
            sys.stdout.write(f"{seed}: {words}\n")
            sys.stdout.flush()
        longest = max(longest, time.perf_counter() - start)
    sys.stdout.write(f"{count} rigs, longest {longest:.1f} s\n")
    sys.stdout.writelines(f"{name}: {number}\n" for name, number in sorted(tally.items()))


def bank(batteries: int) -> str:
    """The text of a rig with so many batteries side by side, and three lamps."""
    lines = ['rig "Bank"', "    system 12 V", "    rules rv", "busbar A1 600 A", "busbar N1 600 A",
             "panel P1 6 slots of 20 A, interrupts 10 kA",
             "wire A1 to P1 6 AWG red 5 ft, fuse 60 A at A1"]  # fmt: skip
    for number in range(1, batteries + 1):
        lines += [
            f"battery B{number} flooded, 105 Ah, internal 10 mohm",
            f"wire B{number}+ to A1 2 AWG red 3 ft, fuse 100 A at B{number}+",
            f"wire N1 to B{number}- 2 AWG black 3 ft",
        ]
    for slot in (1, 2, 3):
        lines += [f'circuit P1.{slot} "Lamp" fuse 5 A', "    wire 14 AWG red 3 ft",
                  "    return 14 AWG black 3 ft to N1", '    load "Lamp" 6 W, 2 h/day']  # fmt: skip
    return "\n".join(lines) + "\n"


def banks(counts: list[int]) -> None:
    """Print how long judging and sizing of each bank takes."""
    for count in counts:
        start = time.process_time()
        study = check("bank.rig", text=bank(count)).study
        judged_s = time.process_time() - start
        sizes(study)
        sized_s = time.process_time() - start - judged_s
        sys.stdout.write(
            f"{count:4} batteries: judged in {judged_s:5.2f} s, sized in {sized_s:5.2f} s\n"
        )


if __name__ == "__main__":
    words = sys.argv[1:]
    if words[:1] == ["--bank"]:
        banks([int(word) for word in words[1:]] or [15, 30, 60])
    else:
        main(int(words[0]) if words else 1000)
