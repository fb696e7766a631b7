"""A lead taken off a source is told as that, at that source, and as nothing else."""

from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from corpus.cases import RIGS
from helpers.home import HOME
from rigfolio.judgement.result import check
from rigfolio.network import net_of, open_poles
from rigfolio.record import replace

_SOUND = [*RIGS, *sorted((HOME / "examples").glob("*.rig"))]


_FOLLOWS = {
    "missing-return", "load-without-path", "always-on-behind-disconnect", "voltage-drop",
    "voltage-collapse", "source-overloaded", "plus-joined-to-minus",
}  # fmt: skip


def _leads(path: Path) -> list[tuple[str, str]]:
    """The minus posts of sources that one wire alone lands on, each with the line of that wire."""
    text = path.read_text(encoding="utf-8")
    study = check(str(path), text=text).study
    found = []
    for source in study.rig.sources:
        steps = study.net.steps(source.minus)
        own = [edge for edge, _ in steps if getattr(edge, "circuit", "x") == ""]
        if len(steps) == len(own) == 1 and not source.traits.own_frame and not source.inlet:
            start = text.rfind("\n", 0, own[0].span.start) + 1
            end = text.find("\n", start)
            if text[start:end].startswith("wire ") and own[0].span.file == str(path):
                found.append((source.minus, text[start:end]))
    return found


_PLACES = [(path, post, line) for path in _SOUND for post, line in _leads(path)]


def test_there_are_places() -> None:
    assert len(_PLACES) >= 10


@pytest.mark.parametrize(("path", "post", "line"), _PLACES, ids=lambda one: str(one)[-30:])
def test_a_minus_that_is_taken_off_is_told_and_not_what_follows(path, post, line) -> None:
    text = path.read_text(encoding="utf-8")
    before = check(str(path), text=text).findings
    after = check(str(path), text=text.replace(line, "", 1)).findings
    told = [one for one in after if one.rule == "source-not-joined"]
    assert [f"`{post}`" in one.headline for one in told] == [True]
    known = {(one.rule, one.headline) for one in before}
    more = [
        one.rule
        for one in after
        if one.severity.value in ("danger", "fault") and (one.rule, one.headline) not in known
    ]
    # Which bar it was on nobody can know for sure, so that another wire may have to carry it.
    assert len(more) <= 2
    assert not _FOLLOWS & set(more)


@given(st.sampled_from(_SOUND), st.data())
def test_without_any_wire_at_a_post_it_is_open(path, data) -> None:
    rig = check(str(path)).study.rig
    source = data.draw(st.sampled_from([one for one in rig.sources if not one.traits.own_frame]))
    bare = replace(
        rig,
        conductors=tuple(w for w in rig.conductors if source.minus not in (w.a, w.b)),
        devices=tuple(d for d in rig.devices if source.minus not in (d.line, d.load)),
    )
    posts = [pole.end for pole in open_poles(bare, net_of(bare))]
    assert source.minus in posts
    assert [pole.end for pole in open_poles(rig, net_of(rig))] == []
