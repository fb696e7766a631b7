"""Verdicts that are kept: the same as without, never of other texts, and never trusted damaged."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings, strategies as st

from helpers.forgotten import cache
from helpers.plover import PLOVER
from rigfolio.findings import Severity
from rigfolio.judgement import kept
from rigfolio.judgement.kept import kept_verdicts
from rigfolio.judgement.verdict import Asking, verdict_of

ASKINGS = [
    Asking(),
    Asking(form="lines"),
    Asking(form="summary", every=True),
    Asking(form="json", fail_on=Severity.DANGER),
    Asking(book="boat", colours=(True, True)),
]


@pytest.fixture
def calls(tmp_path, monkeypatch):
    """How often a rig was judged, in a folder with a cache of its own."""
    (tmp_path / "rigs").mkdir()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path / "rigs")
    counted = []

    def judged(file, asking):
        counted.append(file)
        return verdict_of(file, asking)

    monkeypatch.setattr(kept, "verdict_of", judged)
    return counted


def place(tmp_path):
    (one,) = (tmp_path / "cache" / "rigfolio" / "verdicts").iterdir()
    return one


@pytest.mark.parametrize("asking", ASKINGS, ids=lambda asking: asking.form + asking.book)
def test_what_is_kept_is_what_was_said(asking, calls):
    Path("a.rig").write_text(PLOVER)
    said, _ = verdict_of("a.rig", asking)
    assert [kept_verdicts(asking).verdict("a.rig") for _ in range(3)] == [said] * 3
    assert calls == ["a.rig"]


def test_each_way_of_asking_has_a_verdict_of_its_own(calls):
    Path("a.rig").write_text(PLOVER)
    said = [kept_verdicts(asking).verdict("a.rig") for asking in ASKINGS]
    assert [kept_verdicts(asking).verdict("a.rig") for asking in ASKINGS] == said
    assert len(calls) == len(ASKINGS)


def test_a_change_of_any_file_of_the_rig_is_seen(calls):
    head, _, circuit = PLOVER.partition("circuit P1.2")
    Path("a.rig").write_text(f'{head}include "part.rig"\n')
    part = Path("part.rig")
    part.write_text(f"circuit P1.2{circuit}")
    keeper = kept_verdicts(Asking())
    before = keeper.verdict("a.rig")
    assert keeper.verdict("a.rig") == before
    assert calls == ["a.rig"]
    part.write_text(f"circuit P1.2{circuit}".replace("20 A", "7.5 A"))
    after = keeper.verdict("a.rig")
    assert after != before
    assert after == verdict_of("a.rig", Asking())[0]
    part.unlink()
    assert "cannot be read" in keeper.verdict("a.rig").errors
    assert len(calls) == 3


def test_nothing_is_kept_of_a_text_that_is_not_understood(calls, tmp_path):
    Path("a.rig").write_text(PLOVER.replace("2 A", "2 lamps"))
    Path("b.rig").write_text(f'{PLOVER}include "later.rig"\n')
    keeper = kept_verdicts(Asking())
    for _ in range(2):
        assert keeper.verdict("a.rig").errors
        assert "cannot be read" in keeper.verdict("b.rig").errors
        assert "cannot be read" in keeper.verdict("nowhere.rig").errors
    assert len(calls) == 6
    assert list((tmp_path / "cache" / "rigfolio" / "verdicts").iterdir()) == []


def test_another_program_is_not_believed(calls, monkeypatch):
    Path("a.rig").write_text(PLOVER)
    kept_verdicts(Asking()).verdict("a.rig")
    monkeypatch.setattr(kept, "own_version", lambda: "99.0")
    kept_verdicts(Asking()).verdict("a.rig")
    assert len(calls) == 2


def test_the_same_file_seen_from_elsewhere_is_named_as_it_is_called(calls, monkeypatch):
    Path("a.rig").write_text(PLOVER)
    kept_verdicts(Asking()).verdict("a.rig")
    monkeypatch.chdir("..")
    assert "rigs/a.rig:" in kept_verdicts(Asking()).verdict("rigs/a.rig").said


@cache
def judged_before(file, asking):
    """The verdict on a file that stays as it is."""
    return verdict_of(file, asking)


@given(st.data())
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_damaged_verdict_is_judged_anew(calls, tmp_path, monkeypatch, data):
    Path("a.rig").write_text(PLOVER)
    monkeypatch.setattr(
        kept, "verdict_of", lambda file, asking: calls.append(file) or judged_before(file, asking)
    )
    keeper = kept_verdicts(Asking())
    said = keeper.verdict("a.rig")
    file = place(tmp_path)
    whole = file.read_bytes()
    at = data.draw(st.integers(0, len(whole) - 1))
    how = data.draw(st.sampled_from(["cut", "flip", "more", "other"]))
    damaged = {
        "cut": whole[:at],
        "flip": whole[:at] + bytes([whole[at] ^ data.draw(st.integers(1, 255))]) + whole[at + 1 :],
        "more": whole + b" ",
        "other": data.draw(st.binary(max_size=200)),
    }[how]
    file.write_bytes(damaged)
    before = len(calls)
    assert keeper.verdict("a.rig") == said
    assert len(calls) == before + 1
    assert file.read_bytes() == whole


def test_without_a_cache_folder_all_is_judged(calls, monkeypatch, tmp_path):
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert kept_verdicts(Asking()) is None


def test_it_may_be_deleted_at_any_time(calls, tmp_path):
    Path("a.rig").write_text(PLOVER)
    keeper = kept_verdicts(Asking())
    said = keeper.verdict("a.rig")
    place(tmp_path).unlink()
    (tmp_path / "cache" / "rigfolio" / "verdicts").rmdir()
    assert keeper.verdict("a.rig") == said
