"""Sizing: what it proposes leaves no finding of sizing, is the least that does, and stays put."""

import json
import re

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import lately
from helpers.home import EXAMPLES
from helpers.studies import checked, study_from
from rigfolio.answers.size import size_report
from rigfolio.books.conductors import awg_sizes, metric_sizes
from rigfolio.books.loader import load_book
from rigfolio.demand.flows import flows_of
from rigfolio.findings import Severity
from rigfolio.judgement.result import check, understood
from rigfolio.lang.edits import apply
from rigfolio.operating import Drawn
from rigfolio.record import replace
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
from rigfolio.rule import rule
from rigfolio.sizing.drop import _is_above, _larger
from rigfolio.sizing.edits import edits_for
from rigfolio.sizing.least import LEAST_GAUGE
from rigfolio.sizing.settled import sizes
from rigfolio.study import as_it_is

SOUND = sorted(EXAMPLES.glob("*.rig"))
FAULTY = sorted((EXAMPLES / "faulty").glob("*.rig"))
SIZING = frozenset({
    "fuse-over-wire", "wire-overloaded", "voltage-drop", "fuse-overloaded", "return-too-thin",
    "return-overloaded", "fuse-over-slot", "feeder-drop", "chassis-bond-thin",
})  # fmt: skip
HEAD = (
    'rig "Case"\n    system 12 V\n    rules {book}\nbattery B1 flooded, 100 Ah\n'
    "fuse F1 40 A on B1+\npanel P1 6 slots of 20 A\nbusbar N1 100 A\n"
    "wire F1.load to P1 8 AWG red 6 ft\nwire N1 to B1- 8 AWG white 6 ft\n"
)


@lately(8)
def judged(text, file="case.rig"):
    """What is found in a text; of the last few it is kept what they are asked."""
    return check(file, text=text)


def proposals(text, file="case.rig"):
    result = judged(text, file)
    assert result.study is not None, result.findings
    return result, sizes(result.study)


def rewritten(result, found, **how):
    """The texts of a rig with proposals written into them."""
    edits = edits_for(result.study, result.texts, found, **how).edits
    return {file: apply(text, edits.get(file, ())) for file, text in result.texts.items()}


def sized(text, file="case.rig", **how):
    result, found = proposals(text, file)
    return rewritten(result, found, **how)[result.file]


def findings(text, file="case.rig"):
    return [one for one in judged(text, file).findings if one.rule in SIZING]


def told(text, rules=SIZING, first=frozenset(), file="case.rig"):
    """What some rules find in a text, one asked after the other; no other rule is asked."""
    study = understood(file, text=text).study
    assert study.reversed_source is None
    assert not study.open_poles
    # What was found in place of what belongs there is judged as well.
    studies = dict.fromkeys((study, as_it_is(study)))
    for name in sorted(rules, key=lambda name: (name not in first, name)):
        one, find, _ = rule(name)
        if study.book.name in one.books:
            yield from (finding for each in studies for finding in find(each))


def part(found, place):
    return next(one for one in found if one.place == place)


# --- what is right stays ---


@pytest.mark.parametrize("file", SOUND, ids=lambda file: file.stem)
def test_a_sound_rig_keeps_every_gauge_and_rating(file):
    result = checked(file)
    found = sizes(result.study)
    assert [words for one in found for words in one.changes] == []
    assert [one.place for one in found if one.problem or one.missing] == []
    assert {c.place for c in result.study.rig.circuits} <= {one.place for one in found}
    wires = {name for one in found for wire in one.wires for name in wire.names}
    rest = {w.name for w in result.study.rig.conductors if not w.cranking and not w.lead} - wires
    assert rest == set()


@pytest.mark.parametrize("file", SOUND, ids=lambda file: file.stem)
def test_the_least_that_would_do_does(file):
    """All circuits at the least that is listed, one at a time, under the same rules."""
    result = checked(file)
    for one in sizes(result.study):
        spare = [
            wire for wire in one.wires
            if wire.verdict == "enough" and wire.least.area_m2 < wire.fit.area_m2 * (1 - 1e-9)
        ]  # fmt: skip
        if not spare or one.kind != "circuit":
            continue
        thinner = tuple(replace(wire, verdict="change", fit=wire.least) for wire in spare)
        texts = rewritten(result, [replace(one, wires=thinner)])
        assert [f.headline for f in told(texts[str(file)], file=str(file))] == [], one.place


