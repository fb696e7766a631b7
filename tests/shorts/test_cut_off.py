"""What a short does to batteries that cut off by themselves, beside the fuse that it opens."""

from hypothesis import given, strategies as st

from helpers.studies import study_from
from rigfolio.answers.short import short_report
from rigfolio.figures.calculation import calculation
from rigfolio.figures.formulas import formulas
from rigfolio.judgement.result import check
from rigfolio.reports.objects import as_json
from rigfolio.reports.terminal import as_text
from rigfolio.shorts import faults_of, own_cut_off

HEAD = """rig "T"
    system 12 V
    rules boat
busbar N1 200 A
busbar A1 200 A
panel P1 "Helm" 4 slots of 15 A, negative N1, interrupts 10 kA
wire A1 to P1 16 mm2 red 3 m, fuse 60 A, interrupts 10 kA at A1
circuit P1.1 "Lamps" fuse 5 A
    wire 1.5 mm2 blue 6 m
    load "Lamps" 20 W
circuit P1.2 "Gas alarm" fuse 3 A, always on
    wire 1.5 mm2 red 2 m
    load "Gas alarm" 0.1 A
"""


def bank(name: str, facts: str) -> str:
    return f"battery {name} lithium, 100 Ah, {facts}\n" \
        f"wire {name}+ to A1 35 mm2 red 1 m, fuse 100 A, class-t at {name}+\n" \
        f"wire {name}- to N1 35 mm2 black 1 m\n"  # fmt: skip


ONE = HEAD + bank("B1", "internal 5 mohm, cuts off above 100 A")
TWO = ONE + bank("B2", "internal 5 mohm, cuts off above 100 A")


def told(text: str, place: str) -> str:
    return " ".join(as_text(short_report(study_from(text), place)).split())


def test_who_is_first_cannot_be_told_and_all_that_goes_dark_is() -> None:
    said = told(ONE, "P1.1")
    assert (
        "cuts off above 100 A; how fast is not stated: whether it or `P1.1` is first cannot" in said
    )
    assert "Where it is, all that it feeds goes dark, `Gas alarm` with it." in said
    assert "Dark as well where B1 cuts off: MUST STAY ON: Gas alarm" in said


def test_of_two_both_are_named_and_what_each_gives() -> None:
    said = told(TWO, "P1.1")
    assert "B1 and B2 give up to " in said
    assert "whether they or `P1.1` are first cannot be told. Where they are, all that" in said
    assert "Dark as well where B1, B2 cut off:" in said


def test_a_battery_beside_it_that_does_not_cut_off_keeps_all_on() -> None:
    said = told(ONE + bank("B2", "internal 5 mohm"), "P1.1")
    assert "whether it or `P1.1` is first cannot be told." in said
    assert "all that it feeds" not in said
    assert "Dark as well" not in said


def test_where_less_flows_than_it_cuts_off_above_nothing_is_added() -> None:
    # By hand: 6 m of 1.5 mm2 there and back, 12.1 ohm/km (IEC 60228 class 2, from memory), is
    # 0.145 ohm, so that no more than 13.6 V / 0.145 ohm = 94 A comes to the far end of the lamps.
    study = study_from(ONE)
    lamp = next(one for one in study.rig.loads if "Lamps" in str(one.about))
    fault = faults_of(study).at(lamp.plus)
    assert fault is not None
    assert 50.0 < (fault.coldest.current_a or 0.0) < 94.0
    assert own_cut_off(study, fault) is None
    lower = study_from(ONE.replace("above 100 A", "above 50 A"))
    fault = faults_of(lower).at(lamp.plus)
    assert fault is not None
    assert own_cut_off(lower, fault) is not None


def test_where_nothing_is_known_of_what_it_gives_it_may_be_more() -> None:
    said = told(ONE.replace("internal 5 mohm, ", ""), "B1")
    assert "B1 gives what is not known and cuts off above 100 A" in said


def test_without_a_fuse_nobody_relies_on_it() -> None:
    text = ONE.replace(", fuse 100 A, class-t at B1+", "")
    said = told(text, "A1")
    assert "NOTHING OPENS" in said
    assert "how fast is not stated: whether it cuts off at all cannot be told." in said


def test_programs_read_it() -> None:
    text = as_json(short_report(study_from(ONE), "P1.1"))
    assert '"may_cut_off": [' in text
    assert '"MUST STAY ON: Gas alarm"' in text


@given(st.integers(2, 40), st.integers(20, 2000), st.booleans())
def test_it_is_told_exactly_where_a_battery_may_give_more(
    mohm: int, limit_a: int, has_other: bool
) -> None:
    text = HEAD + bank("B1", f"internal {mohm} mohm, cuts off above {limit_a} A")
    text += bank("B2", "internal 5 mohm") if has_other else ""
    study = study_from(text)
    for end in ("P1", "P1.1", "A1", "B1+"):
        fault = faults_of(study).at(end)
        if fault is None:
            continue
        found = own_cut_off(study, fault)
        assert (found is not None) == (dict(fault.coldest.sources).get("B1", 0.0) > limit_a)
        assert found is None or bool(found.dark) is not has_other


def test_the_rule_says_it_in_the_same_words() -> None:
    more = "load L1 \"Winch\" 150 A\nwire A1 to L1+ 35 mm2 red 1 m, fuse 200 A, class-t at A1\n" \
        "wire L1- to N1 35 mm2 black 1 m\n"  # fmt: skip
    found = [
        one for one in check("t.rig", text=ONE + more).findings if one.rule == "battery-cuts-off"
    ]
    words = "all that it feeds goes dark, `Gas alarm` with it"
    assert [words in one.headline for one in found] == [True]
    assert words in told(ONE + more, "P1.1")


def test_the_calculation_says_it_of_the_shorts_that_it_lists() -> None:
    study = study_from(ONE)
    (said,) = [one for one in formulas(study, calculation(study)) if "Cut off by itself" in one]
    assert said.startswith("Cut off by itself: B1 above 100 A.")
    assert said.endswith("Where it is, all that it feeds goes dark, `Gas alarm` with it.")
    # No more than 94 A comes to the lamps, by hand above.
    assert "P1.2" in said
    assert "P1.1" not in said
