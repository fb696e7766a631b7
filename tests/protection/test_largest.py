"""The largest device of a circuit is never above what the weakest part on its way may carry."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import RIGS
from helpers.studies import studied, study_from
from rigfolio.books.fuses import fuse_families, fuse_series
from rigfolio.protection.fitted import largest_words
from rigfolio.protection.limits import largest_for_wires, largest_fuse_of
from rigfolio.wording.parts import amps

HEAD = """rig "Chain"
    rules rv
battery B1 "Bank" 100 Ah
busbar N1
panel P1 "House" 4 slots of {slot} A, {total} A in all, negative N1
wire B1+ to P1 2/0 AWG red 3 ft, fuse 100 A at B1+
wire N1 to B1- 2/0 AWG black 3 ft
"""
# NFPA 70 Table 552.10(E)(1), largest device by gauge; from memory, as the book has it.
GAUGES = {"16": 8.0, "14": 15.0, "12": 20.0, "10": 30.0}
RATINGS = st.sampled_from((3.0, 4.0, 6.0, 9.0, 12.0, 18.0, 25.0, 33.0))


@st.composite
def chains(draw):
    """A circuit through parts of any order and rating, and what the weakest of them bears."""
    slot, total = draw(RATINGS), draw(RATINGS)
    lines, least = [HEAD.format(slot=slot, total=total)], min(slot, total)
    run = ['circuit P1.1 "Chain" fuse 2 A']
    for number, word in enumerate(draw(st.lists(st.sampled_from(("switch", "")), max_size=3))):
        gauge = draw(st.sampled_from(sorted(GAUGES)))
        least = min(least, GAUGES[gauge])
        run.append(f"    wire {gauge} AWG red {draw(st.integers(1, 9))} ft")
        if word:
            rated = draw(RATINGS)
            least = min(least, rated)
            run.append(f'    switch K{number} "Switch" {rated:g} A')
    gauge = draw(st.sampled_from(sorted(GAUGES)))
    end = draw(st.sampled_from(("load", "panel", "plug", "bar")))
    rated = draw(RATINGS)
    least = min(least, GAUGES[gauge], *([rated] if end != "load" else []))
    to = {"panel": " to P2", "plug": " to J1.1.line", "bar": " to D2"}.get(end, "")
    run.append(f"    wire {gauge} AWG red 4 ft{to}")
    if end == "load":
        run.append('    load "Lamp" 1 A')
    elif end == "panel":
        lines.append(f'panel P2 "Bunk" 2 slots of 30 A, {rated:g} A in all, negative N1')
        run += ['circuit P2.1 "Bunk" fuse 1 A', "    wire 16 AWG red 2 ft", '    load "Fan" 0.5 A']
    elif end == "plug":
        lines.append(f'connector J1 "Plug" 2 pins of {rated:g} A')
        lines.append('load L1 "Trailer lamp" 1 A')
        more = draw(st.sampled_from(sorted(GAUGES)))
        least = min(least, GAUGES[more])
        run += [f"wire J1.1.load to L1+ {more} AWG red 4 ft", "wire L1- to N1 10 AWG black 4 ft"]
    else:
        lines.append(f'busbar D2 "Bar" {rated:g} A')
        lines.append('load L1 "Lamp" 1 A')
        more = draw(st.sampled_from(sorted(GAUGES)))
        least = min(least, GAUGES[more])
        run += [f"wire D2 to L1+ {more} AWG red 4 ft", "wire L1- to N1 10 AWG black 4 ft"]
    return "\n".join([*lines, *run]) + "\n", least


@settings(max_examples=80, deadline=None, derandomize=True)
@given(chains())
def test_it_is_what_the_weakest_part_bears(chain):
    text, least = chain
    study = study_from(text)
    circuit = study.circuit("P1.1")
    assert largest_fuse_of(study, circuit).value == pytest.approx(least)
    assert largest_for_wires(study, circuit).value >= least
    words = largest_words(study, circuit, short=False)
    made = [rating for rating in fuse_series("regular") if rating <= least]
    assert words == (amps(max(made)) if made else "none made")


def test_a_pin_in_the_return_counts_as_well():
    text = HEAD.format(slot=20, total=30) + (
        'connector J1 "Plug" 2 pins of 6 A\n'
        'circuit P1.1 "Lamp" fuse 2 A\n    wire 10 AWG red 2 ft\n    load "Lamp" 1 A\n'
        "    return to J1.2.load 10 AWG black 2 ft\n"
        "wire J1.2.line to N1 10 AWG black 2 ft\n"
    )
    study = study_from(text)
    assert largest_fuse_of(study, study.circuit("P1.1")).value == 6.0


def test_a_bar_in_the_return_counts_as_well():
    text = HEAD.format(slot=20, total=30) + (
        'busbar N2 "Aft minus" 9 A\n'
        'circuit P1.1 "Lamp" fuse 2 A\n    wire 10 AWG red 2 ft\n    load "Lamp" 1 A\n'
        "    return to N2 10 AWG black 2 ft\n"
        "wire N2 to N1 10 AWG black 2 ft\n"
    )
    study = study_from(text)
    assert largest_fuse_of(study, study.circuit("P1.1")).value == 9.0


def test_a_wire_of_unknown_size_leaves_it_unknown():
    text = HEAD.format(slot=20, total=30) + 'circuit P1.1 "L" fuse 2 A\n    wire ? red 2 ft\n'
    study = study_from(text + '    load "Lamp" 1 A\n')
    assert largest_fuse_of(study, study.circuit("P1.1")) is None
    assert largest_words(study, study.circuit("P1.1")) == "max fuse ?"


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_is_printed_is_a_rating_that_is_made(file):
    study = studied(file)
    every = {rating for family in fuse_families() for rating in fuse_series(family)}
    for circuit in study.rig.circuits:
        figure = re.fullmatch(r"([\d.]+) A", largest_words(study, circuit, short=False))
        assert figure is not None
        assert float(figure[1]) in every
        assert float(figure[1]) <= largest_fuse_of(study, circuit).value
