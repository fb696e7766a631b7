"""What a reading tells, by Shannon's formula and by hand, and where one can be taken."""

from math import hypot, log, sqrt
from types import SimpleNamespace

import pytest

from helpers.forgotten import cache
from helpers.searches import diagnosed
from helpers.studies import heard, study_from
from helpers.tow_rigs import RELAY
from rigfolio.answers.diagnose import _odd, _verdict
from rigfolio.diagnosis.choice import (
    Choice,
    ProbePlace,
    _cells,
    _choice,
    _emf_share,
    _Held,
    _held,
    _Outcome as Cell,
    _places,
    _shown,
    _spread,
    _taken,
    _unknown_bits,
    choices,
    next_reading,
)
from rigfolio.diagnosis.evidence import Evidence
from rigfolio.diagnosis.suspects import Suspect, SuspectKind, suspects
from rigfolio.diagnosis.verdicts import Diagnosis, Trial, Verdict
from rigfolio.operating import NOTHING_WRONG, Wrong
from rigfolio.reading.logs.meter import read_log
from rigfolio.record import replace
from rigfolio.study import Study

RIG = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
battery B2 agm, 50 Ah, internal 20 mohm
panel P1 3 slots of 20 A
busbar N1 100 A
fuse F1 30 A
wire B1+ to P1 6 AWG red 1 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 1 ft
wire B2- to N1 6 AWG black 1 ft
circuit P1.1 "Lights" fuse 10 A
    wire 16 AWG red 10 ft
    load "Galley lamp" 1 A
    wire 16 AWG red 6 ft
    load "Bunk lamp" 1 A
circuit P1.2 "Roof fan" fuse 5 A
    wire 16 AWG blue 10 ft
    load "Fan" 3 A, motor
circuit P1.3 "Clock" fuse 1 A
    wire 16 AWG blue 3 ft
    load "Clock" 0.1 A
wire B1+ to F1.line 10 AWG red 1 ft
circuit F1.load "Signal"
    wire 14 AWG brown 10 ft
    load "Horn" 5 A, intermittent
"""
POST = """
rig "Bench"
    system 12 V
    rules vehicle
battery B1 agm, 100 Ah, internal 20 mohm
circuit B1+ "Lamp" fuse 5 A
    wire 16 AWG red 3 ft
    load "Lamp" 12 W
    return black to B1-
