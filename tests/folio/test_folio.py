"""Documents as files: which, where, whole or not at all; read back with an independent reader."""

import os
import re
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pypdfium2
import pytest
from PIL import Image

from rigfolio.cli.entry import main
from rigfolio.folio import documents as printing, places as placing, writing
from rigfolio.judgement.result import check

RIG = """\
rig "Plover"
    system   12 V
    rules    rv
    revised  2026-03-14
battery B1 "House" 105 Ah, internal 10 mohm
fuse    F1 50 A, on B1+, interrupts 10 kA
panel   P1 "Galley" 6 slots of 20 A, pitch 14 mm
busbar  N1
wire F1 to P1  6 AWG red 4 ft
wire B1- to N1 6 AWG black 4 ft
circuit P1.4 "Fan"   fuse 7.5 A
    wire  16 AWG red/black 14 ft
    load  "Fan" 2 A
slot P1.6 spare
"""
BROKEN = RIG.replace("105 Ah", "105 Ahr")
BOUND = ["folio.pdf", "to-cut.pdf", "to-file.pdf"]
SHEETS = [
    "all-readings.csv",
    "all-readings.pdf",
    "at-the-panel.pdf",
    "calculation.pdf",
    "colour-card.pdf",
    "colour-legend.pdf",
    "demand-and-energy.pdf",
    "directory-code.pdf",
    "findings.pdf",
    "panel-directory.pdf",
    "panel-face.pdf",
    "pick-list.csv",
    "pick-list.pdf",
    "schematic.pdf",
    "schematic.svg",
    "slot-labels.pdf",
    "survey.csv",
    "survey.pdf",
    "tapes.pdf",
    "test-sheet.csv",
    "test-sheet.pdf",
    "what-stays-live.pdf",
    "wire-list.csv",
    "wire-list.pdf",
    "wire-tags.pdf",
    "work-plan.pdf",
]
ONE = {
    "labels": "slot-labels.pdf",
    "tags": "wire-tags.pdf",
    "legend": "colour-legend.pdf",
    "directory": "panel-directory.pdf",
    "draw": "schematic.svg",
}


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """A folder with the folio of the rig and every sheet by itself, which no test writes into."""
    folder, before = tmp_path_factory.mktemp("printed"), Path.cwd()
    os.chdir(folder)
    try:
        Path("plover.rig").write_text(RIG, encoding="utf-8")
        assert main(["folio", "plover.rig"]) == 0
        assert main(["folio", "plover.rig", "--sheets", "all"]) == 0
    finally:
        os.chdir(before)
    return folder / "out" / "plover"


@pytest.fixture(autouse=True)
def _rig(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("plover.rig").write_text(RIG, encoding="utf-8")


def everything():
    """Every file below the working folder with its content."""
    return {str(path): path.read_bytes() for path in sorted(Path().rglob("*")) if path.is_file()}


def names(folder):
    return sorted(path.name for path in Path(folder).iterdir())


def pdf_texts(path):
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path)]


