"""A fuse of a rating in which its family is not in stock: told, and bought as the text has it."""

import pytest

from helpers.studies import study_from
from rigfolio.rule import judged
from rigfolio.swap import picks, spares_to_carry

RIG = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire W1 B1+ to P1 6 AWG red 2 ft, fuse {main} at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse {slot}
    wire 12 AWG red 4 ft
    load "Lamp" 1 A
"""


@pytest.mark.parametrize(("main", "slot", "unmade"), [
    ("50 A, class T", "17 A", "P1.1"),
    ("20 A, mega", "2 A", "W1 fuse"),
    ("50 A, class T", "15 A", ""),
    # Class T of 3 A: NFPA 70 240.6(A) adds 1, 3, 6 and 10 A for fuses (from memory).
    ("3 A, class T", "1 A", ""),
])  # fmt: skip
def test_what_is_not_in_stock_is_told_and_bought(main: str, slot: str, unmade: str) -> None:
    study = study_from(RIG.format(main=main, slot=slot))
    told = [one for one in judged(study) if one.rule == "rating-not-made"]
    assert len(told) == bool(unmade)
    bought = {place: one.bought for one in picks(study) if one.group == "Fuses"
              for place in one.places}  # fmt: skip
    carried = {place for one in spares_to_carry(study) for place in one.places}
    # The table holds what is in stock, and others are made: a rig is not left without its fuse.
    for name in ("P1.1", "W1 fuse"):
        assert bought[name] != "0"
        assert name in carried
