"""Workbooks as office programs store them, written by libraries of their own."""

import sys

import odf.opendocument
import odf.table
import odf.text
import openpyxl
import pytest

from rigfolio.answers.filled_survey import put_in
from rigfolio.cli.entry import main
from rigfolio.refusal import RefusalError
from rigfolio.render.workbook import read_workbook

ROWS = (
    ("slot", "name", "colour", "gauge", "length ft", "found", "draws"),
    ("P1.1", "Lamp", "Red w/ black stripe", "14ga", 12, "7,5 amp", "18 W"),
    ("P1.2", "Fan", "dk green", "#12", 9.5, "15a", None),
)
WANTED = (
    'circuit P1.1 "Lamp" fuse ? A, found 7.5 A\n    wire 14 AWG red/black 12 ft\n'
    '    load "not known yet" 18 W\n'
    'circuit P1.2 "Fan" fuse ? A, found 15 A\n    wire 12 AWG dark green 9.5 ft\n'
)


def as_xlsx(file):
    book = openpyxl.Workbook()
    for row in ROWS:
        book.active.append(row)
    book.create_sheet("Empty")
    book.save(file)


def as_ods(file):
    book = odf.opendocument.OpenDocumentSpreadsheet()
    sheet = odf.table.Table(name="Survey")
    for row in ROWS:
        line = odf.table.TableRow()
        for cell in row:
            if isinstance(cell, int | float):
                made = odf.table.TableCell(valuetype="float", value=cell)
            else:
                made = odf.table.TableCell(valuetype="string")
            made.addElement(odf.text.P(text=str(cell or "")))
            line.addElement(made)
        sheet.addElement(line)
    book.spreadsheet.addElement(sheet)
    book.save(str(file))


@pytest.mark.parametrize(("name", "save"), [("s.xlsx", as_xlsx), ("s.ods", as_ods)])
def test_a_workbook_goes_into_the_text(name, save, tmp_path, capsys):
    table, rig = tmp_path / name, tmp_path / "my.rig"
    save(table)
    assert main(["survey", str(rig), "--from", str(table), "--write"]) == 0
    assert WANTED in rig.read_text(encoding="utf-8")
    said = capsys.readouterr().out
    assert "read `14ga` as `14 AWG` in row 2" in said
    assert "read `7,5 amp` as `7.5 A` in row 2" in said
    put, _ = put_in(str(rig), str(table))
    assert put is not None
    assert put.contents == {}


def test_a_library_that_is_missing_is_named(tmp_path, monkeypatch, capsys):
    table = tmp_path / "s.xlsx"
    as_xlsx(table)
    monkeypatch.setitem(sys.modules, "python_calamine", None)
    assert main(["survey", str(tmp_path / "my.rig"), "--from", str(table), "--write"]) == 2
    told = capsys.readouterr().err
    assert "rigfolio[tables]" in told
    assert "save the table as CSV" in told
    assert not (tmp_path / "my.rig").exists()


@pytest.mark.parametrize("content", [b"PK\x03\x04", b"PK\x03\x04" + b"x" * 900])
def test_what_is_no_workbook_is_refused(content, tmp_path):
    with pytest.raises(ValueError, match="no workbook"):
        read_workbook(content)
    table = tmp_path / "s.ods"
    table.write_bytes(content)
    with pytest.raises(RefusalError, match="cannot be read"):
        put_in(str(tmp_path / "my.rig"), str(table))
