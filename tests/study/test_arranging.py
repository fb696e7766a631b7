"""The slot order: proved against all orders of small panels, and by hand."""

from functools import cache
from itertools import permutations

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.answers.arrange import arranging_report, slot_edits
from rigfolio.judgement.result import check
from rigfolio.lang.edits import apply
from rigfolio.reports import as_text
from rigfolio.study import Study
from rigfolio.swap.slots import Arrangement, Places, arrange, arranged, is_allowed

HEAD = """rig "Arr"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
busbar N1 100 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
"""


def study_of(text: str) -> Study:
    result = check("arr.rig", text=text)
    assert result.study is not None, [finding.headline for finding in result.findings]
    return result.study


def best(text: str) -> Arrangement:
    study = study_of(text)
    return arrange(study, study.rig.panels[0])


def circuit(slot: int, amps: float, more: str = "", wire: str = "") -> str:
    return (
        f'circuit P1.{slot} "C{slot}" fuse 15 A{more}\n    wire 14 AWG blue 10 ft{wire}\n'
        f'    load "L{slot}" {amps} A\n'
    )


def slots(found: Arrangement) -> dict[str, int]:
    return {seat.circuit.label: seat.slot for seat in found.seats}


FREE = ", tail 500 mm, breakout 0.1 mm"


def test_the_heaviest_goes_by_the_feed() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, pitch 100 mm\n"
    text += circuit(1, 1, wire=FREE) + circuit(2, 2, wire=FREE) + circuit(3, 12, wire=FREE)
    assert slots(best(text))["C3"] == 1
    assert slots(best(text.replace("pitch", "feed last, pitch")))["C3"] == 4


def test_a_circuit_that_stays_put_stays() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, pitch 100 mm\n"
    text += circuit(1, 1, ", stays put", FREE) + circuit(3, 12, wire=FREE)
    assert slots(best(text)) == {"C1": 1, "C3": 2}


def test_circuits_that_belong_together_stand_together() -> None:
    text = f"{HEAD}panel P1 6 slots of 20 A, pitch 10 mm\n"
    text += circuit(1, 5, wire=FREE) + circuit(6, 1, ", beside P1.1", FREE)
    found = slots(best(text))
    assert abs(found["C1"] - found["C6"]) == 1


def test_a_wire_that_does_not_reach_is_extended_by_what_is_missing() -> None:
    # Slot 4 lies 3 x 20 mm along; the loom gives the wire at 0: 60 + 50 mm of loop, tail 40 mm.
    text = f"{HEAD}panel P1 4 slots of 20 A, pitch 20 mm\nslot P1.1 blank\nslot P1.2 blank\n"
    text += circuit(3, 5, ", stays put") + circuit(4, 1, wire=", tail 40 mm, breakout 0.1 mm")
    study = study_of(text)
    places = Places(study, study.rig.panels[0])
    assert places.extend_m(study.rig.circuits[1], 3) == pytest.approx(0.0399 + 0.05 - 0.04)
    assert places.extend_m(study.rig.circuits[1], 4) == 0.0


def test_a_tail_that_nobody_measured_keeps_its_slot() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, pitch 100 mm\n{circuit(1, 1)}{circuit(4, 14)}"
    assert slots(best(text)) == {"C1": 1, "C4": 4}


def test_columns_carry_alike() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, 2 columns, pitch 1 mm\n"
    text += "".join(circuit(slot, 6, wire=FREE) for slot in (1, 2))
    assert best(text).sides_a == pytest.approx((6.0, 6.0))


def test_a_column_that_may_not_carry_that_much_says_so() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, 2 columns, 5 A a side\n{circuit(1, 6, wire=FREE)}"
    found = best(text)
    assert found.seats == ()
    assert "every column" in found.why


def test_more_circuits_than_slots() -> None:
    text = f"{HEAD}panel P1 2 slots of 20 A\nslot P1.2 blank\n{circuit(1, 6)}"
    assert best(text).why == ""
    assert "1 circuits more than the panel has slots" in best(text + circuit(5, 5)).why


