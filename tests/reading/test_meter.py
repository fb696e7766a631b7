"""Readings as people write them down: what is understood, and what is said where it is not."""

from bisect import bisect
from collections.abc import Iterable
from math import inf

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.studies import checked, study_from
from rigfolio.findings import Span
from rigfolio.model.graph import Rig
from rigfolio.model.reading import Reading
from rigfolio.reading.logs.meter import read_log

WREN = EXAMPLES / "marsh-wren-17.rig"


@cache
def wren() -> Rig:
    study = checked(WREN).study
    assert study is not None
    return study.rig


@pytest.fixture
def rig() -> Rig:
    return wren()


def one(rig: Rig, line: str) -> Reading:
    log, found = read_log(line, "readings.txt", rig)
    assert not found
    (reading,) = log.readings
    return reading


@pytest.mark.parametrize(
    ("line", "measure", "part", "a", "b", "value"),
    [
        ("P1.3 = 11.2 V", "voltage", "P1.3", "P1.3", "", 11.2),
        ("p1.3=11.2 volts", "voltage", "P1.3", "P1.3", "", 11.2),
        ("Porch lamp = 3.1 V", "voltage", "Porch lamp", "P1.11~1", "P1.11~1-", 3.1),
        ('"porch  LAMP" = 3.1 V', "voltage", "Porch lamp", "P1.11~1", "P1.11~1-", 3.1),
        ("B1 = 12.6 V", "voltage", "B1", "B1+", "B1-", 12.6),
        ("P1 to P1.3 = 40 mV", "voltage", "P1 feed to P1.3", "P1", "P1.3", 0.04),
        ("G1 to B1- = -12 mV", "voltage", "G1 to B1−", "G1", "B1-", -0.012),
        ("F1 = 4.2 A", "current", "F1", "F1.line", "F1.load", 4.2),
        ("W7 = 150 mA", "current", "W7", "B1-", "G1", 0.15),
        ("P1.3 to N1 = open", "resistance", "P1.3 to N1", "P1.3", "N1", inf),
        ("P1.3 to N1 = OL", "resistance", "P1.3 to N1", "P1.3", "N1", inf),
        ("P1.3 to N1 = 0.4 ohm", "resistance", "P1.3 to N1", "P1.3", "N1", 0.4),
    ],
)
def test_a_measurement(
    rig: Rig, line: str, measure: str, part: str, a: str, b: str, value: float
) -> None:
    reading = one(rig, line)
    assert (reading.measure, reading.part, reading.a, reading.b) == (measure, part, a, b)
    assert reading.value == pytest.approx(value)
    assert reading.on is None


@pytest.mark.parametrize(
    ("line", "part", "symptom"),
    [
        ("Porch lamp dead", "Porch lamp", "dead"),
        ("Porch lamp: is dead", "Porch lamp", "dead"),
        ("P1.2 blows its fuse", "P1.2", "blows"),
        ("Water pump blows the fuse", "P1.2", "blows"),
        ("F1 gets hot", "F1", "hot"),
        ("Radio flickers", "Radio", "flickers"),
        ("Galley lamp weak", "Galley lamp", "dim"),
    ],
)
def test_a_symptom(rig: Rig, line: str, part: str, symptom: str) -> None:
    reading = one(rig, line)
    assert (reading.measure, reading.part, reading.symptom) == ("symptom", part, symptom)


def test_what_was_on_and_in_which_state(rig: Rig) -> None:
    reading = one(rig, "2026-03-14 P1 = 12.2 V, with Pump, Radio and Bath fan on, in shore")
    assert reading.on == ("Pump", "Radio", "Bath fan")
    assert (reading.state, reading.date) == ("shore", "2026-03-14")
    assert one(rig, "P1 = 12.6 V, with all off").on == ()
    every = one(rig, "P1 = 12.6 V, with all on").on
    assert every is not None
    assert "Bath fan" in every


NAMED = """
rig "Names"
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
disconnect S1 100 A
selector X1 100 A
panel P1 4 slots of 20 A
busbar N1
wire B1+ to X1.1 6 AWG red 1 ft, fuse 60 A at B1+
wire X1.common to S1.line 6 AWG red 1 ft
wire S1.load to P1 6 AWG red 1 ft
wire N1 to B1- 6 AWG black 1 ft
circuit P1.1 "Bow and stern, on deck" fuse 5 A
    wire 16 AWG red 3 ft
    load "Lamp on the rear door" 1 A
    load "Lights, two" 1 A
circuit P1.2 "Fan and pump" fuse 5 A
    wire 16 AWG red 3 ft
    load "Fan and pump" 1 A
state "laid up" S1 open
state home S1 closed
"""


