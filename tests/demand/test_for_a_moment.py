"""What turns an engine over counts in no demand, and is told beside it wherever that is printed."""

import re

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.answers import demand_report
from rigfolio.answers.size import size_report
from rigfolio.demand import demand_by_level, flows_of
from rigfolio.editor.numbers import numbers_of
from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Conductor
from rigfolio.operating import starters_of
from rigfolio.protection import start_of_level
from rigfolio.record import replace
from rigfolio.reports import printed
from rigfolio.study import Study, as_it_is

KEY = """rig "S" system 12 V, rules boat, revised 2026-11-30
battery B1 "Start" flooded, 90 Ah, cold cranking 650 A
disconnect S1 "Iso" 350 A
load M1 "Starter" 350 A, motor, momentary
relay K1 "Solenoid" 400 A, rests open
wire W1 B1+ to S1 35 mm2 red 0.5 m cranking
wire W2 S1 to K1 35 mm2 red 1.5 m cranking
wire W3 K1 to M1+ 35 mm2 red 0.3 m cranking
wire W4 M1- to B1- 35 mm2 black 1.2 m
circuit S1.load "Key" fuse 10 A after 15 cm
    wire W5 2.5 mm2 red 2 m
    switch SW1 "Key" 15 A, rests open
    wire W6 2.5 mm2 red 2 m
    load "{coil}" 8 A, momentary
    return 2.5 mm2 black 2 m to B1-
"""


def lines(report, start):
    return [one for one in printed(report).splitlines() if one.strip().startswith(start)]


@pytest.mark.parametrize("coil", ["Solenoid coil", "Starter solenoid coil", "Starter solenoid"])
def test_the_coil_of_a_starter_draws_through_the_wires_of_its_key(coil):
    study = study_from(KEY.format(coil=coil))
    assert starters_of(study) == {"M1"}
    for name in ("W5", "W6", "SW1"):
        assert flows_of(study).demand(name).current_a == pytest.approx(8.0)
    (row,) = lines(size_report(study), "circuit")
    assert re.search(r"\b8 A\b", row)
    assert "?" not in row


def test_what_cranks_is_told_where_nothing_else_flows():
    study = study_from(KEY.format(coil="Starter solenoid coil"))
    text = " ".join(printed(demand_report(study)).split())
    assert "K1 Solenoid 350 A for" in text
    (row,) = lines(demand_report(study), "K1 Solenoid")
    assert re.search(r"0 %; 350 A for a", row)
    assert "350 A" in " ".join(lines(size_report(study), "W4"))
    # With the key, in the hover of an editor too.
    (wire,) = (one for one in study.rig.conductors if one.name == "W2")
    assert any(
        "350 A for a moment: M1 Starter" in one for one in numbers_of(study, wire.span, "W2")
    )


def nobody_has_read_what_starts(study):
    """The same rig, what its starters draw not known."""
    loads = [
        replace(one, value=UNKNOWN) if one.about.name in starters_of(study) else one
        for one in study.rig.loads
    ]
    return Study(replace(study.rig, loads=tuple(loads)), study.book.name)


@pytest.mark.parametrize("is_read", [True, False], ids=["read", "not read"])
@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_no_level_that_a_start_runs_through_is_told_as_nothing(file, is_read):
    study = checked(file).study
    study = None if study is None else as_it_is(study)
    if study is None or not starters_of(study):
        return
    study = study if is_read else nobody_has_read_what_starts(study)
    levels = {(one.level, one.name): one for one in demand_by_level(study)}
    loads = study.rig.by_name.loads
    for name in starters_of(study):
        for way in flows_of(study).ways[name]:
            if not way.source.stores:
                continue
            # On a ring it is told by what part of it is known.
            on = {
                edge.about.name
                for edge in (*way.out, *way.back)
                if not isinstance(edge, Conductor) and not way.is_meshed(edge.about.name)
            }
            keys = [("source", way.source.about.name), *(("device", one) for one in on)]
            for key in (one for one in keys if one in levels):
                if isinstance(loads[name].value, Unknown):
                    assert name in levels[key].unknown, key
                else:
                    assert start_of_level(study, levels[key]) is not None, key
