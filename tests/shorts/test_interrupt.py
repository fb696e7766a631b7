"""Whether a fuse may break what can flow through it, by sums done by hand."""

import pytest

from helpers.lamp import FEED_LEAST_OHM as FEED_OHM, LAMP, lamp
from helpers.studies import study_from
from rigfolio.record import replace
from rigfolio.shorts.faults import Faults


def test_interrupt_rating_by_hand():
    study = lamp("internal 1 mohm")
    devices = {device.about.name: device for device in study.rig.devices}
    faults = Faults(study)
    slot = faults.interrupt(devices["P1.1"])
    # A blade fuse breaks 1000 A; 12.73 V over 1 mohm and the feed drive 1537 A.
    assert slot.rating.value == 1000.0
    assert slot.current_a == pytest.approx(12.73 / (0.001 + FEED_OHM))
    assert slot.may is False
    main = faults.interrupt(devices["F1"])
    assert main.current_a == pytest.approx(12730.0)
    assert main.may is False


def test_interrupt_rating_without_the_figure_of_the_battery():
    study = lamp("12 V")
    slot = next(device for device in study.rig.devices if device.in_slot)
    slot = Faults(study).interrupt(slot)
    # 12.73 V over the feed alone: 1749 A, more than 1000 A, so that it cannot be judged.
    assert slot.current_a is None
    assert slot.bound_a == pytest.approx(12.73 / FEED_OHM, rel=2e-3)
    assert slot.may is None
    assert [source.about.name for source in slot.ask] == ["B1"]


def test_long_copper_settles_it_without_the_figure_of_the_battery():
    text = LAMP.format(inside="12 V", main="midi").replace("10 mm2 2 m", "10 mm2 5 m")
    study = study_from(text)
    slot = next(device for device in study.rig.devices if device.in_slot)
    found = Faults(study).interrupt(slot)
    # 12.73 V over 10 m of 1.82 mohm: 699 A at most, which a blade fuse breaks.
    assert found.bound_a == pytest.approx(12.73 / 18.2e-3, rel=1e-3)
    assert found.may is True
    assert found.current_a is None


def test_a_fuse_between_two_batteries_breaks_the_stronger_one():
    text = (
        'rig "Two"\n    system 12 V\n    rules vehicle\n'
        "battery B1 flooded, 100 Ah, delivers 500 A\nbattery B2 flooded, 100 Ah, delivers 2 kA\n"
        "wire B1+ to B2+ 70 mm2 0 m, fuse 40 A regular at B1+\nwire B1- to B2- 70 mm2 0 m\n"
    )
    study = study_from(text)
    found = Faults(study).interrupt(study.rig.devices[0])
    assert found is not None
    # A fault on the side of B1 draws the 2 kA of B2 through it; a blade fuse breaks 1 kA.
    assert found.current_a == pytest.approx(2000.0)
    assert found.rating.value == 1000.0
    assert found.may is False


def test_ratings_that_are_not_known():
    unread = lamp("internal 1 mohm", "interrupts ? A")
    devices = {device.about.name: device for device in unread.rig.devices}
    found = Faults(unread).interrupt(devices["F1"])
    assert found is not None
    assert (found.rating, found.may) == (None, None)
    stated = lamp("internal 1 mohm", "interrupts 20 kA")
    found = Faults(stated).interrupt(stated.rig.devices[0])
    assert found is not None
    assert (found.rating.value, found.may) == (20000.0, True)
    assert Faults(stated).interrupt(replace(stated.rig.devices[0], kind="switch")) is None


def test_the_figure_of_a_maker_holds_at_the_posts_of_a_full_battery():
    # 2 kA at the posts of 12.73 V are 6.365 mohm; through the feed 12.73 V over both remain, more
    # than the 12 V over 6 mohm and the feed of a battery that is not full.
    study = lamp("delivers 2 kA")
    devices = {device.about.name: device for device in study.rig.devices}
    faults = Faults(study)
    assert faults.interrupt(devices["F1"]).current_a == pytest.approx(2000.0)
    slot = faults.interrupt(devices["P1.1"])
    assert slot.current_a == pytest.approx(12.73 / (12.73 / 2000.0 + FEED_OHM))
    assert slot.current_a > 12.0 / (12.0 / 2000.0 + FEED_OHM)


def test_what_flows_for_sure_beside_a_battery_that_nobody_knows():
    text = LAMP.format(inside="delivers 2 kA", main="maxi") + (
        "battery B2 agm, 100 Ah\nwire B2+ to B1+ 70 mm2 0 m\nwire B2- to B1- 70 mm2 0 m\n"
    )
    study = study_from(text)
    main = next(device for device in study.rig.devices if device.about.name == "F1")
    found = Faults(study).interrupt(main)
    assert found is not None
    assert found.current_a is None
    assert found.least_a == pytest.approx(2000.0)
    # Leads of no length hold nothing back, so nobody knows how much more the other drives.
    assert found.bound_a is None
    assert [source.about.name for source in found.ask] == ["B2"]
    assert {source.about.name for source in found.by} == {"B1", "B2"}
    # A maxi fuse breaks 1 kA: too little, whatever the other battery adds.
    assert found.may is False


def test_nothing_is_sure_behind_a_wire_of_unknown_length():
    text = LAMP.format(inside="delivers 2 kA", main="midi")
    study = study_from(
        text.replace("wire F1.load to P1 10 mm2 2 m", "wire F1.load to P1 10 mm2 ? m")
    )
    slot = next(device for device in study.rig.devices if device.in_slot)
    found = Faults(study).interrupt(slot)
    assert found is not None
    assert (found.current_a, found.least_a, found.may) == (None, None, None)
