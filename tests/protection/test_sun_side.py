"""Who stands between modules and their controller, with volts and amperes worked out by hand.

In the cold modules of unknown make gain by NFPA 70 Table 690.7(A): 12 % at -5 °C, 25 % at -40 °C
(from memory, as they stand in the book). A string has a fuse of 1.25 x 1.25 times its short-circuit
current at the least: 690.8(A) and 690.9(B) (from memory). By day a meter shows a fifth less volts
where modules are hot, and amperes from thin light to the brightest sun (common practice).
"""

import pytest

from helpers.studies import study_from
from rigfolio.model import Device, Source
from rigfolio.protection.sun_side import (
    arrays_beside,
    back_into,
    coldest_v,
    daylight_a,
    daylight_v,
    is_fused,
    open_circuit_v,
    string_fuse_fix,
    string_fuse_most_a,
    string_lead,
    string_of,
    sun_sides,
    sun_volts,
    sure_v,
)
from rigfolio.study import Study

HEAD = """rig "Roof"
    system 12 V
    rules rv
{coldest}battery B1 "Bank" agm, 100 Ah
busbar N1 100 A
solar U1 "Controller" 20 A, input 100 V
splice Z1
wire U1+ to B1+ 10 AWG red 3 ft, fuse 30 A at B1+
wire U1- to N1 10 AWG black 3 ft
wire N1 to B1- 6 AWG black 1 ft
"""
IN_STRING = "wire Z1 to U1.in 10 AWG red 9 ft\n"
STRING = """array Y{0} {1}
wire Y{0}+ to Z1 12 AWG red 6 ft{2}
wire Y{0}- to U1.in- 12 AWG black 9 ft
"""
MODULE = "open circuit 24 V, short circuit 6 A"
FUSED = ", fuse 10 A at Z1"


def roof(*strings: tuple[str, str], coldest: str = "") -> Study:
    text = HEAD.format(coldest=f"    coldest {coldest} degC\n" if coldest else "") + IN_STRING
    for at, (label, fuse) in enumerate(strings, 1):
        text += STRING.format(at, label, fuse)
    return study_from(text)


def named(study: Study, name: str) -> Source:
    return study.rig.by_name.sources[name]


def device(study: Study, name: str) -> Device:
    found = study.device(name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("label", "volts"),
    [
        (MODULE, 24.0),
        (f"3 modules in series, 2 strings in parallel, {MODULE}", 72.0),
        ("open circuit ? V, short circuit 6 A", None),
    ],
)
def test_the_volts_of_modules_in_series_add_up(label: str, volts: float | None) -> None:
    assert open_circuit_v(named(roof((label, "")), "Y1")) == volts


GAINS = f"{MODULE}, gains 0.3 % a degree colder"


@pytest.mark.parametrize(
    ("label", "coldest", "cold_v", "sure", "said"),
    [
        # 24 V x (1 + 0.003 x 30) = 26.16 V; what label and text bear out is sure.
        (GAINS, "-5", 26.16, 26.16, ""),
        # 24 V x (1 + 0.003 x 65) = 28.68 V, where it may be as cold as the table goes.
        (GAINS, "", 28.68, 24.0, "how cold it gets is not said"),
        # 24 V x 1.12 and x 1.25 by the table: the label bears out 24 V.
        (MODULE, "-5", 26.88, 24.0, ""),
        (MODULE, "", 30.0, 24.0, "how cold it gets is not said"),
        # It never gets colder than 25 °C: nothing is gained, and nothing is lost above.
        (GAINS, "30", 24.0, 24.0, ""),
        (MODULE, "30", 24.0, 24.0, ""),
    ],
)
def test_what_modules_gain_on_the_coldest_morning(
    label: str, coldest: str, cold_v: float, sure: float, said: str
) -> None:
    study = roof((label, ""), coldest=coldest)
    array = named(study, "Y1")
    cold = coldest_v(study, array)
    assert cold is not None
    assert cold.value == pytest.approx(cold_v)
    assert cold.how == said
    assert sure_v(study, array) == pytest.approx(sure)
    # Hot they show a fifth less: 0.8 x 24 V = 19.2 V.
    assert daylight_v(study, array) == pytest.approx((19.2, cold_v))
    # From a twentieth of 6 A in thin light to a quarter more in the brightest.
    assert daylight_a(array) == pytest.approx((0.3, 7.5))


def test_of_a_label_that_nobody_has_read_nothing_is_worked_out() -> None:
    study = roof(("open circuit ? V, short circuit ? A", ""), coldest="-5")
    array = named(study, "Y1")
    assert coldest_v(study, array) is None
    assert sure_v(study, array) is None
    assert daylight_v(study, array) is None
    assert daylight_a(array) is None
    assert "Z1" not in sun_volts(study)


