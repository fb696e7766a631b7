"""A fuse that a way out makes smaller is the one that is too large, on every paper alike."""

import pytest

from helpers.cases import read_cases
from helpers.home import CORPUS, FAULTY, RIGS, TESTS
from helpers.studies import checked
from rigfolio.findings import Refit
from rigfolio.judgement.result import check, understood
from rigfolio.labels.devices import device_rows
from rigfolio.lang import apply
from rigfolio.protection.exposure import exposures_of
from rigfolio.protection.fitted import instead_words
from rigfolio.protection.too_large import bare_behind, is_device_too_large, largest_instead
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.sizing import by_file, changed
from rigfolio.swap.purchases import picks
from rigfolio.units import show

RULES = [case for file in sorted((TESTS / "rules").glob("*.rig")) for case in read_cases(file)]
ELSEWHERE = {
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


def let_down(study, device):
    """The wires into which it alone lets too much."""
    name = device.about.name
    return {
        one.wire.name
        for one in exposures_of(study)
        if one.fault == "over" and {name} == {each.about.name for each in one.devices}
    }


def still_exposed(result, device):
    """Which of them nothing protects once it is the largest that is told for its place."""
    study = result.study
    most = largest_instead(study, device)
    if not isinstance(most, float):
        return set()
    change = Refit("rating", device.about.name, show(most, "A", 10))
    texts = dict(result.texts)
    for file, edits in by_file(changed(study, texts, (change,))).items():
        texts[file] = apply(texts[file], edits)
    again = understood(result.file, result.book, text=texts[result.file], instead=texts)
    return let_down(study, device) & {one.wire.name for one in exposures_of(again.study)}


def wrong_in(study):
    """The devices that are too large, each once."""
    devices = study.rig.by_name.devices.values()
    return [one for one in devices if is_device_too_large(study, one)]


@pytest.mark.parametrize("file", [*RIGS, *FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_the_largest_in_its_place_protects_all_but_what_is_named(file):
    result = checked(file)
    for device in wrong_in(result.study) if result.study is not None else ():
        bare = {wire.name for wire in bare_behind(result.study, device)}
        assert still_exposed(result, device) == bare


HUT = """\
rig "Hut" system 24 V, rules vehicle, ambient 30 degC
battery B1 lithium, 200 Ah, internal 8 mohm
fuse F1 "Main" 300 A, class T, interrupts 20 kA
busbar N1 300 A
busbar N2 300 A
panel P1 4 slots of 20 A, main fuse 60 A, negative N1, interrupts 5 kA
wire W1 B1+ to F1 70 mm2 red 30 cm
wire W2 F1 to N2 70 mm2 red 30 cm
wire W3 N1 to B1- 70 mm2 black 30 cm
wire W21 N2 to P1 {feed} mm2 red 2 m
load L1 "Heater" {draws} A
wire W4 N2 to L1+ 70 mm2 red 1 m
wire W5 L1- to N1 70 mm2 black 1 m
circuit P1.1 "Radio" fuse 5 A
    wire 4 mm2 grey 3 m
    load "Radio" 1 A
"""
CHARGER = """\
charger C1 30 A
wire C1+ to N2 16 mm2 red 50 cm
wire C1- to N1 16 mm2 black 50 cm
"""


@pytest.mark.parametrize("charger", ["", CHARGER])
@pytest.mark.parametrize("draws", [1, 45, 70, 140])
@pytest.mark.parametrize("feed", [10, 16, 35, 70])
def test_the_largest_is_held_against_every_wire_behind_it(feed, draws, charger):
    result = understood("hut.rig", text=HUT.format(feed=feed, draws=draws) + charger)
    study = result.study
    assert wrong_in(study)
    for device in wrong_in(study):
        bare = {wire.name for wire in bare_behind(study, device)}
        assert still_exposed(result, device) == bare
        assert all(name in instead_words(study, device) for name in bare)


@pytest.mark.parametrize(
    ("feed", "draws", "words"),
    [
        # One rating serves both; what the heater draws bars it; the feed bears all that W2 bears.
        (16, 45, "70 A"), (16, 140, "150 A and a fuse for W21"), (70, 45, "150 A"),
    ],
)  # fmt: skip
def test_labels_and_list_never_name_a_largest_that_lets_a_wire_down(feed, draws, words):
    study = understood("hut.rig", text=HUT.format(feed=feed, draws=draws)).study
    (row,) = (one for one in device_rows(study) if one.name == "F1")
    assert row.too_large == words
    (pick,) = (one for one in picks(study) if one.places == ("F1",))
    assert ("W21" in pick.note) == ("W21" in words)


def way_out(text):
    result = check("hut.rig", text=text)
    (one,) = (each for each in result.findings if each.rule == "fuse-over-wire")
    return one.fix.text


@pytest.mark.parametrize("charger", ["", CHARGER])
def test_a_feed_without_a_fuse_gets_one_where_it_begins(charger):
    """No load is to be parted: 16 mm2 bears 70 A, and the radio behind it draws 1 A."""
    said = way_out(HUT.format(feed=16, draws=140).replace("300 A, class T", "150 A, class T")
                   .replace(", main fuse 60 A", "") + charger)  # fmt: skip
    assert "a fuse of its own, 70 A at most, where `W21` begins" in said
    assert "part the loads" not in said


def test_the_fuse_itself_becomes_what_the_wires_at_it_bear():
    said = way_out(HUT.format(feed=16, draws=140))
    assert "a fuse of its own, 70 A at most, where `W21` begins" in said
    assert "fuse of 150 A at most in place of `F1`" in said
