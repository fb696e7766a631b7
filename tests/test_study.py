"""What rules and sheets ask of a study."""

from pathlib import Path

import pytest

from helpers.studies import numbered_study
from rigfolio import rule as engine
from rigfolio.findings import Severity
from rigfolio.protection.exposure import exposures_of
from rigfolio.protection.limits import largest_fuse_of
from rigfolio.rule import judge, rule, rule_names
from rigfolio.standard_sizes import rating_above, rating_below


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


RIG = """rig "Asked"
    system 12 V
    rules {book}
battery B1 flooded, 100 Ah
fuse F1 50 A on B1+
panel P1 6 slots of 20 A
busbar N1 200 A
chassis G1
wire F1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG white 1 ft
wire B1- to G1 14 AWG green 1 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 12 AWG blue 1 ft
    splice J1
    wire 16 AWG blue 1 ft
    load "Lamps" 1 A leads 20 AWG 6 in
circuit P1.2 "Heater" fuse 15 A
    wire 6 AWG blue 1 ft
    load "Heater" 10 A
circuit P1.3 "Box" fuse 5 A
    wire ? AWG blue 1 ft
    load "Box" 1 A
"""


def test_largest_fuse_of_a_circuit(study_of):
    study = study_of(RIG.format(book="rv"))
    found = {c.place: largest_fuse_of(study, c) for c in study.rig.circuits}
    thinnest, slot = found["P1.1"], found["P1.2"]
    assert thinnest is not None
    # NFPA 70 Table 552.10(E)(1): 8 A for 16 AWG (memory).
    assert thinnest.value == 8.0
    assert slot is not None
    assert (slot.value, slot.source.title) == (20.0, "rating of a slot by the maker of the panel")
    assert found["P1.3"] is None


def test_sides_come_from_the_wiring(study_of):
    study = study_of(RIG.format(book="rv"))
    assert study.side["P1.2"] == "+"
    assert study.side["G1"] == "-"
    assert study.shorted == frozenset()


def test_a_rule_is_asked_only_in_its_books(study_of):
    thin = RIG.replace("16 AWG blue", "20 AWG blue")
    names = {f.rule for f in judge(study_of(thin.format(book="rv")))}
    assert "wire-below-least" not in names
    assert list(rule("wire-below-least")[1](study_of(thin.format(book="rv")))) == []
    assert "wire-below-least" in {f.rule for f in judge(study_of(thin.format(book="boat")))}


def test_every_finding_names_the_book_and_a_source(study_of):
    found = list(judge(study_of(RIG.format(book="rv"))))
    assert {finding.book for finding in found} == {"rv"}
    assert all(finding.source for finding in found)


def test_a_rule_that_fails_becomes_a_finding(study_of, monkeypatch):
    study = study_of(RIG.format(book="rv"))
    one, _, page = rule("voltage-drop")

    def broken(_):
        raise ZeroDivisionError("no volts")

    kept = rule
    monkeypatch.setattr(
        engine, "rule", lambda name: (one, broken, page) if name == one.name else kept(name)
    )
    found = [finding for finding in judge(study) if finding.rule == "voltage-drop"]
    assert [finding.severity for finding in found] == [Severity.UNKNOWN]
    assert "rule `voltage-drop` failed: ZeroDivisionError: no volts" in found[0].headline


@pytest.mark.parametrize("name", rule_names())
def test_every_rule_has_a_manual_page(name):
    one, _, page = rule(name)
    assert one.name == name
    assert "*Why:*" in page
    file = Path(engine.__file__).parent / "rules" / f"{name.replace('-', '_')}.py"
    assert file.is_file()


def test_ratings_in_stock():
    # Ratings commonly in stock: blades to 40 A, larger bodies beyond (common practice).
    assert rating_below(57.0) == 50.0
    assert rating_below(8.0) == 7.5
    assert rating_below(0.5) is None
    assert rating_above(41.0) == 50.0
    assert rating_above(501.0) is None


def test_a_tap_behind_cranking_cable_starts_at_the_cable(study_of):
    study = study_of("""rig "Crank"
    rules rv
battery B1 100 Ah
splice Z1
splice Z2
load M1 2 A
load M2 "Starter" 150 A, momentary
wire Z2 to M2+ 1/0 AWG red 2 ft cranking
wire M2- to B1- 1/0 AWG black 3 ft cranking
wire B1+ to Z1 10 AWG red 6 in
wire Z1 to Z2 1/0 AWG red 4 ft cranking
wire Z2 to M1+ 14 AWG red 3 ft, fuse 5 A 17 in from Z2
wire M1- to B1- 14 AWG white 3 ft
""")
    # 17 in from the cable are allowed, though the post is farther away.
    assert {e.wire.name for e in exposures_of(study)} == {"W3"}