@pytest.mark.parametrize(
    ("line", "on", "state", "set_to"),
    [
        ("with Lamp on the rear door on", ("Lamp on the rear door",), "", ()),
        ("with Lights, two and Fan and pump on", ("Lights, two", "Fan and pump"), "", ()),
        ("with P1.1; Fan and pump on", ("Lamp on the rear door", "Lights, two", "Fan and pump"),
         "", ()),
        ('with "Lights, two" on, S1 open', ("Lights, two",), "", (("S1", "open"),)),
        ("with all off, X1 1, S1 closed", (), "", (("X1", "1"), ("S1", "closed"))),
        ("in laid up", None, "laid up", ()),
        ('in state "laid up", X1 2', None, "laid up", (("X1", "2"),)),
        ("in home, with Lights, two on", ("Lights, two",), "home", ()),
    ],
)  # fmt: skip
def test_names_may_hold_the_words_of_a_reading(line, on, state, set_to) -> None:
    named = study_from(NAMED).rig
    reading = one(named, f"P1 to N1 = 12.3 V, {line}")
    assert (reading.on, reading.state, reading.set_to) == (on, state, set_to)


STARTS = NAMED.replace('"Fan and pump" 1 A', '"Fan and pump" 1 A, starts at 3 times')
_FAN = ("Fan and pump",)


@pytest.mark.parametrize(
    ("line", "on", "starting"),
    [
        ("with Fan and pump starting", _FAN, _FAN),
        ("while Fan and pump starts", _FAN, _FAN),
        ("with P1.2 starting, in home", _FAN, _FAN),
        ("with P1.1 on and Fan and pump starting", ("Lamp on the rear door", "Lights, two", *_FAN),
         _FAN),
        ("with Fan and pump starting, with Lights, two on", ("Lights, two", *_FAN), _FAN),
        ("in home, with Lights, two on, S1 closed, while Fan and pump starts",
         ("Lights, two", *_FAN), _FAN),
    ],
)  # fmt: skip
def test_a_reading_while_something_starts(line, on, starting) -> None:
    reading = one(study_from(STARTS).rig, f"P1 to N1 = 11.3 V, {line}")
    assert (set(reading.on or ()), reading.starting) == (set(on), starting)


def test_a_start_that_the_text_does_not_say_is_refused() -> None:
    _, (problem,) = read_log("P1 = 11 V, with Lights, two starting", "r", study_from(STARTS).rig)
    assert problem.headline == "no start is known of `Lights, two`"
    assert "starts at 3 times" in problem.fix.text


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("current through P1.2", "P1.2"), ("across Pump", "Pump"), ("current of Pump", "Pump"),
        ("holder, P1 to P1.2", "P1 feed to P1.2"), ("return, Pump - to N1", "Pump − to N1"),
        ("along F1.load to S1.line", "F1.load to S1.line"),
        ("disconnect, S1.line to S1.load", "S1.line to S1.load"),
    ],
)  # fmt: skip
def test_what_the_sheet_says_before_a_place_is_taken_back(rig: Rig, said: str, part: str) -> None:
    unit = "A" if "current" in said else "mV"
    assert one(rig, f"{said} = 12 {unit}").part == part


def test_work_is_kept_beside_the_readings(rig: Rig) -> None:
    text = '# first day\n2026-03-14 done "terminal # 3 made again"\n\nB1 = 12.6 V  # at rest\n'
    log, found = read_log(text, "wren.log", rig)
    assert not found
    assert [(done.date, done.text) for done in log.done] == [
        ("2026-03-14", "terminal # 3 made again")
    ]
    assert [text[r.span.start : r.span.end] for r in log.readings] == ["B1 = 12.6 V"]


