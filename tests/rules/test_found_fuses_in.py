"""Larger fuses that were found let into a wire what they let through together.

Examples and rigs of the corpus with fuses three times too large outside slots: once written as
what belongs there, once as what was found.
"""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.findings import Severity
from rigfolio.protection import exposures_of
from rigfolio.record import replace
from rigfolio.rules import fuse_over_wire, wrong_fuse_found
from rigfolio.study import Study

BANKS = """
rig "Two banks, one feed" system 12 V, rules rv
battery B1 flooded, 100 Ah
battery B2 flooded, 100 Ah
busbar D1 100 A
busbar N1 100 A
busbar N2 100 A
wire W1 B1+ to D1 8 AWG red 2 ft, fuse 30 A at B1+{one}
wire W2 B2+ to D1 8 AWG red 2 ft, fuse 30 A at B2+{two}
wire B1- to N1 6 AWG white 2 ft
wire B2- to N1 6 AWG white 2 ft
panel P1 6 slots of 20 A, negative N2
wire W3 D1 to P1 6 AWG red 4 ft
wire W4 N2 to N1 6 AWG white 4 ft
circuit P1.1 "Fan" fuse 10 A
    wire 14 AWG red 5 ft
    load "Fan" 5 A, intermittent
    return to N2
"""


def told(one="", two=""):
    study = study_from(BANKS.format(one=one, two=two))
    return [each for each in fuse_over_wire.check(study) if each.severity is Severity.DANGER]


def test_two_main_fuses_that_were_found_add_up_on_the_wire_that_both_feed():
    """6 AWG carries 65 A (NFPA 70 Table 310.16): 30 + 30 A are less, 40 + 40 A are more."""
    assert told() == []
    # 30 + 40 A = 70 A > 65 A: one is enough.
    (one,) = told(one=", found 40 A")
    assert dict(one.numbers) == {"inflow_a": 70.0, "limit_a": 65.0}
    assert one.fix.text == "put 30 A in `W1 fuse`"
    (both,) = told(one=", found 40 A", two=", found 40 A")
    assert dict(both.numbers) == {"inflow_a": 80.0, "limit_a": 65.0}
    assert both.fix.text == "put 30 A in `W1 fuse`, `W2 fuse`"
    assert both.until_pulled
    # 30 + 35 A = 65 A: just what it carries.
    assert told(one=", found 35 A") == []


def test_one_that_is_too_much_alone_is_told_where_it_was_found():
    """8 AWG carries 50 A: 60 A on it are told at the fuse, and beside 30 A on the feed as well."""
    study = study_from(BANKS.format(one=", found 60 A", two=""))
    at_fuse = [one.headline for one in wrong_fuse_found.check(study)
               if one.severity is Severity.DANGER]  # fmt: skip
    assert len(at_fuse) == 1


def _larger(study, *, is_found):
    made = []
    for device in study.rig.devices:
        is_main = device.protects and isinstance(device.rating_a, float) and not device.in_slot
        larger_a = 3.0 * device.rating_a if is_main else None
        name = "found_a" if is_found else "rating_a"
        made.append(replace(device, **{name: larger_a}) if is_main else device)
    return Study(replace(study.rig, devices=tuple(made)), study.book.name)


def _over(study):
    return {one.wire.name: one for one in exposures_of(study) if one.fault == "over"}


def _harmed():
    """What is harmed by the larger fuses and was not before, with the rig in which they are."""
    for file in (*RIGS, *FAULTY, *CORPUS):
        study = checked(file).study
        if study is None or any(one.found_a is not None for one in study.rig.devices):
            continue
        before = _over(study)
        for name, one in _over(_larger(study, is_found=False)).items():
            if name not in before:
                yield pytest.param(_larger(study, is_found=True), one, id=f"{file.stem}-{name}")


HARMED = list(_harmed())


@pytest.mark.parametrize(("study", "one"), HARMED)
def test_what_larger_fuses_let_in_is_told_while_they_are_there(study, one):
    spans = {label.span for each in fuse_over_wire.check(study)
             for label in (each.at, *each.others)}  # fmt: skip
    named = {device.about.span for device in one.devices}
    at_fuse = {each.at.span for each in wrong_fuse_found.check(study)
               if each.severity is Severity.DANGER}  # fmt: skip
    assert one.wire.size_span in spans or named & at_fuse


def test_some_of_them_are_harmed_by_several_together():
    """Else the test above looks at one fuse alone."""
    together = [one for *_, one in (each.values for each in HARMED)
                if len(one.devices) + len(one.sources) > 1]  # fmt: skip
    assert len(together) > 5
