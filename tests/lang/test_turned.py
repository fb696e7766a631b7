"""Phrases the wrong way round, and what people call a part."""

import pytest

from rigfolio.lang import apply, blocks, parse
from rigfolio.reading.hints import in_our_words, trade_words
from rigfolio.reading.text import context, reference, statement

FACTS = [
    (name, fact)
    for name, word in reference().items()
    for fact in word.takes
    if len(fact.parts) == 2 and fact.parts[0][0] != "<" and fact.parts[1][0] == "<"
    and fact.parts[1] in ("<current>", "<voltage>", "<resistance>", "<temperature>", "<share>")
]  # fmt: skip
HEADS = {"circuit": "circuit P1.1", "wire": "wire B1+ to F1", "wires": "wires", "rig": 'rig "R"',
         "return": "return"}  # fmt: skip


@pytest.mark.parametrize(("name", "fact"), FACTS, ids=lambda each: getattr(each, "key", each))
def test_a_value_before_its_word_is_turned_round(name, fact):
    word, value = fact.example().split(maxsplit=1)
    line = f"{HEADS.get(name, f'{name} X1')} {value} {word}"
    told = _told(line)
    assert len(told) == 1
    assert f"`{value} {word}`" in told[0].headline
    mended = apply(line, told[0].fix.edits)
    assert mended == line.replace(f"{value} {word}", fact.example())
    assert _told(mended) == []


def test_a_value_that_stands_by_itself_is_not_turned_round():
    assert _told("fuse F1 50 A interrupts 10 kA") == []
    assert _told("battery B1 105 Ah, 12 V rated 16 V") == []


def _told(line):
    lines, found = parse(line, "t.rig")
    told = list(found)
    grouped, more = blocks(lines)
    for block in grouped:
        statement(block, told)
    return [*told, *more]


def test_every_trade_name_leads_to_words_of_the_language():
    known = reference()
    called = {name for word in known.values() for each in word.also
              for name in each.partition(": ")[0].split(", ")}  # fmt: skip
    assert "solar panel" in called
    for name in called:
        found = trade_words(name.title(), known)
        assert name not in context().keywords, name
        assert found, name
        # Of several the one who reads must be told which is meant.
        assert len(found) == 1 or all(found.values()), name
        assert all(f"`{word}`" in in_our_words(found) for word in found)
