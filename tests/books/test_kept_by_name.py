"""A name says that something must keep its supply only where it says nothing else beside."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

import rigfolio.books
from rigfolio.books.trade.habits import kept_by_name, kept_on

_TABLE = Path(rigfolio.books.__file__).parent / "trade" / "isolation.toml"
_OTHERS = tomllib.loads(_TABLE.read_text(encoding="utf-8"))["no_keep"]["words"]
_KEPT = [(word, keep.is_plain) for keep in kept_on() for word in keep.words]


@pytest.mark.parametrize(("word", "is_plain"), _KEPT)
def test_a_word_alone_is_as_plain_as_its_table_says(word, is_plain):
    found = kept_by_name(word)
    assert found is not None
    assert found.is_plain == is_plain


@given(
    st.sampled_from([word for word, _ in _KEPT]),
    st.sampled_from(_OTHERS),
    st.booleans(),
    st.sampled_from(["", "s"]),
)
def test_a_word_for_another_thing_takes_the_plainness_away(word, other, is_first, ending):
    both = f"{other}{ending} {word}" if is_first else f"{word} {other}{ending}"
    known = [one for one, _ in _KEPT if one in both.lower() and one != word]
    found = kept_by_name(both)
    assert found is not None
    assert not found.is_plain or known


@given(st.sampled_from([word for word, _ in _KEPT]), st.sampled_from(_OTHERS))
def test_a_load_with_another_name_gets_none_from_its_circuit(word, other):
    assert kept_by_name(other, word) is None
    assert kept_by_name("unit 7", word) is not None
