"""Drawings that were made to see whether they fit, taken for the page with other marks."""

import pytest

from helpers.label_rigs import job_of
from rigfolio.schematic import composer
from rigfolio.schematic.painting import Reference, looks_of
from rigfolio.schematic.sheet import diagram

PANELS = 3
HEAD = (
    "battery B1 lithium, 105 Ah, delivers 50 kA",
    "busbar A1 500 A",
    "busbar N0 500 A",
    "wire B1+ to A1 4/0 AWG red 1 ft, fuse 200 A at B1+",
    "wire N0 to B1- 4/0 AWG black 1 ft",
)


def panel(name: int, slots: int) -> list[str]:
    """A panel of more slots than a page holds, with a bar of its own to come back to."""
    lines = [
        f"panel P{name} {slots} slots of 15 A",
        f"busbar N{name} 100 A",
        f"wire A1 to P{name} 4 AWG red 5 ft, fuse 60 A at A1",
        f"wire N{name} to N0 4 AWG black 5 ft",
    ]
    for slot in range(1, slots + 1):
        lines += [
            f'circuit P{name}.{slot} "Lamp {slot} of {name}" fuse 5 A',
            f"    wire   14 AWG red {3 + slot} ft",
            f"    return 14 AWG black {3 + slot} ft to N{name}",
            '    load   "Lamp" 6 W',
        ]
    return lines


def pages_drawn(monkeypatch, slots: int) -> tuple[object, int]:
    """All pages of a rig of several panels, and how many drawings were made for them."""
    lines = [*HEAD, *(line for name in range(1, PANELS + 1) for line in panel(name, slots))]
    made: list[object] = []

    def counted(*given):
        made.append(composer_drawn(*given))
        return made[-1]

    composer_drawn = composer.drawn
    with monkeypatch.context() as patch:
        patch.setattr(composer, "drawn", counted)
        pages = diagram(job_of("".join(f"{line}\n" for line in lines))).pages
    return pages, len(made)


@pytest.mark.parametrize("slots", [24, 30])
def test_pages_are_the_same_with_every_drawing_made_anew(monkeypatch, slots):
    pages, few = pages_drawn(monkeypatch, slots)
    monkeypatch.setattr(composer, "looks_of", lambda _: object())
    again, many = pages_drawn(monkeypatch, slots)
    assert pages == again
    assert few < many


def test_a_number_with_more_figures_than_its_ring_has_room_for_looks_like_none_but_itself():
    def marks(number: int, words: str = "to page 3, A1"):
        return {"N1": (None, Reference(number, words, f"mark-{number}-out", "mark-1-in"))}

    assert looks_of(marks(1)) == looks_of(marks(99))
    assert looks_of(marks(99)) != looks_of(marks(100)) != looks_of(marks(101))
    assert looks_of(marks(1)) != looks_of(marks(1, "to page 3, B1"))
    assert looks_of(marks(1)) != looks_of({"N1": (None, None)})
