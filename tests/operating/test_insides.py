"""What batteries side by side are taken to have inside, row by row of `insides.toml`."""

import pytest

from rigfolio.judgement.result import load
from rigfolio.operating.insides import inside_ohms, stated_ohms

HEAD = 'rig "Bank"\n    system 12 V\n    rules rv\n'


def test_inside(row):
    bank = _bank(row["bank"])
    found = inside_ohms(bank)
    by_name = [[one[source.about.name] * 1e3 for source in bank] for one in found]
    assert [pytest.approx(each, rel=1e-6) for each in row["mohm"]] == by_name


def test_what_nobody_has_stated_takes_nothing_off_the_volts():
    """10 microohm stand for next to nothing."""
    found = stated_ohms(_bank(["agm, 100 Ah, internal 6 mohm", "agm, 100 Ah"]))
    assert found == {"B1": 0.006, "B2": pytest.approx(1e-5)}


def _bank(said):
    text = "".join(f"battery B{number} {words}\n" for number, words in enumerate(said, 1))
    _, rig, errors = load("bank.rig", HEAD + text)
    assert errors == ()
    return rig.sources
