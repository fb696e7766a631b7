"""A page that is read aloud: each mark is read once or an artifact, in the order of its rows."""

from io import BytesIO

import pikepdf
import pypdfium2
from hypothesis import given, settings, strategies as st

from helpers.tagged import tree_of
from rigfolio.draw.frame import body, numbered
from rigfolio.draw.lettering import Style, block
from rigfolio.draw.page import (
    FIGURE,
    PAPERS,
    Circle,
    Group,
    Line,
    Mark,
    Page,
    Picture,
    Text,
    rect,
    spoken_as,
)
from rigfolio.draw.roles import Kind
from rigfolio.draw.rulers import ruler
from rigfolio.draw.table import Column, Row, Swatch, Table, flow
from rigfolio.render.archive import Binding, Entry
from rigfolio.render.pdf import write_pdf

A4 = PAPERS["a4"]
AREA = body(A4.width_mm, A4.height_mm)
COLUMNS = (Column("slot", 8, bold=True), Column("purpose", 30), Column("", 5), Column("wire", 20))


def table(count: int, title: str = "P1 Galley") -> Table:
    rows = [
        Row((str(n), f"Lamp {n} over the table in the galley, and its dimmer " * (1 + n % 3),
             Swatch("#d40000"), f"wire {n}" if n % 4 else ""))
        for n in range(1, count + 1)
    ]  # fmt: skip
    return Table(COLUMNS, (Row(("fed by F1",)), *rows), title)


def sheet(*tables: Table) -> bytes:
    pages = numbered(A4, "Directory", ("Wren", "revision 1"), flow(tables, AREA), note="Read it.")
    return write_pdf(pages, title="Wren")


def test_a_table_is_read_by_rows_and_its_headings_once() -> None:
    made = sheet(table(60))
    document = tree_of(made)
    assert len(pikepdf.open(BytesIO(made)).pages) > 1
    (section,) = document.kids
    assert (section.kind, section.about) == ("Sect", "Wren")
    assert [each.text for each in section.each("H1")] == ["Directory"]
    assert [each.text for each in section.each("H2")] == ["P1 Galley"]
    (found,) = section.each("Table")
    assert [cell.text for cell in found.kids[0].kids] == ["slot", "purpose", "", "wire"]
    assert [cell.text for cell in found.kids[1].kids] == ["fed by F1"]
    for n, row in enumerate(found.kids[2:], start=1):
        number, purpose, swatch, wire = (cell.text for cell in row.kids)
        told = "Lamp {} over the table in the galley, and its dimmer".format
        assert (number, swatch) == (str(n), "")
        assert purpose.split() == (f"{told(n)} " * (1 + n % 3)).split()
        assert wire == (f"wire {n}" if n % 4 else "")


def test_words_come_out_by_rows() -> None:
    """What a reader without a tree takes out, in the order of the page's content."""
    rows = [(f"P1.{n}", f"Lamp {n}", None, f"{n} AWG") for n in range(1, 9)]
    made = sheet(Table(COLUMNS, tuple(Row(row) for row in rows)))
    read = pypdfium2.PdfDocument(made)[0].get_textpage().get_text_range().split()
    wanted = " ".join(f"{name} {lamp} {wire}" for name, lamp, _, wire in rows).split()
    start = read.index("P1.1")
    assert read[start : start + len(wanted)] == wanted


def test_what_every_page_says_is_read_once() -> None:
    document = tree_of(sheet(table(80)))
    read = document.text
    for once in ("Wren", "revision 1", "Read it.", "Not a safety certificate"):
        assert read.count(once) == 1
    assert "page 1 of" not in read
    assert "continued" not in read
    first = document.kids[0]
    assert first.kids[0].kind == "H1"
    assert [kid.text for kid in first.kids[1:3]] == ["Wren", "revision 1"]


def test_tables_that_begin_alike_are_apart() -> None:
    one = Table((Column("a", 1), Column("b", 1)), (Row(("1", "2")),))
    bare = Table((Column("", 1), Column("", 1)), (Row(("3", "4")),))
    marks = (*flow([one], AREA)[0], *flow([one], AREA)[0], *flow([bare], AREA)[0])
    marks = (*marks, *flow([bare], AREA)[0])
    document = tree_of(write_pdf((Page(210, 297, marks),), title="t"))
    assert [each.text for each in document.each("Table")] == ["a b 1 2", "a b 1 2", "3 4", "3 4"]


