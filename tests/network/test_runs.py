"""Conductors that are one piece of wire, and where a piece has its ends."""

from collections import Counter

from hypothesis import given, settings, strategies as st

from helpers.diagram_rigs import KINDS, text_of
from helpers.home import EXAMPLES
from helpers.studies import studied, study_from
from rigfolio.network.runs import ends_of_run, runs_of


@settings(max_examples=60, deadline=None, derandomize=True)
@given(kind=st.sampled_from(KINDS), seed=st.integers(0, 400))
def test_every_conductor_is_in_one_piece_and_a_piece_hangs_together(kind, seed):
    rig = study_from(text_of(kind, seed)).rig
    runs = runs_of(rig)
    assert Counter(w.name for run in runs for w in run) == Counter(w.name for w in rig.conductors)
    for run in runs:
        counts = Counter(end for wire in run for end in (wire.a, wire.b))
        inner = {end for end, count in counts.items() if count == 2}
        assert set(ends_of_run(run)) == counts.keys() - inner
        assert len({(w.circuit, w.size, w.colour, w.count) for w in run}) == 1
        # Nothing else lands where two conductors of a piece meet.
        others = [end for wire in rig.conductors if wire not in run for end in (wire.a, wire.b)]
        others += [end for each in rig.devices for end in (each.line, each.load)]
        others += [end for each in rig.loads for end in (each.plus, each.minus)]
        others += [each.terminal for each in rig.junctions]
        assert not inner & set(others)


def test_a_change_of_copper_or_colour_is_a_joint():
    text = """rig "Two"
    rules rv
battery B1
panel P1 "House" 2 slots of 20 A
wire B1+ to P1 6 AWG red 3 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 3 ft
    wire {} 4 ft bundle of 3 wires
    load "Lamp" 1 A
"""

    def plus(second):
        runs = runs_of(study_from(text.format(second)).rig)
        return next(run for run in runs if run[0].name == "P1.1/1")

    assert len(plus("14 AWG red")) == 2
    assert len(plus("12 AWG red")) == len(plus("14 AWG blue")) == len(plus("14 AWG ?")) == 1


def test_the_conduit_of_the_mast_and_a_switch_in_the_return():
    rig = studied(EXAMPLES / "kittiwake-30.rig").rig
    runs = {tuple(wire.name for wire in run): ends_of_run(run) for run in runs_of(rig)}
    assert runs["P1.2/1", "P1.2/2"] == ("P1.2", "P1.2~2")
    assert set(runs["P1.22/1R", "P1.22/2R"]) == {"N2", "P1.22~2-"}
    assert ("P1.22/1",) in runs