class TestFolio:
    def test_documents(self, capsys):
        assert main(["folio", "plover.rig"]) == 0
        assert names("out/plover") == BOUND
        out, err = capsys.readouterr()
        assert sorted(out.split()) == [f"out/plover/{name}" for name in BOUND]
        assert "under rule book rv" in err
        assert "licensed practice" in err

    def test_every_sheet_by_itself(self):
        assert main(["folio", "plover.rig", "--sheets", "all"]) == 0
        assert names("out/plover") == SHEETS

    def test_some_sheets_by_the_names_of_their_files(self):
        assert main(["folio", "plover.rig", "--sheets", "calculation, survey", "-o", "two"]) == 0
        assert names("two") == ["calculation.pdf", "survey.csv", "survey.pdf"]

    def test_a_sheet_that_there_is_not(self, capsys):
        assert main(["folio", "plover.rig", "--sheets", "calculatoin"]) == 2
        assert "the nearest name is `calculation`" in capsys.readouterr().err
        assert not Path("out").exists()

    def test_a_table_that_was_filled_in_is_kept(self, capsys):
        main(["survey", "plover.rig"])
        table = Path("out/plover/survey.csv")
        filled = table.read_bytes() + b"P1.5,Pump\r\n"
        table.write_bytes(filled)
        assert main(["folio", "plover.rig", "--sheets", "survey"]) == 0
        assert table.read_bytes() == filled
        assert "`out/plover/survey-new.csv`" in capsys.readouterr().err
        assert main(["survey", "plover.rig", "-o", str(table)]) == 0
        assert table.read_bytes() == filled
        assert names("out/plover") == ["survey-new.csv", "survey.csv", "survey.pdf"]

    def test_another_folder(self):
        assert main(["folio", "plover.rig", "-o", "a/b"]) == 0
        assert names("a/b") == BOUND
        assert not Path("out").exists()

    def test_the_bound_one_alone(self, printed):
        assert main(["folio", "plover.rig", "-o", "shelf/plover.pdf"]) == 0
        assert names("shelf") == ["plover.pdf"]
        assert Path("shelf/plover.pdf").read_bytes() == (printed / "folio.pdf").read_bytes()

    @pytest.mark.parametrize("place", ["plover.svg", "plover.png"])
    def test_several_documents_are_no_one_picture(self, place, capsys):
        assert main(["folio", "plover.rig", "-o", place]) == 2
        assert f"`{place}` is one file" in capsys.readouterr().err
        assert not Path(place).exists()

    def test_a_folder_with_the_name_of_a_file(self):
        Path("plover.pdf").mkdir()
        assert main(["folio", "plover.rig", "-o", "plover.pdf"]) == 0
        assert names("plover.pdf") == BOUND

    def test_bound_folio_lists_its_sheets_by_page(self, printed):
        texts = pdf_texts(printed / "folio.pdf")
        reader = pypdf.PdfReader(printed / "folio.pdf")
        starts = {
            item.title: reader.get_destination_page_number(item) + 1
            for item in reader.outline
            if not isinstance(item, list)
        }
        titles = ["Schematic", "Panel directory", "Colours and circuits", "Work plan", "Test sheet"]
        for title in titles:
            assert re.search(rf"\b{starts[title]}\s+{title}", texts[0])
        assert list(starts).index("At the panel") == 0
        assert reader.metadata.title == "Plover: folio"
        assert reader.metadata.subject.startswith("revision 2026-03-14, rule book rv, text ")
        assert "Plover" in reader.metadata["/Keywords"]

    def test_text_is_attached_as_it_lies_on_the_disk(self, printed):
        folio = printed / "folio.pdf"
        reader = pypdf.PdfReader(folio)
        attached = {name: held[0] for name, held in reader.attachments.items()}
        assert attached == {"plover.rig": Path("plover.rig").read_bytes()}
        assert main(["extract", str(folio), "-o", "back"]) == 0
        assert Path("back/plover.rig").read_bytes() == Path("plover.rig").read_bytes()

    def test_every_page_bears_rig_revision_book_and_digest(self, printed):
        digest = check("plover.rig").digest
        checked = 0
        for path in sorted(printed.glob("*.pdf")):
            for text in pdf_texts(path):
                for part in ("Plover", "2026-03-14", "rv", digest):
                    assert part in text, (path, part)
                checked += 1
        assert checked >= 10

    def test_findings_are_on_the_first_page(self):
        text = RIG.replace("fuse 7.5 A", "fuse 20 A")
        Path("plover.rig").write_text(text, encoding="utf-8")
        assert main(["folio", "plover.rig"]) == 0
        first = " ".join(pdf_texts("out/plover/folio.pdf")[0].split())
        assert "20 A fuse, 16 AWG may carry 8 A" in first
        assert "DANGER" in first

    def test_another_rule_book_is_the_one_on_paper(self):
        main(["folio", "plover.rig", "--rules", "boat"])
        for text in pdf_texts("out/plover/folio.pdf"):
            assert "rule book boat" in " ".join(text.split())


