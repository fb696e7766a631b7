"""What sits in a slot is drawn within the frame of its panel, however far its rung leads."""

import pytest

from helpers.diagram_checks import groups_of
from helpers.schematic_rigs import job_of
from rigfolio.draw.extents import text_box
from rigfolio.draw.page import Line, Page, Text
from rigfolio.schematic.sheet import diagram

RIG = """rig "Hut"
    system 24 V
    rules  vehicle
battery B1 24 V, lithium, 200 Ah
busbar N1 300 A
panel P1 "House" 8 slots of 20 A, negative N1
panel P2 "Lights" 6 slots of 15 A
dc-dc D1 10 A, from 24 V to 12 V, draws 6 A
wire B1+ to P1 16 mm2 red 1 m, fuse 60 A at B1+
wire N1 to B1- 16 mm2 black 1 m
wire D1- to N1 4 mm2 black 1 m
wire D1.out to P2 6 mm2 red 1 m, fuse 10 A at D1.out
wire P2- to D1- 6 mm2 black 1 m
circuit P1.1 "Converter" fuse 10 A
    wire 4 mm2 red 1 m to D1.in
    return to N1
"""
ROW = """circuit {place} "{name}" fuse 5 A
    wire 1.5 mm2 blue 2 m
    load "{name}" 1 A
{back}"""


def text(slots: str, lights: int) -> str:
    """Slots of the first panel: `o` returns to its own bar, `x` to that of the other panel."""
    lines = [RIG]
    for n, slot in enumerate(slots):
        back = "" if slot == "o" else "    return 1.5 mm2 black 4 m to P2-\n"
        lines.append(ROW.format(place=f"P1.{n + 2}", name=f"Load {n}", back=back))
    lines += [ROW.format(place=f"P2.{n + 1}", name=f"Lamp {n}", back="") for n in range(lights)]
    return "".join(lines)


def frames(page: Page) -> list[tuple[float, float, float, float]]:
    """The rectangles on a page that are as large as the frame of a panel."""
    every = (m for g in groups_of(page.marks) for m in g.marks if isinstance(m, Line) and m.closed)
    boxes = (
        (min(x for x, _ in m.points), min(y for _, y in m.points),
         max(x for x, _ in m.points), max(y for _, y in m.points))
        for m in every if len(m.points) == 4
    )  # fmt: skip
    return [box for box in boxes if box[2] - box[0] > 15.0 and box[3] - box[1] > 15.0]


@pytest.mark.parametrize("lights", [2, 5])
@pytest.mark.parametrize("slots", ["ooo", "oxo", "ooxoo", "xox", "oxxo", "xxxx", "oxoxo"])
def test_every_slot_is_within_the_frame_of_its_panel(slots: str, lights: int) -> None:
    made = diagram(job_of(text(slots, lights)))
    if slots == "ooxoo":
        # A slot between others that return to the bar of the panel leads past that bar.
        assert sum(one.crossings for one in made.drawings) == 1
    found = 0
    for page in made.pages:
        held = frames(page)
        for group in groups_of(page.marks):
            panel, dot, number = group.ident.partition(".")
            if panel not in ("P1", "P2") or not dot or not number.isdigit():
                continue
            for words in (one for one in group.marks if isinstance(one, Text) and one.text.strip()):
                left, top, right, bottom = text_box(words)
                assert any(
                    box[0] <= left and right <= box[2] and box[1] <= top and bottom <= box[3]
                    for box in held
                ), (group.ident, words.text)
                found += 1
    assert found > len(slots) + lights
