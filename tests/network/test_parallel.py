"""Which batteries are taken to stand side by side."""

import pytest

from rigfolio.judgement.result import load
from rigfolio.network import net_of, parallel_banks

HEAD = 'rig "Bank"\n    system 12 V\n    rules rv\n'
MINUS = "wire B1- to B2- 2 AWG black 1 ft\n"


@pytest.mark.parametrize(
    ("text", "is_bank"),
    [
        ("battery B1 agm\nbattery B2 agm\nwire B1+ to B2+ 2 AWG red 1 ft\n" + MINUS, True),
        # A fuse or a switch between them parts them only when it opens.
        ("battery B1 agm\nbattery B2 agm\nfuse F1 60 A\nwire B1+ to F1.line 2 AWG red 1 ft\n"
         "wire F1.load to B2+ 2 AWG red 1 ft\n" + MINUS, True),
        ("battery B1 agm\nbattery B2 agm\nselector X1 100 A\nwire B1+ to X1.1 2 AWG red 1 ft\n"
         "wire B2+ to X1.2 2 AWG red 1 ft\n" + MINUS, False),
        ("battery B1 agm\nbattery B2 agm\ncombiner K1 100 A\nwire B1+ to K1.line 2 AWG red 1 ft\n"
         "wire K1.load to B2+ 2 AWG red 1 ft\n" + MINUS, False),
        # What nobody has said of one may be as the other is.
        ("battery B1 agm\nbattery B2\nwire B1+ to B2+ 2 AWG red 1 ft\n" + MINUS, True),
        ("battery B1 agm\nbattery B2 lithium\nwire B1+ to B2+ 2 AWG red 1 ft\n" + MINUS, False),
        ("battery B1 agm\nbattery B2 agm, 6 V\nwire B1+ to B2+ 2 AWG red 1 ft\n" + MINUS, False),
        ("battery B1 agm\nbattery B2 agm\nwire B1+ to B2+ 2 AWG red 1 ft\n", False),
        ("battery B1 agm\nbattery B2 agm\n" + MINUS, False),
        # In series, the plus of one on the minus of the other.
        ("battery B1 agm\nbattery B2 agm\nwire B1+ to B2- 2 AWG red 1 ft\n", False),
        ("battery B1 agm\nbattery B2 agm\nwire B1+ to B2+ 2 AWG red 1 ft\n"
         "wire B1+ to B1- 2 AWG red 1 ft\n" + MINUS, False),
        ("battery B1 agm\ncharger C1 10 A\nwire B1+ to C1+ 2 AWG red 1 ft\n"
         "wire B1- to C1- 2 AWG black 1 ft\n", False),
    ],
    ids=["wires", "a fuse", "a selector", "a combiner", "one unsaid", "unlike", "other volts",
         "plus alone", "minus alone", "in series", "shorted", "a charger is none"],
)  # fmt: skip
def test_a_bank(text, is_bank):
    _, rig, errors = load("bank.rig", HEAD + text)
    assert errors == ()
    banks = parallel_banks(rig, net_of(rig))
    by_name = {name: [one.about.name for one in bank] for name, bank in banks.items()}
    assert by_name == ({"B1": ["B1", "B2"], "B2": ["B1", "B2"]} if is_bank else {})
