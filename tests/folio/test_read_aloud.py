"""The folio read by a program for those who do not see it: whole, by circuit, in its languages."""

import re
from pathlib import Path

import pytest

from helpers.tagged import Branch, tree_of
from rigfolio.cli.entry import main

EXAMPLES = Path(__file__).parents[2] / "examples"
GREEK = """\
rig "Γλάρος"
    system   12 V
    rules    boat
battery B1 "Μπαταρία" 105 Ah
panel   P1 "Κουζίνα" 4 slots of 20 A
busbar  N1
wire B1+ to P1 6 AWG red 4 ft
wire B1- to N1 6 AWG black 4 ft
circuit P1.1 "Подсветка и вытяжка"   fuse 7.5 A
    wire  16 AWG red/black 14 ft
    load  "Φως" 2 A
"""


@pytest.fixture(scope="module")
def van(tmp_path_factory: pytest.TempPathFactory) -> Branch:
    place = tmp_path_factory.mktemp("van") / "van.pdf"
    assert main(["folio", str(EXAMPLES / "heron-van.rig"), "-o", str(place)]) == 0
    return tree_of(place.read_bytes())


def test_every_sheet_is_a_section_with_its_title(van: Branch) -> None:
    assert len(van.kids) > 6
    for section in van.kids:
        assert section.kind == "Sect"
        titles = [each.text for each in section.each("H1")]
        assert len(titles) == 1
        assert section.kids[0].kind == "H1"
        assert section.about.split(":")[0] in titles[0] or titles[0] in section.about


def test_the_directory_is_read_by_circuit(van: Branch) -> None:
    directory = next(each for each in van.kids if each.about == "Panel directory")
    tables = list(directory.each("Table"))
    rows = [[cell.text for cell in row.kids] for row in tables[0].kids]
    assert rows[0][:3] == ["slot", "purpose and loads", "fuse or breaker"]
    slots = [row for row in rows if re.fullmatch(r"\d+", row[0])]
    assert [int(row[0]) for row in slots] == list(range(1, len(slots) + 1))
    for row in slots:
        assert re.search(r" A\b|^$", row[2]), row


def test_pictures_are_told_in_words(van: Branch) -> None:
    by_sheet = {section.about: list(section.each("Figure")) for section in van.kids}
    diagram = " ".join(each.about for each in by_sheet["Schematic"])
    assert "Colours never tell polarity" in diagram
    assert "2.5 mm²" in diagram
    slots = [each.about for each in by_sheet["At the panel"]]
    slots = [each.replace("\N{NO-BREAK SPACE}", " ") for each in slots]
    assert [each.split(" ")[0] for each in slots] == [f"P1.{n}" for n in range(1, 13)]
    assert all(re.search(r", \d+(\.5)? A \w+$|no fuse$|spare", each) for each in slots)
    assert {each.about for each in by_sheet["Photo"]} == {"photograph heron-van/panel-before.jpg"}


def test_no_page_is_longer_than_a_string_may_be(van: Branch) -> None:
    """ISO 19005-3, 6.1.12 (from memory): a string has 32767 bytes at the most."""
    longest = max(len(each.about) for each in van.each("Figure"))
    assert 2 * longest < 32_767


def test_words_say_their_language(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("gull.rig").write_text(GREEK, encoding="utf-8")
    assert main(["directory", "gull.rig", "-o", "gull.pdf"]) == 0
    spans = list(tree_of(Path("gull.pdf").read_bytes()).each("Span"))
    assert {each.text: each.language for each in spans} == {
        "Γλάρος": "el",
        "Κουζίνα": "el",
        "Μπαταρία": "el",
        "Подсветка и вытяжка": "ru",
        "Φως": "el",
    }


@pytest.mark.parametrize("name", ["to-cut.pdf", "to-file.pdf"])
def test_what_is_bound_beside_the_folio_is_tagged_too(name: str, tmp_path: Path) -> None:
    rig = EXAMPLES / "lapwing-cabin.rig"
    assert main(["folio", str(rig), "-o", f"{tmp_path}/"]) == 0
    sheets = tree_of((tmp_path / name).read_bytes()).kids
    assert len(sheets) > 2
    assert all(next(sheet.each("H1")).text for sheet in sheets)