def test_a_bank_is_no_modules() -> None:
    study = roof((MODULE, ""))
    bank = named(study, "B1")
    assert open_circuit_v(bank) is None
    assert coldest_v(study, bank) is None


ALONE = "array Y9 open circuit 20 V, short circuit 5 A\nwire Y9{} to {} 12 AWG red 3 ft\n"


@pytest.mark.parametrize(("pole", "to"), [("+", "Z1"), ("-", "U1.in-")])
def test_an_array_that_is_joined_at_one_pole_only_belongs_to_no_controller(
    pole: str, to: str
) -> None:
    text = HEAD.format(coldest="") + IN_STRING + STRING.format(1, MODULE, "")
    study = study_from(text + ALONE.format(pole, to))
    (side,) = sun_sides(study)
    assert side.controller.about.name == "U1"
    assert [one.about.name for one in side.arrays] == ["Y1"]
    assert [one.about.name for one in arrays_beside(study, named(study, "Y1"))] == ["Y1"]
    assert [one.about.name for one in arrays_beside(study, named(study, "Y9"))] == ["Y9"]


def test_arrays_side_by_side_are_told_and_a_controller_without_a_wired_input_is_none() -> None:
    study = roof((MODULE, ""), (MODULE, ""))
    beside = arrays_beside(study, named(study, "Y2"))
    assert [one.about.name for one in beside] == ["Y1", "Y2"]
    bare = study_from(HEAD.format(coldest=""))
    assert sun_sides(bare) == ()


@pytest.mark.parametrize(
    ("label", "back_a"),
    [
        # Two strings beside it drive 6 A each.
        (MODULE, 12.0),
        ("open circuit 24 V, short circuit ? A", 12.0),
        # Of three strings that are joined at the modules two more drive into the third.
        (f"3 strings in parallel, {MODULE}", 24.0),
        (f"2 strings in parallel, {MODULE}", 18.0),
    ],
)
def test_what_comes_back_into_a_string_is_what_all_others_give(label: str, back_a: float) -> None:
    study = roof((label, ""), (MODULE, ""), (MODULE, ""))
    # The controller lets nothing back from its battery.
    assert back_into(study, named(study, "Y1")).current_a == pytest.approx(back_a)


def test_a_fuse_of_a_string_is_that_of_its_array_and_of_no_other() -> None:
    study = roof((MODULE, FUSED), (MODULE, FUSED), (f"2 strings in parallel, {MODULE}", FUSED))
    found = {}
    for one in study.rig.devices:
        array = string_of(study, one)
        found[one.about.name] = None if array is None else array.about.name
    # Y3 is two strings in one: its fuse is no fuse of one of them.
    assert found == {
        "Y1+/Z1 fuse": "Y1", "Y2+/Z1 fuse": "Y2", "Y3+/Z1 fuse": None, "B1+/U1+ fuse": None,
    }  # fmt: skip


def test_a_fuse_where_strings_have_met_and_a_switch_are_no_string_fuses() -> None:
    text = HEAD.format(coldest="") + "switch K1 20 A\nwire Z1 to U1.in 10 AWG red 9 ft, "
    text += "fuse 20 A at Z1, tag T1\n" + STRING.format(1, MODULE, "")
    text += f"array Y2 {MODULE}\nwire Y2+ to K1.line 12 AWG red 3 ft\n"
    text += "wire K1.load to Z1 12 AWG red 3 ft\nwire Y2- to U1.in- 12 AWG black 9 ft\n"
    study = study_from(text)
    assert string_of(study, device(study, "T1 fuse")) is None
    assert string_of(study, device(study, "K1")) is None


@pytest.mark.parametrize(
    ("plus", "minus"),
    [
        ("Y2+ to Z1 12 AWG red 3 ft, fuse 10 A at Z1, tag T2", "Y2- to U1.in- 12 AWG black 9 ft"),
        ("Z1 to Y2+ 12 AWG red 3 ft, fuse 10 A at Z1, tag T2", "U1.in- to Y2- 12 AWG black 9 ft"),
        ("Y2+ to Z1 12 AWG red 3 ft", "Y2- to U1.in- 12 AWG black 9 ft, fuse 10 A at Y2-, tag T2"),
        (
            "Y2+ to Z1 12 AWG red 3 ft",
            "U1.in- to Y2- 9 ft 12 AWG black, fuse 9 A at U1.in-, tag T2",
        ),
    ],
)
def test_of_two_strings_a_fuse_is_its_own_whichever_pole_and_end_it_is_written_at(
    plus: str, minus: str
) -> None:
    text = HEAD.format(coldest="") + IN_STRING + STRING.format(1, MODULE, "")
    study = study_from(f"{text}array Y2 {MODULE}\nwire {plus}\nwire {minus}\n")
    assert string_of(study, device(study, "T2 fuse")) is named(study, "Y2")


BEARS = f"{MODULE}, series fuse {{}} A"


