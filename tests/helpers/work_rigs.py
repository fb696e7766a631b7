"""Rigs to print the sheets of the working day of: two panels, gaps, remarks, names of any size."""

from collections.abc import Sequence
from random import Random

from hypothesis import strategies as st

from helpers.label_rigs import NAMES

LONGEST = (
    "Wohnraumdeckenbeleuchtungssteuerungsanlagenzusatzgerätesteckdosenleistenverbund",
    "Свет в салоне, передний ряд, над обеденным столом и у входной двери слева внизу",
    "Φώτα καμπίνας εμπρός, αριστερά από το τραπέζι και πάνω από την κουζίνα δεξιά",
    "Éclairage de la cabine avant, côté bâbord, au-dessus de la table à cartes, ici",
    "W" * 80,
    "A",
)
"""The longest words and names that a text may hold, in several scripts."""
_SIZES = ("14 AWG", "12 AWG", "? AWG", "16 AWG", "10 AWG", "2.5 mm2")
_COLOURS = ("red/black", "yellow", "?", "light blue/dark grey", "violet", "yellow/green")
_LENGTHS = ("12 ft", "? ft", "6 ft 6 in", "22 ft")
_FUSES = ("5 A", "10 A", "? A", "15 A", "7.5 A")
_DRAWS = ("1 A", "24 W", "? A", "3 ohm")
_DUTIES = ("continuous", "intermittent", "cyclic, 5 h/day", "momentary", "2 h/day")
_MORE = ("", ", found 30 A, marked 20 A", ", always on", ", scorched", ", stays put")
_WIRES = ("", ", tail 9 in, breakout 30 mm", ", ends ring M4 and blade", ", loose", ", tag T{}")


def two_panels(first: int, second: int, names: Sequence[str], seed: int = 0) -> str:
    """The text of a rig with so many slots in each of two panels, its facts drawn by a seed."""
    draw = Random(seed)
    name = draw.choice
    lines = [
        f'rig "Reed Bunting"\n    rules boat\n    paper {name(("a4", "letter"))}\n    system 12 V',
        f'battery B1 "{name(names)}" agm, 200 Ah, internal 5 mohm, stud M8',
        f'battery B2 "{name(names)}" lithium, ? Ah',
        f'charger C1 "{name(names)}" 40 A\nsolar U1 "{name(names)}" 12 A',
        f'fuse F1 "{name(names)}" 100 A on B1+ mega interrupts 10 kA',
        f'selector X1 "{name(names)}" 200 A\ndisconnect S1 "{name(names)}" ? A',
        f'panel P1 "{name(names)}" {first} slots of 30 A, pitch 14 mm, negative N1, torque 4 Nm',
        f'busbar N1 "{name(names)}" 150 A stud M6 torque 3 Nm\nbusbar N2 ? A\nchassis G1',
        "wire F1 to X1.1 1/0 AWG red 3 ft\nwire B2+ to X1.2 1/0 AWG red 4 ft",
        "wire X1.common to S1.line 1/0 AWG red 3 ft",
        f'wire S1.load to P1 1/0 AWG red 8 ft, scorched, note "{_note(draw, names)}"',
        "wire N2 to N1 6 AWG black 9 ft\nwire N1 to B1- 1/0 AWG yellow 4 ft",
        "wire B2- to B1- 1/0 AWG yellow 4 ft\nwire N1 to G1 6 AWG bare 3 ft",
        "wire C1+ to B1+ 6 AWG red 6 ft, fuse 50 A at B1+\nwire C1- to N1 6 AWG black 6 ft",
        "wire U1+ to P1 10 AWG red 20 ft, fuse 20 A at P1\nwire U1- to N1 10 AWG black 20 ft",
        f'circuit S1.line "{name(names)}" fuse 3 A, always on\n    wire 16 AWG ? 9 ft',
        f'    load "{name(names)}" 0.2 A, 24 h/day',
    ]
    if second:
        lines.append(f'panel P2 "{name(names)}" {second} slots of ? A, negative N2')
        lines.append("wire P1 to P2 6 AWG red ? ft, fuse 60 A at P1")
    for panel, slots in (("P1", first), ("P2", second)):
        for slot in range(1, slots + 1):
            lines += _slot(draw, panel, slot, names)
    return "\n".join(lines) + "\n"


def _slot(draw: Random, panel: str, slot: int, names: Sequence[str]) -> list[str]:
    place = f"{panel}.{slot}"
    kind = draw.random()
    if kind < 0.08:
        return [f'slot {place} spare "{draw.choice(names)}"']
    if kind < 0.14:
        return []
    note = f', note "{_note(draw, names)}"' if kind > 0.85 else ""
    wire = draw.choice(_WIRES).format(f"{panel}x{slot}")
    more = f"{draw.choice(_MORE)}{note}"
    lines = [
        f'circuit {place} "{draw.choice(names)}" fuse {draw.choice(_FUSES)}{more}',
        f"    wire {draw.choice(_SIZES)} {draw.choice(_COLOURS)} {draw.choice(_LENGTHS)}{wire}",
        f'    load "{draw.choice(names)}" {draw.choice(_DRAWS)}, {draw.choice(_DUTIES)}',
    ]
    if kind > 0.7:
        lines.append(f'    load "{draw.choice(names)}" 0.5 A')
    if kind < 0.5:
        lines.append("    return 14 AWG black 12 ft")
    return lines


def _note(draw: Random, names: Sequence[str]) -> str:
    return f"{draw.choice(names)} {draw.choice(names)}"[:120].strip()


GENERATED = st.builds(
    two_panels,
    st.integers(1, 40),
    st.integers(0, 20),
    st.lists(NAMES, min_size=1, max_size=9),
    st.integers(0, 1000),
)
"""Texts of generated rigs with 1 to 60 slots."""
