"""What was read before means the same at its new place as if it had never been read."""

import pytest

import rigfolio.reading.text as text_module
from helpers.home import EXAMPLES
from rigfolio.findings import Span
from rigfolio.lang import blocks, parse
from rigfolio.reading import Said, statement
from rigfolio.values import Place

FILES = sorted(EXAMPLES.glob("**/*.rig"))
ABOVE = {"as it stood": "", "further down": "# a comment\n\n", "in another file": ""}


def _said(text: str, file: str) -> list[Said | None]:
    return [statement(block, []) for block in blocks(parse(text, file)[0])[0]]


def _places(said: Said) -> list[tuple[int, int]]:
    """Where the places stand that a statement names; they do not count when it is compared."""
    values = [given.value for each in said.facts.given.values() for given in each]
    flat = [one for value in (said.opening, *values) for one in _each(value)]
    own = [(one.start, one.end) for one in flat if isinstance(one, Place)]
    return own + [place for inner in said.inside for place in _places(inner)]


def _each(value):
    return value if isinstance(value, tuple) else (value,)


@pytest.mark.parametrize("where", ABOVE)
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_same_as_if_it_had_not_been_read(file, where, monkeypatch):
    monkeypatch.setattr(text_module, "_KEPT", {})
    text = file.read_text(encoding="utf-8")
    _said(text, "a.rig")
    name = "b.rig" if where == "in another file" else "a.rig"
    again = _said(ABOVE[where] + text, name)
    monkeypatch.setattr(text_module, "_KEPT", {})
    anew = _said(ABOVE[where] + text, name)
    assert again == anew
    assert [_places(one) for one in again if one] == [_places(one) for one in anew if one]


def test_a_mistake_is_told_every_time():
    for _ in range(2):
        found = []
        [block] = blocks(parse("battery B1 agm, 100 Ah, 100 Ah\n", "a.rig")[0])[0]
        statement(block, found)
        assert [one.rule for one in found] == ["said-twice"]
        assert found[0].at.span == Span("a.rig", 24, 30)


def test_no_more_is_kept_than_may_be(monkeypatch):
    monkeypatch.setattr(text_module, "_KEPT", {})
    monkeypatch.setattr(text_module, "MOST_KEPT", 3)
    _said("".join(f"busbar N{number} 100 A\n" for number in range(9)), "a.rig")
    assert len(text_module._KEPT) == 3
    assert [one.name for one in _said("busbar N0 100 A\n", "a.rig")] == ["N0"]
