"""What was worked out of a rig goes when nobody asks it any more, without a search for garbage.

A page at the desk and an editor are open all day, and read a rig anew at every save.
"""

import gc
from collections.abc import Iterator
from weakref import ref

import pytest

from helpers.home import EXAMPLES
from helpers.studies import studied
from rigfolio.isolation import CLOSED
from rigfolio.operating import Scene
from rigfolio.shorts import Faults
from rigfolio.study import Study

BOAT = EXAMPLES / "kittiwake-30.rig"


@pytest.fixture
def study() -> Iterator[Study]:
    """A study of its own, while nothing looks for garbage."""
    rig = studied(BOAT)
    gc.collect()
    gc.disable()
    yield Study(rig.rig, rig.book.name)
    gc.enable()


def test_a_scene_goes_before_what_was_shown_in_it(study: Study) -> None:
    scene = Scene(study, CLOSED, frozenset({"Plotter at the wheel"}))
    shown = scene.solve()
    volts = shown.between_v("B1+", "B1-")
    gone = ref(scene)
    del scene
    assert gone() is None
    assert shown.between_v("B1+", "B1-") == volts > 12.0


def test_faults_go_with_all_their_wiring(study: Study) -> None:
    faults = Faults(study)
    assert faults.at("B1+") is not None
    for device in study.rig.devices:
        faults.interrupt(device)
    gone = ref(faults), ref(faults._strong), ref(faults._wiring)
    del faults
    assert [one() for one in gone] == [None, None, None]
