"""Larger fuses that were found harm the way back as if they belonged there.

Examples and rigs of the corpus with fuses three times too large: once written as what
belongs there, once as what was found. First those of slots alone, then all.
"""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.findings import Severity
from rigfolio.protection import found_letting_back, overload, returns_of
from rigfolio.record import replace
from rigfolio.rules import return_too_thin, wrong_fuse_found
from rigfolio.study import Study, fused_as_found

FILES = [*RIGS, *FAULTY, *CORPUS]


def _larger(study, *, is_found, slots_only=True):
    """The rig with the devices of its slots three times as large, written or found so."""
    made = []
    for device in study.rig.devices:
        is_grown = device.protects and isinstance(device.rating_a, float)
        if is_grown and (device.in_slot or not slots_only):
            larger_a = 3.0 * device.rating_a
            made.append(replace(device, **{"found_a" if is_found else "rating_a": larger_a}))
        else:
            made.append(device)
    return Study(replace(study.rig, devices=tuple(made)), study.book.name)


@pytest.mark.parametrize("slots_only", [True, False])
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_what_comes_back_is_what_the_fuses_that_are_there_let_through(file, slots_only):
    study = checked(file).study
    if study is None:
        pytest.skip("the text is not understood")
    written, found = (
        _larger(study, is_found=each, slots_only=slots_only) for each in (False, True)
    )
    assert _by_name(returns_of(fused_as_found(found))) == _by_name(returns_of(written))
    told = {(one.at.span, one.headline) for one in return_too_thin.check(found)}
    devices = {
        device.about.span: device.about.name for device in found.rig.by_name.devices.values()
    }
    at_fuse = {
        devices[one.at.span]
        for one in wrong_fuse_found.check(found)
        if one.severity is Severity.DANGER
    }
    for one in return_too_thin.check(written):
        # A block gives several wires one gauge.
        wires = [wire for wire in found.rig.conductors if wire.size_span == one.at.span]
        named = [wire for wire in wires if f"`{wire.name}`" in one.headline]
        larger = [found_letting_back(found, wire) for wire in named]
        assert larger, one.headline
        is_told = (one.at.span, one.headline) in told
        assert is_told or (len(larger[0]) == 1 and larger[0][0].about.name in at_fuse)


def _by_name(returns):
    return {
        name: (one.current_a, [part.about.name for part in one.by], one.circuits, one.maybe)
        for name, one in returns.items()
    }


def test_some_of_these_are_harmed_by_what_was_found():
    """Else the test above looks at nothing."""
    studies = [study for file in FILES if (study := checked(file).study) is not None]
    found = [
        _larger(one, is_found=True, slots_only=each) for one in studies for each in (True, False)
    ]
    now = [one for study in found for one in return_too_thin.check(study)]
    assert sum(one.until_pulled for one in now) > 3


def _panel_with(slots):
    """A panel with a larger fuse found in every slot."""
    circuits = "".join(
        f'circuit P1.{slot} "Lamp {slot}" fuse 5 A, found 30 A\n'
        '    wire 14 AWG red 3 ft\n    return 14 AWG black 3 ft to N1\n    load "Lamp" 1 A\n'
        for slot in range(1, slots + 1)
    )
    return study_from(
        'rig "Surveyed" system 12 V, rules boat\nbattery B1 agm, 100 Ah, internal 5 mohm\n'
        f"panel P1 {slots} slots\nbusbar N1 100 A\nwire N1 to B1- 14 AWG black 3 ft\n"
        f"wire B1+ to P1 6 AWG red 3 ft, fuse 60 A at B1+\n{circuits}"
    )


def test_a_wire_is_asked_once_however_many_fuses_were_found(monkeypatch):
    asked = []
    judge = overload.too_much_back

    def counted(*about):
        asked.append(about)
        return judge(*about)

    monkeypatch.setattr(overload, "too_much_back", counted)
    monkeypatch.setattr(wrong_fuse_found, "too_much_back", counted)
    study = _panel_with(40)
    assert len(list(wrong_fuse_found.check(study))) == 40
    assert len(asked) <= 3 * len(study.rig.conductors)