# --- what is wrong is mended ---


@pytest.mark.parametrize("file", FAULTY, ids=lambda file: file.stem)
def test_a_faulty_rig_has_no_sizing_finding_left(file):
    text = file.read_text(encoding="utf-8")
    result = judged(text, str(file))
    if result.study is None:
        pytest.skip("a text that is not understood is not sized")
    found = sizes(result.study)
    again = rewritten(result, found)[str(file)]
    cannot = [one.place for one in found if one.problem or one.missing]
    left = findings(again, file=str(file))
    assert cannot or left == [], [one.headline for one in left]
    if not any(one.changes for one in found):
        assert again == text
    assert sized(again, file=str(file)) == again


MENDED = {
    "twenty-amp-fuse-on-sixteen-gauge": ("fuse 20 A", "fuse 7.5 A"),
    "step-down-behind-a-splice": ('"Porch" fuse 20 A', '"Porch" fuse 5 A'),
    "shared-return-too-thin": ("wire R1 to B1- 16 AWG", "wire R1 to B1- 14 AWG"),
    "long-thin-pump-wire": ("16 AWG", "14 AWG"),
    "inverter-on-thin-cable": ("6 AWG", "1 AWG"),
    "chassis-bond-too-thin": ("12 AWG", "8 AWG"),
}


@pytest.mark.parametrize("name", MENDED)
def test_the_hazard_of_an_example_is_what_is_mended(name):
    before, after = MENDED[name]
    text = (EXAMPLES / "faulty" / f"{name}.rig").read_text(encoding="utf-8")
    again = sized(text)
    assert before in text
    assert after in again
    changed = [(a, b) for a, b in zip(text.split("\n"), again.split("\n"), strict=True) if a != b]
    assert changed
    assert all(re.sub(r"[\d.]+ (A|AWG)", "", a) == re.sub(r"[\d.]+ (A|AWG)", "", b)
               for a, b in changed)  # fmt: skip


# --- worked by hand ---


def test_demand_fuse_gauge_and_drop_worked_by_hand():
    """A load of 8 A that runs for hours, 20 ft away: the steps are written out.

    80 % of a fuse for hours (common practice): 8 / 0.8 = 10 A, so 10 A is the least fuse. The rv
    table gives 16 AWG 8 A and 14 AWG 15 A (NFPA 70 Table 552.10(E)(1), from memory): 14 AWG.
    Drop by NFPA 70 chapter 9 table 8 (uncoated copper, 75 °C): 14 AWG stranded 3.14 ohm/kft, so
    8 A x 3.14 x 40 ft / 1000 = 1.00 V of 12 V = 8.4 %; the feeder of 8 AWG (0.778) adds
    8 A x 0.778 x 12 ft / 1000 = 0.07 V: below 10 %, 14 AWG stays. For 3 %: 0.36 V - 0.07 V leave
    0.29 V, 0.29 / (8 x 40) x 1000 = 0.89 ohm/kft: 10 AWG has 1.24, 8 AWG has 0.778.
    """
    circuit = 'circuit P1.1 "Pad" fuse ? \n    wire ? red 20 ft\n    load "Pad" 8 A{more}\n'
    _, found = proposals(HEAD.format(book="rv") + circuit.format(more=""))
    one = part(found, "P1.1")
    assert (one.fuses[0].fit_a, one.fuses[0].needed_a) == (10.0, 10.0)
    assert one.wires[0].fit.text == "14 AWG"
    assert one.wires[0].verdict == "unread"
    _, found = proposals(HEAD.format(book="rv") + circuit.format(more=", critical"))
    one = part(found, "P1.1")
    assert one.wires[0].fit.text == "8 AWG"
    assert one.wires[0].decisive == "voltage-drop"


