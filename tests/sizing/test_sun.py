"""The wires and fuses between solar modules and their controller, against sums written here.

A module of 9.4 A: 1.25 x 9.4 = 11.75 A in bright sun, and a fuse of 1.25 x 11.75 = 14.7 A or more
(NFPA 70 690.8(A) and 690.9(B), from memory). The vehicle book puts 10 A before 16 AWG, 15 A before
14 AWG, 20 A before 12 AWG, 30 A before 10 AWG, 50 A before 8 AWG (FAA AC 43.13-1B Table 11-3).
"""

import pytest

from rigfolio.answers.size import size_report
from rigfolio.judgement.result import check
from rigfolio.lang.edits import apply
from rigfolio.sizing.edits import edits_for
from rigfolio.sizing.settled import sizes

ROOF = """rig "Roof"
    system 12 V
    rules vehicle
    coldest -10 degC
battery B1 agm, 200 Ah, delivers 900 A
busbar N1 200 A
busbar N2 100 A
busbar N3 100 A
wire B1- to N1 4 AWG black 1 ft
solar U1 40 A, input 75 V
wire U1+ to B1+ {out} red 4 ft, fuse {rating} at B1+ class-t interrupts 20 kA
wire U1- to N1 8 AWG black 4 ft
wire N2 to U1.in {run} red {feet} ft
wire N3 to U1.in- {run} black {feet} ft
"""
PLAIN = {"out": "8 AWG", "rating": "50 A", "run": "8 AWG", "feet": 4}
MODULE = "open circuit 22.4 V, short circuit 9.4 A, series fuse {most}{more}"
STRING = """array Y{n} {module}
wire Y{n}+ to N2 {size} red 6 ft{fuse}
wire Y{n}- to N3 {size} black 6 ft
"""


def roof(strings=1, size="12 AWG", fuse="", most="20 A", more="", **rest):
    module = MODULE.format(most=most, more=more)
    fuse = f", fuse {fuse} at N2 rated 100 V" if fuse else ""
    return ROOF.format(**PLAIN | rest) + "".join(
        STRING.format(n=n, module=module, size=size, fuse=fuse) for n in range(1, strings + 1)
    )


def sized(text):
    result = check("made.rig", text=text)
    found = sizes(result.study)
    edits = edits_for(result.study, result.texts, found).edits.get("made.rig", ())
    wires = {name: wire for one in found for wire in one.wires for name in wire.names}
    fuses = {fuse.name: fuse for one in found for fuse in one.fuses}
    return wires, fuses, apply(text, edits)


def rules_of(text):
    return {one.rule for one in check("made.rig", text=text).findings}


def test_wires_of_the_roof_bear_bright_sun():
    """16 AWG bears the 9.4 A of the label and not 11.75 A; four of 9.4 A ask for 47 A of 8 AWG."""
    text = roof(4, "16 AWG", "15 A", run="10 AWG")
    assert rules_of(text) >= {"fuse-over-wire", "unprotected-wire", "return-too-thin"}
    wires, _, again = sized(text)
    got = {name: (wires[name].fit.text, wires[name].least.text) for name in ("N3/Y1-", "N2/U1.in")}
    assert got == {"N3/Y1-": ("14 AWG", "14 AWG"), "N2/U1.in": ("8 AWG", "8 AWG")}
    assert (wires["N2/U1.in"].decisive, wires["N2/U1.in"].needed_a) == (
        "bright-sun", pytest.approx(4 * 9.4 * 1.25),
    )  # fmt: skip
    assert rules_of(again) == set()


@pytest.mark.parametrize(
    ("fitted", "most", "fit", "why"),
    [
        ("10 A", "20 A", 15.0, "bright-sun"),
        ("15 A", "20 A", 15.0, "bright-sun"),
        ("30 A", "20 A", 20.0, "array-fed-back"),
        ("?", "20 A", 15.0, "bright-sun"),
    ],
)
def test_the_fuse_of_a_string_bears_bright_sun_and_its_label(fitted, most, fit, why):
    """Four strings: 3 x 9.4 = 28.2 A may come back, more than the 20 A of the label."""
    _, fuses, _ = sized(roof(4, "8 AWG", fitted, most, run="6 AWG"))
    string = fuses["N2/Y1+ fuse"]
    assert (string.fit_a, string.least_a, string.decisive) == (fit, 15.0, why)


def test_two_strings_keep_a_fuse_above_the_label():
    """9.4 A come back at most, whatever the fuse: the label is no limit then."""
    text = roof(2, "10 AWG", "25 A", "15 A")
    assert sized(text)[2] == text


def test_a_label_that_bears_less_than_its_string_gives_is_said():
    text = roof(4, "8 AWG", "15 A", "7.5 A", run="6 AWG")
    _, _, again = sized(text)
    result = check("made.rig", text=text)
    problems = {one.problem for one in sizes(result.study) if one.problem}
    assert again == text
    assert problems == {
        "9.4 A are needed and the label of its modules allows 7.5 A; read the label again, or "
        "fewer strings side by side"
    }


def test_modules_lose_no_more_than_is_usual():
    """160 W at 17.6 V: 9.09 A over 30 ft and back, and 6 ft of 8 AWG and back.

    At 20 °C 12 AWG has 1.588 mohm/ft, 10 AWG 0.999, 8 AWG 0.628 (ASTM B258), hot copper up to a
    fifth more. 3 % are usual (common practice).
    """
    text = roof(1, "8 AWG", more=", 160 W, works at 17.6 V", run="12 AWG", feet=30)
    share = {
        size: 160 / 17.6 * (60 * mohm + 12 * 0.628) / 1000 / 17.6
        for size, mohm in {"12 AWG": 1.588, "10 AWG": 0.999, "8 AWG": 0.628}.items()
    }
    assert share["12 AWG"] > share["10 AWG"] > 0.03 > share["8 AWG"] * 1.2
    assert "array-drop" in rules_of(text)
    wires, _, again = sized(text)
    run = wires["N2/U1.in"]
    assert (run.fit.text, run.decisive) == ("8 AWG", "array-drop")
    assert "array-drop" not in rules_of(again)


@pytest.mark.parametrize(
    ("fitted", "fit"), [("?", 50.0), ("25 A", 50.0), ("40 A", 40.0), ("50 A", 50.0)]
)
def test_the_fuse_of_a_controller_is_chosen_for_hours_of_sun(fitted, fit):
    """40 A for hours over 80 % are 50 A (common practice); one that carries 40 A stays."""
    _, fuses, _ = sized(roof(out="6 AWG", rating=fitted))
    assert fuses["B1+/U1+ fuse"].fit_a == fit


def test_a_report_says_what_the_sun_asks_for_and_where_that_stands():
    study = check("made.rig", text=roof(4, "10 AWG", "10 A", run="10 AWG")).study
    words = str(size_report(study))
    assert "modules in bright sun ask for 14.69 A" in words
    assert "47 A run in bright sun, it may carry 30 A" in words
    assert "NFPA 70 690.8(A), short-circuit current and a quarter more (memory)" in words
