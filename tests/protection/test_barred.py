"""Which device is not put to use, and what is said in its place; which column of a chart counts.

In a travel trailer 14 AWG bears 15 A: NFPA 70 Table 552.10(E)(1). In a vehicle 10 AWG bears a fuse
of 30 A and a breaker of 40 A: FAA AC 43.13-1B Table 11-3 (both as they stand in the books).
"""

import pytest

from helpers.studies import study_from
from rigfolio.findings import UNKNOWN
from rigfolio.protection.exposure import exposures_of
from rigfolio.protection.fitted import fitted_words
from rigfolio.protection.limits import Before, largest_fuse_of, limit_in, most_in
from rigfolio.protection.too_large import is_device_too_large, largest_instead
from rigfolio.shorts import barred_words, is_barred
from rigfolio.study import Study
from rigfolio.units import Size

HEAD = """rig "Hut"
    system 12 V
    rules {}
battery B1 flooded, 100 Ah
panel P1 4 slots of 30 A, {}negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse {} A at B1+, tag T1
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" {} {} A
    wire {} red 9 ft, tag T2
    load "Lamp" 1 A
"""


def hut(rating: str, main: str = "50", kind: str = "fuse", size: str = "14 AWG") -> Study:
    book, holds = ("vehicle", "breakers, ") if kind == "breaker" else ("rv", "")
    return study_from(HEAD.format(book, holds, main, kind, rating, size))


@pytest.mark.parametrize(
    ("rating", "kind", "is_too_large", "barred", "words"),
    [
        ("15", "fuse", False, False, ""),
        ("20", "fuse", True, True, "NO FUSE GOES IN: 20 A yellow fuse is too large"),
        # Nobody has read what belongs there.
        ("?", "fuse", False, True, "NO FUSE GOES IN until its wire and load are known"),
        ("25", "breaker", True, True, "THE BREAKER STAYS OFF: 25 A breaker is too large"),
        ("20", "breaker", False, False, ""),
    ],
)  # fmt: skip
def test_a_device_that_is_too_large_or_not_known_is_not_put_to_use(
    rating: str, kind: str, is_too_large: bool, barred: bool, words: str
) -> None:
    study = hut(rating, kind=kind)
    device = study.device("P1.1")
    assert device is not None
    assert is_device_too_large(study, device) is is_too_large
    assert is_barred(study, device) is barred
    if words:
        assert barred_words(study, device).removesuffix(" for its slot or its wire") == words


@pytest.mark.parametrize("size", ["24 AWG", "0.25 mm2"])
@pytest.mark.parametrize("book", ["rv", "boat", "vehicle"])
def test_before_a_wire_thinner_than_the_chart_no_fuse_goes_in_that_is_over_what_it_stays_below(
    size: str, book: str
) -> None:
    # In a boat 18 AWG, the first row, bears 10 A, and a fuse half as much again: less than 15 A.
    study = study_from(HEAD.format(book, "", "50", "fuse", "20", size))
    device, (circuit,) = study.device("P1.1"), study.rig.circuits
    assert device is not None
    assert largest_fuse_of(study, circuit) is None
    assert is_barred(study, device)
    assert barred_words(study, device).startswith("NO FUSE GOES IN: 20 A yellow fuse is too large")
    assert fitted_words(study, circuit) == "20 A TOO LARGE"
    # What the check calls a danger is laid ready nowhere.
    assert any(one.fault == "over" for one in exposures_of(study))


def test_what_guards_more_than_a_circuit_and_has_not_been_read_stays_in_use() -> None:
    study = hut("15", main="?")
    (main,) = (device for device in study.rig.devices if device.on_wire == "T1")
    assert not is_barred(study, main)


@pytest.mark.parametrize(
    ("size", "before", "bears_a", "is_bound"),
    [
        ("10 AWG", "fuse", 30.0, False),
        ("10 AWG", "breaker", 40.0, False),
        # Where both stand before a wire the lesser counts.
        ("10 AWG", "both", 30.0, False),
        # Thinner than the chart: less than its first row, 22 AWG, in either column.
        ("24 AWG", "fuse", 5.0, True),
        ("24 AWG", "breaker", 5.0, True),
        ("24 AWG", "both", 5.0, True),
    ],
)
def test_of_two_columns_the_lesser_counts(
    size: str, before: Before, bears_a: float, is_bound: bool
) -> None:
    study = hut("5", kind="breaker", size=size)
    wire = study.rig.conductor("T2")
    assert isinstance(wire.size, Size)
    most = most_in(study, wire, wire.size, before)
    assert most is not None
    assert (most.value, most.is_bound) == (bears_a, is_bound)
    assert limit_in(study, wire, wire.size, before) == (None if is_bound else most)


LEADS = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
load M1 5 A
load M2 5 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
wire B1+ to M1+ 14 AWG red 5 ft, fuse 20 A at B1+, tag T1
wire B1+ to M2+ 14 AWG red 5 ft, fuse 15 A at B1+, tag T2
wire M1- to N1 14 AWG black 5 ft
wire M2- to N1 14 AWG black 5 ft
circuit P1.1 "Lamp" fuse 20 A
    wire 14 AWG red 9 ft
    load "Lamp" 1 A
circuit P1.2 "Fan" fuse 10 A
    wire 14 AWG red 9 ft
    load "Fan" 1 A
"""


def test_each_device_is_held_against_its_own_wire_and_no_other() -> None:
    study = study_from(LEADS)
    told = {
        device.about.name: (is_device_too_large(study, device), largest_instead(study, device))
        for device in study.rig.devices
        if device.about.name in ("T1 fuse", "T2 fuse", "P1.1", "P1.2")
    }
    # 15 A may stand before 14 AWG; of a device that is right for its lead nothing else is asked.
    assert told == {
        "T1 fuse": (True, 15.0), "T2 fuse": (False, UNKNOWN),
        "P1.1": (True, 15.0), "P1.2": (False, 15.0),
    }  # fmt: skip
