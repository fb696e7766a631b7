"""What holds for every text: it is answered and never raises, and its order means nothing."""

import re
from functools import lru_cache
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, Phase, given, settings, strategies as st

from helpers.forgotten import lately
from helpers.home import RIGS, TESTS
from rigfolio.findings import Finding
from rigfolio.judgement.result import check, load, understood
from rigfolio.lang.parser import parse
from rigfolio.reading.text import words
from rigfolio.record import replace
from rigfolio.rule import judge
from rigfolio.study import Study
from rigfolio.units import UNITS, from_si, to_si

SOBER = settings(
    derandomize=True, deadline=None, max_examples=50, database=None,
    suppress_health_check=[HealthCheck.too_slow], phases=[Phase.explicit, Phase.generate],
)  # fmt: skip
MARSH_WREN = next(file for file in RIGS if file.stem.startswith("marsh-wren"))
FULL = """\
rig "Reed Bunting"
    system 12 V
    rules rv
    ambient 40 degC
battery B1 "House" lithium, 100 Ah, internal 4 mohm
battery B2 "Start" flooded, 90 Ah
charger C1 45 A
solar U1 20 A
fuse F1 100 A, on B1+
fuse F2 60 A
disconnect S1 150 A
combiner K1 120 A
shunt H1 500 A
selector SEL1 250 A
connector J1 7 pins of 30 A
panel P1 "Main" 12 slots of 20 A, 75 A in all, pitch 14 mm
panel P2 "Bunk" 4 slots
busbar N1 150 A
chassis G1 "Frame"
load L1 "Fridge" 6 A
wire S1 to F1 4 AWG red 3 ft, tag T1
wire P1 to S1 4 AWG red 3 ft, tag T2
wire B1- to H1 2 AWG black 1 ft, tag T3
wire H1 to N1 2 AWG black 1 ft, tag T4
wire N1 to G1 2 AWG bare 2 ft, tag T5
wire C1+ to P1 6 AWG red 4 ft, fuse 50 A at P1, tag T6
wire C1- to N1 6 AWG black 4 ft, tag T7
wire U1+ to F2 10 AWG red 9 ft, tag T8
wire F2 to B1+ 10 AWG red 2 ft, tag T9
wire U1- to N1 10 AWG black 9 ft, tag T10
wire B1+ to K1 4 AWG red 2 ft, fuse 100 A 6 in from B1+, tag T11
wire K1 to B2+ 6 AWG red 2 ft, tag T12
wire B2- to N1 4 AWG black 2 ft, tag T13
wire J1.4 to B1+ 10 AWG black 12 ft, fuse 30 A at B1+, tag T14
wires 12 AWG red, bundle of 3 wires
    wire B2+ to SEL1.2 3 ft, tag T15
    wire SEL1 to J1.5 3 ft, tag T16
circuit P1.1 "Lights" fuse 7.5 A
    wire 14 AWG red/black 18 ft
    splice Z1 "Mirror"
    wire 18 AWG red 3 ft
    load "Near lamp" 8 W, 4 h/day
    wire from Z1 18 AWG red 6 ft
    switch SW1 10 A
    load "Far lamp" 5 W, leads 20 AWG 6 in
circuit P1.2 "Fridge" fuse 10 A
    wire 12 AWG red 9 ft to L1
circuit P1.3 "Bunk panel" fuse 20 A
    wire 12 AWG red 9 ft to P2
circuit P2.1 "Bunk lamp" fuse 5 A
    wire 16 AWG red 3 ft
    load "Lamp" 5 W
    return 16 AWG white 3 ft
circuit S1.line "Detector" fuse 3 A, always on
    wire 16 AWG ? 9 ft
    load "Detector" 0.15 A, critical
    return to G1
slot P1.12 spare
state stored S1 open, C1 off
note P1.1 "hums"
note B1+ corroded
ac "Main" 30 A
"""


def statements(text: str) -> list[str]:
    """The statements of a text, each with the lines below it."""
    bare = [line for line in text.split("\n") if line.split("#")[0].strip()]
    blocks: list[str] = []
    for line in bare:
        if line[0] in " \t":
            blocks[-1] += f"\n{line}"
        else:
            blocks.append(line)
    return blocks


