"""Rigs that no rig is: an answer or a limit with its name, and little time in either case."""

import re
import sys

import pytest

from helpers.apart import apart
from helpers.forgotten import cache
from rigfolio.judgement.crowding import MOST_AT_ONE_TERMINAL, MOST_SIDE_BY_SIDE, MOST_SOURCES
from rigfolio.judgement.messages.report import MOST_PLACES, as_text
from rigfolio.judgement.result import check, load

HEAD = """\
rig "Large" system 12 V, rules rv
battery B1 flooded, 105 Ah, internal 10 mohm
fuse F1 50 A, interrupts 10 kA
panel P1 12 slots of 20 A
busbar N1 100 A
wire B1+ to F1 6 AWG red 10 in
wire F1 to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG white 9 ft
"""
LAMP = "    wire 14 AWG red 8 ft\n    load 1 A\n"


def side_by_side(count: int, fuse: str = "") -> str:
    one = "wire V{n} F1 to P1 14 AWG red 3 ft{fuse}\n"
    return HEAD + "".join(one.format(n=n, fuse=fuse) for n in range(count))


def on_one_stud(count: int) -> str:
    one = 'circuit F1.load "C{n}" fuse 5 A\n' + LAMP
    return HEAD + "".join(one.format(n=n) for n in range(count))


def in_one_panel(count: int) -> str:
    one = 'circuit P1.{n} "C{n}" fuse 5 A\n' + LAMP
    text = HEAD.replace("12 slots", f"{count} slots")
    return text + "".join(one.format(n=n + 1) for n in range(count))


def batteries(count: int) -> str:
    one = (
        "battery B{n} flooded, 105 Ah, internal 10 mohm\n"
        "wire B{n}+ to X1 6 AWG red 1 ft\nwire B{n}- to N1 6 AWG white 1 ft\n"
    )
    return HEAD + "busbar X1\n" + "".join(one.format(n=n + 2) for n in range(count))


LIMITS = {
    "side-by-side-crowded": (side_by_side(1_900), side_by_side(1_900, ", fuse 30 A at F1")),
    "sources-crowded": (batteries(1_000),),
    "terminal-crowded": (side_by_side(2_000), on_one_stud(10_000)),
    "slot-count": (in_one_panel(100_000)[:2_900_000].rpartition("circuit")[0],),
    "pin-count": (HEAD + "connector J1 100000 pins\n",),
    "window-too-small": (
        HEAD.replace("of 20 A", "of 20 A, window 12 m by 0.001 in"),
        HEAD.replace("of 20 A", "of 20 A, window 2 mm by 12 mm"),
    ),
    "pitch-too-small": (HEAD.replace("of 20 A", "of 20 A, pitch 0.2 mm"),),
}
ANSWERED = {
    "60 batteries": batteries(60),
    "no parts": HEAD.split("battery", 1)[0],
    "names twice": HEAD + "battery B1 100 Ah\nbusbar N1\nfuse B1 5 A\n",
    "a hundred side by side": side_by_side(100),
    "hundreds on a stud": on_one_stud(300),
}


EVERY = [*((rule, text) for rule in LIMITS for text in LIMITS[rule]), *ANSWERED.items()]
NAMES = [f"{name}, {len(text)} characters" for name, text in EVERY]


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """What `check` says of a text, in a process of its own that may take a minute; asked once."""
    with apart() as processes:

        @cache
        def asked(text):
            folder = tmp_path_factory.mktemp("bounds")
            (folder / "x.rig").write_text(text, encoding="utf-8")
            return processes.run(folder, ["check", "x.rig"], most_s=60)

        yield asked


@pytest.mark.parametrize(("name", "text"), EVERY, ids=NAMES)
def test_a_limit_is_named_and_all_else_keeps_its_meaning(name, text, told):
    said = told(text)
    if name in ANSWERED:
        # An answer, and no longer than somebody reads.
        assert said.code in (0, 1)
        assert said.err == ""
        assert said.out.count("\n") < 1_000
        return
    assert said.code == 2
    assert re.findall(r"^error\[(.*)\]: ", said.err, re.MULTILINE)[-1] in (name, "too-many-lines")
    assert "name-not-defined" not in said.out


@pytest.mark.parametrize(
    ("most", "made", "there"),
    [
        # The panel's feeder lies beside them already.
        (MOST_SIDE_BY_SIDE, side_by_side, 1),
        (MOST_SIDE_BY_SIDE, lambda count: side_by_side(count, ", fuse 30 A at F1"), 1),
        # The house bank.
        (MOST_SOURCES, batteries, 1),
        # The fuse itself and the panel's feeder.
        (MOST_AT_ONE_TERMINAL, on_one_stud, 2),
    ],
)
def test_just_as_many_as_are_read(most, made, there):
    for count, is_read in ((most - there, True), (most - there + 1, False)):
        _, rig, errors = load("x.rig", text=made(count))
        assert (rig is not None, not errors) == (is_read, is_read)


def test_a_finding_shows_so_many_places_and_counts_the_rest():
    told = as_text([check("x.rig", text=side_by_side(100))])
    shown = told.partition("danger[fuse-over-wire]")[2].partition("\n\n")[0]
    assert shown.count("| wire V") == MOST_PLACES
    assert f"{100 - MOST_PLACES} more places are part of this" in shown


@pytest.mark.skipif(sys.platform != "linux", reason="kilobytes are those of Linux")
@pytest.mark.parametrize(("name", "text"), EVERY, ids=NAMES)
def test_memory_stays_within_bounds(name, text, told):
    """Half a gigabyte, and steps enough: a process that takes far more is ended by the system."""
    assert 10_000 < told(text).peak_kb < 500_000, name
