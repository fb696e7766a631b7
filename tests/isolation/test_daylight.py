"""What ends the current of modules before something on their way is opened."""

from helpers.studies import study_from
from helpers.sun_rigs import BARE_ROOF, ROOF
from rigfolio.isolation import (
    dark_first,
    idle_words,
    in_turn,
    isolate,
    opened_alone,
)
from rigfolio.isolation.daylight import isolators_of
from rigfolio.isolation.plans.words import source_words


def test_the_switch_before_the_controller_ends_the_current_of_all_strings():
    study = study_from(ROOF)
    for name in ("Y1+/Z1 fuse", "Y2+/Z1 fuse", "Y1", "U1"):
        assert isolators_of(study, name) == ("S1",)
    assert isolators_of(study, "S1") == ()
    assert isolators_of(study, "F1") == ()


def test_switches_that_only_together_part_strings_are_all_told():
    # One in the lead of each string: no one alone keeps all strings off the controller.
    text = BARE_ROOF.replace(
        "splice Z1\n", "splice Z1\nswitch K1 20 A\nswitch K2 20 A\nswitch K3 20 A\n"
    )
    for number in (1, 2, 3):
        text = text.replace(
            f"wire Y{number}- to U1.in- 12 AWG black 9 ft",
            f"wire Y{number}- to K{number}.line 12 AWG black 5 ft\n"
            f"wire K{number}.load to U1.in- 12 AWG black 4 ft",
        )
    study = study_from(text)
    assert isolators_of(study, "U1") == ("K1", "K2", "K3")


def test_each_of_two_controllers_has_the_switch_before_its_own_modules():
    more = (
        "array Y4 open circuit 22.4 V, short circuit 5.3 A\ndisconnect S2 32 A\nsolar U2 10 A\n"
        "wire Y4+ to S2.line 12 AWG red 6 ft\nwire S2.load to U2.in 12 AWG red 6 ft\n"
        "wire Y4- to U2.in- 12 AWG black 6 ft\nwire U2+ to N2 10 AWG red 3 ft, fuse 20 A at N2\n"
        "wire U2- to N1 10 AWG black 3 ft\n"
    )
    study = study_from(ROOF + more)
    assert [isolators_of(study, name) for name in ("U1", "Y1", "U2", "Y4")] == [
        ("S1",), ("S1",), ("S2",), ("S2",),
    ]  # fmt: skip


def test_a_controller_is_parted_from_its_modules_by_a_switch_that_has_a_name():
    study, bare = study_from(ROOF), study_from(BARE_ROOF)
    (named,) = [s for s in study.rig.sources if s.about.name == "U1"]
    assert source_words(study, named) == (
        "open S1 Roof isolator or cover the modules, before any battery lead"
    )
    (named,) = [s for s in bare.rig.sources if s.about.name == "U1"]
    assert source_words(bare, named) == (
        "cover the panels or part them from the controller, before any battery lead"
    )


def test_a_string_fuse_cuts_off_its_modules_and_the_isolator_the_controller():
    study = study_from(ROOF)
    assert opened_alone(study, "Y1+/Z1 fuse").cut_off == ("Y1",)
    assert opened_alone(study, "S1").cut_off == ("U1",)


def test_a_string_fuse_is_pulled_with_the_isolator_open():
    study = study_from(ROOF)
    orders = [one.do for one in in_turn(study, isolate(study, "Y1"))]
    assert any("first open S1 Roof isolator or cover the modules" in each for each in orders)
    assert idle_words(study, "Y1+/Z1 fuse").startswith("With S1 Roof isolator open no current")
    assert "cover the modules before" in idle_words(study_from(BARE_ROOF), "Y1+/Z1 fuse")
    assert idle_words(study, "S1") == idle_words(study, "F1") == ""
    assert dark_first(study_from(BARE_ROOF), "Y1+/Z1 fuse") == "cover the modules"
