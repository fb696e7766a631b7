"""One table of terminals: every command that takes a place takes the same ones."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from fuzz.trial import understood
from helpers.home import CORPUS, EXAMPLES
from helpers.schematic_rigs import tangle
from helpers.studies import checked
from rigfolio.answers.short import short_report
from rigfolio.cli.wishes import chosen
from rigfolio.isolation.plans.places import hands_at, place_of
from rigfolio.judgement.result import Result, check
from rigfolio.reading.logs.meter import read_log
from rigfolio.refusal import RefusalError
from rigfolio.study import Study
from rigfolio.wording import finder_of, terminals_of, typed
from rigfolio.wording.finder import Named

_PRINTED = "circuit, panel, slot, wire, fuse or switch"
FILES = (*sorted(EXAMPLES.rglob("*.rig")), *CORPUS)


def outcome(ask: Callable[[], object]) -> str:
    """Why a place was refused; empty where it was not."""
    try:
        ask()
    except RefusalError as refusal:
        return refusal.headline
    return ""


def assert_one_answer(result: Result, part: Named, text: str) -> None:
    """What is typed for a part is a place to every command, or to none, for the same reason."""
    study = result.study
    assert study is not None
    rig = study.rig
    told = outcome(lambda: place_of(rig, text))
    assert outcome(lambda: hands_at(study, text)) == told
    log, problems = read_log(f"{typed(text)} = 5 A", "readings.txt", rig)
    assert [one.headline for one in problems] == [told][: bool(told)], text
    plain, landing = (
        outcome(lambda each=at: chosen(result, text, at_parts=each)) for at in (False, True)
    )
    if told:
        assert plain == landing == told
        return
    # Some places have no document, or no wire: that is another question, and said so.
    assert plain in ("", f"`{part.name}` is no {_PRINTED}") or text != part.name
    assert landing in ("", f"no wire lands on `{part.name}`, which is no {_PRINTED}") or (
        text != part.name
    )
    meant = finder_of(rig).the(text)
    assert (meant.kind, meant.key) == (part.kind, part.key) or meant != part
    assert_terminals(study, meant)
    (reading,) = log.readings
    assert reading.a in (*terminals_of(rig, meant.kind, meant.key).every, "")


def assert_terminals(study: Study, part: Named) -> None:
    """Its terminals are some, of the rig, each once, and those of one role are among all."""
    found = terminals_of(study.rig, part.kind, part.key)
    assert len(set(found.every)) == len(found.every) > 0
    assert {found.a, found.b, *found.shorted} - {""} <= {*found.every, *_of_loads(study, part)}
    # Nothing is joined to a slot that is free.
    assert part.kind == "slot" or {*found.every} <= {*study.net.at, *study.rig.where}


def _of_loads(study: Study, part: Named) -> set[str]:
    if part.kind != "circuit":
        return set()
    loads = study.rig.by_name.loads
    return {loads[name].plus for name in study.rig.by_name.circuits[part.key].loads}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_place_is_one_to_every_command(file: Path) -> None:
    result = checked(file)
    assert result.study is not None
    for part in finder_of(result.study.rig).parts:
        for text in dict.fromkeys((part.name, *part.ways)):
            assert_one_answer(result, part, text)


@settings(max_examples=12)
@given(st.integers(0, 10_000))
def test_in_rigs_grown_from_the_grammar(seed: int) -> None:
    result = check("x.rig", text=understood(seed))
    for part in finder_of(result.study.rig).parts if result.study is not None else ():
        assert_one_answer(result, part, part.name)


@settings(max_examples=12)
@given(st.integers(0, 10_000))
def test_where_wires_lead_anywhere(seed: int) -> None:
    result = check("x.rig", text=tangle(seed))
    assert result.study is not None
    for part in finder_of(result.study.rig).parts:
        assert_one_answer(result, part, part.name)


@pytest.mark.parametrize("file", FILES[:8], ids=lambda file: file.stem)
def test_a_short_may_be_put_on_every_place(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    for part in finder_of(study.rig).parts:
        told = outcome(lambda name=part.name: place_of(study.rig, name))
        assert outcome(lambda name=part.name: short_report(study, name)) == told
