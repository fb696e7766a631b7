"""Rigs drawn by chance, as sound as a careful owner would build them; the same seed, the same rig.

No figure of the search was ever looked at beside them: they are there to hold it to its word.
"""

from random import Random

_GAUGES = ((3.0, 18), (5.0, 16), (8.0, 14), (12.0, 12), (18.0, 10))
_LOADS = (
    ("Lamp", "{:.0f} W", (4, 25), "led"), ("Strip", "{:.0f} W", (8, 40), "filament"),
    ("Fan", "{:.1f} A", (1.0, 4.0), "motor"), ("Pump", "{:.1f} A", (4.0, 9.0), "motor"),
    ("Pad", "{:.1f} A", (3.0, 8.0), "heater"), ("Radio", "{:.1f} A", (0.5, 3.0), "electronics"),
    ("Cooler", "{:.0f} W", (35, 70), "electronics"),
)  # fmt: skip


def rig_text(seed: int) -> str:
    """The text of a rig with one bank, one or two panels and some ten circuits."""
    chance = Random(seed)
    system = chance.choice((12, 12, 12, 24))
    kind = chance.choice(("flooded", "agm", "lithium"))
    inner = chance.uniform(3.0, 20.0) * system / 12
    lines = [
        f'rig "Drawn {seed}"', f"    system {system} V", "    rules vehicle",
        f"battery B1 {kind}, {chance.choice((80, 100, 200, 280))} Ah, internal {inner:.0f} mohm",
        "disconnect S1 200 A", "busbar D1 200 A", "busbar N1 200 A",
        f"wire B1+ to S1.line 4 AWG red {chance.randint(1, 4)} ft, fuse 100 A at B1+",
        f"wire S1.load to D1 4 AWG red {chance.randint(1, 6)} ft",
        f"wire N1 to B1- 4 AWG black {chance.randint(1, 6)} ft",
    ]  # fmt: skip
    for panel in range(1, chance.choice((2, 2, 3))):
        lines += _panel(chance, f"P{panel}", system)
    return "\n".join(lines) + "\n"


def _panel(chance: Random, name: str, system: int) -> list[str]:
    slots = chance.randint(4, 8)
    lines = [
        f"panel {name} {slots} slots of 30 A, negative N1",
        f"wire D1 to {name} 8 AWG red {chance.randint(3, 16)} ft, fuse 60 A at D1",
    ]
    for slot in range(1, slots + 1):
        lines += _circuit(chance, f"{name}.{slot}", system)
    return lines


def _circuit(chance: Random, place: str, system: int) -> list[str]:
    loads = [_load(chance, system) for _ in range(chance.choice((1, 1, 1, 2, 3)))]
    ampere = sum(amps for _, _, amps in loads)
    gauge = next((size for most, size in _GAUGES if ampere <= most), 8)
    fuse = next(size for size in (3, 5, 7.5, 10, 15, 20, 25, 30, 40) if size >= 1.25 * ampere)
    feet = chance.randint(4, 22)
    lines = [f'circuit {place} "Circuit {place}" fuse {fuse:g} A',
             f"    wire {gauge} AWG red {feet} ft"]  # fmt: skip
    if chance.random() < 0.3:
        lines += [f"    switch K{place.replace('P', '').replace('.', '')} 20 A",
                  f"    wire {gauge} AWG red {chance.randint(1, 5)} ft"]  # fmt: skip
    for at, (word, draw, _) in enumerate(loads):
        if at:
            lines.append(f"    wire {gauge} AWG red {chance.randint(1, 8)} ft")
        lines.append(
            f'    load "{word} {place.replace("P", "").replace(".", "-")}{"abc"[at]}" {draw}'
        )
    return lines


def _load(chance: Random, system: int) -> tuple[str, str, float]:
    word, form, (low, high), duty = chance.choice(_LOADS)
    value = chance.uniform(low, high)
    if form.endswith("A"):
        value *= 12 / system
    draw = form.format(value)
    ampere = float(draw.split()[0]) / (system if form.endswith("W") else 1)
    return word, f"{draw}, {duty}", ampere
