"""What a way out offers where the loads ask for just as much as a wire bears, and how it says so.

In a travel trailer 14 AWG bears 15 A, 12 AWG 20 A and 10 AWG 30 A: NFPA 70 Table 552.10(E)(1), as
it stands in the book (from memory). Blades are made of 15, 20, 25 and 30 A (ISO 8820-3).
"""

import pytest

from helpers.studies import study_from
from rigfolio.books import Limit
from rigfolio.findings import Citation
from rigfolio.model import Conductor, Device
from rigfolio.protection import (
    fuse_near,
    fuse_or_copper,
    need_of,
    slot_limit_a,
    smaller_device,
    sure_a,
    unread_source,
)
from rigfolio.study import Study
from rigfolio.wording import (
    bears,
    carrying,
    distance,
    joined_words,
    listed,
    listed_wires,
    load_name,
)

HEAD = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
busbar D1 200 A
busbar N1 200 A
wire B1- to N1 2/0 AWG black 1 ft
wire B1+ to D1 2/0 AWG red 1 ft, fuse 100 A at B1+, tag T9
"""
PANEL = 'panel P1 "House" 6 slots of 20 A, negative N1\nwire D1 to P1 6 AWG red 2 ft, tag T8\n'


def pump(draws: str) -> tuple[Study, Conductor, Device]:
    """A pump on 14 AWG behind a fuse of 20 A."""
    study = study_from(
        f'{HEAD}load M1 "Pump" {draws}\nwire D1 to M1+ 14 AWG red 9 ft, fuse 20 A at D1, tag T1\n'
        "wire M1- to N1 14 AWG black 9 ft\n"
    )
    (device,) = (one for one in study.rig.devices if one.on_wire == "T1")
    return study, study.rig.conductor("T1"), device


@pytest.mark.parametrize(
    ("draws", "text"),
    [
        ("14 A", "`fuse 15 A`"),
        # A fuse may be loaded to its rating; a hair more needs copper for the next one.
        ("15 A", "`fuse 15 A`"),
        ("15.1 A", "`12 AWG` for `T1`: the loads need 15.1 A"),
        ("20 A", "`12 AWG` for `T1`: the loads need 20 A"),
        ("20.1 A", "`10 AWG` for `T1`, and `fuse 25 A`: the loads need 20.1 A"),
    ],
)
def test_a_smaller_fuse_up_to_what_the_load_needs_and_copper_beyond(draws: str, text: str) -> None:
    study, wire, device = pump(draws)
    assert fuse_or_copper(study, [wire], 15.0, [device]).text == text


@pytest.mark.parametrize(
    ("draws", "text"),
    [
        ("15 A", "a fuse of no more than 15 A at D1, soon"),
        ("15.1 A", "a fuse at D1 and wire to match it: the loads need 15.1 A, soon"),
        # Fuses are made up to 500 A, and copper in stock bears less; beyond that there is neither.
        ("400 A", "a fuse at D1 and wire to match it: the loads need 400 A, soon"),
        ("900 A", "a fuse at D1 and wire to match it: the loads need 900 A, soon"),
    ],
)
def test_a_fuse_where_none_is_and_wire_to_match_where_the_load_needs_more(
    draws: str, text: str
) -> None:
    study, wire, _ = pump(draws)
    assert fuse_near(study, [wire], 15.0, "at D1", ", soon").text == text


@pytest.mark.parametrize(
    ("draws", "text", "written"),
    [
        ("15 A", "a fuse of no more than 15 A at D1: `fuse 15 A at D1`", ["15 A"]),
        ("16 A", "`12 AWG` for `T1`, and a fuse of 20 A at D1: the loads need 16 A: "
         "`fuse 20 A at D1`", ["12 AWG", "20 A"]),
    ],
)  # fmt: skip
def test_a_fuse_is_written_at_the_end_of_a_wire_that_has_none(
    draws: str, text: str, written: list[str]
) -> None:
    study = study_from(
        f"{HEAD}load M1 {draws}\nwire D1 to M1+ 14 AWG red 9 ft, tag T1\n"
        "wire M1- to N1 10 AWG black 9 ft\n"
    )
    wires = [study.rig.conductor("T1")]
    fix = fuse_near(study, wires, 15.0, "at D1", end="D1")
    assert (fix.text, [change.to for change in fix.changes]) == (text, written)
    # Not at a place that is no end of it.
    assert fuse_near(study, wires, 15.0, "at N1", end="N1").changes == ()


TWO_FEEDS = """load M1 "Pump" {draws}
wire D1 to Z1 10 AWG red 3 ft, fuse 30 A at D1, tag T2
wire {start} to Z1 10 AWG red 9 ft, fuse 25 A at {start}, tag T3
splice Z1
wire Z1 to M1+ 14 AWG red 9 ft, tag T1
wire M1- to N1 14 AWG black 9 ft
"""
OWN = "a fuse of its own, 15 A at most, where `T1` begins"
THICKER = "wire that may carry 15.1 A, and a fuse of its own where `T1` begins"


@pytest.mark.parametrize(
    ("start", "draws", "text"),
    [
        ("D1", "15 A", "one `fuse 15 A` in place of `T2 fuse` and `T3 fuse`"),
        ("D1", "15.1 A", THICKER),
        (
            "D1",
            "400 A",
            "no fuse and no stock size serve 400 A: `2 conductors in parallel` of `3/0 AWG` "
            "for `T1`, and a fuse of its own where `T1` begins",
        ),
        # From two places no one fuse can take the place of both.
        ("B1+", "15 A", OWN),
        ("B1+", "15.1 A", THICKER),
    ],
)
def test_behind_two_feeds_one_fuse_or_one_of_its_own(start: str, draws: str, text: str) -> None:
    study = study_from(HEAD + TWO_FEEDS.format(draws=draws, start=start))
    devices = [one for one in study.rig.devices if one.on_wire in ("T2", "T3")]
    assert fuse_or_copper(study, [study.rig.conductor("T1")], 15.0, devices).text == text


@pytest.mark.parametrize(
    ("names", "where"), [(["T1"], "`T1` begins"), (["T1", "T2"], "`T1` and `T2` begin")]
)
def test_thin_wires_behind_a_fuse_that_others_need_get_one_of_their_own(
    names: list[str], where: str
) -> None:
    # 20 A and 3 A ask for 23 A of the fuse; the thin leads bear 15 A, and the lamp asks for 3 A.
    study = study_from(
        f"{HEAD}splice Z1\nsplice Z2\nload M1 20 A\nload M2 3 A\n"
        "wire D1 to Z1 10 AWG red 3 ft, fuse 30 A at D1, tag T3\nwire Z1 to M1+ 10 AWG red 3 ft\n"
        "wire Z1 to Z2 14 AWG red 3 ft, tag T1\nwire Z2 to M2+ 14 AWG red 3 ft, tag T2\n"
        "wire M1- to N1 10 AWG black 9 ft\nwire M2- to N1 10 AWG black 9 ft\n"
    )
    (device,) = (one for one in study.rig.devices if one.on_wire == "T3")
    wires = [study.rig.conductor(name) for name in names]
    text = fuse_or_copper(study, wires, 15.0, [device]).text
    assert text == f"a fuse of its own, 15 A at most, where {where}"


@pytest.mark.parametrize(
    ("draws", "begins"),
    [
        # The slot is made for 20 A: up to that the copper is what is wrong.
        ("19 A", "`12 AWG` for `P1.1/1`, out and back, and `fuse 20 A`"),
        ("20 A", "`12 AWG` for `P1.1/1`, out and back, and `fuse 20 A`"),
        ("20.1 A", "no fuse is right here: the loads need 20.1 A, the slot gives 20 A"),
    ],
)
def test_a_slot_gives_what_it_is_made_for(draws: str, begins: str) -> None:
    study = study_from(
        f'{HEAD}{PANEL}circuit P1.1 "Pump" fuse 30 A\n    wire 14 AWG red 5 ft\n    load {draws}\n'
    )
    device = study.device("P1.1")
    assert device is not None
    assert slot_limit_a(study, device) == 20.0
    wire = study.wires_of("P1.1")[0]
    assert fuse_or_copper(study, [wire], 15.0, [device]).text.startswith(begins)


UNREAD = """load M1 2 A
load M2 "Fan" ? A
wire D1 to M1+ 14 AWG red 2 ft, fuse 15 A at D1, tag T1
wire M1- to N1 14 AWG black 2 ft
wire D1 to M2+ 14 AWG red 2 ft, fuse 20 A at D1, tag T2
wire M2- to N1 14 AWG black 2 ft
charger C1 ? A
charger C2 9 A
wire C1+ to D1 10 AWG red 3 ft, fuse 40 A at D1, tag T3
wire C1- to N1 10 AWG black 3 ft, tag T5
wire C2+ to D1 10 AWG red 3 ft, fuse 15 A at D1, tag T4
wire C2- to N1 10 AWG black 3 ft
"""


def test_what_nobody_has_read_is_asked_for_by_its_name() -> None:
    study = study_from(HEAD + UNREAD)
    device = {one.on_wire: one for one in study.rig.devices}
    known = smaller_device(study, device["T1"], 10.0)
    assert (known.kind, known.text, known.otherwise) == ("safe", "`fuse 10 A`", "")
    fan = smaller_device(study, device["T2"], 15.0)
    assert (fan.kind, fan.text) == (
        "ask", "`fuse 15 A`, if that serves `M2 Fan`: what it draws is unknown",
    )  # fmt: skip
    assert fan.otherwise == "measure what `M2 Fan` draws"
    charger = smaller_device(study, device["T1"], 10.0, "C1")
    assert charger.text == "`fuse 10 A`, if that serves: what `C1` gives is unknown"
    assert charger.otherwise == "read first what `C1` gives"
    assert smaller_device(study, device["T1"], 10.0, "C1", "wait").otherwise == "wait"


def test_a_load_goes_by_name_and_label_and_what_is_no_load_by_its_name() -> None:
    study = study_from(HEAD + UNREAD)
    assert [load_name(study.rig, name) for name in ("M1", "M2", "P9")] == [
        "`M1`",
        "`M2 Fan`",
        "`P9`",
    ]


def test_a_charger_that_nobody_has_read_drives_by_its_own_leads_and_into_the_loads() -> None:
    study = study_from(HEAD + UNREAD)
    told = {name: unread_source(study, {name}) for name in ("T1", "T3", "T4", "T5", "T9")}
    # Out by its plus lead, back by its minus; not by the lead of the other charger or the battery.
    assert told == {"T1": "C1", "T3": "C1", "T4": "", "T5": "C1", "T9": ""}


@pytest.mark.parametrize(
    ("gives", "words"),
    [("9", "charging needs 9 A"), ("2", "the loads need 2 A"), ("1", "the loads need 2 A")],
)
def test_what_a_wire_needs_is_charging_where_that_is_more(gives: str, words: str) -> None:
    # The battery's lead carries the loads out and the charge in.
    study = study_from(
        f"{HEAD}load M1 2 A\nwire D1 to M1+ 14 AWG red 2 ft, fuse 15 A at D1\n"
        "wire M1- to N1 14 AWG black 2 ft\n"
        f"charger C1 {gives} A\nwire C1+ to D1 10 AWG red 3 ft, fuse 15 A at D1\n"
        "wire C1- to N1 10 AWG black 3 ft\n"
    )
    assert need_of(study, ["T9"]) == words


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("a", "a"),
        ("ab", "a and b"),
        ("abcde", "a, b, c, d and e"),
        ("abcdef", "a, b, c, d and 2 more"),
        ("abcdefg", "a, b, c, d and 3 more"),
    ],
)
def test_up_to_five_are_named_and_of_more_four_with_a_count_of_the_rest(
    words: str, said: str
) -> None:
    assert joined_words(list(words)) == said
    assert listed([*words, *words], len(words)).replace("`", "") == joined_words(list(words), 9)


def test_the_leads_of_a_fixture_go_by_its_circuit() -> None:
    study = study_from(
        f'{HEAD}{PANEL}circuit P1.1 "Lamp" fuse 5 A\n    wire 14 AWG red 5 ft\n    load 1 A\n'
    )
    assert listed_wires(study.wires_of("P1.1")) == "`P1.1/1` and `P1.1/1R`"


TABLE = Citation("a table", "seen")


@pytest.mark.parametrize(
    ("limit", "carries", "figure", "sure"),
    [
        (Limit(8.0, TABLE, "row of 16 AWG"), "may carry 8 A: row of 16 AWG", "8 A", 8.0),
        (Limit(8.0, TABLE, "8 A for 16 AWG"), "may carry 8 A for 16 AWG", "8 A", 8.0),
        (Limit(8.0, TABLE, "8 A", is_bound=True), "may carry less than 8 A", "less than 8 A", 0.0),
    ],
)
def test_of_a_bound_nothing_is_sure(limit: Limit, carries: str, figure: str, sure: float) -> None:
    assert (carrying(limit), bears(limit), sure_a(limit)) == (carries, figure, sure)
    assert bears(limit, "7.9 A") == figure.replace("8 A", "7.9 A")


@pytest.mark.parametrize(
    ("size", "length_m", "said"),
    [
        # 100 in are 2.54 m; a metre is spoken in metres.
        ("14 AWG", 2.54, "100 in"),
        ("14 AWG", 2.55, "8.36 ft"),
        ("2.5 mm2", 0.999, "999 mm"),
        ("2.5 mm2", 1.0, "1 m"),
    ],
)
def test_a_length_is_spoken_as_the_trade_speaks_beside_the_wire(
    size: str, length_m: float, said: str
) -> None:
    # common practice: inches up to some hundred, then feet; millimetres below a metre.
    study = study_from(f"{HEAD}load M1 2 A\nwire D1 to M1+ {size} red 9 ft, tag T1\n")
    assert distance(length_m, study.rig.conductor("T1")) == said