def test_a_boat_lets_the_fuse_be_half_as_large_again():
    """33 CFR 183.425 Table 5 at 75 °C: 16 AWG 15 A; 183.455(c)(1): up to 150 % of that (seen)."""
    text = (
        HEAD.format(book="boat").replace("slots of 20", "slots of 30")
        + 'circuit P1.1 "Pump" fuse 20 A\n    wire 16 AWG red 4 ft\n'
        '    load "Pump" 12 A, intermittent\n'
    )
    _, found = proposals(text)
    assert part(found, "P1.1").changes == ()
    assert part(found, "P1.1").wires[0].least.text == "16 AWG"


def test_metric_wires_get_metric_sizes():
    text = HEAD.format(book="boat") + (
        'circuit P1.1 "Pump" fuse 20 A\n    wire 1 mm2 red 4 m\n    load "Pump" 12 A\n'
    )
    change = part(proposals(text)[1], "P1.1").wires[0]
    assert change.fit in metric_sizes()
    again = sized(text)
    assert f"wire {change.fit.text.replace('mm²', 'mm2')} red 4 m" in again
    assert findings(again) == []


def test_no_stock_size_or_slot_serves():
    text = HEAD.format(book="rv") + (
        'circuit P1.1 "Heater" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "Heater" 24 A\n'
        'circuit P1.2 "Far" fuse 10 A\n    wire 14 AWG red 5000 ft\n    load "Far" 6 A\n'
        'circuit P1.3 "Long" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "Pad" 18 A, continuous\n'
    )
    result, found = proposals(text)
    assert "24 A" in part(found, "P1.1").problem
    assert "20 A" in part(found, "P1.1").problem
    assert "no stock size" in part(found, "P1.2").problem
    # 18 A run for hours in a slot of 20 A: a fuse of 22.5 A is wanted and does not go in.
    assert part(found, "P1.3").fuses[0].strained_a == 18.0
    text_of = as_text(size_report(result.study, found))
    # One load has nothing to be parted from.
    assert "part the loads" not in text_of
    assert "no larger one belongs there; a load that draws less" in " ".join(text_of.split())


def test_what_is_not_known_is_named_and_nothing_is_proposed():
    text = HEAD.format(book="rv") + (
        'circuit P1.1 "Fan" fuse 20 A\n    wire 16 AWG red ?\n    load "Fan" 2 A\n'
        'circuit P1.2 "Radio" fuse 20 A\n    wire 16 AWG red 4 ft\n    load "Radio" ?\n'
    )
    _, found = proposals(text)
    assert part(found, "P1.1").missing == ("the length of `P1.1/1`",)
    assert part(found, "P1.2").missing == ("what `Radio` draws",)
    assert part(found, "F1").missing == ("what `Radio` draws",)
    assert not part(found, "P1.1").changes
    assert not part(found, "P1.2").changes


def test_a_question_mark_is_written_over_only_when_asked():
    text = HEAD.format(book="rv") + (
        'circuit P1.1 "Fan" fuse ?    # read it\n    wire ? red 5 ft\n    load "Fan" 2 A\n'
        'circuit P1.2 "Lamp"\n    wire red 5 ft   # gauge?\n    load "Lamp" 1 A\n'
    )
    result, found = proposals(text)
    assert sized(text) == text
    assert len(edits_for(result.study, result.texts, found).by_hand) == 4
    again = sized(text, also_unread=True)
    assert "fuse 3 A    # read it\n    wire 18 AWG red 5 ft\n" in again
    assert '"Lamp" fuse 2 A\n    wire red 5 ft 18 AWG   # gauge?\n' in again
    assert judged(again).exit_code == 0


def test_an_unread_wire_is_no_reason_for_a_smaller_fuse():
    text = HEAD.format(book="rv") + (
        'circuit P1.1 "Fan" fuse 15 A\n    wire ? red 5 ft\n    load "Fan" 2 A\n'
    )
    one = part(proposals(text)[1], "P1.1")
    assert one.changes == ()
    assert one.wires[0].fit.text == "14 AWG"


