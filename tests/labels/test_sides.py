"""What a device stands between: two sides told apart, and no two alike that part banks."""

from collections import Counter
from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.labels import device_rows

BANKS = """rig "T"
    system 12 V
    rules boat
battery B1 "Start" 90 Ah
battery B2 "House 1" 100 Ah
battery B3 "House 2" 100 Ah
busbar N1 300 A
busbar N2 300 A
selector S2 300 A
fuse F1 80 A
load M1 "Starter" 300 A
wire W1 B1+ to S2.1 1/0 AWG red 3 ft
wire W2 B2+ to N2 2 AWG red 6 ft, fuse 150 A 4 in from B2+
wire W3 B3+ to N2 2 AWG red 6 ft, fuse 150 A 4 in from B3+
wire W4 N2 to S2.2 1/0 AWG red 3 ft
wire W5 S2 to M1+ 1/0 AWG red 8 ft
wire W10 S2 to F1 6 AWG red 6 in
wire W6 M1- to N1 1/0 AWG black 6 ft
wire W7 B1- to N1 1/0 AWG black 6 ft
wire W8 B2- to N1 2 AWG black 6 ft
wire W9 B3- to N1 2 AWG black 6 ft
circuit B2+ "Radio" fuse 10 A
    wire 12 AWG red 14 ft
    load "Radio" 6 A
circuit B3+ "Alarm" fuse 2 A
    wire 16 AWG red 10 ft
    load "Detector" 0.2 A
"""


def test_the_banks_of_a_selector_are_one_side_and_what_it_feeds_the_other() -> None:
    rows = {row.name: row for row in device_rows(study_from(BANKS))}
    assert rows["S2"].seat == "B1+, N2 to M1+, F1.line"
    assert rows["W2 fuse"].purpose == "B2+ House 1 to N2"
    assert rows["W3 fuse"].purpose == "B3+ House 2 to N2"


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_no_two_devices_that_part_banks_stand_for_the_same(file: Path) -> None:
    held = Counter(row.purpose for row in device_rows(studied(file)) if row.parted)
    assert {purpose: count for purpose, count in held.items() if count > 1} == {}
