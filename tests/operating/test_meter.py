"""What a meter shows in a rig that is sound or has something wrong in it: by hand.

A lead battery of 12 V stands at 1.035 of that, 12.42 V, 2.5 % up or down (`trade/diagnosis.toml`).
A load that gets less than half of its volts counts as the resistance that draws what is stated at
its nominal volts. Leads are short and thick, so that they count for next to nothing.
"""

import pytest

from helpers.studies import study_from
from rigfolio.isolation import CLOSED, Open
from rigfolio.operating import Scene, Wrong

BENCH = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah, internal 100 mohm
busbar N1 200 A
busbar D1 200 A
switch K1 "Switch" 100 A
load M1 "Heater" {0}
load M2 "Lamp" {1}
wire B1+ to K1.line 4/0 AWG red 1 in
wire K1.load to D1 4/0 AWG red 1 in
wire B1- to N1 4/0 AWG black 1 in
wire D1 to M1+ 4/0 AWG red 1 in, tag T1
wire M1- to N1 4/0 AWG black 1 in, tag T2
wire D1 to M2+ 4/0 AWG red 1 in
wire M2- to N1 4/0 AWG black 1 in
"""
EMF_V = 12.42
INSIDE_OHM = 0.1
CHARGER = "charger C1 20 A\nwire C1+ to D1 4/0 AWG red 1 in\nwire C1- to N1 4/0 AWG black 1 in\n"
NEAR = {"rel": 2e-3}


def scene(one: str, two: str = "12 W", on: tuple[str, ...] = ("M1",), more: str = "") -> Scene:
    return Scene(study_from(BENCH.format(one, two) + more), CLOSED, frozenset(on))


@pytest.mark.parametrize("wire", ["T1", "T2"])
@pytest.mark.parametrize(
    ("wrong_ohm", "drawn_a"),
    [
        (0.0, 10.0),
        # 10 A through 0.1 and 0.53 ohm leave 6.12 V; through 0.1 and 0.55 ohm 5.92 V, and so it
        # counts as 1.2 ohm.
        (0.53, 10.0),
        (0.55, EMF_V / (INSIDE_OHM + 0.55 + 1.2)),
        (10.0, EMF_V / (INSIDE_OHM + 10.0 + 1.2)),
    ],
)
def test_a_load_regulates_down_to_half_of_its_volts(
    wire: str, wrong_ohm: float, drawn_a: float
) -> None:
    # A bad joint on the way back takes as much as one on the way out.
    shown = scene("10 A").solve(Wrong(ohm=((wire, wrong_ohm),)))
    assert shown.drawn_a("M1") == pytest.approx(drawn_a, **NEAR)
    assert shown.given_a("B1") == pytest.approx(drawn_a, **NEAR)
    assert shown.current_a("T1") == pytest.approx(drawn_a, **NEAR)
    assert shown.between_v("B1+", "B1-") == pytest.approx(EMF_V - INSIDE_OHM * drawn_a, **NEAR)


@pytest.mark.parametrize(
    ("wrong_ohm", "drawn_a"),
    [
        # U = (E + sqrt(E² - 4 P R)) / 2 of 24 W behind 1.1 ohm: 9.698 V, behind 1.55 ohm: 7.378 V.
        (1.0, 24.0 / 9.698),
        # From E² / 4 P = 1.607 ohm on nothing holds it up: 24 W at 12 V are 6 ohm.
        (1.45, 24.0 / 7.378),
        (1.55, EMF_V / (INSIDE_OHM + 1.55 + 6.0)),
    ],
)
def test_watts_that_no_volts_hold_up_count_as_their_resistance(
    wrong_ohm: float, drawn_a: float
) -> None:
    shown = scene("24 W").solve(Wrong(ohm=(("T1", wrong_ohm),)))
    assert shown.drawn_a("M1") == pytest.approx(drawn_a, **NEAR)


def test_what_collapses_draws_all_the_same_and_starves_its_neighbour() -> None:
    # 100 W and 5 A behind 0.8 ohm: without the first the other has 8.42 V. As 1.44 ohm the first
    # pulls it below 6 V, so the other is 2.4 ohm: together 0.9 ohm.
    shown = scene("100 W", "5 A", ("M1", "M2")).solve(Wrong(inner_ohm=(("B1", 0.7),)))
    volts = EMF_V * 0.9 / 1.7
    assert shown.between_v("D1", "N1") == pytest.approx(volts, **NEAR)
    assert shown.drawn_a("M1") == pytest.approx(volts / 1.44, **NEAR)
    assert shown.drawn_a("M2") == pytest.approx(volts / 2.4, **NEAR)


@pytest.mark.parametrize(
    ("draws", "share", "drawn_a"),
    [("10 A", 0.5, 5.0), ("10 A", 1.2, 12.0), ("10 A", 0.0, 0.0),
     # Half of its current is twice its ohms.
     ("1.2 ohm", 0.5, EMF_V / (0.1 + 2.4)), ("1.2 ohm", 0.0, 0.0)],
)  # fmt: skip
def test_a_load_draws_a_share_of_what_is_stated(draws: str, share: float, drawn_a: float) -> None:
    one = scene(draws)
    assert one.solve(Wrong(draws=(("M1", share),))).drawn_a("M1") == pytest.approx(drawn_a, **NEAR)
    assert one.solve(load=share).drawn_a("M1") == pytest.approx(drawn_a, **NEAR)
    # The share of a load that is off is nobody's.
    assert one.solve(Wrong(draws=(("M2", share),))).drawn_a("M1") > 9.0


def test_a_source_has_a_share_of_its_volts_and_stands_higher_or_lower_as_it_is_charged() -> None:
    one = scene("10 A", on=())
    assert one.solve(Wrong(emf=(("B1", 0.5),))).between_v("B1+", "N1") == pytest.approx(6.21)
    assert one.solve(emf=0.9).between_v("B1+", "N1") == pytest.approx(0.9 * EMF_V)
    for rest in (-1.0, 1.0):
        share = 1.035 + rest * 0.025 * 1.035
        assert one.solve(rest=(("B1", rest),)).between_v("D1", "N1") == pytest.approx(
            12.0 * share, rel=1e-3
        )


def test_swapped_leads_show_across_the_load_alone() -> None:
    one = scene("10 A")
    sound, swapped = one.solve(), one.solve(Wrong(reversed_loads=("M1",)))
    for a, b in (("M1+", "M1-"), ("M1-", "M1+")):
        assert swapped.between_v(a, b) == pytest.approx(-sound.between_v(a, b))
    for a, b in (("D1", "N1"), ("M1+", "N1"), ("M2+", "M2-")):
        assert swapped.between_v(a, b) == pytest.approx(sound.between_v(a, b))
    assert sound.between_v("M1+", "M1-") == pytest.approx(EMF_V - 1.0, **NEAR)


def test_what_is_off_open_or_nowhere_shows_nothing() -> None:
    study = study_from(BENCH.format("10 A", "12 W") + CHARGER)
    opened = Open(frozenset({"K1"}), frozenset({"C1"}))
    shown = Scene(study, opened, frozenset({"M1"})).solve()
    assert (shown.given_a("C1"), shown.given_a("X9"), shown.drawn_a("M2")) == (0.0, 0.0, 0.0)
    assert (shown.current_a("K1"), shown.drawn_a("M1")) == (0.0, 0.0)
    assert shown.between_v("D1", "N1") == shown.between_v("X9", "N1") == 0.0
    assert shown.between_v("B1+", "N1") == pytest.approx(EMF_V)


@pytest.mark.parametrize(
    ("off", "is_stated", "on"),
    [
        # Nobody says anything: what charges is off. Who says what is off says that the rest runs.
        ((), False, ("B1",)),
        ((), True, ("B1", "C1")),
        (("B1",), False, ("C1",)),
        (("C1",), True, ("B1",)),
    ],
)
def test_which_sources_are_on(off: tuple[str, ...], is_stated: bool, on: tuple[str, ...]) -> None:
    study = study_from(BENCH.format("10 A", "12 W") + CHARGER)
    opened = Open(sources=frozenset(off))
    one = Scene(study, opened, frozenset(), is_stated=is_stated)
    assert one.sources == on
    given = {name: one.solve().given_a(name) for name in on}
    if len(on) == 2:
        # What the charger gives the battery takes.
        assert given["B1"] == pytest.approx(-given["C1"])
        assert given["C1"] > 1.0


def test_wires_that_count_for_nothing_are_named() -> None:
    more = "wire D1 to N9 ? red 3 ft, tag T5\nwire D1 to N9 10 AWG red ?, tag T6\nsplice N9\n"
    assert scene("10 A", more=more).unknown == ("T5", "T6")


@pytest.mark.parametrize(
    ("opened", "share"),
    [
        # A bank under charge stands anywhere from its volts at rest to what its charger holds.
        (Open(), (1.09, 0.08)),
        (Open(sources=frozenset({"C1"})), (1.035, 0.025)),
        # The charger runs, and nothing joins it to the bank.
        (Open(frozenset({"K1"})), (1.035, 0.025)),
    ],
)
def test_a_bank_is_charged_by_what_runs_and_is_joined_to_it(
    opened: Open, share: tuple[float, float]
) -> None:
    study = study_from(BENCH.format("10 A", "12 W") + CHARGER)
    scene = Scene(study, opened, frozenset(), is_stated=True)
    assert scene.rest_share("B1") == pytest.approx(share)
    # Where nobody says how the sources stand nothing is known to charge.
    assert Scene(study, opened, frozenset()).rest_share("B1") == (1.035, 0.025)


@pytest.mark.parametrize(
    ("wrong", "volts"),
    [
        (Wrong(inner_ohm=(("B1", 0.1),)), EMF_V - 2.0),
        (Wrong(emf=(("B1", 0.9),)), 0.9 * EMF_V - 1.0),
        (Wrong(draws=(("M1", 0.5),)), EMF_V - 0.5),
        (Wrong(ohm=(("T1", 0.1),)), EMF_V - 2.0),
        # What is wrong with a load or a source that is off shows nowhere.
        (Wrong(inner_ohm=(("C1", 0.1),)), EMF_V - 1.0),
        (Wrong(emf=(("C1", 0.9),)), EMF_V - 1.0),
        (Wrong(draws=(("M2", 0.5),)), EMF_V - 1.0),
    ],
)
def test_what_is_wrong_shows_after_the_sound_rig_was_asked(wrong: Wrong, volts: float) -> None:
    one = scene("10 A", more=CHARGER)
    sound = one.solve()
    found = one.solve(wrong)
    assert sound.between_v("M1+", "M1-") == pytest.approx(EMF_V - 1.0, **NEAR)
    assert found.between_v("M1+", "M1-") == pytest.approx(volts, **NEAR)
    assert found.is_same(sound) is (volts == EMF_V - 1.0)


def test_two_things_that_are_wrong_show_both() -> None:
    one = Wrong(ohm=(("T1", 0.1),), shunt_ohm=(("D1", "N1", 6.0),), draws=(("M1", 0.5),),
                emf=(("B1", 0.9),), inner_ohm=(("B1", 0.1),), reversed_loads=("M1",))  # fmt: skip
    two = Wrong(ohm=(("T2", 0.2),), shunt_ohm=(("D1", "B1-", 3.0),), draws=(("M2", 0.5),),
                emf=(("C1", 0.9),), inner_ohm=(("C1", 0.1),), reversed_loads=("M2",))  # fmt: skip
    both = one.plus(two)
    assert both == Wrong(
        ohm=(("T1", 0.1), ("T2", 0.2)),
        shunt_ohm=(("D1", "N1", 6.0), ("D1", "B1-", 3.0)),
        draws=(("M1", 0.5), ("M2", 0.5)),
        emf=(("B1", 0.9), ("C1", 0.9)),
        inner_ohm=(("B1", 0.1), ("C1", 0.1)),
        reversed_loads=("M1", "M2"),
    )
    # 5 A out of 0.9 of the volts, through 0.2 ohm within and 0.3 ohm on the way, leads swapped.
    shown = scene("10 A").solve(both)
    assert shown.between_v("M1+", "M1-") == pytest.approx(-(0.9 * EMF_V - 5.0 * 0.5), **NEAR)


@pytest.mark.parametrize(("draws", "ohm"), [("1 A", 12.0), ("1 W", 144.0), ("0.5 A", 24.0)])
def test_a_small_load_starves_like_a_large_one(draws: str, ohm: float) -> None:
    shown = scene(draws).solve(Wrong(ohm=(("T1", 50.0),)))
    assert shown.drawn_a("M1") == pytest.approx(EMF_V / (INSIDE_OHM + 50.0 + ohm), **NEAR)
