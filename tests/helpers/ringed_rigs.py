"""Rigs of bars in trees with rings closed among them."""

import random

from rigfolio.judgement.result import load as read
from rigfolio.study import Study

GAUGES = ["14", "12", "10", "8", "6"]


def made(seed, *, rings):
    """A rig of bars in a tree, with so many wires more that close rings, and a load at each bar."""
    pick = random.Random(seed)
    bars = pick.randint(2, 6)
    lines = ['rig "Made"', "    system 12 V", "    rules rv", "battery B1 flooded, 100 Ah"]
    for bar in range(1, bars + 1):
        lines += [f"busbar D{bar}", f"busbar N{bar}", f"load M{bar} {pick.randint(1, 9)} A"]

    def wire(one, two):
        length = pick.randint(1, 25)
        lines.append(f"wire {one} to {two} {pick.choice(GAUGES)} AWG blue {length} ft")

    for bar in range(1, bars + 1):
        wire(f"M{bar}+", f"D{bar}")
        wire(f"M{bar}-", f"N{bar}")
        above = pick.randint(0, bar - 1)
        wire(f"D{above}" if above else "B1+", f"D{bar}")
        above = pick.randint(0, bar - 1)
        wire(f"N{above}" if above else "B1-", f"N{bar}")
    for _ in range(rings):
        side, post = pick.choice([("D", "B1+"), ("N", "B1-")])
        ends = [post, *(f"{side}{bar}" for bar in range(1, bars + 1))]
        wire(*pick.sample(ends, 2))
    _, rig, errors = read("made.rig", "\n".join(lines) + "\n")
    assert rig is not None, errors
    return Study(rig, rig.book)
