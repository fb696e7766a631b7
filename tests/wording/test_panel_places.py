"""What a place of the text is called at the panel: a wire by its line, not by a piece of it."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.wording import PanelPlaces, short_end


def test_a_wire_that_a_fuse_parts_is_called_by_the_ends_that_the_text_gives_it() -> None:
    text = 'rig "T" system 12 V\nbattery B1 90 Ah\nbusbar N2\n'
    text += "wire W2 B1+ to N2 2 AWG red 6 ft, fuse 150 A 4 in from B1+\n"
    rig = study_from(text).rig
    (span,) = {wire.span for wire in rig.conductors}
    assert PanelPlaces(rig).at(span) == "W2, B1+ to N2"


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_no_wire_is_called_by_the_seat_of_its_own_fuse(file: Path) -> None:
    rig = studied(file).rig
    places = PanelPlaces(rig)
    for device in (one for one in rig.devices if one.on_wire):
        words = places.at(rig.conductor(device.on_wire).span)
        named = set(words.split(", ", 1)[-1].split(" to "))
        seats = {short_end(rig, end) for end in (device.line, device.load)}
        assert not {one for one in seats & named if one.startswith(device.about.name)}