@pytest.mark.parametrize(
    ("line", "marked", "headline", "fix"),
    [
        ("P1.2 = 11,4 V", "11,4 V", "a decimal comma", "`11.4 V`"),
        ("P1.2 = 12", "12", "`12` without a unit", "`12 V`"),
        ("P1.2 = 12 stone", "12 stone", "`stone` found", "`12 V`"),
        ("P1.2 =", "P1.2 =", "no number behind `=`", "`P1.3 = 11.2 V`"),
        (" = 3 V", "= 3 V", "no place before the reading", "`P1.3 = 11.2 V`"),
        ("Porch lampp = 3 V", "Porch lampp", "nothing is called `Porch lampp`", "`Porch lamp`"),
        ("F1 = 12 V", "F1", "a voltage at `F1`, which has two ends", "`F1.line to F1.load = ...`"),
        ("F1 to P1 = 12 mV", "F1", "`F1` has two ends", "`F1.line` or `F1.load`"),
        ("P1 to P1.3 = 3 A", "P1 to P1.3", "a current between two places", "name the wire"),
        ("P1.3 = 3 ohm", "P1.3", "ohms from one place only", "`P1.3 to N1"),
        ("P1 = 12 V, in winter", "in winter", "no state is called `winter`", "`stored`"),
        ("P1 = 12 V, with Piano on", "with Piano on", "no load is called `Piano`", ""),
        ("P1 = 12 V or so", "or so", "`or so` is not understood", "`, with LP/CO detector on`"),
        ("2026-03-14 done", "done", "`done` and nothing", "`done "),
        ("the lamp is off", "the lamp is off", "neither a reading nor a symptom", ""),
    ],
)
def test_what_is_not_understood(rig: Rig, line: str, marked: str, headline: str, fix: str) -> None:
    log, (finding,) = read_log(f"B1 = 12.6 V\n{line}\nB1 = 12.5 V\n", "readings.txt", rig)
    assert [reading.value for reading in log.readings] == [12.6, 12.5]
    text = f"B1 = 12.6 V\n{line}\nB1 = 12.5 V\n"
    start = finding.at.span.start
    assert text[start:].startswith(marked.strip()[:4])
    assert headline in finding.headline
    assert finding.fix is not None
    assert fix in finding.fix.text


READ = (
    "P1.3 = 11.2 V", "2026-03-14  Porch lamp = 3.1 V, with Porch lamp on", "W7 = 4.2 A, in shore",
    "P1 to P1.3 = 40 mV, with Pump, Radio on", "P1.3 to N1 = open", "Porch lamp flickers",
)  # fmt: skip
DONE = ('done "ring at N1 made again"', "2026-03-15 done new fuse")
WRONG = ("P1.3 = ", "= 3 V", "nobody dead", "P1.3 = 11,2 V", "2026-03-14", "done", "W7 = 4.2 stone")
NOISE = st.text(alphabet=st.sampled_from("P1.3=V A,:todnewihcf-0~\x00é"), min_size=1, max_size=40)
AROUND = st.sampled_from(("", " ", "\t", "   "))


@st.composite
def logs(draw: st.DrawFn) -> list[tuple[str, str]]:
    """Lines, each with what it is: a reading, work, nothing, wrong, or nobody knows what."""
    made = []
    for _ in range(draw(st.integers(0, 12))):
        kind = draw(st.sampled_from(("reading", "done", "wrong", "nothing", "noise")))
        said = {"reading": READ, "done": DONE, "wrong": WRONG, "nothing": ("",), "noise": ()}[kind]
        text = draw(st.sampled_from(said)) if said else draw(NOISE)
        comment = draw(st.sampled_from(("", "", "# a word", '#" = V')))
        made.append((draw(AROUND) + text + draw(AROUND) + comment, kind if text.strip() else ""))
    return made


@settings(max_examples=200)
@given(logs())
def test_every_line_is_read_or_told_of_at_its_place(lines: list[tuple[str, str]]) -> None:
    text = "\n".join(line for line, _ in lines)
    log, found = read_log(text, "readings.txt", wren())
    starts = [0]
    for line, _ in lines:
        starts.append(starts[-1] + len(line) + 1)

    def told(spans: Iterable[Span]) -> list[int]:
        """The lines of some places, none of which reaches over the end of its line."""
        at = [bisect(starts, span.start) - 1 for span in spans]
        ends = [bisect(starts, span.end - 1) - 1 for span in spans]
        assert ends == at
        return at

    read = told([each.span for each in log.readings])
    done = told([each.span for each in log.done])
    wrong = told([each.at.span for each in found])
    kinds = [kind for _, kind in lines]
    assert sorted([*read, *done, *wrong]) == [at for at, kind in enumerate(kinds) if kind]
    assert {at for at, kind in enumerate(kinds) if kind == "reading"} <= set(read)
    assert {at for at, kind in enumerate(kinds) if kind == "done"} <= set(done)
    assert {at for at, kind in enumerate(kinds) if kind == "wrong"} <= set(wrong)
    for each in (*log.readings, *log.done):
        line = lines[bisect(starts, each.span.start) - 1][0]
        assert text[each.span.start : each.span.end] == line.partition("#")[0].strip()
