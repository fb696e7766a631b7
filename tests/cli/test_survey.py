"""A survey from sheet to text, as a user does it."""

import csv
import io
import re
from collections.abc import Mapping
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import RIGS
from rigfolio.answers.filled_survey import put_in
from rigfolio.cli.entry import main
from rigfolio.judgement.result import check, understood
from rigfolio.kinds import CONDITIONS
from rigfolio.manual import first_text
from rigfolio.manual.first_text import Kind, Start, starter
from rigfolio.model.graph import Rig

RIG = """\
rig "Test"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 ? A                 # read it
panel P1 6 slots of 20 A    # a comment
busbar N1 100 A
wire B1+ to F1 6 AWG red 4 ft
wire F1 to P1 6 AWG red 4 ft
wire N1 to B1- ? AWG ? 4 ft
circuit P1.1 "Lamp" fuse ? A   # hello
    wire 16 AWG ? ? ft    # which colour
    load "Lamp" 1 A
slot P1.6 spare
"""


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    file = tmp_path / "test.rig"
    file.write_bytes(RIG.encode())
    return file


def table_of(folder: Path, *rows: str) -> str:
    file = folder / "filled.csv"
    file.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return str(file)


def survey(rig: Path, *rows: str) -> int:
    return main(["survey", str(rig), "--from", table_of(rig.parent, *rows), "--write"])


def test_blanks_are_filled_in_and_all_else_stays_to_the_byte(rig: Path) -> None:
    assert (
        survey(
            rig,
            "place,colour,size,length,fuse,fuse found,fuse marked,tail,condition",
            "P1.1,red/black,16 AWG,9 ft,5 A,20 A,10 A,6 in,scorched",
            "B1-/N1,black,6 AWG,,,,,,",
            "F1,,,,50 A,,,,",
        )
        == 0
    )
    expected = (
        RIG.replace("fuse F1 ? A ", "fuse F1 50 A ")
        .replace("wire N1 to B1- ? AWG ? 4 ft", "wire N1 to B1- 6 AWG black 4 ft")
        .replace("fuse ? A   # hello", "fuse 5 A, found 20 A, marked 10 A, scorched   # hello")
        .replace("wire 16 AWG ? ? ft    #", "wire 16 AWG red/black 9 ft, tail 6 in    #")
    )
    assert rig.read_text(encoding="utf-8") == expected
    assert {"wrong-fuse-found", "marking-wrong", "part-damaged"} <= {
        finding.rule for finding in check(str(rig)).findings
    }


