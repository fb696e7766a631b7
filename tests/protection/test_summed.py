"""Strings of batteries on a charged bar, against what is left when a short has opened its fuses.

A short at the bar end of a lead is worked out by nodes, with numpy: batteries with their inner
resistance, chargers as sources of current. Fuses that carry more than twice their rating open, one
after another, until none does (ISO 8820-3: at twice the rating within seconds; from memory). What
still runs into the lead then must be no more than it may carry, and so must the rating of each fuse
by itself, which a fault of any resistance may draw.
"""

import numpy as np
from hypothesis import given, settings, strategies as st

from rigfolio.protection.exposure import exposures_of, summed_of
from rigfolio.protection.guard import guard_of
from rigfolio.protection.limits import limit_of

SIZES = ["6", "4", "2", "1/0"]
INNER_OHM, SHORT_OHM, REST_V = 0.010, 0.001, 12.7


@st.composite
def strings(draw):
    """Strings of a gauge and a fuse, and what chargers on the bar give."""
    one = st.tuples(st.sampled_from(SIZES), st.sampled_from([40, 50, 60, 80, 100]))
    return (
        draw(st.lists(one, min_size=2, max_size=4)),
        draw(st.lists(st.sampled_from([10, 20, 40, 60]), max_size=2)),
    )


def written(bank):
    """The text of a bank; string n has lead Ln and fuse Fn."""
    leads, chargers = bank
    lines = ['rig "Bank"', "    system 12 V", "    rules rv", "busbar D1", "busbar N1"]
    for number, (size, fuse) in enumerate(leads):
        lines += [f"battery B{number} agm, 100 Ah, internal 10 mohm",
                  f"fuse F{number} {fuse} A on B{number}+",
                  f"wire F{number} to D1 {size} AWG red 4 ft tag L{number}",
                  f"wire B{number}- to N1 4/0 AWG black 4 ft"]  # fmt: skip
    for number, most in enumerate(chargers):
        lines += [f"charger C{number} {most} A",
                  f"wire C{number}+ to D1 1/0 AWG red 4 ft, fuse 80 A at D1",
                  f"wire C{number}- to N1 1/0 AWG black 4 ft"]  # fmt: skip
    return "\n".join(lines) + "\n"


def left_a(fuses, chargers):
    """What still runs into a short on the bar once no fuse carries twice its rating [A]."""
    closed = np.array(fuses, dtype=float)
    while True:
        conductance = len(closed) / INNER_OHM + 1.0 / SHORT_OHM
        bar_v = (len(closed) * REST_V / INNER_OHM + sum(chargers)) / conductance
        each_a = (REST_V - bar_v) / INNER_OHM
        held = closed[each_a <= 2.0 * closed]
        if len(held) == len(closed):
            return bar_v / SHORT_OHM
        closed = held


@settings(settings.get_profile("study"))
@given(bank=strings())
def test_a_lead_is_in_danger_where_a_short_or_one_fuse_alone_overloads_it(study_of, bank):
    leads, chargers = bank
    study = study_of(written(bank))
    wires = {wire.name: wire for wire in study.rig.conductors}
    told = {(one.wire.name, one.end) for one in exposures_of(study)}
    summed = {(one.wire.name, one.end) for one in summed_of(study)}
    for number, (_, own) in enumerate(leads):
        others = [fuse for place, (_, fuse) in enumerate(leads) if place != number]
        limit = limit_of(study, wires[f"L{number}"])
        assert limit is not None
        key = (f"L{number}", "D1")
        is_more = sum(others) + sum(chargers) > limit.value
        lasting = max(left_a(others, chargers), *others) > limit.value
        # A lead whose own fuse is too large is told of; its far end has no guard then either.
        in_danger = is_more and (lasting or own > limit.value)
        assert (key in told) == in_danger
        assert (key in summed) == (is_more and not in_danger)
        assert ((f"L{number}", f"F{number}.load") in told) == (own > limit.value)


