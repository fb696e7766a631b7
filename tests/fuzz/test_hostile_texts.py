"""Examples and grown rigs that were hurt, through `check`: the bounded part of a long run."""

import pytest

from fuzz.hostile_texts import BASES, HURTS, hostile
from fuzz.trial import failures


@pytest.mark.parametrize("first", range(0, 120, 30))
def test_check_answers_or_refuses_whatever_it_reads(first, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for seed in range(first, first + 30):
        assert list(failures(hostile(seed), (("check",),))) == [], seed


def test_a_seed_gives_the_same_bytes_and_every_text_is_hurt():
    texts = [hostile(seed) for seed in range(200)]
    assert [hostile(seed) for seed in range(200)] == texts
    assert len({*texts}) > 190
    assert not {*texts} & {*BASES}
    assert len({*HURTS}) > 8