"""
OHMS = ProbePlace("ohms", "P1.2", "N1")
VOLTS = ProbePlace("volts", "P1.2", "N1")
BANK = ProbePlace("volts", "B1+", "B1-")


@cache
def bench() -> Study:
    return study_from(RIG)


def evidence(*lines: str) -> Evidence:
    return Evidence(bench(), heard(bench().rig, *lines))


def verdict(
    kind: SuspectKind, name: str, circuit: str = "", share: float = 0.5, *, touches: bool = True,
    trials: tuple[tuple[float, Trial], ...] = (),
) -> Verdict:  # fmt: skip
    fault = Suspect(kind, name, circuit, 1.0, (1.0,))
    return Verdict((fault,), share, (1.0,), ((1.0, 1.0),), 0.0, touches, trials)


def held(*verdicts: Verdict) -> tuple[_Held, ...]:
    return tuple(_Held(one, one.share, ((1.0, NOTHING_WRONG, ()),)) for one in verdicts)


def told(*shares_and_shown: tuple[float, float], how: str = "volts") -> Choice:
    """What a reading tells that shows so much for each of some faults in different places."""
    place = ProbePlace(how, "a", "b")
    every = held(
        *(verdict("joint", f"W{at}", "", share) for at, (share, _) in enumerate(shares_and_shown))
    )
    cells = [Cell(at, share, shown) for at, (share, shown) in enumerate(shares_and_shown)]
    return _choice(place, cells, every, 0.02, lambda _: 2.0)


def test_a_toss_of_a_coin_is_one_bit() -> None:
    assert _unknown_bits([0.5, 0.5]) == pytest.approx(1.0)
    assert _unknown_bits([3.0, 3.0, 3.0, 3.0]) == pytest.approx(2.0)
    # 1 in 4: 2/4 + 3/4 * log2(4/3) bit.
    assert _unknown_bits([0.25, 0.75]) == pytest.approx(0.8113, abs=1e-4)
    assert _unknown_bits([1.0, 0.0]) == 0.0


def test_a_reading_tells_what_it_leaves_no_more_open() -> None:
    assert told((0.5, 12.0), (0.5, 0.0)).bits == pytest.approx(1.0)
    assert told((0.5, 12.0), (0.5, 12.0)).bits == pytest.approx(0.0, abs=1e-9)
    # One of three is told from two others that stay alike: log2(3) - 2/3 * 1 bit.
    assert told((1.0, 12.0), (1.0, 0.0), (1.0, 0.0)).bits == pytest.approx(log(3, 2) - 2.0 / 3.0)
    # All of it for 2 of work: half a bit each.
    assert told((0.5, 12.0), (0.5, 0.0)).worth == pytest.approx(0.5)


def test_what_lies_within_the_spread_is_told_in_part() -> None:
    # Amperes near 10 A spread by some 1.5 A. Two that lie as far apart as both their spreads
    # together have odds of 1 to exp(-1/2): 0.6225 of 1, which leaves 0.9564 of one bit.
    apart = 10.0
    for _ in range(20):
        apart = 10.0 + hypot(_spread("amperes", 10.0, 0.02), _spread("amperes", apart, 0.02))
    choice = told((0.5, 10.0), (0.5, apart), how="amperes")
    assert choice.bits == pytest.approx(1.0 - 0.9564, abs=2e-4)
    # Twice as likely as the other: who reads 10 A has odds of 0.5 to 0.25 * 0.6065, who reads the
    # other has 0.25 to 0.5 * 0.6065. Of 0.9183 bit that leaves 2/3 * 0.7827 and 1/3 * 0.9933 bit.
    choice = told((0.5, 10.0), (0.25, apart), how="amperes")
    assert choice.bits == pytest.approx(0.9183 - (2.0 * 0.7827 + 0.9933) / 3.0, abs=2e-4)


def test_two_amounts_of_one_fault_are_one_place_to_look_at() -> None:
    one, two = verdict("joint", "W1"), verdict("open wire", "W1")
    cells = [Cell(0, 0.5, 12.0), Cell(1, 0.5, 0.0)]
    assert _choice(VOLTS, cells, held(one, two), 0.02, lambda _: 1.0).bits == 0.0
    # Shares that come to no whole: what is left out has no say.
    cells = [Cell(0, 0.1, 12.0), Cell(1, 0.1, 0.0)]
    pair = held(verdict("joint", "W1", share=0.1), verdict("joint", "W2", share=0.1))
    assert _choice(VOLTS, cells, pair, 0.02, lambda _: 1.0).bits == pytest.approx(1.0)


def test_what_a_reading_leaves_open_by_hand() -> None:
    # Half a per cent and two digits of 0.01 A; loads draw within 15 % of what the text says.
    assert _spread("amperes", -10.0, 0.02) == pytest.approx(hypot(0.05 + 0.02, 1.5))
    # Two digits, half of the gain (it moves all readings together), 2 % of the bank.
    assert _spread("volts", 12.0, 0.02) == pytest.approx(sqrt(0.02**2 + 0.03**2 + 0.24**2))
    # Below 1 V the range of millivolts is taken: a digit is a tenth.
    fine_v = sqrt(0.002**2 + 0.00135**2 + 0.0108**2)
    assert _spread("volts", -0.54, 0.02) == pytest.approx(fine_v)
    # An open line picks up to 0.5 V, which are two deviations.
    assert _spread("volts", -0.5, 0.0) == pytest.approx(sqrt(0.002**2 + 0.00125**2 + 0.25**2))
    assert _spread("volts", 1.0, 0.0) == pytest.approx(sqrt(0.02**2 + 0.0025**2))
    # Where something flows a sound joint takes up to 0.05 V: that is two deviations.
    assert _spread("volts", 0.0, 0.02, is_drop=True) == pytest.approx(hypot(0.002, 0.025))
    # Ohms of a load may be three times as many.
    assert _spread("ohms", 2.0, 0.02) == pytest.approx(log(3.0))


def test_a_bank_that_was_read_leaves_less_open() -> None:
    def share(*lines: str) -> float:
        return _emf_share(Diagnosis(evidence(*lines), ()))

    # 2 % of a bank that nobody read are 0.24 V; one that was read sags by 0.3 %.
    assert share("Fan dead") == share("P1 to P1.2 = 0.1 V") == share("Roof fan = 2 A") == 0.02
    assert share("P1.2 to N1 = 4 ohm") == 0.02
    assert share("P1.2 = 12.3 V") == share("Fan dead", "B1 = 12.3 V") == 0.003


def trials(*weighed: tuple[float, float]) -> tuple[tuple[float, Trial], ...]:
    return tuple(
        (weight, Trial(amount, Wrong(ohm=(("W", amount),)), (), SimpleNamespace()))
        for weight, amount in weighed
    )


def test_what_is_held_is_the_likely_and_that_nothing_read_is_wrong() -> None:
    one = verdict("joint", "W1", share=0.5, trials=trials((0.8, 1.0), (0.195, 2.0), (0.005, 3.0)))
    pair = verdict("joint", "W2", share=0.3)
    sound = verdict("nothing", "", share=0.15, touches=False)
    aside = verdict("joint", "W8", share=0.048, touches=False)
    rare = verdict("joint", "W9", share=0.002)
    nowhere = SimpleNamespace(
        fit=SimpleNamespace(stand_at=lambda _: ()),
        levels=SimpleNamespace(rest=lambda *_: ((),)),
        onward=SimpleNamespace(place=0),
    )
    every = _held(Diagnosis(nowhere, (one, pair, sound, aside, rare)))
    # What touches nothing and what is rare are told as nothing wrong: 1 less 0.5 less 0.3.
    assert [each.verdict.faults[0].name for each in every] == ["W1", "W2", ""]
    assert [each.share for each in every] == pytest.approx([0.5, 0.3, 0.2])
    assert [weight for weight, _, _ in every[0].ways] == [0.8, 0.195]
    # A pair is held at its one amount.
    assert every[1].ways == ((1.0, pair.wrong, ()),)
    assert every[2].ways == ((1.0, NOTHING_WRONG, ()),)
    # Where next to nothing is left, nothing is held for it.
    most = verdict("joint", "W1", share=0.998)
    assert len(_held(Diagnosis(nowhere, (most, sound)))) == 1


def fake(shown: dict[str, float], at_rest: float = 0.0) -> Diagnosis:
    """A search whose meter shows what is wrong in ohms as volts; at rest one figure."""

    def scene(of) -> SimpleNamespace:
        return SimpleNamespace(solve=lambda wrong, **_: SimpleNamespace(
            between_v=lambda a, b: of(wrong)))  # fmt: skip

    made = scene(lambda wrong: wrong.ohm[0][1])
    rest = scene(lambda _: at_rest)
    read = SimpleNamespace(reading=SimpleNamespace(measure="voltage"), a="B1+", b="B1-")
    return Diagnosis(SimpleNamespace(
        scenes=(made,), draws=(1.0,), numeric=(read,), study=SimpleNamespace(side={"B1+": "+"}),
        onward=SimpleNamespace(scene=made, standing=""),
        scene=lambda standing, on: rest if not on else made,
    ), ())  # fmt: skip


def test_amounts_that_no_meter_tells_apart_stand_together() -> None:
    ways = tuple((weight, trial.wrong, ()) for weight, trial in trials(
        (0.5, 12.0), (0.25, 12.001), (0.25, 11.5)))  # fmt: skip
    one = _Held(verdict("joint", "W1", share=0.6), 0.6, ways)
    cells = _cells(VOLTS, fake({}), (one,))
    # Three quarters of 0.6 near 12 V, a quarter at 11.5 V, ten spreads away.
    assert [(cell.share, cell.shown) for cell in cells] == [
        (pytest.approx(0.45), 12.0), (pytest.approx(0.15), 11.5)
    ]  # fmt: skip
    # Each fault keeps its own, and rare amounts that were left out change no share.
    two = _Held(verdict("joint", "W2", share=0.4), 0.4, ways[:2])
    cells = _cells(VOLTS, fake({}), (one, two))
    assert [(cell.place, round(cell.share, 9)) for cell in cells] == [
        (0, 0.45),
        (0, 0.15),
        (1, 0.4),
    ]
    rest = _cells(ProbePlace("volts at rest", "B1+", "B1-"), fake({}, 12.5), (one,))
    assert [(cell.share, cell.shown) for cell in rest] == [(pytest.approx(0.6), 12.5)]


def places(which: Evidence, *verdicts: Verdict) -> set[ProbePlace]:
    return set(_places(Diagnosis(which, verdicts), held(*verdicts)))


BANKS = {BANK, ProbePlace("volts", "B2+", "B2-")}
OF_FAN = {
    VOLTS,
    ProbePlace("volts", "P1.2", "P1.2~1"),
    ProbePlace("volts", "P1.2~1", "P1.2~1-"),
    ProbePlace("volts", "P1.2~1-", "N1"),
}
HALVES = {
    ProbePlace("volts", "B1+", "P1.2"),
    ProbePlace("volts", "N1", "B1-"),
    ProbePlace("amperes", "P1.2", ""),
}


def test_readings_lie_along_the_way_of_what_is_suspected() -> None:
    # Slot, lamp and minus, across each wire between them, all the way out and all the way back
    # from the bank that feeds; the bank that stands aside by itself alone.
    joint = verdict("joint", "P1.2/1", "P1.2")
    assert places(evidence("Fan dead"), joint) == OF_FAN | HALVES | BANKS
    # With all off nothing flows: neither amperes nor losses can be read.
    assert places(evidence("B1 = 12.3 V, with all off"), joint) == OF_FAN | BANKS
    # A short is looked for in ohms; a bank that may be flat is read at rest too.
    short = verdict("short", "P1.2", "P1.2")
    across = ProbePlace("volts", "P1", "P1.2")
    feed = ProbePlace("volts", "P1", "N1")
    found = places(evidence("Fan dead"), short)
    assert found == OF_FAN | HALVES | BANKS | {OHMS, across, feed}
    flat = verdict("flat", "B1")
    assert places(evidence("Fan dead"), flat) == BANKS | {ProbePlace("volts at rest", "B1+", "B1-")}
    assert places(evidence("B1 = 12 V, with all off"), flat) == BANKS
    # Little flows into a clock, and yet it comes from the bank.
    late = places(evidence("Clock dead"), verdict("joint", "P1.3/1", "P1.3"))
    assert ProbePlace("volts", "B1+", "P1.3") in late
    # A short elsewhere is no reason to make this circuit dead.
    other = verdict("short", "P1.1", "P1.1")
    assert OHMS not in places(evidence("Fan dead"), joint, other)
    assert OHMS in places(evidence("Fan dead"), joint, short, other)


def test_what_lands_on_the_post_is_not_read_against_itself() -> None:
    study = study_from(POST)
    log_, _ = read_log("Lamp dead", "r", study.rig)
    found = places(Evidence(study, log_.readings), verdict("joint", "B1+/Lamp", "circuit B1+"))
    # The whole way out has a reading, the whole way back is that of one wire.
    assert ProbePlace("volts", "B1+", "B1+.out") in found
    assert not [one for one in found if one.a == one.b]


def test_loads_that_share_a_wire_are_told_apart_at_their_leads() -> None:
    lamp = ProbePlace("amperes", "Bunk lamp", "")
    assert lamp in places(evidence("Lights dead"), verdict("overload", "Bunk lamp", "P1.1"))
    assert lamp not in places(evidence("Lights dead"), verdict("overload", "Galley lamp", "P1.1"))
    # A load alone in its circuit is read at the slot.
    fan = ProbePlace("amperes", "Fan", "")
    assert fan not in places(evidence("Fan dead"), verdict("overload", "Fan", "P1.2"))


@pytest.mark.parametrize(
    ("line", "taken"),
    [
        ("P1.2 = 12.3 V", {VOLTS}),
        ("P1.2 to N1 = 4 ohm", {OHMS}),
        ("Roof fan = 2.9 A", {ProbePlace("amperes", "P1.2", "")}),
        ("Fan dead", set()),
        # Where nothing was on at all, volts are those at rest.
        ("B1 = 12.3 V, with all off", {BANK, ProbePlace("volts at rest", "B1+", "B1-")}),
    ],
)
def test_what_was_read_is_not_read_again(line: str, taken: set[ProbePlace]) -> None:
    assert set(_taken(Diagnosis(evidence(line), ()))) == taken


def test_at_rest_and_under_load_are_two_readings() -> None:
    which = evidence("P1.2 = 12.1 V, with Fan on", "B1 = 12.5 V, with all off")
    assert set(_taken(Diagnosis(which, ()))) == {VOLTS, ProbePlace("volts at rest", "B1+", "B1-")}


def test_a_meter_shows_what_the_part_draws() -> None:
    which = evidence("Fan works, with Fan, Galley lamp, Bunk lamp, Horn on")
    fan = _Held(verdict("joint", "P1.2/1", "P1.2"), 1.0, ())

    def shown(how: str, a: str, b: str = "", wrong: Wrong = NOTHING_WRONG) -> float:
        place = ProbePlace(how, a, b)
        return _shown(place, which.scenes[0], Diagnosis(which, ()), (fan, wrong, ()))

    # 3 A of the fan; 1 A of one lamp, 2 A of both behind one fuse.
    assert shown("amperes", "P1.2") == pytest.approx(3.0, rel=0.05)
    assert shown("amperes", "P1.1") == pytest.approx(2.0, rel=0.05)
    assert shown("amperes", "Bunk lamp") == pytest.approx(1.0, rel=0.05)
    # A circuit without a fuse of its own has the current of its wire.
    assert shown("amperes", "circuit F1.load") == pytest.approx(5.0, rel=0.05)
    # A bank half full to full rests at 12.42 V, less the 20 mohm of it at 10 A; 12 V over 3 A
    # are 4 ohm.
    assert shown("volts", "B1+", "B1-") == pytest.approx(12.42 - 0.2, abs=0.02)
    assert shown("ohms", "P1.2", "N1") == pytest.approx(log(4.0), abs=0.2)
    # A dead short has less than any meter tells from nothing.
    short = next(s for s in suspects(bench()) if (s.kind, s.name) == ("short", "P1.2"))
    fault = Verdict((short,), 1.0, (0.05,), ((0.05, 0.05),), 0.0, True, ())
    seen = _shown(
        OHMS, which.scenes[0], Diagnosis(which, ()), (_Held(fault, 1.0, ()), short.wrong(1.0), ())
    )
    assert seen == pytest.approx(log(0.05), abs=0.1)


def test_loads_that_were_measured_draw_what_was_measured() -> None:
    # 4 A were drawn at the bank instead of the 3 A of the text.
    which = evidence("P1.2 = 12 V at 4 A, with Fan on")
    fan = _Held(verdict("joint", "P1.2/1", "P1.2"), 1.0, ())
    place = ProbePlace("amperes", "P1.2", "")
    seen = _shown(place, which.scenes[0], Diagnosis(which, ()), (fan, NOTHING_WRONG, ()))
    assert seen == pytest.approx(4.0, rel=0.05)


def test_a_reading_that_is_to_be_left_out_is_not_asked_for_either_way_round() -> None:
    log_, _ = read_log("Fan dead\nP1.2 = 12.4 V", "r", bench().rig)
    found = diagnosed(bench(), log_.readings)
    every = choices(found)
    # The most telling for its work comes first; what was read is not asked for.
    assert [round(one.worth, 3) for one in every] == sorted(
        (round(one.worth, 3) for one in every), reverse=True
    )
    assert VOLTS not in {ProbePlace(one.how, one.a, one.b) for one in every}
    best = next_reading(found)
    assert best is not None
    for skip in (ProbePlace(best.how, best.a, best.b), ProbePlace(best.how, best.b, best.a)):
        left = choices(found, frozenset({skip}))
        assert len(left) == len(every) - 1
        assert best not in left


def test_where_one_fault_is_left_nothing_is_to_be_read() -> None:
    most = verdict("joint", "P1.2/1", "P1.2", share=0.999)
    assert choices(Diagnosis(evidence("Fan dead"), (most,))) == ()
    # Between two there is a reading that tells them apart.
    two = (verdict("joint", "P1.2/1", "P1.2"), verdict("open device", "P1.2", "P1.2"))
    assert choices(Diagnosis(evidence("Fan dead"), two))


def test_no_reading_is_called_out_of_reach_that_a_fault_told_beside_it_explains() -> None:
    study = study_from(RELAY)
    on = ", with Compressor on"
    lines = (f"N1 to B1- = 410 mV{on}", f"P1 = 10.4 V{on}", f"B1 = 12.9 V{on}")
    found = diagnosed(study, heard(study.rig, *lines))
    first = found.verdicts[0]
    pair = next(one for one in found.verdicts if len(one.faults) == 2 and not one.unexplained)
    assert [one.text for one in first.unexplained] == [lines[1]]
    both = replace(first, share=0.56), replace(pair, share=0.3)
    # One leaves a reading out, and says so; the other explains it: nothing is said to show it not.
    told = Diagnosis(found.evidence, both)
    assert "would then be a slip" in _verdict(told, both[0])
    assert "slip" not in _verdict(told, both[1])
    assert [line for line in _odd(told) if "no pair" in line] == []
    alone = Diagnosis(found.evidence, both[:1])
    assert any("no pair of faults that was tried shows" in line for line in _odd(alone))
