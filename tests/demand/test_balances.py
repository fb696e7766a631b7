"""What comes into banks in a day: what a source gives comes in once, however banks are joined."""

from itertools import combinations
from random import Random

import pytest

from helpers.home import RIGS
from helpers.studies import checked, study_from
from rigfolio.answers.demand import demand_report
from rigfolio.books import returned_share, sun_figure
from rigfolio.demand import AH_C, Balance, balances, charging
from rigfolio.reports.terminal import as_text
from rigfolio.study import Study

# By hand: 80 % of 100 W at 12 V are 6.67 A (the share of the book), 3 h of them 20 Ah a day.
BEGUN = """
rig "Sun" system 12 V, rules boat, sun 3 h/day
battery B1 "Start" {one}, 100 Ah
battery B2 "House" agm, 100 Ah
busbar N1 100 A
busbar D1 100 A
wire B1- to N1 35 mm2 black 1 m
wire B2- to N1 35 mm2 black 1 m
solar U1 "Regulator" 10 A, input 50 V
array Y1 "Panel" open circuit 22 V, short circuit 6 A, 100 W, works at 18 V
wire Y1+ to U1.in 4 mm2 red 5 m
wire Y1- to U1.in- 4 mm2 black 5 m
wire U1+ to {at} 4 mm2 red 2 m, fuse 15 A at {at}
wire U1- to N1 4 mm2 black 2 m
circuit {load} "Lamp" fuse 10 A after 10 cm
    wire 2.5 mm2 red 2 m
    load "Lamp" {draw} A, 15 h/day
"""
COMBINED = """
combiner K1 "Charge relay" 120 A
wire B1+ to K1.1 25 mm2 red 1 m, fuse 100 A at B1+
wire K1.2 to B2+ 25 mm2 red 1 m, fuse 100 A at B2+
state engine K1 closed
state away K1 open
"""
SELECTED = """
selector S1 100 A
wire B1+ to S1.1 25 mm2 red 1 m, fuse 100 A at B1+
wire B2+ to S1.2 25 mm2 red 1 m, fuse 100 A at B2+
wire S1.common to D1 25 mm2 red 1 m
state one S1 1
state two S1 2
state all S1 both
"""


def rig(rest: str, *, at: str, load: str, one: str = "agm", draw: float = 2.0) -> Study:
    return study_from(BEGUN.format(at=at, load=load, one=one, draw=draw) + rest)


def of(study: Study) -> dict[tuple[str, ...], Balance]:
    return {each.banks: each for each in balances(study)}


def words(study: Study) -> str:
    return " ".join(as_text(demand_report(study)).split())


def drawn(seed: int) -> Study:
    """Three banks, what joins them, one or two regulators of the sun, and states as they come."""
    chance = Random(f"sun {seed}")
    lines = [f'rig "Drawn {seed}" system 12 V, rules boat, sun {chance.randint(2, 6)} h/day',
             "busbar N1 200 A", "busbar D1 200 A"]  # fmt: skip
    for bank in ("B1", "B2", "B3"):
        sort = chance.choice(("flooded", "agm"))
        lines += [f"battery {bank} {sort}, {chance.choice((60, 100, 200))} Ah",
                  f"wire {bank}- to N1 35 mm2 black 1 m"]  # fmt: skip
    lines += ["selector S1 100 A", "combiner K1 100 A",
              "wire B1+ to S1.1 25 mm2 red 1 m, fuse 100 A at B1+",
              "wire B2+ to S1.2 25 mm2 red 1 m, fuse 100 A at B2+",
              "wire S1.common to D1 25 mm2 red 1 m",
              "wire B2+ to K1.1 25 mm2 red 1 m, fuse 80 A at B2+",
              "wire K1.2 to B3+ 25 mm2 red 1 m, fuse 80 A at B3+"]  # fmt: skip
    for n in range(1, chance.choice((2, 3))):
        at = chance.choice(("D1", "B1+", "B2+", "B3+"))
        lines += [f'solar U{n} {chance.choice((5, 10))} A, input 50 V',
                  f"array Y{n} open circuit 22 V, short circuit 6 A, 100 W, works at 18 V",
                  f"wire Y{n}+ to U{n}.in 4 mm2 red 5 m", f"wire Y{n}- to U{n}.in- 4 mm2 black 5 m",
                  f"wire U{n}+ to {at} 4 mm2 red 2 m, fuse 15 A at {at}",
                  f"wire U{n}- to N1 4 mm2 black 2 m"]  # fmt: skip
    for at in ("D1", "B1+", "B3+"):
        lines += [f'circuit {at} "Lamp {at[:2]}" fuse 5 A after 10 cm', "    wire 1.5 mm2 red 2 m",
                  f'    load "Lamp {at[:2]}" 2 A, {chance.randint(1, 20)} h/day']  # fmt: skip
    every = [f"S1 {one}, K1 {two}" for one in ("1", "2", "both", "off")
             for two in ("open", "closed")]  # fmt: skip
    for n, setting in enumerate(chance.sample(every, chance.randint(1, 4))):
        lines.append(f"state s{n} {setting}")
    return study_from("\n".join(lines))