BANK = """rig "Bank"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
battery B2 agm, 100 Ah
busbar D1
busbar N1
wire B1+ to D1 6 AWG red 4 ft, fuse 60 A at B1+ tag L1
wire B1- to N1 2 AWG black 4 ft
wire B2- to N1 2 AWG black 4 ft
"""
SECOND = "wire B2+ to D1 6 AWG red 4 ft, fuse 50 A at B2+ tag L2\n"
CHARGER = """charger C1 20 A
wire C1+ to D1 8 AWG red 4 ft, fuse 30 A at D1
wire C1- to N1 8 AWG black 4 ft
"""


def names(exposures):
    """The wires told of."""
    return {one.wire.name for one in exposures}


def test_a_battery_by_two_fuses_counts_as_opening_neither(study_of):
    study = study_of(BANK + SECOND + SECOND.replace("L2", "L3"))
    # Nor is either of the two a lead of its own: what comes by the other drives into its far end.
    assert names(exposures_of(study)) == {"L1", "L2", "L3"}
    assert names(summed_of(study)) == set()


def test_a_charger_on_the_post_of_a_battery_leaves_its_lead_a_lead_of_a_battery(study_of):
    # 50 A and 20 A can run into L1 at the bar, above its 65 A; its own end has the battery as well.
    solar = "charger C2 5 A\nwire C2+ to B1+ 10 AWG red 4 ft, fuse 10 A at B1+\n"
    study = study_of(BANK + SECOND + CHARGER + solar + "wire C2- to N1 10 AWG black 4 ft\n")
    assert names(summed_of(study)) == {"L1", "L2"}
    assert names(exposures_of(study)) == set()


def test_a_lead_bears_a_fuse_of_just_what_it_may_carry(study_of):
    # 10 AWG and 30 A (NFPA 70 Table 552.10(E)(1), from memory): 30 A and 20 A come together, and
    # each of them by itself is no more than the lead bears.
    bank = (
        (BANK + SECOND).replace("6 AWG", "10 AWG").replace("60 A", "30 A").replace("50 A", "30 A")
    )
    study = study_of(bank + CHARGER)
    assert names(summed_of(study)) == {"L1", "L2"}
    assert names(exposures_of(study)) == set()


def test_a_feed_with_its_fuse_at_the_far_end_is_no_lead_of_a_battery(study_of):
    # The same two fuses ahead, a fuse for the wire at its end, and a load instead of a battery.
    feed = "load M1 5 A\nfuse F9 50 A\nwire D1 to F9 6 AWG red 4 ft tag L9\n"
    feed += "wire F9 to M1+ 6 AWG red 4 ft\nwire M1- to N1 6 AWG black 4 ft\n"
    study = study_of(BANK + SECOND + feed)
    assert "L9" in names(exposures_of(study))
    assert "L9" not in names(summed_of(study))


def test_what_hangs_on_the_lead_can_draw_the_sum_through_it(study_of):
    two = "splice Z1\nload M1 5 A\nwire B2+ to Z1 6 AWG red 4 ft, fuse 50 A at B2+ tag L2\n"
    two += "wire Z1 to D1 6 AWG red 4 ft tag L3\nwire Z1 to M1+ 1/0 AWG red 4 ft\n"
    two += "wire M1- to N1 1/0 AWG black 4 ft\n"
    study = study_of(BANK + two + CHARGER)
    assert "L3" in names(exposures_of(study))
    assert "L3" not in names(summed_of(study))


def test_each_fuse_guards_such_a_lead_against_its_own_battery(study_of):
    study = study_of(BANK + SECOND + CHARGER)
    assert names(summed_of(study)) == {"L1", "L2"}
    wire = study.rig.by_name.conductors["L1"]
    guard = guard_of(study, wire)
    assert guard.why == "guarded"
    by = {one.source.about.name: [d.about.name for d in one.devices] for one in guard.against}
    assert by["B1"] == ["L1 fuse"]
    assert by["B2"] == ["L2 fuse"]