@pytest.mark.parametrize(
    ("bears", "others", "most_a"),
    [
        ("10", 2, 10.0),
        # 2 x 6 A come from beside: just what the modules bear.
        ("12", 2, None),
        ("11.9", 2, 11.9),
        ("10", 1, None),
        ("?", 2, None),
    ],
)
def test_a_label_asks_for_a_string_fuse_where_the_others_give_more_than_it_bears(
    bears: str, others: int, most_a: float | None
) -> None:
    study = roof((BEARS.format(bears), FUSED), *((MODULE, FUSED),) * others)
    assert string_fuse_most_a(study, device(study, "Y1+/Z1 fuse")) == most_a
    # The labels of the others say nothing, and the charger's fuse lies in no string.
    assert string_fuse_most_a(study, device(study, "Y2+/Z1 fuse")) is None
    assert string_fuse_most_a(study, device(study, "B1+/U1+ fuse")) is None


@pytest.mark.parametrize(
    ("bears", "fuse", "changes"),
    [
        # 6 A x 1.25 x 1.25 = 9.375 A, so 10 A; where none stands it goes where the strings meet.
        ("15", "", [("guard", "Y1+/Z1", "10 A", "Z1")]),
        ("15", ", fuse 30 A at Z1", [("rating", "Y1+/Z1 fuse", "10 A", "")]),
        ("10", "", [("guard", "Y1+/Z1", "10 A", "Z1")]),
        # None that carries them is as small as the label asks, or nobody has read it.
        ("9.9", "", []),
        ("?", "", []),
    ],
)
def test_a_string_fuse_carries_bright_sun_and_is_no_larger_than_the_label(
    bears: str, fuse: str, changes: list[tuple[str, ...]]
) -> None:
    study = roof((BEARS.format(bears), fuse), (MODULE, ""))
    fix = string_fuse_fix(study, [named(study, "Y1")])
    assert [(one.what, one.of, one.to, one.at) for one in fix.changes] == changes
    start = "`fuse 10 A` in each string" if changes else "a fuse in each string"
    assert fix.text.startswith(start)


@pytest.mark.parametrize("label", [MODULE, "open circuit 24 V, short circuit ? A, series fuse 9 A"])
def test_where_a_label_is_not_read_a_string_fuse_is_only_spoken_of(label: str) -> None:
    study = roof((label, ""), (BEARS.format(15), ""))
    fix = string_fuse_fix(study, [named(study, "Y1"), named(study, "Y2")])
    assert fix.changes == ()
    assert string_fuse_fix(study, []).changes == ()


def test_the_lead_of_a_string_is_its_one_wire_whichever_end_is_named_first() -> None:
    text = HEAD.format(coldest="") + IN_STRING
    text += f"array Y1 {BEARS.format(15)}\nwire Z1 to Y1+ 12 AWG red 6 ft\n"
    text += "wire Y1- to U1.in- 12 AWG black 9 ft\n"
    study = study_from(text)
    lead = string_lead(study, named(study, "Y1"))
    assert lead is not None
    assert {lead.a, lead.b} == {"Y1+", "Z1"}
    (change,) = string_fuse_fix(study, [named(study, "Y1")]).changes
    assert change.at == "Z1"
    two = study_from(text + "wire Y1+ to U1.in 12 AWG red 6 ft\n")
    assert string_lead(two, named(two, "Y1")) is None
    assert string_fuse_fix(two, [named(two, "Y1")]).changes == ()


def test_each_terminal_of_the_sun_side_has_the_volts_of_the_highest_array_on_it() -> None:
    low, high = MODULE, f"2 modules in series, {MODULE}"
    for labels in ((low, high), (high, low)):
        study = roof(*((label, "") for label in labels))
        lit = sun_volts(study)
        assert lit["Z1"] == lit["U1.in"] == lit["U1.in-"] == 48.0
        assert lit.keys() & {"U1+", "U1-", "B1+", "N1"} == set()


@pytest.mark.parametrize(
    ("first", "fuses", "is_held"),
    [
        (MODULE, (FUSED, FUSED, FUSED), True),
        # Each fuse is its own string's: what comes from Y3 goes by that of Y1 all the same.
        (MODULE, (FUSED, FUSED, ""), True),
        (MODULE, ("", FUSED, FUSED), True),
        (MODULE, ("", "", FUSED), False),
        (MODULE, ("", "", ""), False),
        (f"2 strings in parallel, {MODULE}", (FUSED, FUSED, FUSED), False),
    ],
)
def test_an_array_is_fused_where_every_other_one_comes_by_a_fuse(
    first: str, fuses: tuple[str, ...], is_held: bool
) -> None:
    labels = (first, MODULE, MODULE)
    study = roof(*zip(labels, fuses, strict=True))
    assert is_fused(study, named(study, "Y1")) is is_held
