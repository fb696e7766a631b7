"""Faults between modules and their controller, by what a meter shows there by day.

Three strings of two modules of 36.2 V and 9.4 A: 72.4 V each, 57.9 V where they are hot, 82.5 V on
the coldest morning; 11.8 A in bright sun. Every figure here is a sum of those by hand.
"""

import pytest

from helpers.home import TESTS
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.diagnosis.roof import parted, roof_of
from rigfolio.judgement.result import understood
from rigfolio.reading.logs.meter import read_log
from rigfolio.reports.terminal import as_text


@pytest.fixture(scope="module")
def hut():
    return understood(str(TESTS / "corpus/field-hut.rig")).study


def typed(study, text):
    log, found = read_log(text, "typed", study.rig)
    assert found == ()
    return log.readings[0]


def faults(study, *texts):
    there, others = parted(study, [typed(study, text) for text in texts])
    assert others == ()
    return [(one.kind, one.part) for one in roof_of(study, there).faults]


@pytest.mark.parametrize(
    "texts",
    [
        ("Y1+ to Y1- = 72 V",),
        ("Y1+ to Y1- = 58 V", "Y2+ to Y2- = 82 V"),
        ("Y1 = 8 A", "Y2 = 9 A", "Y3 = 8.4 A"),
        ("U1.in to U1.in- = 70 V",),
        ("U1.in = 70 V",),
        ("Y1+ = 72 V", "N2 = 71 V"),
        ("U1.in to U1.in- = 0 V, S2 open",),
    ],
)
def test_what_is_as_it_should_be(hut, texts):
    assert faults(hut, *texts) == [("nothing", "")]


def test_a_string_of_which_a_module_is_missing(hut):
    assert faults(hut, "Y1+ to Y1- = 36 V") == [("module", "Y1")]


def test_a_string_that_is_open(hut):
    assert faults(hut, "Y2+ to Y2- = 0 V", "Y1+ to Y1- = 71 V") == [("open string", "Y2")]


def test_a_string_the_wrong_way_round(hut):
    assert faults(hut, "Y3+ to Y3- = -71 V") == [("turned", "Y3")]


def test_a_string_in_shade_gives_less_than_its_neighbours(hut):
    """3 A of 9 A is a third, and two thirds are usual."""
    assert faults(hut, "Y1 = 3 A", "Y2 = 9 A") == [("shade", "Y1")]


def test_no_amperes_are_shade_or_an_open_string(hut):
    assert faults(hut, "Y1 = 0 A", "Y2 = 9 A") == [("shade", "Y1"), ("open string", "Y1")]


def test_what_may_show_it_shares_by_how_often_it_occurs(hut):
    """Shade is three times as frequent as an open string: 3 to 1, three quarters and one."""
    there = [typed(hut, text) for text in ("Y1 = 0 A", "Y2 = 9 A")]
    assert [one.share for one in roof_of(hut, there).faults] == pytest.approx([0.75, 0.25])
    words = as_text(diagnosis_report(hut, there))
    assert "75 %  `Y1`: in shade" in words
    assert "25 %  `Y1`: open in the string" in words


@pytest.mark.parametrize(
    "text", ["U1.in to U1.in- = 0 V", "Y1+ to Y1- = 36 V", "Y1 = 8 A", "U1.in to U1.in- = 5 V"]
)
def test_the_shares_of_a_roof_add_up_to_one(hut, text):
    shares = [one.share for one in roof_of(hut, [typed(hut, text)]).faults]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)


def test_a_controller_that_is_not_fed(hut):
    found = faults(hut, "U1.in to U1.in- = 0 V")
    assert ("open switch", "S2") in found
    assert ("open lead", "S2.1/U1.in") in found
    assert not any(kind in ("nothing", "shade", "module") for kind, _ in found)


def test_no_amperes_at_a_fuse_may_be_a_full_battery(hut):
    assert faults(hut, "N2/Y1+ fuse = 0 A") == [("nothing", "")]


def test_a_report_tells_both_sides(hut):
    readings = [typed(hut, text) for text in ("Y1+ to Y1- = 36 V", "P1 = 26.4 V")]
    words = str(diagnosis_report(hut, readings))
    # 82.536 V: what may be shown is not rounded down.
    assert "expected 57.9 V to 82.6 V" in words
    assert "`Y1`: a module, or a part of one" in words
    assert "sources as nobody has measured them" in words


def test_a_report_of_the_roof_alone(hut):
    words = str(diagnosis_report(hut, [typed(hut, "Y1+ to Y1- = 300 V")]))
    assert "Nothing alone shows that" in words
    assert "sources as" not in words
