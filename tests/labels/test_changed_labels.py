"""What `--since` prints again are the labels that read differently, and no others."""

import re

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from rigfolio.folio.versions import compared
from rigfolio.judgement.result import Result, check, job_of
from rigfolio.labels import every_label

SECOND = """
battery B7 "Radio bank" 24 V, 40 Ah, internal 20 mohm
fuse F77 "Radio bank fuse" 20 A, on B7+, interrupts 10 kA
load L77 "Transmitter" 40 W
wire F77 to L77 12 AWG red 5 ft
wire L77 to B7- 12 AWG black 5 ft
"""
"""A second system that nothing else of the rig is joined to."""
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.rig"))


@cache
def judged(text: str, file: str = "x.rig") -> Result:
    """A version of a rig, which several tests look at."""
    return check(file, text=text)


@cache
def read(text, file="x.rig"):
    """What every label of a text says, by place."""
    return {one.place: one for one in every_label(job_of(judged(text, file)))}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("change", ["second voltage", "another fuse", "a slot given up", "a name"])
def test_labels_since_are_those_that_read_differently(name, change):
    before = (EXAMPLES / f"{name}.rig").read_text(encoding="utf-8")
    before = re.sub(r"^photo .*(\n    .*)*", "", before, flags=re.MULTILINE)
    if change == "second voltage":
        after = before + SECOND
    elif change == "another fuse":
        after = re.sub(r"(circuit P1\.2 .*(?:fuse|breaker)) [\d.]+ A", r"\1 3 A", before)
    elif change == "a slot given up":
        after = re.sub(r"^circuit P1\.3 .*(\n    .*)*", "slot P1.3 spare", before, flags=re.M)
    else:
        after = re.sub(r'(circuit P1\.1 )"[^"]*"', r'\1"Another lamp"', before)
    assert after != before
    file = str(EXAMPLES / f"{name}.rig")
    old, new = judged(before, file), judged(after, file)
    assert old.study is not None
    assert new.study is not None, new.findings
    _, again = compared(old, new)
    was, now = read(before, file), read(after, file)
    differ = {place for place, label in now.items() if was.get(place) != label}
    assert differ
    assert differ <= set(again.labels)
    assert set(again.labels) <= now.keys()


def test_a_second_voltage_puts_volts_on_every_label_of_the_rig():
    before = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    old, new = judged(before), judged(before + SECOND)
    _, again = compared(old, new)
    circuits = {one.place for one in new.study.rig.circuits if one.slot}
    assert len(circuits) > 8
    assert circuits <= set(again.labels)
    assert all(", 12" in read(before + SECOND)[place].ratings[0] for place in circuits)


def test_a_circuit_outside_panels_is_called_as_its_label_calls_it():
    before = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    after = before.replace('circuit S1.line "Gas detector"', 'circuit S1.load "Gas detector"')
    _, again = compared(judged(before), judged(after))
    assert "S1.line/1 fuse" in again.labels
    assert set(again.labels) <= read(after).keys()
    assert set(again.taken_off) <= read(before).keys()