def made_c(study: Study) -> dict[str, float]:
    """What each source by light gives in a day at the most [C]."""
    most: dict[str, float] = {}
    for one in charging(study):
        if one.day_c is not None:
            most[one.by] = max(one.day_c, most.get(one.by, 0.0))
    return most


def holds(study: Study) -> int:
    """What comes into banks that are not the same is no more than is made; how many are told."""
    every, made = balances(study), made_c(study)
    for one in every:
        names = [name for name, _ in one.given]
        assert len(names) == len(set(names)) == len({*names} - {*one.at_times})
        assert not {*names, *one.at_times} & {each.by for each in one.shared}
        assert one.kept_c <= sum(made[name] for name in names) + 1e-6
        assert len(one.at_times) == len(set(one.at_times))
    for count in range(1, len(every) + 1):
        for some in combinations(every, count):
            banks = [name for one in some for name in one.banks]
            if len(banks) > len(set(banks)):
                continue
            into = [pair for one in some for pair in one.given]
            for name, most_c in made.items():
                assert sum(charge_c for by, charge_c in into if by == name) <= most_c + 1e-6
    for one in every:
        for each in one.shared:
            assert each.charge_c <= made[each.by] + 1e-6
            assert each.banks
            assert not {*each.banks} & {*one.banks}
    return sum(len(one.given) + len(one.shared) for one in every)


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_what_comes_in_is_never_more_than_is_made(file) -> None:
    study = checked(file).study
    assert study is not None
    holds(study)


def test_what_comes_in_is_never_more_than_is_made_however_banks_are_joined() -> None:
    told = [holds(drawn(seed)) for seed in range(40)]
    assert sum(one > 0 for one in told) > 30


def test_one_panel_behind_a_combiner_is_counted_once() -> None:
    study = rig(COMBINED, at="B2+", load="B2+", one="flooded")
    found = of(study)
    share = sun_figure("in_use", "share").value
    day = share * 100.0 / 12.0 * 3.0
    agm, flooded = (returned_share(kind).value for kind in ("agm", "flooded"))
    house, both = found[("B2",)], found[("B1", "B2")]
    assert [(name, charge / AH_C) for name, charge in house.given] == [("U1", pytest.approx(day))]
    assert house.given == both.given
    # Of 20 Ah 1/1.1 stay in an AGM bank, 1/1.15 where flooded cells are among them.
    assert house.kept_c / AH_C == pytest.approx(day / agm)
    assert both.kept_c / AH_C == pytest.approx(day / max(agm, flooded))
    # 2 A for 15 h: 30 Ah; 11.8 Ah are short, not 6.4 left over.
    assert house.left_c / AH_C == pytest.approx(day / agm - 30.0, abs=0.02)
    assert "11.82 Ah a day are short" in words(study)
    assert "U1 20 Ah, U1" not in words(study)


def test_a_bank_that_is_charged_beside_another_alone_has_a_share() -> None:
    """The start battery, with a lamp on it: sun reaches it while the relay joins both."""
    study = rig(COMBINED, at="B2+", load="B1+")
    one = of(study)[("B1",)]
    assert one.given == ()
    assert [(each.by, each.banks) for each in one.shared] == [("U1", ("B2",))]
    assert one.left_c == pytest.approx(-one.use.known_c)
    assert (
        "B1: 30 Ah a day are used; the 20 Ah that U1 gives on a usual day are shared with B2; "
        "30 Ah a day are short without that" in words(study)
    )


def test_what_charges_one_bank_or_the_other_counts_for_neither_by_itself() -> None:
    found = of(rig(SELECTED, at="D1", load="D1"))
    for bank, other in (("B1", "B2"), ("B2", "B1")):
        one = found[(bank,)]
        assert (one.given, one.kept_c) == ((), 0.0)
        assert [(each.by, each.banks) for each in one.shared] == [("U1", (other,))]
    both = found[("B1", "B2")]
    assert [name for name, _ in both.given] == ["U1"]
    assert both.shared == ()


@pytest.mark.parametrize(
    ("rest", "at", "banks", "them"),
    [("", "B2+", "B2", "it"), (COMBINED, "B2+", "B1 and B2", "them")],
)
def test_a_source_of_which_nothing_is_left_fills_nothing(
    rest: str, at: str, banks: str, them: str
) -> None:
    # 12 A for 15 h are 7.5 A on the average of a day; the modules give 6.7 A.
    rest = rest or "wire B1+ to D1 25 mm2 red 1 m, fuse 100 A at B1+\n"
    study = rig(rest, at=at, load=at, draw=12.0)
    one = next(each for each in charging(study) if " and ".join(each.banks) == banks)
    assert one.current_a is not None
    assert one.current_a < 0.0
    assert (one.bulk_s, one.tail_s, one.missing) == (None, None, "")
    said = words(study)
    assert (
        f"U1 Regulator to {banks}: does not fill {them}, what is drawn beside takes all that it "
        "delivers; its modules give 6.66 A less 7.5" in said
    )
    assert "delivers is missing" not in said
