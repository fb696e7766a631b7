"""What stays as it is though not right is what a finding is about, and each line says where."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.answers.size import size_report
from rigfolio.findings import Severity
from rigfolio.reports import Listing
from rigfolio.rule import judged
from rigfolio.sizing import left_words, points_at, sections, sizes

BANK = """rig "Bank" system 12 V, rules boat
battery B1 lithium, 100 Ah, internal 5 mohm
battery B2 lithium, 100 Ah, internal 5 mohm
fuse F1 150 A, interrupts 20 kA
fuse F2 150 A, interrupts 20 kA
busbar N1 400 A
busbar N2 400 A
disconnect S1 400 A
breaker F4 100 A, interrupts 4 kA
wire B1+ to F1 2/0 AWG red 1 ft
wire B2+ to F2 2/0 AWG red 1 ft
wire F1 to N2 1/0 AWG red 1 ft
wire F2 to N2 1/0 AWG red 1 ft
wire N2 to S1 2 AWG red 3 ft
wire S1.load to F4 2 AWG red 2 ft
wire B1- to N1 2/0 AWG black 2 ft
wire B2- to N1 2/0 AWG black 2 ft
wire F4.load to M1+ 2 AWG red 10 ft
wire M1- to N1 2 AWG black 10 ft
load M1 "Windlass" 80 A, motor, intermittent
panel P1 4 slots
wire S1.load to P1 4 AWG red 1 ft, fuse 100 A, interrupts 20 kA at S1.load
wire P1- to N1 4 AWG black 1 ft
"""


def _stays(study):
    report = size_report(study)
    found = [
        part for part in report.parts
        if isinstance(part, Listing) and part.title.startswith("Stays as it is")
    ]  # fmt: skip
    return [item.words for part in found for item in part.items]


def test_leads_that_need_not_grow_are_not_told_for_what_they_feed():
    study = study_from(BANK)
    found = {one.place: one for one in sizes(study)}
    stuck = [place for place, one in found.items() if one.problem]
    assert len(stuck) == 1
    assert "for `N2/S1`" in found[stuck[0]].problem
    assert "branch-interrupt-low" in found[stuck[0]].problem
    # The leads of the batteries are listed as they are.
    assert all(found[place].wires for place in found if place not in stuck)


def test_each_line_says_where():
    study = study_from(BANK)
    (left,) = left_words(study, sizes(study))
    assert "`fuse-over-wire`: " in left
    place = next(one.place for one in sizes(study) if one.problem)
    assert left.startswith(f"{place} ")
    said = _stays(study)
    assert len(said) == 2
    assert all(line.startswith(f"{place} ") for line in said)


@pytest.mark.parametrize("file", [*RIGS, *FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_what_is_held_back_is_what_a_finding_is_about(file):
    study = checked(file).study
    if study is None:
        return
    grave = [
        one for one in judged(study) if one.severity in (Severity.DANGER, Severity.FAULT)
    ]  # fmt: skip
    of_place = {one.place: one for one in sections(study)}
    for one in sizes(study):
        if "would bring" not in one.problem:
            continue
        section = of_place[one.place]
        names = [wire.name for group in section.groups for wire in group.wires]
        assert any(
            points_at(study, section, finding) or any(f"`{n}`" in finding.headline for n in names)
            for finding in grave
        ), one.place
    for line in left_words(study, sizes(study)):
        assert any(line.startswith(place) for place in of_place), line
