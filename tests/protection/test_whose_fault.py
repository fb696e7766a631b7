"""A fuse that a way out makes smaller is the one that is too large, on every paper alike."""

import pytest

from helpers.cases import read_cases
from helpers.home import CORPUS, FAULTY, RIGS, TESTS
from helpers.studies import checked
from rigfolio.judgement.result import check, understood
from rigfolio.labels.devices import device_rows
from rigfolio.protection.fitted import is_device_too_large, largest_instead
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.swap.purchases import picks

RULES = [case for file in sorted((TESTS / "rules").glob("*.rig")) for case in read_cases(file)]
ELSEWHERE = {
    "a smaller fuse ahead is the one that decides, and counts by its own column":
        "the breaker behind it is larger still, and is the one that is too large",
    "the fuse of the other string is larger than the lead: nothing opens in time":
        "only with what the charger gives is it more than the lead may carry",
    "what is wrong besides is told all the same":
        "judged as if the battery were turned round, and so not yet",
}  # fmt: skip
"""Cases in which another device is to blame, and why."""
WINCH = """\
rig "Finch" system 12 V, rules rv
battery B1 agm, 100 Ah, delivers 1 kA
busbar N1 150 A
fuse F1 "Main" 60 A midi on B1+
panel P1 6 slots of 20 A, negative N1
wire F1.load to P1 6 AWG red 3 ft
wire B1- to N1 6 AWG black 1 ft
circuit F1.load "Winch"
    wire 8 AWG white 3 ft
    load "Winch" {draws} A, momentary
    return 8 AWG black 3 ft to N1
"""


def lowered(result):
    """The devices that a way out makes smaller for the sake of a wire."""
    fixes = [one.fix for one in result.findings if one.rule == "fuse-over-wire" and one.fix]
    named = [each.of for fix in fixes for each in fix.changes if each.what == "rating"]
    return [result.study.device(name) for name in named]


def read(text):
    """A text with what the one rule finds that is asked for."""
    result = understood("x.rig", text=text)
    study = result.study
    found = () if study is None else tuple(judge(study, ("fuse-over-wire",)))
    return replace(result, findings=found)


@pytest.mark.parametrize("file", [*RIGS, *FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_of_rigs(file):
    result = checked(file)
    if result.study is not None:
        assert all(is_device_too_large(result.study, one) for one in lowered(result))


def test_of_rule_cases():
    wrong = {
        case.title
        for case in RULES
        if (result := read(case.text)).study is not None
        and not all(is_device_too_large(result.study, one) for one in lowered(result))
    }
    assert wrong == {*ELSEWHERE}


def test_a_fuse_that_may_be_smaller_is_too_large_for_its_thinnest_wire():
    # 6 AWG bears it and 8 AWG does not; 20 A run through it (NFPA 70 table 310.16, from memory).
    result = check("x.rig", text=WINCH.format(draws=20))
    study = result.study
    fuse = study.device("F1")
    assert [one.about.name for one in lowered(result)] == ["F1"]
    assert is_device_too_large(study, fuse)
    (row,) = (one for one in device_rows(study) if one.name == "F1")
    assert row.too_large
    assert [one.what for one in picks(study) if "midi" in one.what] == ["midi 50 A"]
    assert largest_instead(study, fuse) == 50.0


def test_a_fuse_that_its_loads_need_is_right_and_the_branch_lacks_its_own():
    result = check("x.rig", text=WINCH.format(draws=55))
    assert lowered(result) == []
    assert not is_device_too_large(result.study, result.study.device("F1"))
