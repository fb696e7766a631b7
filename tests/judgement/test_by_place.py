"""Findings by place: each place once, those of slots first, none lost."""

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.judgement.messages.places import by_place
from rigfolio.judgement.result import check

TEXT = """
rig "Teal 12"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 4 mohm
panel P1 "Panel" 4 slots of 30 A
busbar N1 100 A
wire W1 B1+ to P1 10 AWG red 2 ft
load L1 "Winch" 20 A
wire W3 B1+ to L1+ 10 AWG red 12 ft
wire W4 L1- to N1 10 AWG black 12 ft
wire W2 N1 to B1- 10 AWG black 2 ft
circuit P1.1 "Fridge" fuse 30 A
    wire 16 AWG orange 8 ft
    load "Fridge" 6 A
"""


def test_what_is_at_the_panel_comes_first() -> None:
    result = check("teal.rig", text=TEXT)
    assert result.study is not None
    places = [where for where, _ in by_place(result.study, result.findings)]
    at = {name: next(n for n, one in enumerate(places) if one.startswith(name))
          for name in ("P1.1", "W3")}  # fmt: skip
    assert at["P1.1"] < at["W3"]


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.rig")))
def test_each_place_stands_once_and_none_is_lost(name: str) -> None:
    result = checked(EXAMPLES / name)
    assert result.study is not None
    groups = by_place(result.study, result.findings)
    assert sorted(f.headline for _, some in groups for f in some) == sorted(
        f.headline for f in result.findings
    )
    named = [where for where, _ in groups if where]
    assert len(named) == len(set(named))
