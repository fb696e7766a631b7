"""The slot order: proved against all orders of small panels, and by hand."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from rigfolio.answers.arrange import arranging_report, slot_edits
from rigfolio.books import balance_cost_m, move_cost_am, service_loop_m
from rigfolio.judgement.result import check
from rigfolio.lang.edits import apply
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study
from rigfolio.swap.slots import Arrangement, Places, arrange

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
    text = f"{HEAD}panel P1 4 slots of 20 A, 2 columns, pitch 3 mm\n"
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
    assert "1 circuit more than the panel has slots" in best(text + circuit(5, 5)).why


def test_circuits_of_a_larger_panel_find_a_slot_in_a_smaller_one() -> None:
    text = f"{HEAD}panel P1 3 slots of 20 A, pitch 20 mm\n"
    text += circuit(1, 6, ", stays put") + circuit(7, 5, wire=FREE) + circuit(9, 1, wire=FREE)
    found = best(text)
    assert slots(found) == {"C1": 1, "C7": 2, "C9": 3}
    edits = slot_edits(study_of(text).rig, {"arr.rig": text}, [found])["arr.rig"]
    assert 'circuit P1.2 "C7"' in apply(text, edits)


@dataclass(frozen=True)
class Wire:
    """A circuit as it is drawn: what runs in it, its tail, where its wire leaves the loom."""

    amps: float
    tail_m: float | None
    breakout_m: float
    wish: str

    def text(self, slot: int) -> str:
        known = self.tail_m is not None
        more = f", tail {self.tail_m:g} m, breakout {self.breakout_m:g} m" if known else ""
        return circuit(slot, self.amps, self.wish, more)


@dataclass(frozen=True)
class Drawn:
    """A panel, and what each order of its circuits costs, reckoned from what was drawn alone."""

    count: int
    columns: int
    across: bool
    feed_last: bool
    blank: int
    side_a: float | None
    wires: tuple[Wire, ...]

    @property
    def text(self) -> str:
        panel = [f"panel P1 {self.count} slots of 20 A, {self.columns} columns, pitch 30 mm"]
        panel += ["numbered across"] * self.across + ["feed last"] * self.feed_last
        panel += [f"{self.side_a:g} A a side"] if self.side_a else []
        blank = f"slot P1.{self.blank} blank\n" if self.blank else ""
        body = "".join(wire.text(slot) for slot, wire in enumerate(self.wires, start=1))
        return f"{HEAD}{', '.join(panel)}\n{blank}{body}"

    def cell(self, slot: int) -> tuple[int, int]:
        rows = math.ceil(self.count / self.columns)
        if self.across:
            return (slot - 1) % self.columns, (slot - 1) // self.columns
        return (slot - 1) // rows, (slot - 1) % rows

    def sides_a(self, order: Sequence[int]) -> list[float]:
        sides = [0.0] * self.columns
        for wire, slot in zip(self.wires, order, strict=True):
            sides[self.cell(slot)[0]] += wire.amps
        return sides

    def is_allowed(self, order: Sequence[int]) -> bool:
        column, row = self.cell(order[0])
        near = ((column, row - 1), (column, row + 1))
        for own, (wire, slot) in enumerate(zip(self.wires, order, strict=True), start=1):
            if slot == self.blank or ("stays" in wire.wish and slot != own):
                return False
            if "beside" in wire.wish and self.cell(slot) not in near:
                return False
        return self.side_a is None or max(self.sides_a(order)) <= self.side_a + 1e-9

    def cost(self, order: Sequence[int]) -> tuple[float, float, float]:
        extended, length_m, rest = 0, 0.0, 0.0
        for own, (wire, slot) in enumerate(zip(self.wires, order, strict=True), start=1):
            row, last = self.cell(slot)[1], math.ceil(self.count / self.columns) - 1
            rest += wire.amps * 0.03 * (last - row if self.feed_last else row)
            if slot == own:
                continue
            rest += move_cost_am().value
            if wire.tail_m is None:
                extended += 1
                continue
            along_m = abs(0.03 * row - wire.breakout_m)
            short_m = along_m + service_loop_m().value - wire.tail_m
            extended += short_m > 1e-9
            length_m += max(short_m, 0.0)
        sides_a = self.sides_a(order)
        rest += balance_cost_m().value * (max(sides_a) - min(sides_a))
        # Rounded: which of two equal orders is taken must not turn on the last digit.
        return extended, round(length_m, 9), rest


@st.composite
def panels(draw: st.DrawFn) -> Drawn:
    count = draw(st.integers(2, 6))
    wires = []
    for slot in range(1, draw(st.integers(1, min(count, 5))) + 1):
        wish = draw(st.sampled_from(("", "", "", ", stays put", ", beside P1.1")))
        wish = "" if slot == 1 and "beside" in wish else wish
        tail_m, breakout_m = draw(
            st.sampled_from(((None, 0.0), (0.06, 0.001), (0.09, 0.04), (0.2, 0.02)))
        )
        amps = draw(st.sampled_from((0.5, 2.0, 5.0, 11.0)))
        wires.append(Wire(amps, tail_m, breakout_m, wish))
    free = [0, 0, *range(len(wires) + 1, count + 1)]
    return Drawn(
        count, draw(st.integers(1, 2)), draw(st.booleans()), draw(st.booleans()),
        draw(st.sampled_from(free)), draw(st.sampled_from((None, None, 12.0, 20.0))),
        tuple(wires),
    )  # fmt: skip


@settings(max_examples=120)
@given(panels())
def test_no_order_is_better_than_the_one_that_is_proposed(drawn: Drawn) -> None:
    found = best(drawn.text)
    orders = permutations(range(1, drawn.count + 1), len(drawn.wires))
    every = {order: drawn.cost(order) for order in orders if drawn.is_allowed(order)}
    if not every:
        assert found.seats == ()
        assert found.why
        return
    proposed = {seat.circuit.label: seat.slot for seat in found.seats}
    order = tuple(proposed[f"C{own}"] for own in range(1, len(drawn.wires) + 1))
    assert order in every
    assert every[order] == pytest.approx(min(every.values()), abs=1e-4)
    assert found.cost == pytest.approx(every[order], abs=1e-6)
    assert found.sides_a == pytest.approx(drawn.sides_a(order))


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
    assert "2 of 2 circuits to be moved" in as_text(arranging_report(study, found))


def test_what_nobody_knows_is_never_told_as_nothing() -> None:
    study = study_of(
        'rig "T"\n    system 12 V\n    rules rv\nbattery B1 100 Ah\npanel P1 4 slots of 20 A\n'
        'busbar N1\nwire B1+ to P1 6 AWG 3 ft\nwire N1 to B1- 6 AWG 3 ft\n'
        'circuit P1.1 "Heater" fuse 10 A\n    wire ?\n    load "Heater" ?\n'
        'circuit P1.2 "Lamp" fuse 5 A\n    wire 16 AWG 5 ft\n'
        '    load "Lamp" 2 A\n    load "Bell" ?\n'
    )  # fmt: skip
    told = as_text(arranging_report(study, [arrange(study, study.rig.panels[0])]))
    assert [line.split()[2:4] for line in told.splitlines() if " Heater " in line] == [["?", "A"]]
    assert " 0 A" not in told
    assert "2 A" in told
