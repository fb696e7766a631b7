"""A relay that its coil does not hold is open, whatever is wrong in the circuit of the coil."""

from functools import cache

import pytest

from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.diagnosis.choice import choices
from rigfolio.diagnosis.suspects import Suspect, suspects
from rigfolio.diagnosis.verdicts import Diagnosis
from rigfolio.isolation import Open, opened, states_of
from rigfolio.network import coils_of
from rigfolio.operating import Scene
from rigfolio.reports import Listing
from rigfolio.study import Study

RIG = """
rig "Hen"
    system 24 V
    rules  rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
fuse F1 40 A, mega, interrupts 5 kA
panel P1 4 slots of 20 A, interrupts 2 kA
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to F1 10 mm2 red 0.2 m
wire W3 F1 to P1 10 mm2 red 2 m
circuit P1.1 "Lamp" fuse 5 A
    wire 1.5 mm2 red 3 m
    load "Lamp" 24 W, led
circuit P1.2 "{circuit}" fuse 2 A
    wire   1.5 mm2 red 3 m
    switch SW1 5 A, rests open
    wire   1.5 mm2 red 3 m
    load   "{coil}" 0.1 A
circuit P1.3 "Fan" fuse 5 A
    wire  1.5 mm2 red 3 m
    relay K1 {relay} 30 A, rests {rests}
    wire  1.5 mm2 red 3 m
    load  "Fan" 2 A
state work SW1 closed, K1 closed
state test SW1 open, K1 closed
"""


@cache
def hen(coil: str = "Coil", relay: str = "", circuit: str = "Relay", rests: str = "open") -> Study:
    return study_from(RIG.format(coil=coil, relay=relay, circuit=circuit, rests=rests))


def found(*lines: str, study: Study | None = None) -> Diagnosis:
    asked = study or hen()
    return diagnosed(asked, heard(asked.rig, *lines))


def in_coil_circuit(study: Study) -> tuple[Suspect, ...]:
    """The faults of the circuit of the coil that keep it without current."""
    cutting = {"open wire", "open device", "short", "stuck load", "dead load"}
    return tuple(o for o in suspects(study) if o.circuit == "P1.2" and o.kind in cutting)


@pytest.mark.parametrize(
    ("named", "is_known"),
    [
        ({}, True),
        ({"coil": "K1 coil", "relay": '"Blower"'}, True),
        ({"coil": "Fan relay coil", "relay": '"Fan relay"'}, True),
        ({"coil": "Coil", "relay": '"Fan relay"', "circuit": "Fan relay"}, True),
        ({"coil": "Ignition coil"}, False),
        ({"coil": "Lamp 2"}, False),
        ({"rests": "closed"}, False),
    ],
)
def test_a_coil_is_known_by_what_the_two_are_called(named: dict[str, str], is_known: bool) -> None:
    coil = coils_of(hen(**named).rig).get("K1")
    assert (coil is not None and coil.circuit == "P1.2") == is_known


@pytest.mark.parametrize("fault", in_coil_circuit(hen()), ids=lambda one: f"{one.kind} {one.name}")
def test_whatever_leaves_a_coil_dead_leaves_what_its_relay_feeds_dead(fault: Suspect) -> None:
    study = hen()
    loads = study.rig.by_name.loads
    fan = next(one for one in loads.values() if one.about.name == "Fan")
    for scene in (
        Scene(study, _work(study), frozenset({"Fan"}), is_stated=True),
        Scene(study, _work(study), frozenset({"Fan"})),
    ):
        assert abs(scene.solve().between_v(fan.plus, fan.minus)) > 22.0
        shown = scene.solve(fault.wrong(fault.amounts[-1]))
        assert abs(shown.between_v(fan.plus, fan.minus)) < 0.5, fault
        assert shown.drawn_a("Fan") < 0.01


def _work(study: Study) -> Open:
    return opened(study.rig, next(one for one in states_of(study) if one.name == "work"))


def test_a_slot_of_a_coil_that_is_dead_is_why_the_contact_is_open() -> None:
    told = found(
        "Fan does not run", "K1.load = 0 V, with Fan on", "K1.line = 24.8 V, with Fan on",
        "P1.2 = 0 V",
    )  # fmt: skip
    assert told.fits
    assert told.verdicts[0].faults[0].circuit == "P1.2"
    assert sum(o.share for o in told.verdicts if o.faults[0].circuit == "P1.2") > 0.9


def test_a_contact_that_is_open_leads_to_its_coil() -> None:
    told = found("K1.line = 25 V, in work", "K1.load = 0 V, in work")
    coil = sum(o.share for o in told.verdicts if o.faults[0].circuit == "P1.2")
    relay = sum(o.share for o in told.verdicts if o.faults[0].name == "K1")
    assert coil > relay > 0.02
    best = choices(told)[0]
    assert {best.a, best.b} & {"P1.2", "SW1.line", "SW1.load", "Coil +"}
    words = [part for part in diagnosis_report(hen(), heard(hen().rig, "Fan dead")).parts
             if isinstance(part, Listing) and part.title == "Taken as"]  # fmt: skip
    assert any("relay `K1` is closed by `Coil`" in str(item) for item in words[0].items)


def test_a_coil_with_its_volts_speaks_for_the_contact() -> None:
    told = found(
        "K1.line = 25 V, in work", "K1.load = 0 V, in work", "Coil = 24.8 V, in work"
    )  # fmt: skip
    assert {f.name for f in told.verdicts[0].faults} & {"K1", "Coil"}
    assert sum(o.share for o in told.verdicts if o.faults[0].name in ("K1", "Coil")) > 0.9


def test_a_contact_that_is_said_to_be_closed_is_closed_without_its_coil() -> None:
    """Somebody holds it by hand, or the text means another relay: it says closed."""
    told = found("Fan = 24.6 V, in test")
    assert sum(one.share for one in told.verdicts if not one.touches) > 0.8
