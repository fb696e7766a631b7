"""What shares a return with a converter, and banks side by side, by Kirchhoff's laws."""

import pytest

from helpers.studies import study_from
from rigfolio.operating import circuit_draws, copper_of, directions, ways_of
from rigfolio.operating.circuit_net import Input

HEAD = 'rig "Bench"\n    system 12 V\n    rules rv\n    ambient 20 degC\n'
CONVERTER = """battery B1 agm, 100 Ah
busbar N1 100 A
dc-dc E1 20 A from 12 V to 24 V{}
load L1 96 W
wire B1+ to E1.in 1/0 AWG red 1 in
wire E1.out to L1+ 1/0 AWG red 1 in
wire L1- to N1 1/0 AWG black 1 in
wire {} 10 AWG black 60 ft tag T1
wire N1 to B1- 1/0 AWG black 1 in
"""
BANK = """battery B1 agm, 100 Ah, internal 100 mohm
battery B2 agm, 100 Ah, internal {} mohm
busbar D1 100 A
busbar N1 100 A
load L1 {}
wire B1+ to D1 1/0 AWG red 1 in
wire B2+ to D1 1/0 AWG red 1 in
wire B1- to N1 1/0 AWG black 1 in
wire B2- to N1 1/0 AWG black 1 in
wire D1 to L1+ 1/0 AWG red 1 in
wire L1- to N1 1/0 AWG black 1 in
"""


@pytest.mark.parametrize(("said", "share"), [(", efficiency 80 %", 0.8), ("", 1.0)])
@pytest.mark.parametrize("ends", ["E1- to N1", "N1 to E1-"])
def test_what_goes_in_and_what_comes_out_run_against_each_other(
    ends: str, said: str, share: float
) -> None:
    study = study_from(HEAD + CONVERTER.format(said, ends))
    wire = study.rig.by_name.conductors["T1"]
    # The input draws more than the output gives: what is left of both lifts E1- above the bar, so
    # that the lamp has more than 24 V and the input less than 12 V. Of a converter of which nobody
    # knows what it loses nothing is taken to be lost.
    lifted_v = 0.0
    for _ in range(50):
        lamp_a = 96.0 / (24.0 + lifted_v)
        input_a = 24.0 * lamp_a / share / (12.0 - lifted_v)
        ohm = copper_of(study).ohm(wire, input_a - lamp_a, wire.size)
        assert ohm is not None
        lifted_v = ohm * (input_a - lamp_a)
    assert 0.2 < lifted_v < 0.5
    assert circuit_draws(study)["L1"].volts == pytest.approx(24.0 + lifted_v, abs=0.005)


@pytest.mark.parametrize(
    ("inner", "load", "volts"),
    [
        # Alike, each gives 5 A and loses 0.5 V; else 100 and 300 mohm side by side are 75 mohm.
        (100, "10 A", 11.5), (300, "10 A", 11.25),
        (100, "1.15 ohm", 11.5), (300, "1.125 ohm", 11.25),
        (100, "115 W", 11.5), (300, "112.5 W", 11.25),
    ],
)  # fmt: skip
def test_two_batteries_give_as_their_insides_let_them(inner: int, load: str, volts: float) -> None:
    drawn = circuit_draws(study_from(HEAD + BANK.format(inner, load)))["L1"]
    assert drawn.volts == pytest.approx(volts, abs=0.002)
    assert drawn.known_a == pytest.approx(10.0, rel=0.001)


@pytest.mark.parametrize(
    ("inner", "lead"),
    [
        # A fuse takes nothing, and so does copper of which nobody knows how thick it is.
        (100, "1/0 AWG red 1 in, fuse 60 A at B2+"), (300, "1/0 AWG red 1 in, fuse 60 A at B2+"),
        (100, "? red 1 in"), (300, "? red 1 in"),
    ],
)  # fmt: skip
def test_what_takes_no_volts_in_the_lead_of_a_bank_shares_as_if_it_were_not_there(
    inner: int, lead: str
) -> None:
    text = HEAD + BANK.format(inner, "10 A")
    plain = circuit_draws(study_from(text))["L1"]
    led = circuit_draws(study_from(text.replace("B2+ to D1 1/0 AWG red 1 in", f"B2+ to D1 {lead}")))
    assert led["L1"].volts == pytest.approx(plain.volts, abs=0.002)


@pytest.mark.parametrize(
    ("out", "back", "found"),
    [
        ("B1+ to L1+", "L1- to B1-", (1.0, 1.0)), ("L1+ to B1+", "B1- to L1-", (-1.0, -1.0)),
        ("B1+ to L1+", "B1- to L1-", (1.0, -1.0)),
    ],
)  # fmt: skip
def test_current_runs_out_from_plus_and_back_to_minus(
    out: str, back: str, found: tuple[float, float]
) -> None:
    study = study_from(
        f"{HEAD}battery B1 agm, 100 Ah\nload L1 2 A\nwire {out} 10 AWG red 2 ft tag T1\n"
        f"wire {back} 10 AWG black 2 ft tag T2\n"
    )
    (way,) = ways_of(study).of["L1"]
    along = directions("L1+", "L1-", way)
    assert (along["T1"], along["T2"]) == found


@pytest.mark.parametrize(("given_a", "asked_w"), [(4.0, 120.0), (2.0, 60.0), (0.0, 0.0)])
def test_the_input_of_a_converter_asks_for_what_its_output_gives_and_it_loses(
    given_a: float, asked_w: float
) -> None:
    # 24 V of which 80 % come out: 96 W take 120 W; what gives nothing takes nothing.
    study = study_from(HEAD + CONVERTER.format(", efficiency 80 %", "E1- to N1"))
    load, sources = study.rig.by_name.loads["E1.in"], study.rig.by_name.sources
    (way,) = ways_of(study).of["E1.in"]
    asked = Input(sources["E1"], load, way).asks(given_a)
    assert asked.kind == "power"
    assert asked.value == pytest.approx(asked_w, rel=1e-5)
