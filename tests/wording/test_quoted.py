"""Most of some volts is more than half of them; less is said with its volts."""

from helpers.studies import study_from
from rigfolio.wording import lost_words


def test_most_is_said_of_more_than_half_only() -> None:
    text = 'rig "T" system 12 V\nbattery B1 90 Ah\nbusbar N2\nwire W1 B1+ to N2 2 AWG red 6 ft\n'
    (wire,) = study_from(text).rig.conductors
    assert lost_words(wire, 0.317, 0.632) == "most of it is lost in `W1`"
    for lost_v in (0.123, 0.316):
        words = f"`W1` loses more than any other wire, {lost_v:g} V of it"
        assert lost_words(wire, lost_v, 0.632) == words