def tagged(text: str) -> str:
    """A text in which every wire between two places is called by hand."""
    number = iter(range(1000))
    return re.sub(
        r"^(wire +\S+ +to +\S+)(?!.* tag )",
        lambda found: f"{found[1]} tag X{next(number)} ",
        text,
        flags=re.MULTILINE,
    )


@lately(8)
def read(text: str, name: str = "x.rig") -> Study:
    """A text that several questions are asked of."""
    result = understood(name, text=text)
    assert result.findings == ()
    assert result.study is not None
    return result.study


@lru_cache(maxsize=8)
def graph(text: str) -> frozenset[str]:
    """All objects of a rig without their places in the text."""
    rig = read(text).rig
    groups = (
        rig.sources, rig.devices, rig.junctions, rig.panels, rig.conductors, rig.loads,
        rig.circuits, rig.slots, rig.states, rig.ac, rig.assumptions, rig.problems, rig.remarks,
        rig.gaps, tuple(rig.where.items()),
    )  # fmt: skip
    return frozenset(re.sub(r"Span\([^)]*\)", "", repr(one)) for group in groups for one in group)


@lru_cache(maxsize=8)
def findings(text: str, name: str = "x.rig") -> frozenset[tuple[str, str, str]]:
    """What is found, by rule, words of the headline and the characters that it points to.

    A headline names several wires in the order of the text, so its words are put in order.
    """
    return frozenset(
        (one.rule, " ".join(sorted(one.headline.split())), cut(one, text, name))
        for one in judge(read(text, name))
    )


def cut(one: Finding, text: str, name: str) -> str:
    """The characters that a finding points to; of an included file where they are."""
    place = one.at.span
    return text[place.start : place.end] if place.file == name else str(place)


def answers(text: str) -> None:
    """Read and judge a text; every finding lies inside it."""
    result = check("x.rig", text=text)
    for one in result.findings:
        for label in (one.at, *one.others):
            assert label.span.file == "x.rig"
            assert 0 <= label.span.start <= label.span.end <= len(text)
        assert one.headline


@SOBER
@given(st.text(max_size=300))
def test_any_text_is_answered(text):
    answers(text)


PIECES = st.sampled_from(
    [*words(), *UNITS, "AWG", "?", "/", ",", "%", "to", "from", "at", "on", "of", "in", "all",
     "B1+", "B1", "F1.line", "P1.3", "P1-", "12", "7.5", "1/0", "1/2", "red", "RD", "BL", '"x"',
     "\n", "\n  ", "#", "always on", "2026-03-14", "2026-99-99", "0", "slots", "pins", "tag"]
)  # fmt: skip


@SOBER
@given(st.lists(PIECES, max_size=60).map(" ".join))
def test_any_row_of_words_is_answered(text):
    answers(text)


@SOBER
@given(st.data())
def test_a_damaged_rig_is_answered(data):
    text = data.draw(st.sampled_from([FULL, *(file.read_text("utf-8") for file in RIGS)]))
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 12)))
        middle = data.draw(
            st.sampled_from(["", "?", " ", "\n", "0", '"', "B1", "wire ", "9", "\t"])
        )
        text = text[:start] + middle + text[end:]
    answers(text)


@SOBER
@given(st.data())
def test_every_value_may_be_unknown(data):
    """A `?` in the place of any quantity, colour or place is answered, and never by silence."""
    lines, _ = parse(FULL, "x.rig")
    items = [
        item
        for line in lines
        for item in line.items
        if item.kind in ("quantity", "number", "place") or item.text in ("red", "black", "white")
    ]
    text = FULL
    chosen = data.draw(st.lists(st.sampled_from(items), min_size=1, max_size=3, unique=True))
    for item in sorted(chosen, key=lambda one: -one.span.start):
        unit = f" {item.unit}" if item.unit and data.draw(st.booleans()) else ""
        text = f"{text[: item.span.start]}?{unit}{text[item.span.end :]}"
    answers(text)


def test_spans_of_items_lie_in_order_inside_the_text():
    lines, _ = parse(FULL, "x.rig")
    spans = [item.span for line in lines for item in line.items]
    assert spans == sorted(spans)
    assert all(one.end <= two.start for one, two in pairwise(spans))
    assert all(FULL[span.start : span.end].strip() for span in spans)


