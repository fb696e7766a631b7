"""Rigs as lists of statements, so that one can be written in above others."""

from collections.abc import Sequence

from hypothesis import strategies as st

PARTS = """rig "Made"
    system 12 V  # as found
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 50 A
disconnect S1 100 A
panel P1 6 slots of 20 A
busbar N1 100 A
chassis G1
load L1 "Fridge" 4 A
"""
ENDS = ("B1+", "F1.line", "F1.load", "S1.line", "S1.load", "P1", "N1", "B1-", "G1", "L1+", "L1-")
LOOKS = ("6 AWG red", "6 AWG black", "10 AWG red", "? AWG ?")
LABELS = ("Lamp", "Fan, aft", "LP/CO detector", "Gas valve and control board", "=1+2", "Lamp")


@st.composite
def wires(draw: st.DrawFn) -> str:
    """A wire between two places, some with a fuse on it, a name by hand, a remark behind it."""
    one, two = draw(st.lists(st.sampled_from(ENDS), min_size=2, max_size=2, unique=True))
    line = f"wire {one} to {two} {draw(st.sampled_from(LOOKS))} {draw(st.integers(1, 9))} ft"
    line += draw(st.sampled_from(("", "", f", fuse 30 A at {one}", f", fuse 30 A 4 in from {two}")))
    return line + draw(st.sampled_from(("", "", "  # by the door", " ,")))


@st.composite
def circuits(draw: st.DrawFn, slot: int) -> str:
    """A circuit in a slot or at a terminal, with several wires."""
    places = (f"P1.{slot}", f"P1.{slot}", "S1.line", "B1+")
    lines = [f'circuit {draw(st.sampled_from(places))} "{draw(st.sampled_from(LABELS))}" fuse 5 A']
    lines[0] += draw(st.sampled_from(("", ", always on")))
    for number in range(draw(st.integers(1, 3))):
        lines.append(f"    wire {draw(st.sampled_from(LOOKS))} {number + 1} ft  # run")
        lines += draw(
            st.sampled_from(
                ([], [f"    splice Z{slot}{number}"], [f"    switch K{slot}{number} 10 A"],
                 ["    switch 10 A"], [f'    load "{draw(st.sampled_from(LABELS))}" 1 A'])
            )
        )  # fmt: skip
    lines.append('    load "Last" 1 A')
    lines += draw(
        st.sampled_from(([], ["    return to G1"], ["    return 10 AWG white 4 ft"],
                         ["    return 10 AWG white 4 ft", "    return 6 AWG white 4 ft to B1-"]))
    )  # fmt: skip
    return "\n".join(lines)


@st.composite
def statements(draw: st.DrawFn) -> list[str]:
    """Statements of wires and circuits, in some order."""
    made = draw(st.lists(wires(), min_size=1, max_size=6))
    made += [draw(circuits(slot)) for slot in range(1, 1 + draw(st.integers(0, 3)))]
    return draw(st.permutations(made))


def text_of(said: Sequence[str], end: str = "\n") -> str:
    """The text of a rig."""
    return (PARTS + "\n".join(said) + "\n").replace("\n", end)