def test_circuits_of_a_larger_panel_find_a_slot_in_a_smaller_one() -> None:
    text = f"{HEAD}panel P1 3 slots of 20 A, pitch 20 mm\n"
    text += circuit(1, 6, ", stays put") + circuit(7, 5, wire=FREE) + circuit(9, 1, wire=FREE)
    found = best(text)
    assert slots(found) == {"C1": 1, "C7": 2, "C9": 3}
    edits = slot_edits(study_of(text).rig, {"arr.rig": text}, [found])["arr.rig"]
    assert 'circuit P1.2 "C7"' in apply(text, edits)


_panels = st.tuples(
    st.integers(2, 6),
    st.integers(1, 2),
    st.booleans(),
    st.lists(
        st.tuples(
            st.sampled_from((0.5, 2.0, 5.0, 11.0)),
            st.sampled_from(("", ", tail 60 mm, breakout 0.1 mm", ", tail 90 mm, breakout 40 mm",
                             ", tail 200 mm, breakout 20 mm")),
            st.sampled_from(("", "", ", stays put", ", beside P1.1")),
        ),
        min_size=1, max_size=5,
    ),
)  # fmt: skip


@settings(derandomize=True, max_examples=60, deadline=None)
@given(_panels)
def test_no_order_is_better_than_the_one_that_is_proposed(
    drawn: tuple[int, int, bool, list[tuple[float, str, str]]],
) -> None:
    count, columns, across, circuits = drawn
    circuits = circuits[:count]
    text = f"{HEAD}panel P1 {count} slots of 20 A, {columns} columns, pitch 30 mm"
    text += f"{', numbered across' if across else ''}\n"
    for slot, (amps, wire, more) in enumerate(circuits, start=1):
        alone = slot == 1 and "beside" in more
        text += circuit(slot, amps, "" if alone else more, wire)
    study = study_of(text)
    places = Places(study, study.rig.panels[0])
    found = arrange(study, study.rig.panels[0])
    every = [
        arranged(places, order).cost
        for order in permutations(places.slots, len(places.circuits))
        if is_allowed(places, order)
    ]
    if not every:
        assert found.seats == ()
        return
    assert found.seats
    assert found.cost == pytest.approx(min(every), abs=1e-4)


@cache
def large() -> Study:
    text = f"{HEAD}panel P1 60 slots of 20 A, 2 columns, pitch 14 mm\n"
    for slot in range(1, 56):
        wire = f", tail {80 + 7 * slot % 200} mm, breakout {(slot * 37) % 400 + 1} mm"
        text += circuit(slot, 1 + slot % 9, ", stays put" if slot % 10 == 0 else "", wire)
    return study_of(text)


def test_sixty_slots_are_solved_and_no_slot_is_used_twice() -> None:
    found = arrange(large(), large().rig.panels[0])
    assert len({seat.slot for seat in found.seats}) == 55
    assert all(not seat.moves for seat in found.seats if seat.circuit.stays)


def test_only_slot_numbers_are_edited() -> None:
    text = f"{HEAD}panel P1 4 slots of 20 A, pitch 100 mm\n"
    text += circuit(1, 1, wire=FREE) + circuit(4, 12, wire=FREE)
    text += 'slot P1.2 spare    # keep me, P1.4\nnote P1.4 "hot"\n'
    study = study_of(text)
    found = [arrange(study, study.rig.panels[0])]
    new = slots(found[0])
    edits = slot_edits(study.rig, {"arr.rig": text}, found)["arr.rig"]
    after = apply(text, edits)
    again = study_of(after)
    assert {c.label: c.slot for c in again.rig.circuits} == new
    assert "# keep me, P1.4" in after
    assert f'note P1.{new["C4"]} "hot"' in after
    assert len(after) == len(text)
    assert "2 of 2 circuits move" in as_text(arranging_report(study, found))