def test_new_slots_become_circuits_and_spares(rig: Path) -> None:
    assert (
        survey(
            rig,
            "slot;name;color;gauge;found [A];wires;went dead;remark",
            "P1.3;Pump;yellow;14 AWG;15;2;Pump; by the sink",
            "P1.2;spare;;;;;;",
        )
        == 0
    )
    text = rig.read_text(encoding="utf-8")
    assert text.startswith(RIG)
    assert text[len(RIG) :] == (
        "\nslot P1.2 spare\n"
        'circuit P1.3 "Pump" fuse ? A, found 15 A, note "2 wires on its terminal; by the sink"\n'
        '    wire 14 AWG yellow ? ft\n    load "Pump" ? A\n'
    )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("P1.1,Fan,,,,,", "the text calls it `Lamp`, the survey `Fan`"),
        ("P1.1,,,yelow,,,", "P1.1, colour: `yelow`; the nearest is `yellow`"),
        ('P1.1,,"1,5 mm2",,,,', "a comma in a number: write a point"),
        ("P1.1,,,,20,,", "no unit: write it behind the number, or name it in the heading"),
        ("P1.1,,,,,scorchd,", "P1.1, condition: `scorchd`; the nearest is `scorched`"),
        ("P1.1,,,,,,some", "no whole number:"),
        ("P1.6,Radio,,,,,", "the text says it is spare: name `Radio` is NOT TAKEN"),
        ("P1.7,Radio,,,,,", "`P1` has 6 slots in the text"),
        ("P2.1,Radio,,,,,", "nothing is called `P2.1`"),
        (",Radio,,,,,", "no place before it"),
    ],
)
def test_what_does_not_agree_is_told_and_left_alone(
    rig: Path, line: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    heads = "place,name,size,colour,fuse found,condition,wires"
    assert survey(rig, heads, line) == 1
    told = capsys.readouterr().out
    assert said in told
    assert "filled.csv:2: " in told
    assert rig.read_bytes() == RIG.encode()


def test_a_row_that_stands_twice_is_told(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert survey(rig, "place,colour", "B1-/N1,black", "B1-/N1,white") == 1
    assert "B1-/N1: it stands in row 2" in capsys.readouterr().out
    assert "black" in rig.read_text(encoding="utf-8")


def test_nothing_is_written_unless_asked(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    filled = table_of(rig.parent, "place,colour", "B1-/N1,black")
    assert main(["survey", str(rig), "--from", filled]) == 0
    assert "`--write` puts it into the text" in capsys.readouterr().err
    assert rig.read_bytes() == RIG.encode()


def test_a_survey_makes_a_new_rig(tmp_path: Path) -> None:
    rig = tmp_path / "found.rig"
    rows = [f"P1.{slot},Circuit {slot},red,16 AWG,5 A" for slot in range(1, 61)]
    assert survey(rig, "place,name,colour,size,fuse", *rows) == 0
    result = check(str(rig))
    assert result.study is not None
    assert result.study.rig.panels[0].slots == 60
    assert len(result.study.rig.circuits) == 60
    assert "danger" not in {finding.severity.value for finding in result.findings}


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b'place,name\n"P1.1,Lamp\n', b"", b"a,b\n1,2"]
)
def test_a_table_that_is_none(rig: Path, content: bytes) -> None:
    file = rig.parent / "filled.csv"
    file.write_bytes(content)
    assert main(["survey", str(rig), "--from", str(file), "--write"]) in (1, 2)
    assert rig.read_bytes() == RIG.encode()


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_table_that_is_printed_changes_nothing(file: Path, tmp_path: Path) -> None:
    out = tmp_path / "survey.csv"
    assert main(["survey", str(file), "-o", str(out)]) == 0
    put, _ = put_in(str(file), str(out))
    assert put is not None
    assert put.contents == {}
    assert "nothing that the text does not say already" in put.told


def test_the_table_asks_for_every_slot(tmp_path: Path, rig: Path) -> None:
    out = tmp_path / "survey.csv"
    assert main(["survey", str(rig), "-o", str(out)]) == 0
    rows = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8-sig"))))
    places = [row["place"] for row in rows]
    assert places[:7] == ["P1", *(f"P1.{slot}" for slot in range(1, 7))]
    assert {"F1", "B1+/F1", "F1/P1", "B1-/N1", "B1", "N1"} <= set(places)
    assert rows[0]["plate"] == "6 slots of 20 A"
    assert rows[1]["belongs"] == ""
    assert rows[1]["gauge"] == "16 AWG"
    assert rows[1]["draws"] == "1 A"


CELLS = {
    "name": ("Lamp", "Fan", "spare", 'the "old" one'),
    "colour": ("red/black", "violet", "Brown", "reddish"),
    "size": ("16 AWG", "2.5 mm2", "a thumb"),
    "length": ("9 ft", "3 m", "12"),
    "fuse": ("5 A", "10 A", "7,5 A"),
    "fuse found": ("15 A", "20 A", "blown"),
    "fuse marked": ("10 A", "?"),
    "wires": ("1", "3", "some"),
    "went dead": ("Radio; Step lamp", "Radio; Step lamp", "Lamp"),
    "tail": ("6 in", "150 mm"),
    "condition": ("scorched", "loose, corroded", "warm"),
    "note": ("rubs on the frame", "# not a comment", "x" * 90),
}
"""What people write into a column, read and not read."""
PLACES = ("P1.1", "P1.1", "P1.2", "P1.3", "P1.6", "P1.9", "F1", "B1-/N1", "B1", "nobody", "")
KNOWN = re.sub(r"\?( AWG| ft| A)?", "", RIG)
"""What the text of the rig says and does not ask."""
NOISE = st.text("P1.23 redA?\"'#,;=\né", max_size=8)


@st.composite
def tables(draw: st.DrawFn) -> list[dict[str, str]]:
    """Rows of a survey: most cells empty or as people write them, some of them noise."""
    rows = []
    for place in draw(st.lists(st.sampled_from(PLACES), min_size=1, max_size=5)):
        columns = draw(
            st.lists(st.sampled_from(sorted(CELLS)), min_size=1, max_size=5, unique=True)
        )
        columns += draw(st.sampled_from(([], ["went dead", "condition", "fuse found"])))
        cells = {name: draw(st.sampled_from((*CELLS[name], "noise"))) for name in columns}
        cells = {name: draw(NOISE) if cell == "noise" else cell for name, cell in cells.items()}
        rows.append({"place": place, **cells})
    return rows


def is_within(part: str, whole: str) -> bool:
    """Whether all letters of a text stand in another in their order."""
    rest = iter(whole)
    return all(letter in rest for letter in part)


def shows(rig: Rig, row: Mapping[str, str]) -> bool:
    """Whether a rig says of a circuit what a row has in columns that its text left open."""
    circuit = rig.by_name.circuits[row["place"]]
    loads = [rig.by_name.loads[name] for name in circuit.loads]
    condition, _, more = row.get("condition", "").partition(", ")
    met = [
        circuit.found_a == AMPERES.get(row.get("fuse found", ""), circuit.found_a),
        circuit.marked_a == AMPERES.get(row.get("fuse marked", ""), circuit.marked_a),
        condition not in CONDITIONS or circuit.condition == condition,
        more not in CONDITIONS or f"also {more}" in circuit.note,
        # What went dead hangs at the end of the wire, beside what is known to be there.
        row.get("went dead") != "Radio; Step lamp"
        or {load.about.label for load in loads} == {"Lamp", "Radio", "Step lamp"},
        len({load.plus for load in loads}) == 1,
    ]
    return all(met)


AMPERES = {"15 A": 15.0, "20 A": 20.0, "10 A": 10.0}


def test_what_went_dead_is_put_behind_the_wire_of_its_circuit(rig: Path) -> None:
    assert survey(rig, "place,went dead", "P1.1,lamp; Radio; Step lamp") == 0
    more = '    load "Lamp" 1 A\n    load "Radio" ? A\n    load "Step lamp" ? A\n'
    assert rig.read_text(encoding="utf-8") == RIG.replace('    load "Lamp" 1 A\n', more)


@pytest.mark.parametrize("cell", ["the lamp", "Lamp?", "LAMP", "Lamp; lamp", "Lamp 1 A", "Lamp."])
def test_a_load_that_is_there_is_known_again_as_people_write_it(rig: Path, cell: str) -> None:
    assert survey(rig, "place,went dead", f"P1.1,{cell}") == 0
    assert rig.read_text(encoding="utf-8") == RIG


def test_the_label_of_a_circuit_stands_for_its_one_load(rig: Path) -> None:
    text = RIG.replace('load "Lamp"', 'load "Reading lamp"')
    rig.write_text(text, encoding="utf-8")
    assert survey(rig, "place,went dead", "P1.1,Lamp") == 0
    assert rig.read_text(encoding="utf-8") == text


def test_of_names_in_a_row_only_what_is_new_is_added(rig: Path) -> None:
    assert survey(rig, "place,went dead", "P1.1,lamp and radio") == 0
    more = '    load "Lamp" 1 A\n    load "radio" ? A\n'
    assert rig.read_text(encoding="utf-8") == RIG.replace('    load "Lamp" 1 A\n', more)


def test_a_load_that_hangs_elsewhere_is_told_and_not_written_twice(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = RIG + 'circuit P1.2 "Radio" fuse 5 A\n    wire 16 AWG red 4 ft\n    load "Radio" 1 A\n'
    rig.write_text(text, encoding="utf-8")
    assert survey(rig, "place,went dead", "P1.1,Lamp & Radio") == 1
    assert "the text has `Radio` at P1.2" in capsys.readouterr().out
    assert rig.read_text(encoding="utf-8") == text


def test_another_gauge_is_kept_as_the_one_that_was_found(rig: Path) -> None:
    assert survey(rig, "place,gauge", "P1.1,18 AWG", "F1/P1,8 AWG") == 0
    after = rig.read_text(encoding="utf-8")
    assert "    wire 16 AWG ? ? ft, found 18 AWG    # which colour" in after
    assert "wire F1 to P1 6 AWG red 4 ft, found 8 AWG" in after
    assert survey(rig, "place,gauge", "P1.1,16 AWG", "F1/P1,6 AWG") == 0
    assert rig.read_text(encoding="utf-8") == after


def test_what_loads_draw_goes_to_those_that_are_there_and_comes_with_new_ones(rig: Path) -> None:
    text = RIG.replace('load "Lamp" 1 A', 'load "Lamp" ? A\n    load "Fan"')
    rig.write_text(text.replace('load "Fan"', 'load "Fan" 2 A'), encoding="utf-8")
    rows = ("place,went dead,draws", "P1.1,lamp; Fan; Pump 7 A; Radio,18 W; 2 A; ; .5 amp")
    assert survey(rig, *rows) == 0
    after = rig.read_text(encoding="utf-8")
    assert after.endswith(
        '    load "Lamp" 18 W\n    load "Fan" 2 A\n    load "Pump" 7 A\n    load "Radio" 0.5 A\n'
        "slot P1.6 spare\n"
    )
    assert survey(rig, *rows) == 0
    assert rig.read_text(encoding="utf-8") == after


def test_a_load_that_nobody_had_named_gets_its_name(rig: Path) -> None:
    assert survey(rig, "place,name", "P1.2,Pump") == 0
    assert 'load "not known yet" ? A' in rig.read_text(encoding="utf-8")
    assert survey(rig, "place,went dead,draws", "P1.2,Sump pump; Float lamp,5 A; 1 W") == 0
    assert rig.read_text(encoding="utf-8").endswith(
        '    load "Sump pump" 5 A\n    load "Float lamp" 1 W\n'
    )


def test_a_draw_that_differs_is_told_and_left_alone(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert survey(rig, "place,went dead,draws", "P1.1,Lamp,3 A") == 1
    assert "the text says `Lamp` draws `1 A`, the survey `3 A`" in capsys.readouterr().out
    assert survey(rig, "place,went dead,draws", "P1.1,Lamp; Fan,3 A") == 1
    assert "2 loads and 1 draw;" in capsys.readouterr().out


PARTS = """\
rig "Parts"
    rules rv
battery B1 ? Ah
panel P1 4 slots of ? A
busbar N1 ? A
charger C1 ? A
fuse F1 ? A on B1+
wire F1.load to P1 6 AWG red 4 ft
wire C1+ to P1 6 AWG red 4 ft, fuse ? A at P1
wire C1- to N1 6 AWG black 4 ft
wire N1 to B1- 6 AWG black 4 ft
"""


def test_batteries_panels_sources_and_fuses_on_wires_have_rows(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig.write_text(PARTS, encoding="utf-8")
    rows = (
        "place,name,found,belongs,plate,condition",
        'B1,battery House bank,,,"AGM, 105AH",corroded',
        'P1,,,,"4 slots of 20 A, 60 A in all",',
        "N1,,,,100 A,", "C1,charger,,,45a,", "F1,,50 amp,,,burnt", "C1+/P1 fuse,,60 A,50 A,,",
    )  # fmt: skip
    assert survey(rig, *rows) == 0
    assert "C1+/P1 fuse: found 60 A" in capsys.readouterr().out
    after = rig.read_text(encoding="utf-8")
    assert after == (
        PARTS.replace("battery B1 ? Ah", 'battery B1 105AH, "House bank", AGM, corroded')
        .replace("4 slots of ? A", "4 slots of 20 A, 60 A in all")
        .replace("busbar N1 ? A", "busbar N1 100 A")
        .replace("charger C1 ? A", "charger C1 45a")
        .replace("fuse F1 ? A on B1+", "fuse F1 50 A on B1+, scorched")
        .replace("fuse ? A at P1", "fuse 50 A at P1, found 60 A")
    )
    survey(rig, *rows)
    assert rig.read_text(encoding="utf-8") == after
    assert survey(rig, "place,plate", 'B1,"agm, a big one"') == 1
    told = capsys.readouterr().out
    assert "not the words of its statement, which `rigfolio help battery` lists" in told
    assert "B1, plate: `a big one`" in told


GUARDS = {
    "F1": ("fuse F1 {belongs} on B1+", "fuse F1 {belongs} on B1+, found {found}"),
    "C1+/P1 fuse": ("fuse {belongs} at P1", "fuse {belongs} at P1, found {found}"),
}
"""How a guard outside the slots is written, as it belongs and with what was found there."""


@given(
    place=st.sampled_from(sorted(GUARDS)),
    found=st.sampled_from((30, 40, 50, 60, 80)),
    belongs=st.sampled_from((30, 40, 50, 60, 80)),
    is_told=st.booleans(),
)
@settings(deadline=None, max_examples=40)
def test_what_was_found_in_a_holder_is_written_and_judged(
    tmp_path_factory: pytest.TempPathFactory, place: str, found: int, belongs: int, *, is_told: bool
) -> None:
    """By the text, or by the table, another rating belongs there than was found."""
    rig = tmp_path_factory.mktemp("found") / "test.rig"
    plain, other = (words.format(belongs=f"{belongs} A", found=f"{found} A")
                    for words in GUARDS[place])  # fmt: skip
    blank = GUARDS[place][0].format(belongs="? A")
    rig.write_text(PARTS if is_told else PARTS.replace(blank, plain), encoding="utf-8")
    row = f"{place},{found} A,{f'{belongs} A' if is_told else ''}"
    table = table_of(rig.parent, "place,found,belongs", row)
    for _ in range(2):
        put, _ = put_in(str(rig), table)
        assert put is not None
        assert not put.has_trouble
        for path, content in put.contents.items():
            path.write_bytes(content)
        wanted = plain if found == belongs else other
        assert rig.read_text(encoding="utf-8") == PARTS.replace(blank, wanted)
    study = understood(str(rig)).study
    assert study is not None
    device = study.device(place)
    assert device is not None
    assert device.found_a == (None if found == belongs else found)


def test_a_part_that_the_text_lacks_is_added_where_its_kind_is_said(rig: Path) -> None:
    rows = ("place,name,found,plate", "C1,Charger In the bench,,45 A", "F7,fuse Spare feed,30a,",
            "K9,fridge,,")  # fmt: skip
    assert survey(rig, *rows) == 1
    after = rig.read_text(encoding="utf-8")
    assert after == f'{RIG}\ncharger C1 "In the bench" 45 A\nfuse F7 "Spare feed" 30 A\n'
    assert survey(rig, *rows) == 1
    assert rig.read_text(encoding="utf-8") == after


def test_a_circuit_is_found_by_the_place_where_it_starts(rig: Path) -> None:
    text = (
        RIG + 'circuit F1.line "Detector" fuse ? A\n    wire ? AWG red ? ft\n    load "D" 0.1 A\n'
    )
    rig.write_text(text, encoding="utf-8")
    assert survey(rig, "place,belongs,gauge,length", "F1.line,3a,16ga,9'") == 0
    after = rig.read_text(encoding="utf-8")
    assert '"Detector" fuse 3 A\n    wire 16 AWG red 9 ft\n' in after


def test_how_cells_were_read_is_said_once_with_their_rows(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [f"P1.{slot},14ga,9 ft,1" for slot in (2, 3, 4)]
    assert survey(rig, "place,size,length,wires", *rows, "P1.5,14 AWG,~9',2") == 0
    told = capsys.readouterr().out
    assert "read `14ga` as `14 AWG` in rows 2, 3, 4\n" in told
    assert "read `~9'` as `9 ft`, which is about so in row 5\n" in told
    assert "read `9 ft`" not in told
    text = rig.read_text(encoding="utf-8")
    assert text.count("on its terminal") == 1


def test_what_cannot_be_read_is_listed_by_kind_and_the_rest_goes_in(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    heads, rows = "place,gauge,length,found", ["P1.2,14,9,15 A", "P1.3,12 AWG,?,20", "P1.4,x,8',"]
    assert survey(rig, heads, *rows) == 1
    told = capsys.readouterr().out
    assert told.count("no unit: write it behind the number") == 1
    for line, cell in (
        (2, "gauge: `14`"),
        (2, "length: `9`"),
        (3, "found: `20`"),
        (4, "gauge: `x`"),
    ):
        assert f"filled.csv:{line}: P1.{line}, {cell}\n" in told
    text = rig.read_text(encoding="utf-8")
    assert "circuit P1.2 fuse ? A, found 15 A\n    wire ? AWG ? ? ft" in text
    assert "wire 12 AWG ? ? ft" in text
    assert "wire ? AWG ? 8 ft" in text
    mended = ["P1.2,14 AWG,9 ft,15 A", "P1.3,12 AWG,,20 A", "P1.4,x,8',"]
    assert survey(rig, heads, *mended) == 1
    text = rig.read_text(encoding="utf-8")
    assert "circuit P1.2 fuse ? A, found 15 A\n    wire 14 AWG ? 9 ft" in text
    assert "circuit P1.3 fuse ? A, found 20 A" in text


def test_no_table_breaks_a_rig(tmp_path_factory: pytest.TempPathFactory) -> None:
    written: list[str] = []

    @settings(max_examples=80)
    @given(tables())
    def holds(rows: list[dict[str, str]]) -> None:
        folder = tmp_path_factory.mktemp("any")
        rig, filled = folder / "test.rig", folder / "filled.csv"
        rig.write_text(RIG, encoding="utf-8")
        text = io.StringIO()
        table = csv.DictWriter(text, ["place", *CELLS])
        table.writeheader()
        table.writerows(rows)
        filled.write_text(text.getvalue(), encoding="utf-8")
        put, result = put_in(str(rig), str(filled))
        assert put is not None
        assert result.study is not None
        for path, content in put.contents.items():
            path.write_bytes(content)
            written.append(content.decode())
        after = rig.read_text(encoding="utf-8")
        assert is_within(KNOWN, after)
        study = understood(str(rig)).study
        assert study is not None
        first = {row["place"]: row for row in reversed(rows)}
        if put.contents and "P1.1" in first:
            assert shows(study.rig, first["P1.1"])
        again, _ = put_in(str(rig), str(filled))
        assert again is not None
        assert again.contents == {}

    holds()
    assert len(set(written)) > 15


OFFERED = [
    (kind, parts)
    for kind, offered in first_text.PARTS.items()
    for count in range(len(offered) + 1)
    for parts in combinations(offered, count)
]


@pytest.mark.parametrize(("kind", "parts"), OFFERED)
def test_a_new_rig_is_read_and_nothing_in_it_is_taken_as_good(
    kind: Kind, parts: tuple[str, ...]
) -> None:
    volts = (12, 24, 48)[len(parts) % 3]
    text = starter(
        Start(kind, "my rig", 8, volts, metric=len(parts) % 2 > 0, parts=frozenset(parts))
    )
    result = check("my rig.rig", text=text)
    assert result.study is not None
    assert result.study.rig.panels[0].slots == 8
    severities = {finding.severity.value for finding in result.findings}
    assert "unknown" in severities
    assert not severities & {"error", "danger", "fault"}
    kinds = {source.kind for source in result.study.rig.sources}
    assert {"vehicle", "alternator", "solar"} & set(parts) <= kinds
    # A van and a boat have an engine, a towable the one in front of it, a cabin neither.
    assert ("vehicle" in kinds) <= (kind == "towable")
    assert ("alternator" in kinds) <= (kind in ("van", "boat"))
    assert "dc-dc" not in parts or kinds & {"vehicle", "alternator"}
    banks = sum(source.kind == "battery" for source in result.study.rig.sources)
    assert (banks > 1) == (
        (kind in ("van", "boat") and "dc-dc" in parts) or (kind == "van" and "alternator" in parts)
    )


@pytest.mark.parametrize("kind", first_text.PARTS)
def test_a_new_rig_is_written_once_with_what_it_can_have(
    kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "my rig.rig"
    assert main(["new", kind, str(file), "--with", "engine room"]) == 2
    told = capsys.readouterr().err
    assert all(f"`{part}`" in told for part in first_text.PARTS[kind])
    assert main(["new", kind, str(file)]) == 0
    before = file.read_bytes()
    assert main(["new", kind, str(file)]) == 2
    assert file.read_bytes() == before
