"""What the survey prints of a rig it reads back as the same, however the rig was written."""

from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from fuzz import trial
from helpers import diagram_rigs
from helpers.home import CORPUS, RIGS
from helpers.studies import checked
from rigfolio.answers.filled_survey import put_in
from rigfolio.judgement.result import Result, check, job_of, understood
from rigfolio.render import StoredTable
from rigfolio.render.csv_text import write_csv
from rigfolio.sheets import survey
from rigfolio.surveys import fill, read_survey

LENGTHS = st.one_of(
    st.integers(5, 900).map("{} cm".format),
    st.integers(3, 99).map("{} in".format),
    st.integers(1, 40).map("{} ft".format),
    st.tuples(st.integers(1, 30), st.integers(1, 11)).map(lambda two: f"{two[0]}'{two[1]}\""),
    st.tuples(st.integers(1, 30), st.sampled_from(["1/2", "1/4", "3/8"])).map(
        lambda two: f"{two[0]} {two[1]} ft"
    ),
    st.integers(100, 9999).map(lambda mm: f"{mm / 1000:g} m"),
)
SIZES = st.sampled_from([("14 AWG", "10 AWG"), ("2.5 mm2", "6 mm2")])


def text_of(lengths: list[str], sizes: tuple[str, str]) -> str:
    thin, thick = sizes
    one, two, three, four = lengths
    return f"""\
rig "Tern"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
dc-dc E1 "Radio supply" 5 A, from 12 V to 24 V, draws 12 A
panel P1 "Panel" 4 slots of 20 A, negative N1
busbar N1 "Minus bar" 100 A
wire B1+ to P1 {thick} red 60 ft, fuse 30 A {one} from B1+
wire B1+ to E1.in {thick} red {two}
wire N1 to B1- {thick} black {three}
circuit B1+ "Gas alarm" fuse 3 A after 6 in
    wire {thin} red {four}
    load "Gas alarm" 0.1 A
circuit P1.1 "Lamp" fuse 3 A
    wire {thin} red {one}, tail {two}
    load "Lamp" 0.1 A
"""


def assert_nothing_new(folder: Path, text: str) -> None:
    rig, table = folder / "tern.rig", folder / "survey.csv"
    rig.write_text(text, encoding="utf-8")
    result = check(str(rig))
    assert result.study is not None, result.findings
    table.write_bytes(write_csv(survey.table(job_of(result))))
    put, _ = put_in(str(rig), str(table))
    assert put.contents == {}
    assert not put.has_trouble, put.told


def test_lengths_of_any_unit_come_back_as_they_are(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    @settings(max_examples=25)
    @given(st.lists(LENGTHS, min_size=4, max_size=4), SIZES)
    def holds(lengths: list[str], sizes: tuple[str, str]) -> None:
        assert_nothing_new(tmp_path_factory.mktemp("any"), text_of(lengths, sizes))

    holds()


PLAIN = [file for file in RIGS if "lapwing" not in file.stem]
"""The examples that are one file."""


@pytest.mark.parametrize("file", PLAIN, ids=lambda file: file.stem)
def test_an_example_comes_back_as_it_is(file: Path, tmp_path: Path) -> None:
    text = file.read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith(("photo", "    mark"))]
    assert_nothing_new(tmp_path, "\n".join(line for line in kept if "white  " not in line))


def test_a_stub_is_no_length_of_a_wire_and_a_converter_has_its_plate(tmp_path: Path) -> None:
    rig = tmp_path / "tern.rig"
    rig.write_text(text_of(["6 in", "20 cm", "3 ft", "9 ft"], ("14 AWG", "10 AWG")))
    cells = {row[0]: row for row in survey.table(job_of(check(str(rig))))}
    heads = cells["place"]
    length, plate = heads.index("length"), heads.index("plate")
    assert cells["circuit B1+"][length] == "9 ft"
    assert cells["B1+/P1"][length] == "60 ft"
    assert "B1+/P1 stub" not in cells
    # As it was typed.
    assert cells["B1+/E1.in"][length] == "0.2 m"
    assert cells["E1"][plate] == "5 A, from 12 V to 24 V, draws 12 A"


def assert_untouched_says_nothing(result: Result) -> None:
    """The table that nobody filled in says nothing that the text does not say.

    Of a panel whose name another one bears nobody knows which of them is meant: that is told.
    """
    assert result.study is not None
    rows = tuple(enumerate(survey.table(job_of(result)), 1))
    read = read_survey(StoredTable(rows, has_commas=False))
    filled = fill(result.study.rig, result.texts, read)
    assert (filled.edits, filled.added) == ((), "")
    assert (*read.trouble, *read.spelt, *filled.spelt) == ()
    names = [panel.about.name for panel in result.study.rig.panels]
    twice = {name for name in names if names.count(name) > 1}
    for one in filled.trouble:
        assert any(f"`{name}" in one.text for name in twice), one


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_an_untouched_table_of_a_file_changes_nothing(file: Path) -> None:
    assert_untouched_says_nothing(checked(file))


@pytest.mark.parametrize("kind", diagram_rigs.KINDS)
def test_an_untouched_table_of_a_generated_rig_changes_nothing(kind: str) -> None:
    assert_untouched_says_nothing(understood("case.rig", text=diagram_rigs.text_of(kind, 3)))


@pytest.mark.parametrize("seed", [6, 23, 43, 67, 86])
def test_an_untouched_table_of_a_grown_rig_changes_nothing(seed: int) -> None:
    assert_untouched_says_nothing(understood("case.rig", text=trial.understood(seed)))


def test_a_charger_with_several_outputs_is_one_part_of_the_table() -> None:
    text = text_of(["6 in", "20 cm", "3 ft", "9 ft"], ("14 AWG", "10 AWG"))
    text += 'charger C1 "Shore charger" 30 A, two outputs\nwire C1.1 to B1+ 10 AWG red 5 ft\n'
    result = understood("case.rig", text=text)
    assert_untouched_says_nothing(result)
    assert result.study is not None
    table = StoredTable(((1, ("place", "note")), (2, ("C1", "hums"))), has_commas=False)
    (edit,) = fill(result.study.rig, result.texts, read_survey(table)).edits
    assert edit.text == ', note "hums"'


def test_a_panel_whose_name_is_used_twice_stands_in_the_table_once() -> None:
    result = understood(
        "x.rig",
        text='rig "X"\nbattery B1\npanel P1 2 slots of 20 A\npanel P1 3 slots of 20 A\n'
        "wire B1+ to P1 6 AWG red 1 ft\n",
    )
    assert_untouched_says_nothing(result)
    assert [row[0] for row in survey.table(job_of(result))].count("P1") == 1
