"""The SVG read back by an XML parser."""

import re
from xml.etree import ElementTree

import pytest

from rigfolio.draw.lettering import plain, printable, width_mm
from rigfolio.draw.page import Group, Line, Page, Text, rect
from rigfolio.render.svg import write_svg

SVG = "{http://www.w3.org/2000/svg}"


def read(page: Page) -> ElementTree.Element:
    return ElementTree.fromstring(write_svg(page).encode())


def test_size_is_in_millimetres_on_white(page: Page) -> None:
    root = read(page)
    assert (root.get("width"), root.get("height")) == ("279.4mm", "215.9mm")
    assert root.get("viewBox") == "0 0 279.4 215.9"
    paper = root.find(f"{SVG}rect")
    assert paper is not None
    assert (paper.get("width"), paper.get("fill")) == ("279.4", "#ffffff")


def test_groups_carry_ident_and_title(page: Page) -> None:
    part = read(page).find(f".//{SVG}g[@class='part']")
    assert part is not None
    assert (part.get("id"), part.get("data-name")) == ("P1.2", "P1.2")
    assert part.findtext(f"{SVG}title") == "Water pump"


def test_ids_are_valid_and_distinct() -> None:
    idents = ("a b", "a_b", "a/b", "a_b-2", "7", "", "é", '"><script>', "a b")
    root = read(Page(10, 10, tuple(Group(ident, "", ()) for ident in idents)))
    parts = root.findall(f".//{SVG}g[@class='part']")
    ids = [str(part.get("id")) for part in parts]
    assert len(set(ids)) == len(idents)
    assert all(re.fullmatch("[A-Za-z][A-Za-z0-9._-]*", name) for name in ids)
    assert [part.get("data-name") for part in parts] == list(idents)


def test_prefix_keeps_drawings_apart(page: Page) -> None:
    assert 'id="sheet2-P1.2"' in write_svg(page, prefix="sheet2-")


def test_text_keeps_its_width() -> None:
    text = Text((10, 20), "Galley lamp", 8, "middle", bold=True, turn=90)
    element = read(Page(50, 50, (text,))).find(f".//{SVG}text")
    assert element is not None
    assert element.text == "Galley lamp"
    expected = width_mm("Galley lamp", 8, bold=True)
    assert float(element.get("textLength", "0")) == pytest.approx(expected, abs=0.0005)
    assert element.get("lengthAdjust") == "spacingAndGlyphs"
    assert element.get("transform") == "rotate(-90 10 20)"
    assert (element.get("text-anchor"), element.get("font-weight")) == ("middle", "bold")


def test_hostile_text_stays_text(hostile: str) -> None:
    marks = (Group(hostile, hostile, (Text((10, 20), hostile),)), Text((10, 40), "after"))
    root = read(Page(200, 50, marks, hostile))
    words = [element.text for element in root.iter(f"{SVG}text")]
    assert words == [printable(hostile), "after"]
    part = root.find(f".//{SVG}g[@class='part']")
    assert part is not None
    assert part.get("data-name") == plain(hostile)
    known = {"svg", "title", "desc", "rect", "g", "text"}
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= known


def test_numbers_are_short_and_never_exponents() -> None:
    path = Line(((1e-7, -1e-9), (1 / 3, 123456.7891), (2.5, 3.0)))
    assert 'points="0,0 0.333,123456.789 2.5,3"' in write_svg(Page(10, 10, (path,)))
    with pytest.raises(ValueError, match="nan"):
        write_svg(Page(10, 10, (Line(((0, 0), (float("nan"), 1))),)))


def test_needs_known_colours() -> None:
    with pytest.raises(ValueError, match="#rrggbb"):
        write_svg(Page(50, 50, (rect(1, 1, 2, 2, fill='red"/>'),)))


def test_words_say_their_language() -> None:
    marks = (Text((5, 5), "P1.1 Φώτα & <5 A>"), Group("g", "Вытяжка и <свет>", (), about='a "b" &'))
    root = read(Page(50, 50, marks, "p"))
    stated = "{http://www.w3.org/XML/1998/namespace}lang"
    assert root.get(stated) == root.get("lang") == "en"
    (text,) = root.iter(f"{SVG}text")
    assert "".join(text.itertext()) == "P1.1 Φώτα & <5 A>"
    assert [(each.text, each.get(stated)) for each in text] == [("Φώτα", "el")]
    assert [each.text for each in root.iter(f"{SVG}desc")] == ['a "b" &']
    assert "Вытяжка и <свет>" in [each.text for each in root.iter(f"{SVG}title")]
