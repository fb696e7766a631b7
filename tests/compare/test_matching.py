"""Circuits of two versions paired in turns, held against all pairs in one heap."""

from itertools import product

from hypothesis import given, settings, strategies as st

from rigfolio.compare import match
from rigfolio.judgement import understood
from rigfolio.model import Circuit, Rig

NAMES = ("Pump", "pump", "Lamp", "Fan", "?", "")
GAUGES = ("14 AWG red", "12 AWG red", "16 AWG black")
LOADS = (("Pump", "5 A"), ("Lamp", "6 W"), ("Fan", "2 A"))

circuits = st.lists(
    st.tuples(
        st.integers(1, 8),
        st.sampled_from(NAMES),
        st.sampled_from(GAUGES),
        st.lists(st.sampled_from(LOADS), min_size=1, max_size=2, unique=True),
    ),
    max_size=8,
    unique_by=lambda one: one[0],
)


def rig_of(said: list[tuple[int, str, str, list[tuple[str, str]]]]) -> Rig:
    lines = [
        "battery B1 lithium, 105 Ah, delivers 50 kA",
        "busbar  N1 150 A",
        "panel   P1 8 slots of 20 A",
        "wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+",
        "wire N1 to B1- 6 AWG black 3 ft",
    ]
    for slot, name, gauge, loads in said:
        label = f' "{name}"' if name else ""
        lines.append(f"circuit P1.{slot}{label} fuse 5 A")
        lines += [f"    wire   {gauge} 6 ft", "    return 14 AWG black 6 ft to N1"]
        lines += [f'    load   "{label}" {draws}' for label, draws in loads]
    study = understood("x.rig", text="".join(f"{line}\n" for line in lines)).study
    assert study is not None
    return study.rig


def plainly(before: Rig, after: Rig) -> tuple[match.Pair, ...]:
    """Every circuit held against every other one, those most alike first."""
    were, are = match._known(before), match._known(after)
    scores = sorted(
        (-likeness, i, j)
        for (i, old), (j, new) in product(enumerate(were), enumerate(are))
        if match._have_something_alike(old, new)
        and (likeness := match._likeness(before, after, old, new)) >= match._ENOUGH
    )
    taken: dict[int, int] = {}
    for _, i, j in scores:
        if j not in taken and i not in taken.values():
            taken[j] = i
    left = (old for i, old in enumerate(before.circuits) if i not in taken.values())
    paired: list[tuple[Circuit | None, Circuit | None]] = [
        (before.circuits[taken[j]] if j in taken else None, new)
        for j, new in enumerate(after.circuits)
    ]
    return (*paired, *((old, None) for old in left))


@settings(max_examples=60, deadline=None)
@given(circuits, circuits)
def test_in_turns_the_same_circuits_are_paired(some, others):
    before, after = rig_of(some), rig_of(others)
    assert match.matched_circuits(before, after) == plainly(before, after)