class TestOneDocument:
    @pytest.mark.parametrize(("command", "name"), ONE.items())
    def test_default_place(self, command, name, capsys):
        assert main([command, "plover.rig"]) == 0
        assert capsys.readouterr().out == f"out/plover/{name}\n"
        assert list(everything()) == [f"out/plover/{name}", "plover.rig"]

    @pytest.mark.parametrize(("command", "name"), ONE.items())
    def test_same_bytes_as_in_the_folio(self, command, name, printed):
        main([command, "plover.rig", "-o", "one/"])
        assert Path("one", name).read_bytes() == (printed / name).read_bytes()

    def test_svg(self):
        main(["draw", "plover.rig", "-o", "x.svg"])
        assert ElementTree.parse("x.svg").getroot().tag == "{http://www.w3.org/2000/svg}svg"

    def test_svg_bears_rig_revision_book_and_digest(self):
        main(["draw", "plover.rig", "-o", "x.svg"])
        said = " ".join(ElementTree.parse("x.svg").getroot().itertext())
        for part in ("Plover", "2026-03-14", "rule book rv", check("plover.rig").digest):
            assert part in said

    def test_png(self):
        main(["draw", "plover.rig", "--format", "png", "-o", "x.png"])
        with Image.open("x.png") as image:
            assert image.format == "PNG"
            assert min(image.size) > 500

    @pytest.mark.parametrize("arguments", [("-o", "x.pdf"), ("--format", "pdf", "-o", "x")])
    def test_pdf(self, arguments):
        assert main(["draw", "plover.rig", *arguments]) == 0
        assert len(pdf_texts("x.pdf")) >= 1

    def test_folder_that_exists(self):
        Path("there").mkdir()
        main(["tags", "plover.rig", "-o", "there"])
        assert names("there") == ["wire-tags.pdf"]

    def test_a_name_without_an_end_is_a_folder_for_several_documents(self):
        Path("plover.rig").write_text(RIG, encoding="utf-8")
        assert main(["testsheet", "plover.rig", "-o", "there"]) == 0
        assert names("there") == ["test-sheet.csv", "test-sheet.pdf"]

    def test_markup_in_a_label_stays_text(self):
        text = RIG.replace('"Fan"   fuse', "\"<script>x</script> & 'y'\"   fuse")
        Path("plover.rig").write_text(text, encoding="utf-8")
        assert main(["folio", "plover.rig", "--sheets", "all"]) == 0
        root = ElementTree.parse("out/plover/schematic.svg").getroot()
        assert not [node for node in root.iter() if "script" in node.tag]