def test_paragraphs_go_on_over_lines_and_groups_are_one() -> None:
    long = "the quick brown fox jumps over the lazy dog " * 3
    label = Group(
        "label", "P1.1 Lamp", (Text((5, 50), "P1.1"), rect(5, 55, 9, 9), Text((9, 9), "Lamp"))
    )
    marks = (*block(long, (10, 10, 60, 30), Style(8, 5, 9)), label, *block("end", (10, 70, 60, 9)))
    document = tree_of(write_pdf((Page(100, 100, marks),), title="t"))
    words = [each.text for each in document.each("P")]
    assert words == [long.strip(), "P1.1Lamp", "end"]


def test_a_picture_says_what_is_in_it() -> None:
    inner = Group("W7", "wire W7 red", (Line(((0, 0), (9, 9))), Text((5, 5), "W7")), "page-1")
    figure = Group(
        "d", "Diagram", (inner, Circle((5, 5), 2)), role=FIGURE, about="Plus at the left."
    )
    document = tree_of(write_pdf((Page(100, 100, (Text((1, 9), "a"), figure)),), title="t"))
    (found,) = document.each("Figure")
    assert found.about == "Diagram. Plus at the left; wire W7 red"
    assert found.text == "W7"
    assert [each.kind for each in found.kids] == ["Link"]


def test_a_photograph_without_words_is_called_one() -> None:
    from PIL import Image

    target = BytesIO()
    Image.new("RGB", (8, 8), "#334455").save(target, "JPEG")
    document = tree_of(
        write_pdf((Page(50, 50, (Picture((5, 5), 9, 9, target.getvalue()),)),), title="t")
    )
    assert [each.about for each in document.each("Figure")] == ["photograph"]


def test_sheets_of_a_bound_document_are_its_sections() -> None:
    pages = tuple(
        page
        for title in ("One", "Two")
        for page in numbered(A4, title, ("Wren",), flow([table(50)], AREA), note="Read it.")
    )
    second = len(pages) // 2 + 1
    outline = (Entry("One", "page-1"), Entry("more", "page-2", 1), Entry("Two", f"page-{second}"))
    document = tree_of(write_pdf(pages, title="t", binding=Binding(outline=outline)))
    assert [each.about for each in document.kids] == ["One", "Two"]
    assert [each.text for each in document.each("H1")] == ["One", "Two"]
    assert [len(list(each.each("Table"))) for each in document.kids] == [1, 1]


def test_scripts_tell_their_language() -> None:
    words = ("P1.1 Φώτα κουζίνας, 5 A", "Вытяжка и свет", "Свет", "Łódź, Größe, 3 μΩ, 5 Ω")
    marks = tuple(Text((10, 10 * n), each) for n, each in enumerate(words, start=1))
    made = write_pdf((Page(100, 100, marks),), title="t")
    document = tree_of(made)
    stated = [(each.text, each.language) for each in document.each("Span")]
    assert stated == [
        ("Φώτα κουζίνας", "el"), ("Вытяжка и свет", "ru"), ("Свет", "und-Cyrl"),
    ]  # fmt: skip
    assert [each.text for each in document.each("P")] == list(words)


def test_figures_of_a_ruler_are_not_read() -> None:
    marks = (
        *ruler(10, 20, 60),
        *spoken_as((Group("z", "", (Text((5, 5), "A1"),)),), Kind.FURNITURE),
    )
    assert tree_of(write_pdf((Page(100, 100, marks),), title="t")).text == ""


WORDS = st.text("ab Ωжλ-/", max_size=6)
LEAVES = st.one_of(
    st.builds(lambda x, words, colour: Text((x, x), words, 8, colour=colour), st.integers(1, 90),
              WORDS, st.sampled_from(("#000000", "#808080"))),
    st.builds(lambda x, kind, words: spoken_as((Text((x, 9), words),), kind)[0], st.integers(1, 90),
              st.sampled_from((Kind.HEADING, Kind.TITLE, Kind.STRIP, Kind.FURNITURE)), WORDS),
    st.builds(lambda x: Line(((x, 1), (9, 9))), st.integers(1, 90)),
    st.builds(lambda x: Circle((x, 9), 3.0), st.integers(1, 90)),
)  # fmt: skip
MARKS: st.SearchStrategy[Mark] = st.recursive(
    LEAVES,
    lambda inner: st.builds(
        lambda marks, goes_to, role: Group("g", "a group", tuple(marks), goes_to, role),
        st.lists(inner, max_size=4),
        st.sampled_from(("", "page-1")),
        st.sampled_from(("graphics-object", FIGURE)),
    ),
    max_leaves=12,
)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.lists(MARKS, max_size=8), min_size=1, max_size=3))
def test_any_marks_make_a_whole_tree(pages: list[list[Mark]]) -> None:
    made = write_pdf([Page(100, 100, tuple(marks)) for marks in pages], title="t")
    tree_of(made)
