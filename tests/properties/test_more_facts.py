"""A text that says more never has fewer findings: a source added, or the volts of one stated."""

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import FAULTY
from rigfolio.findings import Severity
from rigfolio.judgement.result import check

_TOLD = {Severity.DANGER, Severity.FAULT, Severity.ADVICE}
_BANKS = {
    12: ["flooded", "agm", "gel", "lithium, 12.8 V"],
    24: ["flooded, 24 V", "agm, 24 V", "lithium, 25.6 V"],
    48: ["flooded, 48 V", "lithium, 51.2 V"],
}
_SET = {12: ["12 V", "13.6 V", "14.4 V"], 24: ["24 V", "28.8 V"], 48: ["48 V", "56.8 V", "57.6 V"]}
"""What chargers are set to: seen in manuals of chargers, 14.4 V for 12 V and its multiples."""


_WORSE = {"fuse-near-limit": "fuse-overloaded", "feeder-drop": "voltage-drop"}
"""Advice that is left out where its cause is told as worse."""


def _told(text):
    """The findings of a text by rule and line: those of unknowns may turn into others."""
    result = check("case.rig", text=text)
    return {
        (one.rule, text.count("\n", 0, one.at.span.start))
        for one in result.findings
        if one.severity in _TOLD
    }


def _hidden(before, after):
    """What is told of one text and neither it nor a worse one of the other."""
    worse = {rule for rule, _ in after}
    return {one for one in before - after if _WORSE.get(one[0]) not in worse}


@st.composite
def rigs(draw):
    """A bank with a disconnect, a panel of watts, and a source that charges it; its volts."""
    volts = draw(st.sampled_from([12, 24, 48]))
    bank = draw(st.sampled_from(_BANKS[volts]))
    pick = draw(st.randoms(use_true_random=False))
    book = draw(st.sampled_from(["rv", "boat", "vehicle"]))
    lines = [
        'rig "Case"', f"    system {volts} V", f"    rules {book}",
        f"battery B1 {bank}, 100 Ah, internal {pick.choice([5, 20])} mohm",
        f"fuse F1 {pick.choice([20, 30, 50, 80])} A interrupts 20 kA on B1+",
        f"disconnect S1 {pick.choice([20, 40, 60])} A",
        f"panel P1 6 slots of 20 A, {pick.choice([30, 60])} A in all, negative N1",
        f"busbar N1 {pick.choice([20, 50])} A",
        f"wire F1.load to S1.line {pick.choice(['10', '6', '2'])} AWG red 2 ft",
        f"wire S1.load to P1 {pick.choice(['10', '6', '2'])} AWG red {pick.randint(1, 20)} ft",
        f"wire N1 to B1- {pick.choice(['10', '6', '2'])} AWG black 3 ft",
    ]  # fmt: skip
    for slot in range(1, pick.randint(2, 5)):
        watts = pick.randint(10, 40) * volts // 4
        asks = pick.choice([f"{watts} W", f"{watts} W", f"{volts * volts / watts:.2f} ohm"])
        lines += [
            f'circuit P1.{slot} "Load {slot}" fuse {pick.choice([5, 10, 15, 20])} A',
            f"    wire {pick.choice(['16', '14', '12', '10'])} AWG red {pick.randint(2, 30)} ft",
            f"    load {asks}{pick.choice(['', ', intermittent'])}, 3 h/day",
        ]
    return volts, "\n".join(lines) + "\n"


def _charger(volts, kind):
    return (
        f"{kind} C1 5 A, {volts}\n"
        "wire C1+ to B1+ 10 AWG red 4 ft, fuse 10 A at B1+ interrupts 20 kA\n"
        "wire C1- to B1- 10 AWG black 4 ft\n"
    )


@settings(max_examples=60, deadline=None)
@given(rigs(), st.data())
def test_a_source_more_hides_nothing(made, data):
    volts, text = made
    kind = data.draw(st.sampled_from(["charger", "alternator", "solar", "turbine"]))
    stated = data.draw(st.sampled_from(_SET[volts]))
    with_source = text + _charger(stated, kind)
    missing = _hidden(_told(text), _told(with_source))
    assert not missing, (missing, stated)


@settings(max_examples=60, deadline=None)
@given(rigs(), st.data())
def test_volts_of_a_charger_hide_nothing(made, data):
    volts, text = made
    plain, stated = _SET[volts][0], data.draw(st.sampled_from(_SET[volts][1:]))
    missing = _hidden(
        _told(text + _charger(plain, "charger")), _told(text + _charger(stated, "charger"))
    )
    assert not missing, (missing, stated)


def _stated(text):
    """The text with volts on its chargers, where it says none."""
    return "\n".join(
        f"{line}, 14.4 V" if line.startswith("charger") and " V" not in line else line
        for line in text.split("\n")
    )


_PLAIN = [text for file in FAULTY if _stated(text := file.read_text("utf-8")) != text]


@pytest.mark.parametrize("text", _PLAIN, ids=lambda text: text.partition("\n")[0])
def test_the_examples_of_faulty_rigs(text):
    """Volts stated on a charger, where the text says none, in every rig that is faulty."""
    missing = _hidden(_told(text), _told(_stated(text)))
    assert not missing, missing
