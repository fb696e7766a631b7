"""A wire that was found thinner than what belongs there counts as what it is, until it is pulled.

In a travel trailer 14 AWG bears 15 A and 16 AWG 8 A: NFPA 70 Table 552.10(E)(1) (from memory). So
10 A is too large a fuse for 16 AWG, and the largest that is made below 8 A is one of 7.5 A.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import event, given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.studies import study_from
from rigfolio.compare.changes import compare
from rigfolio.findings import Finding, Severity
from rigfolio.judgement.result import check, load
from rigfolio.protection.fitted import fitted_words, guard_facts, largest_words
from rigfolio.protection.too_large import is_device_too_large, is_too_large, largest_made_a
from rigfolio.rule import judge
from rigfolio.shorts import barred_words
from rigfolio.study import Study, as_found

HUT = """rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse 10 A
    wire {} red 9 ft
    load "Lamp" 1 A
"""
DANGERS = ("fuse-over-wire", "unprotected-wire", "wire-overloaded", "return-too-thin",
           "return-overloaded", "wrong-wire-found", "wrong-fuse-found", "no-battery-fuse",
           "fuse-too-far")  # fmt: skip
"""The rules that say of a wire what its devices, or its loads, do to it."""
SIZE = re.compile(r"[\d./]+ (AWG|mm2)\b")


def hut(wire: str) -> Study:
    return study_from(HUT.format(wire))


@pytest.mark.parametrize("wire", ["14 AWG, found 16 AWG", "? AWG, found 16 AWG", "16 AWG"])
def test_the_fuse_is_too_large_for_what_was_found(wire: str) -> None:
    study = hut(wire)
    (circuit,) = study.rig.circuits
    device = study.device(circuit.device)
    assert device is not None
    assert is_too_large(study, circuit)
    assert is_device_too_large(study, device)
    assert fitted_words(study, circuit) == "10 A TOO LARGE"
    assert guard_facts(study, study.rig.conductor(circuit.wires[0]))[1] == "10 A TOO LARGE"
    assert largest_words(study, circuit) == "max fuse 7.5 A"
    assert largest_made_a(study, circuit) == 7.5
    assert barred_words(study, device).startswith("NO FUSE GOES IN: 10 A")


@pytest.mark.parametrize("wire", ["14 AWG", "14 AWG, found 14 AWG", "14 AWG, found 12 AWG",
                                  "14 AWG, found ? AWG"])  # fmt: skip
def test_what_is_no_thinner_changes_nothing(wire: str) -> None:
    study = hut(wire)
    (circuit,) = study.rig.circuits
    assert as_found(study) is study
    assert not is_too_large(study, circuit)
    assert largest_words(study, circuit) == "max fuse 15 A"


def test_a_wire_below_the_table_has_one_word_on_label_and_tag() -> None:
    """20 AWG carries less than any row, and so less than the 10 A of its fuse."""
    study = hut("20 AWG")
    (circuit,) = study.rig.circuits
    assert fitted_words(study, circuit) == "10 A TOO LARGE"


def test_a_danger_is_not_cured_by_a_wire_that_nobody_pulled() -> None:
    was, now, pulled = (check("hut.rig", text=HUT.format(wire)) for wire in (
        "16 AWG", "14 AWG, found 16 AWG", "14 AWG"))  # fmt: skip
    assert was.study is not None
    assert now.study is not None
    assert pulled.study is not None
    there = tuple(judge(as_found(now.study)))
    found = compare(was.study.rig, now.study.rig, was.findings, now.findings, there)
    assert "fuse-over-wire" not in {one.rule for one in found.cured}
    found = compare(was.study.rig, pulled.study.rig, was.findings, pulled.findings)
    assert "fuse-over-wire" in {one.rule for one in found.cured}


def _places(text: str) -> Iterator[int]:
    """The rows of a text on which a wire or return stands with its size, and nothing found."""
    for number, row in enumerate(text.split("\n")):
        code = row.partition("#")[0]
        if re.match(r" *(wire|return)\s", code) and SIZE.search(code) and "found" not in code:
            yield number


def _gained(file: Path, text: str, before: frozenset[tuple[str, str]]) -> list[Finding]:
    """The dangers of a text that were not there before."""
    _, rig, errors = load(str(file), text)
    assert rig is not None, errors
    told = judge(Study(rig, rig.book), DANGERS)
    grave = (one for one in told if one.severity is Severity.DANGER)
    return [one for one in grave if (one.rule, one.headline) not in before]


@cache
def _dangers(file: Path, text: str) -> frozenset[tuple[str, str]]:
    return frozenset((one.rule, one.headline) for one in _gained(file, text, frozenset()))


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_found_beside_what_belongs_there_is_no_quieter_than_found_alone(
    file: Path, data: st.DataObject
) -> None:
    text = file.read_text(encoding="utf-8")
    number = data.draw(st.sampled_from(list(_places(text))))
    found = data.draw(st.sampled_from(["14 AWG", "18 AWG", "22 AWG", "1.5 mm2", "0.75 mm2"]))
    rows = text.split("\n")
    code, _, remark = rows[number].partition("#")
    alone = SIZE.sub(found, code, count=1)
    beside = f"{code.rstrip()}, found {found}"
    before = _dangers(file, text)
    gained = []
    for row in (alone, beside):
        changed = [*rows[:number], f"{row}  # {remark}", *rows[number + 1 :]]
        gained.append(_gained(file, "\n".join(changed), before))
    event(f"alone a danger: {bool(gained[0])}")
    assert bool(gained[1]) >= bool(gained[0]), (rows[number], found, gained[0])
