"""Every way out that is offered serves: written in and judged again from outside, nothing is worse.

`fixes.py` does the same for every hazard; here a part of them is tried, and all faulty examples.
"""

import pytest

from helpers.forgotten import cache
from mutations.fixes import faulty, mutants, proof

EVERY = 61
PARTS = 40


@cache
def some() -> list[tuple[str, str, str]]:
    return list(mutants(EVERY))


@pytest.mark.parametrize("file", faulty(), ids=lambda file: file.stem)
def test_ways_out_of_the_faulty_examples_serve(file):
    found = proof(str(file))
    assert [one for one in found.offered if one.wrong] == []


@pytest.mark.parametrize("part", range(PARTS))
def test_ways_out_of_hazards_serve(part):
    for name, file, text in some()[part::PARTS]:
        found = proof(file, text)
        assert [one for one in found.offered if one.wrong] == [], name


def test_ways_out_are_offered_at_all():
    offered = [one.rule for file in faulty() for one in proof(str(file)).offered]
    assert len(offered) >= 20
    assert len(set(offered)) >= 8
