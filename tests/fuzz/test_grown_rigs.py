"""Grown rigs through every command: the bounded part; the long one is a benchmark."""

import random
from pathlib import Path

import pytest

from fuzz.grown_rigs import grown
from fuzz.trial import COMMANDS, failures, understood
from rigfolio.cli.registry import command_names
from rigfolio.judgement import check
from rigfolio.reading.text import words

SEEDS = [
    int(line)
    for line in (Path(__file__).parent / "seeds.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
]
NO_RIG = frozenset(
    {"explain", "help", "rulers", "new", "extract", "completion", "editor", "log", "photo"}
)
"""Commands that take no rig, or one with more beside it than a text."""


@pytest.mark.parametrize("seed", SEEDS)
def test_every_command_answers_or_refuses(seed, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert list(failures(understood(seed))) == []


@pytest.mark.parametrize("seed", range(40))
def test_check_answers_whatever_is_grown(seed):
    for text in (grown(seed), understood(seed)):
        told = [one.headline for one in check("x.rig", text=text).findings]
        assert not [each for each in told if each.startswith("cannot judge: rule `")]


def test_every_command_that_takes_a_rig_is_tried():
    assert {name for name, *_ in COMMANDS} == set(command_names()) - NO_RIG


def test_what_is_grown_uses_the_words_of_the_language_and_mostly_holds_together():
    texts = [grown(seed) for seed in range(60)]
    heads = {line.split()[0] for text in texts for line in text.split("\n") if line.strip()}
    assert set(words()) - heads <= {"include", "photo", "wires", "return"}
    assert all(check("x.rig", text=understood(seed)).study is not None for seed in range(10))


def test_a_seed_gives_one_rig_whatever_chance_did_before():
    first = grown(7)
    random.random()
    assert grown(7) == first
