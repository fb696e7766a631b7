"""Whatever a text says of a rig is compared: each fact of each word, left out, altered, added."""

import pytest

from helpers.fact_edits import fact_edits
from helpers.home import EXAMPLES, HOME
from rigfolio.compare import compare, facts as told_facts, placeless
from rigfolio.judgement.result import load
from rigfolio.model import Rig
from rigfolio.model.asides import Acceptance, Remark
from rigfolio.model.graph import Circuit, Conductor, Device, Junction, Load, Panel, Source
from rigfolio.record import replace
from rigfolio.units import UNITS

RIGS = sorted(
    (*EXAMPLES.glob("*.rig"), *(HOME / "tests" / "corpus").glob("*.rig")),
    key=lambda file: (file.stat().st_size, file.name),
)


def rig_of(file: str, text: str) -> Rig | None:
    rig = load(file, text)[1]
    return None if rig is None or rig.problems else rig


def chosen() -> list[tuple[str, str, str, str]]:
    """One edit of each kind for each fact of each word, in the smallest rig that has it."""
    seen: set[tuple[str, ...]] = set()
    found = []
    for file in RIGS:
        for what, line, text in fact_edits(file.read_text(encoding="utf-8")):
            verb, key = what.split()[:2]
            is_new = verb in ("with", "without")
            kind = (verb, key if is_new else f"{'.' in what}", line.split()[0])
            if kind not in seen:
                seen.add(kind)
                found.append((str(file), what, line, text))
    return found


def test_each_fact_that_is_altered_is_told_with_its_part() -> None:
    untold, told, same = [], 0, 0
    rigs = {str(file): rig_of(str(file), file.read_text(encoding="utf-8")) for file in RIGS}
    held = {file: placeless(replace(rig, digest="")) for file, rig in rigs.items() if rig}
    for file, what, line, text in chosen():
        before, after = rigs[file], rig_of(file, text)
        if before is None or after is None:
            continue
        if compare(before, after).changes:
            told += 1
        elif placeless(replace(after, digest="")) == held[file]:
            same += 1
        else:
            untold.append((file, what, line))
    assert untold == []
    assert told > 500
    assert same < 30


HERON = (EXAMPLES / "heron-van.rig").read_text(encoding="utf-8")
KITTIWAKE = (EXAMPLES / "kittiwake-30.rig").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "old", "new", "told"),
    [
        (HERON, "280 Ah, 12.8 V", "280 Ah, 12.84 V", ("B1", "volts 12.84 V, was 12.8 V")),
        (HERON, '"Pump"  6 A', '"Pump"  6.004 A', ("P1.4", "draws 6.004 A, was 6 A")),
        (HERON, "40 degC", "40.04 degC", ("Heron", "ambient 40.04 degC, was 40 degC")),
        (HERON, "drop 5 %", "drop 9 %", ("P1.8", "`Socket`: drop 9 %, was 5 %")),
        (HERON, "draws 37 A", "draws 47 A", ("E1", "draws 47 A, was 37 A")),
        (HERON, "from 12 V to", "from 12.8 V to", ("E1", "from 12.8 V, was 12 V")),
        (HERON, "1000 W, inter", "1000 W, efficiency 70 %, inter", ("X1", "draws 1428.57 W, was")),
        (HERON, "momentary, motor", "momentary", ("M1", "nature no longer said, was motor")),
        (HERON, "U1 off, E1 off, A1 off", "U1 off, E1 on, A1 off", ("stored", "E1 on, was off")),
        (KITTIWAKE, "moored    X1 2, ", "moored    X1 1, ", ("moored", "X1 1, was 2")),
        (
            KITTIWAKE, "state sailing   X1 2,   S1 open,   C1 off, A1 off\n", "",
            ("sailing", ""),
        ),
        (KITTIWAKE, "20 W, 10 h/day, electronics, critical", "20 W, 10 h/day, electronics",
         ("P1.6", "`Plotter at the wheel`: critical no longer said, was yes")),
        (KITTIWAKE, "in all, breakers", "in all", ("P1", "holds")),
        (KITTIWAKE, "interrupts  5 kA", "interrupts  1 kA", ("P1", "1000 A, was 5000 A")),
        (KITTIWAKE, "drop 10 %", "drop 3 %", ("M2", "drop 3 %, was 10 %")),
    ],
)  # fmt: skip
def test_what_was_said_to_be_the_same(text: str, old: str, new: str, told: tuple[str, str]) -> None:
    before, after = rig_of("x.rig", text), rig_of("x.rig", text.replace(old, new, 1))
    assert before is not None
    assert after is not None
    changes = compare(before, after).changes
    name, words = told
    assert [one for one in changes if name in (one.before, one.after)]
    assert words in " ".join(fact for one in changes for fact in one.facts)


@pytest.mark.parametrize(
    ("old", "new"),
    [("0.5 m  tag H1P", "50 cm  tag H1P"), ("delivers 1.5 kA", "delivers 1500 A"),
     ("70 mm2 red    0.5 m", "0.5 m red 70 mm²"), ("40 degC", "104 degF")],
)  # fmt: skip
def test_another_spelling_is_no_change(old: str, new: str) -> None:
    before, after = rig_of("x.rig", HERON), rig_of("x.rig", HERON.replace(old, new, 1))
    assert before is not None
    assert after is not None
    assert HERON.replace(old, new, 1) != HERON
    assert compare(before, after).changes == ()


@pytest.mark.parametrize(
    "kind", [Source, Device, Junction, Panel, Conductor, Load, Circuit, Acceptance, Remark, Rig]
)
def test_every_figure_has_its_unit_and_every_name_that_is_left_out_is_a_field(kind: type) -> None:
    fields = kind.__match_args__
    left = told_facts._ELSEWHERE.get(kind.__name__, "").split()
    assert set(left) <= set(fields)
    figures = [
        name
        for name in fields
        if name not in (*left, "value") and "float" in str(kind.__annotations__.get(name, ""))
    ]
    assert [name for name in figures if told_facts.unit_of(name) not in (*UNITS, "times")] == []