@pytest.mark.parametrize("found_a", [10, 20, 30])
def test_what_was_found_bars_no_smaller_fuse(found_a):
    """16 AWG may carry 8 A under NFPA 70 Table 552.10(E)(1) (from memory): 7.5 A belongs there."""
    text = HEAD.format(book="rv") + (
        f'circuit P1.1 "Pump" fuse 15 A, found {found_a} A\n    wire 16 AWG red 5 ft\n'
        '    load "Pump" 4 A\n'
    )
    assert f"fuse 7.5 A, found {found_a} A" in sized(text)


# --- any rig ---

CIRCUIT = st.tuples(
    st.sampled_from([3, 5, 7.5, 10, 15, 20, 30]),
    st.sampled_from(["18 AWG", "16 AWG", "12 AWG", "8 AWG", "1 mm2", "2.5 mm2", "6 mm2"]),
    st.sampled_from(["18 AWG", "14 AWG", "10 AWG", "1.5 mm2", "4 mm2"]),
    st.integers(2, 60),
    st.sampled_from(["0.5 A", "2 A", "6 A, intermittent", "12 A", "15 A, critical", "40 W"]),
    st.sampled_from(["", "    return 16 AWG white 9 ft\n", "    return 1.5 mm2 white 3 m\n"]),
)
RIG = st.tuples(
    st.sampled_from(["rv", "boat", "vehicle"]),
    st.sampled_from([15, 30, 60, 100]),
    st.sampled_from(["10 AWG", "6 AWG", "2/0 AWG", "10 mm2", "35 mm2"]),
    st.integers(2, 40),
    st.lists(CIRCUIT, min_size=1, max_size=5),
)


def any_rig(rig):
    book, main, feeder, feet, circuits = rig
    lines = [
        'rig "Any"', "    system 12 V", f"    rules {book}", "battery B1 flooded, 100 Ah",
        f"fuse F1 {main} A on B1+   # main", "panel P1 8 slots of 30 A", "busbar N1 500 A",
        f"wires {feeder} ends ring", f"    wire F1.load to P1  red {feet} ft  # feed",
        f"    wire N1 to B1-  white\t{feet} ft",
    ]  # fmt: skip
    for number, (fuse, first, second, length, draws, back) in enumerate(circuits, 1):
        lines += [f'circuit P1.{number} "Circuit" fuse {fuse} A  # fuse 99 A, 99 AWG',
                  f"    wire {first} blue {length} ft", f"    splice Z{number}",
                  f"    wire {second} blue {length} ft", f'    load "Load" {draws}']  # fmt: skip
        if back:
            lines.append(back.rstrip("\n"))
    return "\n".join(lines) + "\n"


@settings(settings.get_profile("study"), max_examples=60)
@given(rig=RIG, end=st.sampled_from(["\n", "\r\n"]))
def test_any_radial_rig_is_mended_once_and_for_all(rig, end):
    text = any_rig(rig).replace("\n", end)
    result, found = proposals(text)
    again = sized(text)
    stuck = {one.place for one in found if one.problem}
    left = findings(again)
    if not stuck:
        assert left == [], (text, [one.headline for one in left])
    assert all(one.severity is not Severity.ERROR for one in judged(again).findings)
    assert [one for one in proposals(again)[1] if one.changes] == []
    assert sized(again) == again
    edits = edits_for(result.study, result.texts, found).edits.get("case.rig", ())
    kept, at = [], 0
    for edit in sorted(edits, key=lambda one: one.span.start):
        kept.append(text[at : edit.span.start])
        at = edit.span.end
    kept.append(text[at:])
    rest = again
    for piece in kept:
        assert piece in rest
        rest = rest[rest.index(piece) + len(piece) :]


def one_thinner(wire):
    stock = awg_sizes() if wire.fit.awg is not None else metric_sizes()
    thinner = [size for size in stock if size.area_m2 < wire.fit.area_m2 / (1.0 + 1e-9)]
    return thinner[-1] if thinner else None


