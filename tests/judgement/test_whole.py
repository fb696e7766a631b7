"""What is whole in a text that was not understood: a broken statement costs only itself."""

import json

import pytest
from hypothesis import HealthCheck, Phase, given, settings, strategies as st

from helpers.home import EXAMPLES, RIGS
from helpers.plover import PLOVER
from rigfolio.cli.entry import main
from rigfolio.judgement.messages.objects import as_json
from rigfolio.judgement.result import check, understood
from rigfolio.judgement.trial import tried
from rigfolio.judgement.whole import whole_of

SOBER = settings(
    derandomize=True, deadline=None, max_examples=40, database=None,
    suppress_health_check=[HealthCheck.too_slow], phases=[Phase.explicit, Phase.generate],
)  # fmt: skip
BOAT = (EXAMPLES / "kittiwake-30.rig").read_text(encoding="utf-8")


def whole(text):
    return whole_of(check("x.rig", text=text))


def rules(result):
    return [one.rule for one in result.findings]


def names(rig):
    return {one.about.name for one in (*rig.sources, *rig.devices, *rig.panels, *rig.loads)} | {
        wire.name for wire in rig.conductors
    }


def test_a_text_without_errors_has_nothing_left_out():
    assert rules(check("x.rig", text=PLOVER)) == ["fuse-over-wire"]
    assert whole(PLOVER) is None


@pytest.mark.parametrize(
    ("was", "now"),
    [
        # A label that is being typed; the wire and the fuse of the circuit stay.
        ('load "Lamp" 8 W', 'load "La'),
        ('circuit P1.1 "Lights" fuse 7.5 A', 'circuit P1.1 "Ligh'),
        ("wire 14 AWG red 18 ft", "wire 14 AWG r"),
        ('fuse F1 "Main" 50 A, interrupts 10 kA', "fuse F1 50 A inter"),
        ('battery B1 "House" flooded', 'battery B1 "House" floo'),
        ("busbar N1 100 A", "busb"),
    ],
)
def test_the_others_are_judged_as_before(was, now):
    assert was in PLOVER
    result = check("x.rig", text=PLOVER.replace(was, now))
    found = whole_of(result)
    assert result.exit_code == 2
    assert result.study is None
    assert found is not None
    assert found.left_out == 1
    assert "fuse-over-wire" in rules(found)
    assert "name-not-defined" not in rules(found)


@pytest.mark.parametrize(
    "now",
    [
        # The fuse keeps its name, or every wire on it would lead to nothing.
        'fuse F1 "Main',
        # Nothing of it is known, and no wire that names it is told to name nothing.
        "fuse ",
        "fus",
    ],
)
def test_a_half_written_fuse_makes_no_finding_elsewhere(now):
    found = whole(PLOVER.replace('fuse F1 "Main" 50 A, interrupts 10 kA', now))
    assert found is not None
    assert found.left_out == 1
    assert set(rules(found)) <= {"fuse-over-wire"}


def test_a_header_that_cannot_be_read_keeps_its_lines():
    """They would belong to the circuit above it otherwise."""
    found = whole(PLOVER.replace('circuit P1.2 "Fan" fuse 20 A', '@circuit P1.2 "Fan"'))
    assert found is not None
    assert [load.about.label for load in found.study.rig.loads] == ["Lamp"]


def test_nothing_is_judged_while_the_head_is_broken():
    """By 48 V, or under another book, all else would be found otherwise."""
    found = whole(PLOVER.replace("system 12 V", "system 4"))
    assert found is not None
    assert found.findings == ()
    assert "F1" in names(found.study.rig)


def test_a_way_out_is_tried_though_the_text_is_broken_elsewhere():
    found = whole(PLOVER.replace('load "Lamp" 8 W', 'load "La'))
    fix = next(one.fix for one in tried(found).findings if one.rule == "fuse-over-wire")
    assert fix.is_tried
    assert fix.text == "`fuse 7.5 A`"


def test_of_a_text_that_says_next_to_nothing_nothing_is_judged():
    assert whole("what is this\n") is None
    assert whole('rig "A"\n    systm 12 V\n') is None


