"""Several rigs with a part in common, mended at once: nothing that is written for one is lost."""

from pathlib import Path

import pytest

from rigfolio.cli.entry import main

PART = """\
panel P1 6 slots of 40 A
busbar N1 100 A
circuit P1.1 "Lamp" fuse 30 A
    wire 16 AWG red 4 ft
    load "Lamp" 1 A
circuit P1.2 "Fan" fuse 30 A
    wire 14 AWG red 4 ft
    load "Fan" 1 A
"""
RIG = """\
rig "{name}" system 12 V, rules {book}
battery B1 flooded, 100 Ah, internal 10 mohm
include "part.rig"
wire B1+ to P1 6 AWG red 4 ft, fuse 50 A, class T at B1+
wire N1 to B1- 6 AWG black 4 ft
{more}"""
LEAVES = 'accept fuse-over-wire at {} "5 A are on order" 2026-03-14\n'


@pytest.fixture(autouse=True)
def _folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("part.rig").write_text(PART, encoding="utf-8")


def rig(name: str, book: str = "rv", more: str = "") -> str:
    Path(f"{name}.rig").write_text(RIG.format(name=name, book=book, more=more), encoding="utf-8")
    return f"{name}.rig"


def part() -> str:
    return Path("part.rig").read_text(encoding="utf-8")


def test_what_two_rigs_want_in_a_shared_part_is_written_together():
    """Each leaves another danger as it is, and mends the other one."""
    files = rig("one", more=LEAVES.format("P1.2")), rig("two", more=LEAVES.format("P1.1"))
    main(["check", "--fix", "--write", *files])
    assert 'circuit P1.1 "Lamp" fuse 7.5 A, found 30 A' in part()
    assert 'circuit P1.2 "Fan" fuse 15 A, found 30 A' in part()


def test_what_both_want_is_written_once():
    main(["check", "--fix", "--write", rig("one"), rig("two")])
    assert part().count(", found 30 A") == 2


def test_two_rigs_that_want_one_place_otherwise_are_refused(capsys):
    """A trailer lets 16 AWG carry less than a vehicle does."""
    assert main(["check", "--fix", "--write", rig("one"), rig("two", "vehicle")]) == 2
    said = capsys.readouterr().err
    assert "`part.rig` is a part of `two.rig` and `one.rig`" in said
    assert "nothing was changed" in said
    assert part() == PART


def test_the_same_part_by_two_ways_is_one_file():
    Path("deep").mkdir()
    one = rig("one", more=LEAVES.format("P1.2"))
    text = RIG.format(name="two", book="rv", more=LEAVES.format("P1.1"))
    Path("two.rig").write_text(text, encoding="utf-8")
    main(["check", "--fix", "--write", one, str(Path("two.rig").resolve())])
    assert part().count(", found 30 A") == 2
