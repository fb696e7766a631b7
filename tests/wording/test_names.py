"""One name a part: no two parts share one, and each finds its part again, in any command."""

import re
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings, strategies as st

from helpers.home import CORPUS, EXAMPLES, TESTS
from helpers.label_rigs import NAMES
from helpers.schematic_rigs import lines_of, tangle
from helpers.studies import checked
from helpers.work_rigs import two_panels
from rigfolio.books import kept
from rigfolio.books.kept import read_toml
from rigfolio.cli.wishes import chosen
from rigfolio.isolation.plans.places import Target, place_of
from rigfolio.isolation.plans.words import part_words
from rigfolio.isolation.table import live_table
from rigfolio.judgement.result import check, load
from rigfolio.model import Rig
from rigfolio.reading.logs.spots import Spots
from rigfolio.refusal import RefusalError
from rigfolio.study import Study
from rigfolio.values import MINUS
from rigfolio.wording import Finder, end_words, short_end, typed

FILES = tuple(sorted(EXAMPLES.rglob("*.rig")))
STATEMENTS = TESTS / "statements"
_TWICE = {"used-twice", "slot-twice"}
made = settings(
    derandomize=True, deadline=None, max_examples=40, database=None,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip


def rig_of(text: str) -> Rig:
    _, rig, errors = load("case.rig", text)
    assert rig is not None, errors
    return rig


def folded(name: str) -> str:
    return "".join(name.casefold().split()).replace(MINUS, "-")


def assert_named(rig: Rig) -> None:
    """Every name is plain, nobody else's, and typed back it finds its part and no other."""
    finder, spots = Finder(rig), Spots(rig)
    names = Counter(folded(part.name) for part in finder.parts)
    if not _TWICE & {problem.kind for problem in rig.problems}:
        assert [name for name, count in names.items() if count > 1] == []
    assert finder.parts
    for part in finder.parts:
        assert part.name.strip() == part.name != ""
        if names[folded(part.name)] == 1:
            for text in (part.name, part.name.upper(), typed(part.name), f'"{part.name}"'):
                assert finder.find(text) == (part,), text
            spot = spots.find(part.name)
            assert spot is not None
            assert (spot.name, spot.a != "") == (part.name, True)
    for terminal in rig.where:
        assert "~" not in short_end(rig, terminal)
        assert "~" not in end_words(rig, terminal)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_in_every_example(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    assert_named(study.rig)
    finder = Finder(study.rig)
    for part in finder.parts:
        if not study.rig.problems:
            assert place_of(study.rig, part.name) == Target(
                part.name, part.label, place_of(study.rig, part.name, part.kind).terminals
            )


def assert_posts_keep_their_names(rig: Rig) -> None:
    """Whatever sits on a post of a source or a load, it is called as the text has it."""
    for part in (*rig.sources, *rig.loads):
        name = part.about.name
        for end, own in ((part.plus, f"{name}+"), (part.minus, f"{name}-")):
            if end == own:
                assert folded(short_end(rig, end)) == folded(own)


def assert_live_is_read_again(study: Study) -> None:
    """What the table of live parts prints is understood, of the same terminals."""
    for row in live_table(study).rows:
        words = part_words(row.part)
        assert {*row.part.terminals} <= {*place_of(study.rig, words).terminals}, words


@pytest.mark.parametrize("file", [*FILES, *CORPUS], ids=lambda file: file.stem)
def test_what_sits_on_a_post_takes_no_name_and_what_is_live_is_read_again(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    assert_posts_keep_their_names(study.rig)
    assert_live_is_read_again(study)


_HEAD = 'rig "Post" system 12 V, rules boat\nbattery B1 agm, 100 Ah\nbusbar N1\n'


@pytest.mark.parametrize(
    ("text", "line"),
    [
        # The main has no wire on its feed.
        ("panel P1 8 slots, breakers, main breaker 50 A\n", "P1 feed ahead of its main"),
        # Both outputs go by the name of the charger with a number, and so do their posts.
        ("charger C9 20 A, two outputs\nwire C9.1 to B1+ 6 AWG red 3 ft\n", "C9.1"),
        # A slot that is not there: the wire leads to what is live all the same.
        ("panel P1 2 slots\nwire B1+ to Z1 6 AWG red 3 ft\n"
         'circuit P1.7 "Lamp" fuse 5 A\n    wire 14 AWG red 3 ft\n    splice Z1\n'
         "    wire 14 AWG red 3 ft\n    load 1 A\n", "P1.7 Lamp"),
    ],
)  # fmt: skip
def test_a_line_of_what_is_live_is_read_again(text: str, line: str) -> None:
    study = check("x.rig", text=_HEAD + text).study
    assert study is not None
    assert line in {part_words(one.part) for one in live_table(study).rows}
    assert_live_is_read_again(study)


@made
@given(st.integers(1, 14), st.integers(1, 3), st.integers(1, 2), st.integers(0, 90))
def test_in_rigs_of_every_kind_of_slot(slots: int, panels: int, banks: int, kinds: int) -> None:
    lines = lines_of(slots, panels=panels, banks=banks, kinds=kinds)
    assert_named(rig_of("\n".join(lines) + "\n"))


@made
@given(st.integers(1, 9), st.integers(0, 5), st.lists(NAMES, min_size=1, max_size=4), st.integers())
def test_whatever_the_labels_are(first: int, second: int, names: list[str], seed: int) -> None:
    """Labels that are alike, that are names of other parts, that hold signs and commas."""
    taken = ["P1", "N1", "W3", "W3 fuse", "P1 feed", "circuit S1.line", "Lamp -", "P1.1"]
    assert_named(rig_of(two_panels(first, second, [*names, *taken], seed)))


@made
@given(st.integers(0, 5000))
def test_where_wires_lead_anywhere(seed: int) -> None:
    rig = rig_of(tangle(seed))
    if rig.panels or rig.sources or rig.conductors:
        assert_named(rig)


WREN, HERON, CABIN = "marsh-wren-17.rig", "heron-van.rig", "lapwing-cabin.rig"


@pytest.mark.parametrize(
    ("example", "text", "kind", "name"),
    [
        # A fuse on a wire, however it is written.
        (HERON, "W12 fuse", "device", "W12 fuse"),
        (HERON, "W12.fuse", "device", "W12 fuse"),
        (HERON, "fuse on W12", "device", "W12 fuse"),
        (HERON, "FUSE ON w12", "device", "W12 fuse"),
        (HERON, "W12 fuse at D1 Plus bar", "device", "W12 fuse"),
        (HERON, "fuse on S1.line/1", "device", "S1.line/1 fuse"),
        (HERON, "S1.line.fuse", "device", "S1.line/1 fuse"),
        (WREN, "breaker on W11", "device", "W11 breaker"),
        (WREN, "W11.fuse", "device", "W11 breaker"),
        (HERON, "fuse P1.4", "circuit", "P1.4"),
        (HERON, "P1.4 fuse", "circuit", "P1.4"),
        # A label, in any case.
        (HERON, "Water pump", "circuit", "P1.4"),
        (HERON, "water  PUMP", "circuit", "P1.4"),
        (HERON, '"Air heater"', "circuit", "circuit D1"),
        (HERON, "Plus bar", "bar", "D1"),
        (HERON, "House disconnect", "device", "S1"),
        (HERON, "starter motor", "load", "M1"),
        # A name with its label, as it is printed.
        (HERON, "S1 House disconnect", "device", "S1"),
        (HERON, "P1 (Fuse panel)", "panel", "P1"),
        (HERON, "Water pump: Pump", "load", "Pump"),
        # The ends of a load, with and without a blank, with either minus.
        (HERON, "Pump+", "terminal", "Pump +"),
        (HERON, "pump -", "terminal", f"Pump {MINUS}"),
        (HERON, f"Pump {MINUS}", "terminal", f"Pump {MINUS}"),
        (HERON, "Fan and pump +", "terminal", "Glow plug; Fan and pump +"),
        (HERON, "Lamp on the rear door -", "bar", "G1"),
        (HERON, "B1-", "terminal", f"B1{MINUS}"),
        # A part does not answer for another that begins on it.
        (HERON, "D1", "bar", "D1"),
        (HERON, "circuit D1", "circuit", "circuit D1"),
        (HERON, "S1.line", "terminal", "S1.line"),
        (WREN, "S1.line", "terminal", "S1.line"),
        (WREN, "S1.line-2", "circuit", "circuit S1.line-2"),
        (WREN, "circuit s1.line-2", "circuit", "circuit S1.line-2"),
        (HERON, "P1", "panel", "P1"),
        (HERON, "P1 feed", "terminal", "P1 feed"),
        (HERON, "B2+", "terminal", "B2+"),
        # Slots without a circuit, wires, loads that bear one label.
        (HERON, "P1.12", "slot", "P1.12"),
        (HERON, "p1.4/2r", "wire", "P1.4/2R"),
        (CABIN, "Fan at P1.4", "load", "Fan at P1.4"),
        (WREN, "Radio", "load", "Radio"),
    ],
)  # fmt: skip
def test_what_a_person_may_write(example: str, text: str, kind: str, name: str) -> None:
    study = checked(EXAMPLES / example).study
    assert study is not None
    found = Finder(study.rig).find(text)
    assert [(part.kind, part.name) for part in found] == [(kind, name)]


def test_where_several_are_meant_all_are_listed() -> None:
    study = checked(EXAMPLES / CABIN).study
    assert study is not None
    names = [part.name for part in Finder(study.rig).find("fan")]
    assert names == ["P2.3", "Fan at P1.4", "Fan at P2.3"]


def test_a_list_may_hold_names_with_commas() -> None:
    study = checked(EXAMPLES / HERON).study
    assert study is not None
    finder = Finder(study.rig)
    assert finder.several("P1.1, Reading lights, two,W7") == ("P1.1", "Reading lights, two", "W7")


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("P1.1, p1.3", {"P1.1", "P1.3"}),
        ("water pump", {"P1.4"}),
        ("Pump", {"P1.4"}),
        ("Reading lights, two, W7", {"P1.3", "W7"}),
        ("fuse on W12", {"W12"}),
        ("D1/1 fuse", {"D1/1"}),
        ("air heater", {"circuit D1"}),
        ("fuse panel", {"P1"}),
        ("P1.12", {"P1.12"}),
    ],
)
def test_what_a_sheet_is_printed_for(text: str, names: set[str]) -> None:
    assert chosen(checked(EXAMPLES / HERON), text) == names


def test_a_wire_is_called_by_its_tag_and_so_is_its_fuse() -> None:
    rig = rig_of(
        "battery B1 agm, 100 Ah\nbusbar D1\nbusbar N1\nwire B1+ to D1 6 AWG red 1 ft\n"
        "wire N1 to B1- 6 AWG black 1 ft\n"
        'circuit D1 "Fan" fuse 5 A\n    wire 16 AWG red 9 ft tag T7\n    load "Fan" 1 A\n'
    )
    (fuse,) = rig.devices
    assert (fuse.about.name, fuse.on_wire) == ("T7 fuse", "T7")
    assert rig.conductor(fuse.on_wire).a == fuse.load


ALIKE = [
    row["words"] for row in read_toml(Path(kept.__file__).parent / "trade" / "called.toml")["alike"]
]


@pytest.mark.parametrize("words", ALIKE, ids=lambda words: words[0])
def test_words_that_stand_for_the_same_find_a_part_until_another_is_called_so(
    words: list[str],
) -> None:
    one, other = words[0], words[-1]
    held = f'rig "Bench"\nload M1 "Rear {one}" 12 W\n'
    for text in (f"rear {other}", f"Rear {other}s", f"REAR {one.upper()}S"):
        assert [part.name for part in Finder(rig_of(held)).find(text)] == ["M1"], text
    # Another part that bears the very word is the one that is meant.
    both = Finder(rig_of(f'{held}load M2 "Rear {other}" 12 W\n'))
    assert [part.name for part in both.find(f"rear {other}")] == ["M2"]
    assert [part.name for part in both.find(f"rear {one}")] == ["M1"]
    # Two of which neither bears it are listed, and none answers for the other.
    two = Finder(rig_of(f'{held}load M2 "Rear {one}" 12 W\n'))
    with pytest.raises(RefusalError) as refused:
        two.the(f"rear {other}")
    assert {"M1", "M2"} == set(re.findall(r"M\d", str(refused.value.fix)))
    # A word inside another one is no word, and part of a label is no part.
    assert both.find(f"rear un{other}") == both.find(f"my {other}") == ()


def test_no_word_of_the_trade_stands_in_two_rows() -> None:
    every = [word for row in ALIKE for word in row]
    assert len(every) == len(set(every)) > 0
    assert all(word == word.casefold() and len(row) > 1 for row in ALIKE for word in row)
