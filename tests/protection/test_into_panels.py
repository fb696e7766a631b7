"""What comes into a panel by its feed and by its slots, against sums written by hand."""

import networkx as nx
from hypothesis import given, settings, strategies as st

from rigfolio.demand.flows import flows_of
from rigfolio.rules import fuse_over_panel

KINDS = {"solar": "U", "charger": "C", "alternator": "A"}
LOADS = 4


@st.composite
def panels(draw):
    """A panel, the fuse ahead of it, what gives current by its slots, and its total."""
    one = st.tuples(st.sampled_from(sorted(KINDS)), st.sampled_from([5, 10, 20]),
                    st.sampled_from([10, 15, 20]))  # fmt: skip
    return (
        draw(st.sampled_from([30, 40, 50, 60])),
        draw(st.sampled_from([40, 50, 60, 75])),
        draw(st.lists(one, max_size=3)),
        draw(st.sampled_from([5, 10, 20])),
    )


def written(panel):
    """The text of a panel with four loads of 1 A, each behind a fuse."""
    feed, total, sources, branch = panel
    lines = ['rig "Panel"', "    system 12 V", "    rules rv", "battery B1 agm, 100 Ah",
             "busbar N1 200 A", f"panel P1 12 slots of 20 A, {total} A in all",
             f"wire B1+ to P1 1/0 AWG red 1 ft, fuse {feed} A at B1+",
             "wire N1 to B1- 1/0 AWG black 1 ft"]  # fmt: skip
    for number in range(1, LOADS + 1):
        lines += [f'circuit P1.{number} "Lamp {number}" fuse {branch} A',
                  "    wire 10 AWG red 2 ft", f'    load "Lamp {number}" 1 A']  # fmt: skip
    for number, (kind, most, fuse) in enumerate(sources, start=LOADS + 1):
        name = f"{KINDS[kind]}{number}"
        lines += [f"{kind} {name} {most} A", f"wire {name}- to N1 10 AWG black 2 ft",
                  f'circuit P1.{number} "In {number}" fuse {fuse} A',
                  f"    wire 10 AWG red 2 ft to {name}+"]  # fmt: skip
    return "\n".join(lines) + "\n"


def most_a(panel):
    """The largest flow from all that runs at one time into the bar, and by slots out of it [A]."""
    feed, _, sources, branch = panel
    found = []
    for off in ("charger", "alternator"):
        net = nx.DiGraph()
        net.add_edge("all", "bar", capacity=feed)
        for number, (kind, most, fuse) in enumerate(sources):
            if kind != off:
                net.add_edge("all", number, capacity=most)
                net.add_edge(number, "bar", capacity=fuse)
        found.append(nx.maximum_flow_value(net, "all", "bar"))
    return max(found), LOADS * branch


@settings(settings.get_profile("study"))
@given(panel=panels())
def test_a_panel_is_told_of_where_more_can_run_in_and_out_than_it_is_made_for(study_of, panel):
    study = study_of(written(panel))
    told = list(fuse_over_panel.check(study))
    into_a, out_a = most_a(panel)
    total = panel[1]
    assert bool(told) == (into_a > total and out_a > total)
    for one in told:
        numbers = dict(one.numbers)
        assert numbers["total_a"] == total
        # A feed that is too large by itself is told by itself.
        assert numbers.get("inflow_a", panel[0]) == (panel[0] if panel[0] > total else into_a)


def test_what_comes_in_by_a_slot_draws_nothing_by_it(study_of):
    """A second battery in a slot serves the four lamps through its own slot: 4 A, not 8 A."""
    more = "battery B2 agm, 100 Ah\nwire B2- to N1 4 AWG black 2 ft\n"
    more += 'circuit P1.9 "Second" fuse 20 A\n    wire 10 AWG red 2 ft to B2+\n'
    flows = flows_of(study_of(written((50, 75, [], 10)) + more))
    slots = ["P1.1", "P1.2", "P1.3", "P1.4", "P1.9"]
    assert flows.together_a(slots) == 4.0
    assert flows.together_a(slots[:2]) == 2.0
