"""Which loads must stay on: by what they are called, or by what is said of them."""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import kept_loads

NAMED = """rig "T"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
panel P1 4 slots, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
"""
SLOT = 'circuit P1.1 "{}" fuse 3 A\n    wire 16 AWG red 9 ft\n    load "{}" 0.1 A{}\n'
LONE = (
    "load M1 {}0.1 A\nwire P1 to M1+ 16 AWG red 9 ft, fuse 3 A at P1\n"
    "wire M1- to N1 16 AWG black 9 ft\n"
)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        # A detector by its own name, by that of its circuit, by its label, and by what is said.
        (SLOT.format("Nose", "Gas detector", ""), "by its name"),
        (SLOT.format("Gas detector", "Nose", ""), "by its name"),
        (LONE.format('"Gas detector" '), "by its name"),
        (SLOT.format("Nose", "Lamp", ", always on"), "said to be always on"),
        (SLOT.format("Nose", "Lamp", ""), None),
        (LONE.format('"Lamp" '), None),
        (LONE.format(""), None),
    ],
)
def test_what_must_stay_on_is_known_by_what_it_is_called_or_by_what_is_said(
    text: str, why: str | None
) -> None:
    found = [reason for _, reason in kept_loads(study_from(NAMED + text).rig)]
    assert len(found) == (why is not None)
    assert all(reason.endswith(str(why)) for reason in found)
