"""A short of now is opened by the fuse that was found, whatever belongs there."""

from pathlib import Path

import pytest

from helpers.forgotten import cache
from helpers.home import CORPUS, RIGS
from helpers.studies import studied, study_from
from rigfolio.answers.demand import demand_report
from rigfolio.answers.short import short_report
from rigfolio.figures import calculation_report
from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.model import Device
from rigfolio.record import replace
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study, as_fitted, as_it_is

TIMES = 4.0
"""How much larger the fuse is that somebody put in, as 20 A for 5 A."""
TEXT = """rig "Mast"
    system 12 V
    rules boat
battery B1 "House" agm, 100 Ah, internal 5 mohm
fuse F1 100 A, class-t, interrupts 20 kA, on B1+{main}
panel P1 "Helm" 2 slots of 20 A
busbar N1 "Minus" 100 A
wire F1 to P1 25 mm2 red 1 m
wire N1 to B1- 25 mm2 black 1 m
circuit P1.1 "Mast light" fuse {fuse}
    wire 1.5 mm2 grey 14 m
    load "Mast light" 10 W, starts at 3 times for 2 s
"""


def written(fuse: str, main: str = "") -> Study:
    return study_from(TEXT.format(fuse=fuse, main=main))


def fuses(study: Study) -> list[Device]:
    """The first and the last fuse of a panel, and the first one outside."""
    known = [one for one in study.rig.devices if one.protects and isinstance(one.rating_a, float)]
    slots = [one for one in known if one.about.name in study.rig.begun]
    others = [one for one in known if one.about.name not in study.rig.begun]
    return [*slots[:1], *slots[-1:], *others[:1]]


def with_found(study: Study, device: Device, found_a: float | Unknown) -> Study:
    """The same rig with something found in the place of a device."""
    rig, name = study.rig, device.about.name
    if name in rig.begun:
        circuits = [replace(c, found_a=found_a) if c.device == name else c for c in rig.circuits]
        return Study(replace(rig, circuits=tuple(circuits)), study.book.name)
    devices = [replace(d, found_a=found_a) if d.about.name == name else d for d in rig.devices]
    return Study(replace(rig, devices=tuple(devices)), study.book.name)


def with_rating(study: Study, device: Device, rating_a: float | Unknown) -> Study:
    """The same rig with that for what belongs there."""
    rig, name = study.rig, device.about.name
    devices = [replace(d, rating_a=rating_a) if d.about.name == name else d for d in rig.devices]
    return Study(replace(rig, devices=tuple(devices)), study.book.name)


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_what_is_found_opens_as_if_it_belonged_there(file: Path) -> None:
    study = studied(file)
    for device in fuses(study):
        name, told = device.about.name, device.rating_a
        assert isinstance(told, float)
        found = as_text(short_report(with_found(study, device, TIMES * told), name))
        fitted = as_text(short_report(with_rating(study, device, TIMES * told), name))
        answer, remark, words = found.partition("Reckoned with what was found, until that is")
        if name in fitted.partition("Opens first")[2]:
            assert remark, name
            assert f"{name} " in words
            assert "belongs" in words
        assert answer.rstrip().splitlines() == [
            line for line in fitted.rstrip().splitlines() if not line.startswith("Reckoned")
        ]


@cache
def short(fuse: str) -> str:
    return " ".join(as_text(short_report(written(fuse), "Mast light")).split())


def test_what_opens_now_is_told_with_what_belongs_there() -> None:
    assert "Opens first: P1.1, 5 A tan" in short("5 A")
    assert "Reckoned" not in short("5 A")
    assert "Opens first: P1.1, 20 A yellow" in short("5 A, found 20 A")
    assert short("5 A, found 20 A").endswith(
        "Reckoned with what was found, until that is changed: P1.1 20 A found, 5 A tan belongs."
    )


def test_what_was_found_and_not_read_opens_at_nothing_known() -> None:
    assert "Opens first" not in short("5 A, found ?")
    assert "P1.1 not read, 5 A tan belongs" in short("5 A, found ?")


def test_what_nobody_knows_of_is_what_was_found() -> None:
    assert "Opens first: P1.1, 20 A yellow" in short("?, found 20 A")


def test_a_main_that_was_found_counts() -> None:
    words = " ".join(as_text(short_report(written("5 A", ", found 300 A"), "P1")).split())
    assert "F1 300 A found, 100 A fuse belongs" in words
    assert "300 A" in words.partition("Opens first")[2].partition(".")[0]


def cell(study: Study, table: str, row: str, column: str) -> str:
    (found,) = calculation_report(study).tables(table)
    keys = [one.key for one in found.columns]
    (line,) = [one for one in found.rows if str(one[0]).startswith(row)]
    return str(line[keys.index(column)])


def test_the_calculation_reckons_with_what_is_found_and_says_so() -> None:
    there, fitted = written("5 A, found 20 A"), written("20 A")
    for column in ("short", "clears"):
        now = cell(there, "sections", "P1.1", column)
        assert now == cell(fitted, "sections", "P1.1", column)
    assert cell(there, "sections", "P1.1", "clears") != cell(written("5 A"), "sections", "P1.1",
                                                             "clears")  # fmt: skip
    assert cell(there, "sections", "P1.1", "guard") == "20 A found, 5 A belongs"
    said = " ".join(str(words) for words in calculation_report(there).words("found"))
    assert "P1.1 20 A found, 5 A tan belongs" in said
    assert not list(calculation_report(written("5 A")).words("found"))


def test_a_start_is_held_against_what_is_found() -> None:
    def held(fuse: str) -> str:
        (starts,) = demand_report(written(fuse)).tables("starts")
        keys = [one.key for one in starts.columns]
        (row,) = starts.rows
        return f"{row[keys.index('through')]}: {row[keys.index('held_against')]}"

    assert held("1 A, found 20 A") == "fuse 20 A found, 1 A belongs: its rating, not passed"
    assert held("1 A") != held("20 A").replace("20 A", "1 A")


def test_what_is_there_as_it_belongs_is_the_same_study() -> None:
    same = written("5 A")
    assert as_fitted(same) is as_it_is(same) is same
    assert as_fitted(written("5 A, found 5 A")).device("P1.1") is not None
    device = as_fitted(written("5 A, found ?")).device("P1.1")
    assert device is not None
    assert device.rating_a is UNKNOWN