@settings(settings.get_profile("study"), max_examples=40)
@given(rig=RIG)
def test_one_size_thinner_breaks_a_rule(rig):
    """Of every section that grew: its wires of the new size, taken one size thinner together."""
    text = any_rig(rig)
    result, found = proposals(text)
    if any(one.problem for one in found):
        return
    for one in found:
        grown = [wire for wire in one.wires if wire.verdict == "change"]
        if not grown or any(one_thinner(wire) is None for wire in grown):
            continue
        if any(wire.decisive == LEAST_GAUGE for wire in grown):
            # 33 CFR 183.425(d): 16 AWG at least, which is 1.31 mm2.
            assert {wire.fit.text for wire in grown} <= {"16 AWG", "1.5 mm²"}
            continue
        less = tuple(
            replace(wire, fit=one_thinner(wire)) if wire in grown else wire for wire in one.wires
        )
        tried = [replace(one, wires=less) if p is one else p for p in found]
        again = rewritten(result, tried)["case.rig"]
        asked, first = {"not-surveyed", *SIZING}, {wire.decisive for wire in grown}
        assert any(told(again, asked, first)), (one, text)


@settings(settings.get_profile("study"), max_examples=40)
@given(rig=RIG)
def test_a_raised_fuse_is_the_smallest_that_carries_what_it_must(rig):
    share = load_book("rv").continuous_share().value
    result, found = proposals(any_rig(rig))
    for one in found:
        for fuse in one.fuses:
            demand = flows_of(result.study).demand(fuse.name)
            assert fuse.fit_a * (1 + 1e-9) >= demand.current_a or one.problem
            if fuse.verdict == "change" and fuse.has_a < fuse.fit_a:
                assert fuse.fit_a == fuse.least_a
                assert fuse.needed_a == max(demand.current_a, demand.steady_a / share)


# --- words ---


def test_programs_get_the_proposals_and_people_the_cautions_first():
    study = checked(EXAMPLES / "kittiwake-30.rig").study
    report = size_report(study)
    assert as_text(report).split("\n")[2].startswith("The text was judged, not the rig")
    told = json.loads(as_json(report))["proposals"]
    assert [one["place"] for one in told] == [one.place for one in sizes(study)]


def test_changes_say_what_decided():
    text = (EXAMPLES / "faulty" / "shared-return-too-thin.rig").read_text(encoding="utf-8")
    result, found = proposals(text)
    lines = as_text(size_report(result.study, found))
    assert "`B1-/R1` 16 AWG -> 14 AWG: 15 A can come back, it may carry 8 A" in lines
    assert "NFPA 70 Table 552.10(E)(1) (memory)" in lines


def test_a_load_that_collapses_only_behind_these_sizes_counts_as_more():
    """It is told at the volts of its source then: fewer amperes than it drew before it fell."""
    drew, fell = Drawn(60.0, 8.0), Drawn(50.0, 12.0, collapses=True)
    assert _is_above({"M1": fell}, {"M1": drew})
    assert not _is_above({"M1": fell}, {"M1": fell})
    assert _larger({"M1": fell}, {"M1": drew}) == {"M1": fell}


LIGHTS = """rig "Lights" system 12 V
battery B1 flooded, 105 Ah, internal 8 mohm
panel P1 6 slots of 30 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 3 ft, fuse 50 A class T at B1+
wire N1 to B1- 6 AWG black 3 ft
circuit P1.2 "Lights" fuse {} A, interrupts 2 kA
    wire {} AWG red {} ft
    load "Strip" 48 W, led
"""


@pytest.mark.parametrize("length", [5, 20, 30, 60])
@pytest.mark.parametrize("gauge", [18, 16, 14])
@pytest.mark.parametrize("fuse", [5, 10, 15])
def test_what_can_flow_in_is_more_than_the_wire_may_carry_where_that_is_why_it_grows(
    fuse, gauge, length
):
    study = study_from(LIGHTS.format(fuse, gauge, length))
    told = " ".join(as_text(size_report(study)).split())
    for flows, may in re.findall(r"([0-9.]+) A can flow in, it may carry ([0-9.]+)", told):
        assert float(flows) > float(may)