class TestRefused:
    @pytest.mark.parametrize("command", [*ONE, "folio"])
    def test_text_not_understood_writes_nothing(self, command, capsys):
        Path("plover.rig").write_text(BROKEN, encoding="utf-8")
        assert main([command, "plover.rig"]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert "error[unknown-unit]" in err
        assert list(everything()) == ["plover.rig"]

    @pytest.mark.parametrize(
        ("arguments", "rule"),
        [
            (("tags", "plover.rig", "-o", "x.svg"), "format-not-plain"),
            (("draw", "plover.rig", "--format", "svg", "-o", "x.pdf"), "format-not-plain"),
            (("draw", "plover.rig", "-o", "x.jpg"), "format-not-plain"),
            (("draw", "plover.rig", "--format", "svg", "-o", "plover.rig"), "would-overwrite"),
            (("draw", "plover.rig", "--format", "svg", "-o", "link"), "would-overwrite"),
            (("folio", "plover.rig", "-o", "plover.rig"), "would-overwrite"),
            (("folio", "plover.rig", "-o", "/dev/null/x"), "file-not-written"),
            (("folio", "plover.rig", "-o", "full"), "file-not-written"),
            (("tags", "plover.rig", "-o", "/dev/full"), "file-not-written"),
            (("tags", "plover.rig", "-o", "x" * 300 + ".pdf"), "file-not-written"),
            (("tags", "plover.rig", "-o", "a\0.pdf"), "file-not-written"),
        ],
    )
    def test_place(self, arguments, rule, capsys):
        Path("link").symlink_to("plover.rig")
        Path("full/folio.pdf").mkdir(parents=True)
        before = everything()
        assert main(arguments) == 2
        assert f"error[{rule}]" in capsys.readouterr().err
        assert everything() == before

    def test_folder_without_permission(self, open_folder, without_privileges, capsys):
        (open_folder / "plover.rig").write_text(RIG, encoding="utf-8")
        assert main(["folio", "plover.rig", "-o", "open"]) == 0
        (open_folder / "shut").mkdir(mode=0o555)
        with without_privileges():
            assert main(["folio", "plover.rig", "-o", "shut"]) == 2
        assert "permission denied" in capsys.readouterr().err
        assert list((open_folder / "shut").iterdir()) == []


class TestWholeOrNotAtAll:
    def test_failing_sheet_leaves_the_last_good_documents(self, monkeypatch, capsys):
        main(["folio", "plover.rig"])
        before = everything()

        def fail(job):
            raise ArithmeticError("no room")

        monkeypatch.setattr("rigfolio.sheets.wire_tags.pages", fail)
        assert main(["folio", "plover.rig"]) == 3
        assert "no document was changed" in capsys.readouterr().err
        assert everything() == before

    @pytest.mark.parametrize("failing", range(3))
    def test_failing_replacement_is_undone(self, failing, monkeypatch):
        Path("old").mkdir()
        for name in ("a", "b"):
            Path("old", name).write_bytes(b"before")
        before = everything()
        real, calls = Path.replace, []

        def replace(self, target):
            calls.append(target)
            if len(calls) == failing + 1:
                raise PermissionError(13, "held open", str(target))
            return real(self, target)

        monkeypatch.setattr(Path, "replace", replace)
        contents = {Path("old", name): b"after" for name in ("a", "b", "c")}
        with pytest.raises(PermissionError):
            writing.write_all(contents)
        assert everything() == before

    def test_failing_disk_leaves_no_part(self, monkeypatch):
        def full(number):
            raise OSError(28, "No space left on device")

        monkeypatch.setattr("rigfolio.folio.writing.os.fsync", full)
        before = everything()
        with pytest.raises(OSError, match="No space left"):
            writing.write_all({Path("new/deep/a"): b"x", Path("b"): b"y"})
        assert everything() == before
        assert not Path("new").exists()

    def test_link_is_followed(self):
        Path("far").mkdir()
        Path("far/real").write_bytes(b"before")
        Path("near").symlink_to("far/real")
        writing.write_all({Path("near"): b"after"})
        assert Path("near").is_symlink()
        assert Path("far/real").read_bytes() == b"after"

    def test_mode_is_that_of_any_new_file(self):
        Path("plain").write_bytes(b"")
        writing.write_all({Path("made"): b"x"})
        assert Path("made").stat().st_mode == Path("plain").stat().st_mode


@pytest.mark.parametrize(
    ("file", "folder"),
    [
        ("plover.rig", "out/plover"),
        ("a/b.c.rig", "out/b.c"),
        ("-", "out/rig"),
        ("noend", "out/noend"),
        (".rig", "out/.rig"),
    ],
)
def test_folder_of(file, folder):
    assert placing.folder_of(file) == Path(folder)


def test_image_of_a_large_drawing_keeps_within_bounds(monkeypatch):
    from rigfolio.draw.page import Page
    from rigfolio.judgement.result import job_of
    from rigfolio.render.image import LARGEST_PIXELS
    from rigfolio.sheets import schematic

    monkeypatch.setattr(schematic, "pages", lambda job: (Page(2000.0, 1500.0, ()),))
    content = printing.drawing(job_of(check("plover.rig")), "schematic", "png")["schematic.png"]
    with Image.open(BytesIO(content)) as image:
        wide, high = image.size
    assert 0.9 * LARGEST_PIXELS < wide * high <= LARGEST_PIXELS
    assert wide / high == pytest.approx(4 / 3, rel=0.001)