@SOBER
@given(st.permutations(statements(FULL)))
def test_order_of_statements_means_nothing(shuffled):
    text = "\n".join(shuffled)
    assert graph(text) == graph(FULL)
    assert findings(text) == findings(FULL)


@settings(SOBER, max_examples=10)
@given(st.data())
@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_order_of_statements_changes_no_finding_of_an_example(file, data):
    text = tagged(file.read_text("utf-8"))
    blocks = statements(text)
    heads = [block.split()[1] for block in blocks if block.startswith("circuit")]
    # Circuits at one terminal are told apart by their order.
    rest = [b for b in blocks if not (b.startswith("circuit") and heads.count(b.split()[1]) > 1)]
    kept = [block for block in blocks if block not in rest]
    shuffled = "\n".join([*data.draw(st.permutations(rest)), *kept])
    # Under its own name, so that what it includes is found.
    assert findings(shuffled, str(file)) == findings("\n".join(blocks), str(file))


def turned(text: str, which: list[bool]) -> str:
    """A text in which some wires are written from their other end."""
    turns = iter(which)

    def turn(found: re.Match[str]) -> str:
        return f"wire {found[2]} to {found[1]}" if next(turns) else found[0]

    return re.sub(r"^wire (\S+) to (\S+)", turn, text, flags=re.MULTILINE)


TURNABLE = """\
rig "Wren"
    system 12 V
    rules rv
battery B1 105 Ah, internal 10 mohm
charger C1 45 A
fuse F1 50 A
disconnect S1 100 A
shunt H1 500 A
panel P1 12 slots
busbar N1
wire B1+ to F1 6 AWG red 10 in, tag T1
wire F1 to S1 6 AWG red 3 ft, tag T2
wire S1 to P1 6 AWG red 7 ft, tag T3
wire C1+ to P1 6 AWG red 4 ft, fuse 50 A at P1, tag T4
wire B1- to H1 6 AWG black 1 ft, tag T5
wire H1 to N1 6 AWG black 1 ft, tag T6
wire C1- to N1 6 AWG black 4 ft, tag T7
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG red 3 ft
    load "Lamp" 5 W
circuit S1.line "Detector" fuse 3 A, always on
    wire 16 AWG red 3 ft
    load "Detector" 0.1 A
"""


@SOBER
@given(st.lists(st.booleans(), min_size=7, max_size=7))
def test_direction_of_writing_means_nothing(which):
    text = turned(TURNABLE, which)
    rig = read(text).rig
    ends = {one.name: {one.a, one.b} for one in rig.conductors}
    # The battery is on the line side of the disconnect, whichever way its wires are written.
    assert "S1.line" in ends["T2"]
    assert ends["T3"] == {"S1.load", "P1"}
    # Of a fuse or a shunt it does not matter which end is which: they stay in line.
    for one, two, name in (("T1", "T2", "F1"), ("T5", "T6", "H1")):
        landed = {end for end in ends[one] | ends[two] if end.startswith(name)}
        assert landed == {f"{name}.line", f"{name}.load"}
    assert {(one[0], one[1]) for one in findings(text)} == {
        (one[0], one[1]) for one in findings(TURNABLE)
    }


@SOBER
@given(st.lists(st.sampled_from(["# x", "", "   ", "\t# y", " , "]), max_size=6), st.data())
def test_comments_blanks_and_commas_mean_nothing(extra, data):
    lines = FULL.split("\n")
    for one in extra:
        lines.insert(data.draw(st.integers(0, len(lines))), one)
    text = "\n".join(lines).replace(", ", data.draw(st.sampled_from([" ", "  ", " , "])))
    assert graph(text) == graph(FULL)


@SOBER
@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6, allow_nan=False))
def test_units_go_there_and_back(symbol, value):
    assert from_si(to_si(value, symbol), symbol) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_every_error_has_a_way_out():
    """A likely fix stands beside every error of the cases of the language."""
    folder = TESTS / "statements"
    without = set()
    for file in sorted(folder.glob("*.rig")):
        _, _, found = load(str(file), file.read_text("utf-8"))
        without |= {one.rule for one in found if one.fix is None}
    assert without == set()


def test_rigs_are_values():
    _, rig, _ = load("x.rig", FULL)
    _, same, _ = load("x.rig", FULL)
    assert rig == same
    assert rig is not None
    assert replace(rig, name="Other") != same
