"""What was found out about a wire that is there: it is labelled, never bought and never pulled."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES
from rigfolio.folio.versions import compared
from rigfolio.job import Again
from rigfolio.judgement.result import Result, check
from rigfolio.swap.purchases import picks

TEXT = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
HEAD = """\
rig "Tern"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
panel P1 "Panel" 6 slots of 20 A, negative N1
busbar N1 "Minus bar" 100 A
wire B1+ to P1 10 AWG red 3 ft, fuse 30 A at B1+
wire N1 to B1- 10 AWG black 3 ft
"""
KNOWN = """\
circuit P1.2 "Radio" fuse 5 A
    wire 16 AWG blue 7 ft
    load "Radio" 3 A
    return 16 AWG black 7 ft
"""


@cache
def judged(text: str) -> Result:
    result = check("tern.rig", text=text)
    assert result.study is not None, result.findings
    return result


def since(was: str, now: str) -> Again:
    return compared(judged(was), judged(now))[1]


def told(was: str, now: str) -> list[tuple[str, str]]:
    found, _ = compared(judged(was), judged(now))
    return [(change.kind, change.after) for change in found.changes]


UNREAD = [
    'circuit P1.2 fuse ? A\n    wire ? AWG ? ? ft\n    load "?" ? A\n',
    'circuit P1.2 "?" fuse 5 A\n    wire ? AWG blue ? ft\n    load "Unknown" ? A\n',
    'circuit P1.2 "Unknown 3" fuse 5 A\n    wire 16 AWG blue 7 ft\n',
    'circuit P1.2 "Radio" fuse 5 A\n    wire ? AWG ? ? ft\n    load "Radio" ? A\n',
    'circuit P1.2 "Radio" fuse 5 A\n',
    'circuit P1.2 "?" fuse 5 A\n',
    'circuit P1.2 "Radio" fuse 5 A\n    wire 16 AWG blue 7 ft\n    load "?" 3 A\n',
]


@pytest.mark.parametrize("unread", UNREAD)
def test_a_circuit_that_was_identified_is_there_already(unread: str) -> None:
    again = since(HEAD + unread, HEAD + KNOWN)
    assert [work for work in again.work if work.is_hands_on] == []
    study = judged(HEAD + KNOWN).study
    assert study is not None
    assert picks(study, again=again) == ()
    assert {kind for kind, _ in told(HEAD + unread, HEAD + KNOWN)} <= {"identified", "renamed"}
    assert "P1.2" in again.labels
    assert "P1.2/1" in again.tags


OTHER = [
    ('circuit P1.2 "Radio" fuse 5 A\n    wire 18 AWG blue 7 ft\n    load "Radio" 3 A\n', "replace"),
    ('circuit P1.2 "Lamp" fuse 5 A\n    wire 18 AWG red 9 ft\n    load "Lamp" 1 A\n', "pull new"),
    ("slot P1.2 spare\n", "pull new"),
    ("", "pull new"),
]


@pytest.mark.parametrize(("was", "deed"), OTHER)
def test_what_was_known_and_is_other_now_is_a_new_wire(was: str, deed: str) -> None:
    again = since(HEAD + was, HEAD + KNOWN)
    assert ("P1.2/1", deed) in {(work.after, work.deed) for work in again.work}
    study = judged(HEAD + KNOWN).study
    assert study is not None
    assert "Wire" in {pick.group for pick in picks(study, again=again)}


FACTS = [
    found.span()
    for pattern in (
        r"(?<=wire   )\d+(?= AWG)", r"(?<= AWG )[a-z]+(?:/[a-z]+)?(?= +\d+ ft)",
        r"\d+(?= ft)", r"(?<=fuse )[\d.]+(?= A)", r"(?<=\"  )[\d.]+(?= (?:A|W),)",
    )
    for found in re.finditer(pattern, TEXT[TEXT.index("# --- galley") :])
]  # fmt: skip


@settings(max_examples=12)
@given(st.sets(st.sampled_from(FACTS), min_size=1, max_size=12))
def test_whatever_is_learnt_asks_for_labels_alone(chosen: set[tuple[int, int]]) -> None:
    start = TEXT.index("# --- galley")
    text = TEXT
    for low, high in sorted(chosen, reverse=True):
        text = f"{text[: start + low]}?{text[start + high :]}"
    again = since(text, TEXT)
    assert [work for work in again.work if work.is_hands_on] == []
    assert again.work
    study = judged(TEXT).study
    assert study is not None
    assert picks(study, again=again) == ()
    # The other way round nothing is torn out because somebody forgot what it is.
    assert [work for work in since(TEXT, text).work if work.is_hands_on] == []


def test_wires_are_paired_by_name_in_what_is_told_and_in_what_is_done() -> None:
    """A wire that is put in before another one is new; the other one stays what it was."""
    was = KNOWN.replace("16 AWG blue 7 ft", '16 AWG blue 7 ft, tag "R2"')
    now = was.replace(
        "    wire 16 AWG blue",
        '    wire 14 AWG red 2 ft, tag "R1"\n    switch K2 "Key" 10 A\n    wire 16 AWG blue',
    )
    again = since(HEAD + was, HEAD + now)
    deeds = {work.after: work.deed for work in again.work if work.thing == "wire"}
    assert deeds["R1"] == "pull new"
    assert deeds.get("R2") != "replace"
    (facts,) = [c.facts for c in compared(judged(HEAD + was), judged(HEAD + now))[0].changes
                if c.kind == "rewired"]  # fmt: skip
    assert any("is new, 14 AWG red" in words for words in facts)