def test_check_says_the_errors_and_then_what_is_whole(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.rig").write_text(PLOVER.replace('load "Lamp" 8 W', 'load "La'), encoding="utf-8")
    assert main(["check", "a.rig"]) == 2
    told = capsys.readouterr()
    assert "error[label-not-closed]" in told.err
    assert "danger[fuse-over-wire]" in told.out
    assert "1 statement that was not understood left out" in told.out
    assert main(["tags", "a.rig"]) == 2
    told = capsys.readouterr()
    assert "nothing was judged" in told.err
    assert told.out == ""


def test_json_tells_what_is_whole():
    result = check("x.rig", text=PLOVER.replace('load "Lamp" 8 W', 'load "La'))
    (file,) = json.loads(as_json([result]))["files"]
    assert [one["rule"] for one in file["findings"]] == ["label-not-closed"]
    assert file["whole"]["left_out"] == 1
    assert [one["rule"] for one in file["whole"]["findings"]] == ["fuse-over-wire"]
    assert "whole" not in json.loads(as_json([check("x.rig", text=PLOVER)]))["files"][0]
    assert json.loads(as_json([check("x.rig", text="fuse\n")]))["files"][0]["whole"] is None


@pytest.mark.parametrize(
    "line",
    [
        'circuit P1.23 "Deck wash pump"  breaker 15 A, always on\n    wire 10 AWG brown 12 ft\n'
        '    load "Pump" 6 A, motor\n',
        'fuse        F9  "Spare fuse"   250 A terminal-cube on B2+\n',
    ],
    ids=["circuit", "fuse"],
)
def test_while_a_line_is_typed_all_the_rest_is_there(line, monkeypatch):
    """Every third state on the way, not only its end; what is found there is not asked."""
    monkeypatch.setattr("rigfolio.judgement.whole.judge", lambda study: ())
    base = BOAT.replace("slot P1.23 spare\n", "")
    at = base.index("slot P1.24")
    before = names(understood("x.rig", text=base).study.rig)
    for end in range(0, len(line), 3):
        text = f"{base[:at]}{line[:end]}\n{base[at:]}"
        result = understood("x.rig", text=text)
        found = result if result.study is not None else whole_of(result)
        assert found is not None, line[:end]
        assert before <= names(found.study.rig), line[:end]


@pytest.mark.parametrize("line", [one.strip() for one in PLOVER.splitlines()])
@pytest.mark.parametrize("broken", ["@", '"', "    @", '    "', "        @", "@ to P1"])
def test_a_line_of_which_nothing_can_be_read_stands_anywhere(line, broken):
    """Below a statement it is tried as each of its facts, a place among them."""
    found = whole(PLOVER.replace(line, f"{line}\n{broken}", 1))
    assert found is not None
    assert found.left_out >= 1


@pytest.mark.parametrize("line", ["@", "    @G yellow/blue 12 ft", "@ to P1", "    @"])
def test_a_line_of_which_nothing_can_be_read_stands_for_no_word(line):
    for place in ("panel", "circuit", "    wire", "    load"):
        text = PLOVER.replace(f"\n{place}", f"\n{line}\n{place}", 1)
        assert {one.rule for one in check("x.rig", text=text).findings} <= {
            "character-not-read", "not-inside", "indent-without-header", "mark-not-read",
        }  # fmt: skip


@SOBER
@given(st.data())
def test_any_damage_is_answered(data):
    text = data.draw(st.sampled_from([PLOVER, *(file.read_text("utf-8") for file in RIGS)]))
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        end = min(len(text), at + data.draw(st.integers(0, 20)))
        text = text[:at] + data.draw(st.sampled_from(["", '"', "@", "?", "\n", " 7 "])) + text[end:]
    found = whole(text)
    for one in found.findings if found is not None else ():
        assert not one.headline.startswith("cannot judge: rule `")
        assert 0 <= one.at.span.start <= one.at.span.end <= len(text)


@pytest.mark.parametrize(
    "lines",
    [
        # Two devices that were taken for parts of one name led round in a circle.
        "    switch stud M8, rests open\n    breaker stud No10, found 12 mA\n",
        "    breaker B9 5 A\n    switch stud M8\n    breaker B9 6 A\n",
    ],
)
def test_devices_of_one_name_in_a_circuit_lead_round_in_no_circle(lines):
    circuit = f'circuit P1.9 "Fan" fuse 5 A\n    wire 14 AWG blue 9 ft\n{lines}    load "Fan" 1 A\n'
    result = check("x.rig", text=PLOVER + circuit)
    assert result.exit_code == 2
    assert whole_of(result) is not None
