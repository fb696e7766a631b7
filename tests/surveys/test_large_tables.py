"""Tables that no survey is: refused with a limit that is named, before they take time or memory."""

import io
import sys
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import odf.opendocument
import odf.table
import odf.text
import openpyxl
import pytest
from hypothesis import given, settings, strategies as st

from helpers.apart import Apart, apart
from helpers.home import EXAMPLES
from rigfolio import nearness
from rigfolio.cli.entry import main
from rigfolio.render.csv_text import MOST_COLUMNS, MOST_ROWS, LargeError, read_grid
from rigfolio.render.workbook import read_workbook
from rigfolio.render.workbook_parts import MOST_BYTES, looked_through

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_DOC = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_REL = "http://schemas.openxmlformats.org/package/2006/relationships"
_OASIS = "urn:oasis:names:tc:opendocument:xmlns"
_SHEET = "application/vnd.oasis.opendocument.spreadsheet"
HEAD = '<row r="1"><c r="A1" t="inlineStr"><is><t>place</t></is></c></row>'
LINE = (
    '<table:table-row><table:table-cell office:value-type="string"><text:p>place</text:p>'
    "</table:table-cell></table:table-row>"
)


def packed(parts: dict[str, str]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as file:
        for name, part in parts.items():
            file.writestr(name, part)
    return made.getvalue()


def xlsx(rows: str, *, before: str = "", texts: str = "", sheets: int = 1) -> bytes:
    """The least that ISO/IEC 29500 asks of a workbook (from memory)."""
    listed = "".join(f'<sheet name="S{n}" sheetId="{n}" r:id="r1"/>' for n in range(1, sheets + 1))
    kinds = "application/vnd.openxmlformats-package.relationships+xml"
    return packed(
        {
            "[Content_Types].xml": (
                '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
                f'<Default Extension="rels" ContentType="{kinds}"/></Types>'
            ),
            "_rels/.rels": (
                f'<Relationships xmlns="{_REL}"><Relationship Id="r1" '
                f'Type="{_DOC}/officeDocument" Target="xl/workbook.xml"/></Relationships>'
            ),
            "xl/workbook.xml": (
                f'<workbook xmlns="{_MAIN}" xmlns:r="{_DOC}"><sheets>{listed}</sheets></workbook>'
            ),
            "xl/_rels/workbook.xml.rels": (
                f'<Relationships xmlns="{_REL}"><Relationship Id="r1" Type="{_DOC}/worksheet" '
                'Target="worksheets/sheet1.xml"/></Relationships>'
            ),
            "xl/sharedStrings.xml": f'<sst xmlns="{_MAIN}">{texts}</sst>',
            "xl/worksheets/sheet1.xml": (
                f'{before}<worksheet xmlns="{_MAIN}"><sheetData>{rows}</sheetData></worksheet>'
            ),
        }
    )


def ods(rows: str) -> bytes:
    """The least that ISO/IEC 26300 asks of a workbook (from memory)."""
    spaces = " ".join(f'xmlns:{name}="{_OASIS}:{name}:1.0"' for name in ("office", "table", "text"))
    return packed(
        {
            "mimetype": _SHEET,
            "META-INF/manifest.xml": f'<m:manifest xmlns:m="{_OASIS}:manifest:1.0"/>',
            "content.xml": (
                f"<office:document-content {spaces}><office:body><office:spreadsheet>"
                f'<table:table table:name="S">{rows}</table:table>'
                "</office:spreadsheet></office:body></office:document-content>"
            ),
        }
    )


def times(rows: int, columns: int, *, text: str = "x") -> str:
    inside = f"<text:p>{text}</text:p>" if text else ""
    return (
        f'<table:table-row table:number-rows-repeated="{rows}"><table:table-cell '
        f'table:number-columns-repeated="{columns}">{inside}</table:table-cell></table:table-row>'
    )


def cell(place: str, inside: str = "<v>1</v>") -> str:
    return f'<row><c r="{place}">{inside}</c></row>'


def liar() -> bytes:
    """Of a workbook with a part that says it is small, and is not."""
    content = xlsx(HEAD + cell("A2", f"<v>{'1' * 10 * MOST_BYTES}</v>"))
    with zipfile.ZipFile(io.BytesIO(content)) as file:
        size = file.getinfo("xl/worksheets/sheet1.xml").file_size
    return content.replace(size.to_bytes(4, "little"), (1000).to_bytes(4, "little"))


LONG = f"<si><t>{'z' * 1_000_000}</t></si>"
TABLES: dict[str, tuple[Callable[[], bytes], str]] = {
    "far.xlsx": (lambda: xlsx(HEAD + cell("XFD1048576")), "more than 20000 rows"),
    "wide.xlsx": (lambda: xlsx(HEAD + cell("XFD5000")), "more than 100 columns"),
    "tall.xlsx": (lambda: xlsx(HEAD + cell("A1048576")), "more than 20000 rows"),
    "unplaced.xlsx": (
        lambda: xlsx(f'{HEAD}<row r="1048576"><c><v>1</v></c></row>'), "more than 20000 rows",
    ),
    "bomb.xlsx": (lambda: xlsx(cell("A2", f"<v>{'1' * 30_000_000}</v>")), "more than 20 MB"),
    "liar.xlsx": (liar, "it is no workbook that can be read"),
    "one-text.xlsx": (
        lambda: xlsx('<row><c t="s"><v>0</v></c></row>' * 10_000, texts=LONG),
        "more than 30 million letters",
    ),
    "sheets.xlsx": (
        lambda: xlsx(cell("CV20000", "<v> </v>"), sheets=300), "more than 2000000 empty cells",
    ),
    "elements.xlsx": (lambda: xlsx("<row/>" * 1_000_001), "more than 1000000 elements"),
    "entities.xlsx": (
        lambda: xlsx(cell("A2", "<v>&a;</v>"), before='<!DOCTYPE l [<!ENTITY a "1">]>'),
        "it is no workbook that can be read",
    ),
    "square.ods": (lambda: ods(LINE + times(4_000, 16_384)), "more than 100 columns"),
    "rows.ods": (lambda: ods(LINE + times(2**64 - 1, 1)), "more than 20000 rows"),
    "between.ods": (
        lambda: ods(LINE + times(1_000_000, 1, text="") + LINE), "more than 20000 rows",
    ),
    "columns.ods": (lambda: ods(LINE + times(1, 4_000_000_000)), "more than 100 columns"),
    "blanks.ods": (
        lambda: ods(LINE + times(1, 1, text='<text:s text:c="2000000000"/>')),
        "more than 30 million letters",
    ),
    "headings.csv": (
        lambda: ",".join(["place", *(f"heading{n}" for n in range(200_000))]).encode(),
        "more than 100 columns",
    ),
    "rows.csv": (lambda: b"place,name\n" + b"a,b\n" * 700_000, "more than 20000 rows"),
}  # fmt: skip


@pytest.fixture(scope="module")
def processes() -> Iterator[Apart]:
    with apart() as waiting:
        yield waiting


@pytest.mark.parametrize("name", TABLES)
@pytest.mark.skipif(sys.platform != "linux", reason="kilobytes are those of Linux")
def test_a_table_that_is_no_survey_is_refused_within_bounds(
    name: str, tmp_path: Path, processes: Apart
) -> None:
    """A process that takes far more time or memory is ended by the system."""
    make, why = TABLES[name]
    (tmp_path / name).write_bytes(make())
    text = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    (tmp_path / "my.rig").write_text(text, encoding="utf-8")
    words = ("survey", "my.rig", "--from", name, "--write")
    said = processes.run(tmp_path, words, most_s=20, most_bytes=1_500_000_000)
    assert said.code == 2
    assert why in said.err
    assert said.peak_kb < 300_000
    assert (tmp_path / "my.rig").read_text(encoding="utf-8") == text


def test_just_as_much_as_is_read() -> None:
    full = [["place", *["x"] * (MOST_COLUMNS - 1)], *([["P1.1"]] * (MOST_ROWS - 1))]
    text = "\n".join(",".join(row) for row in full)
    assert len(read_grid(text).rows) == MOST_ROWS
    for more in (f"{text}\nP1.1", text.replace("place", "place,x", 1)):
        with pytest.raises(LargeError):
            read_grid(more)
    table = read_workbook(xlsx(HEAD + cell(f"CV{MOST_ROWS}")))
    assert [line for line, _ in table.rows] == [1, MOST_ROWS]
    assert len(table.rows[-1][1]) == MOST_COLUMNS
    for beyond in (f"CW{MOST_ROWS}", f"CV{MOST_ROWS + 1}"):
        with pytest.raises(LargeError):
            read_workbook(xlsx(HEAD + cell(beyond)))


def test_what_only_looks_like_something_is_not_laid_out() -> None:
    """Office programs set the looks of whole rows and columns, far beyond what is filled in."""
    looks = '<row r="2"><c r="XFD2" s="1"/></row><row r="1048576" s="1"/>'
    assert read_workbook(xlsx(HEAD + looks)).rows == ((1, ("place",)),)
    behind = times(1_048_570, 16_384, text="")
    assert read_workbook(ods(LINE + behind)).rows == ((1, ("place",)),)


def test_a_log_of_many_lines_is_no_table(tmp_path: Path) -> None:
    rig, log = tmp_path / "wren.rig", tmp_path / "wren-log.txt"
    rig.write_bytes((EXAMPLES / "marsh-wren-17.rig").read_bytes())
    before = "# cold, rain since noon\n" * (MOST_ROWS + 1)
    log.write_text(before, encoding="utf-8")
    assert main(["log", str(rig), "--on", "2026-03-14", "B1 = 12.6 V"]) == 0
    assert log.read_text(encoding="utf-8") == f"{before}2026-03-14  B1 = 12.6 V\n"
    assert main(["diagnose", str(rig), "--logged", "2026-03-14"]) == 0


def test_what_is_longer_than_anything_known_is_not_searched(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    import difflib

    def searched(*_: object, **__: object) -> list[str]:
        raise AssertionError

    monkeypatch.setattr(difflib, "get_close_matches", searched)
    assert nearness.nearest("colour" * 20_000, ["colour", "gauge"]) == ""


@given(
    st.text("abc ", max_size=30),
    st.lists(st.text("abc ", max_size=9), max_size=4),
    st.sampled_from([0.5, 0.6]),
)
def test_the_nearest_is_that_of_the_whole_search(word: str, known: list[str], least: float) -> None:
    from difflib import SequenceMatcher

    said = " ".join(word.split())
    near = nearness.nearest(word, known, least=least)
    if not near:
        likes = (SequenceMatcher(None, " ".join(one.split()), said).ratio() for one in known if one)
        assert all(like < least for like in likes)


CELLS = st.none() | st.text("aé <&>x\n", max_size=5) | st.integers(0, 99) | st.floats(0, 9)
GRIDS = st.lists(st.lists(CELLS, max_size=5), max_size=6)


def as_xlsx(grid: list[list[object]]) -> bytes:
    book = openpyxl.Workbook()
    for row in grid:
        book.active.append(row)
    book.active["D9"].font = openpyxl.styles.Font(bold=True)
    return saved(book)


def as_ods(grid: list[list[object]]) -> bytes:
    book = odf.opendocument.OpenDocumentSpreadsheet()
    sheet = odf.table.Table(name="Survey")
    for row in grid:
        line = odf.table.TableRow(numberrowsrepeated=2)
        for one in row:
            kind = {"valuetype": "string"} if isinstance(one, str) else {}
            if isinstance(one, int | float):
                kind = {"valuetype": "float", "value": one}
            made = odf.table.TableCell(numbercolumnsrepeated=2, **kind)
            if one is not None:
                made.addElement(odf.text.P(text=str(one)))
            line.addElement(made)
        sheet.addElement(line)
    book.spreadsheet.addElement(sheet)
    return saved(book)


def saved(book: object) -> bytes:
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


@pytest.mark.parametrize("save", [as_xlsx, as_ods])
def test_what_is_looked_through_says_the_same(save: Callable[[list], bytes]) -> None:
    import python_calamine

    @settings(max_examples=25)
    @given(GRIDS)
    def holds(grid: list[list[object]]) -> None:
        whole = save(grid)
        seen = [
            python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(one)).get_sheet_by_index(0)
            for one in (whole, looked_through(whole))
        ]
        plain, again = (one.to_python(skip_empty_area=False) for one in seen)
        assert plain == again

    holds()
