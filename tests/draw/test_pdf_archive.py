"""A document for the archive, clause by clause, read back by other libraries.

Clauses are those of ISO 19005-3:2012 (PDF/A-3), level B; their numbers are from memory.
"""

import re
from io import BytesIO
from xml.etree import ElementTree

import pypdf
import pytest
from fontTools.ttLib import TTFont
from PIL import Image, ImageCms

from rigfolio.draw.page import Group, Page, Text
from rigfolio.render.archive import Attached, Binding, Entry, profile
from rigfolio.render.pdf import write_pdf

STREAM = re.compile(rb"\nstream\n")
LENGTH = re.compile(rb"/Length (\d+)")
TEXT = b'rig "Wren"\r\n# \xc3\xa9\n'
NAMESPACES = {
    "dc": "http://purl.org/dc/elements/1.1/",
    "pdf": "http://ns.adobe.com/pdf/1.3/",
    "pdfaid": "http://www.aiim.org/pdfa/ns/id/",
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "xmp": "http://ns.adobe.com/xap/1.0/",
}
_MARKS = ("cm", "J", "j", "M", "w", "d", "rg", "RG", "n", "m", "l", "c", "h", "re", "S", "f", "f*")
_WORDS = ("B", "B*", "b", "q", "Q", "BT", "ET", "Tm", "Tf", "TL", "Tj", "T*", "BMC", "BDC", "EMC")
OPERATORS = frozenset((*_MARKS, *_WORDS))
"""All that a content stream of ours is made of; each is in ISO 32000-1, annex A."""


def bound(page: Page) -> bytes:
    there = Group("far", "far away", (Text((20, 20), "Łódź Ω", 9, bold=True),))
    here = Group("near", "near by", (Text((20, 40), "go", 9),), goes_to="far")
    second = Page(100, 120, (there, here), "Second")
    return write_pdf(
        (page, second),
        title="Wren <&> é",
        author="A. Nobody",
        subject="panel",
        binding=Binding(
            "dc, wiring",
            (Entry("First", "page-1"), Entry("Far", "far", 1)),
            (Attached("wren.rig", TEXT, "the text"), Attached("parts/é.rig", b"", "")),
        ),
    )


@pytest.fixture
def made(page: Page) -> bytes:
    return bound(page)


@pytest.fixture
def reader(made: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(made), strict=True)


def test_head_and_tail(made: bytes, reader: pypdf.PdfReader) -> None:
    first, second = made.split(b"\n")[:2]
    assert first == b"%PDF-1.7"
    assert second[:1] == b"%"
    assert all(byte > 127 for byte in second[1:5])
    one, two = reader.trailer["/ID"]
    assert one == two
    assert len(one) == 16
    assert "/Encrypt" not in reader.trailer
    assert made.rstrip(b"\n").endswith(b"%%EOF")


def test_another_text_has_another_number(page: Page) -> None:
    one, two = (
        pypdf.PdfReader(
            BytesIO(write_pdf((page,), title="t", binding=Binding(attached=(Attached("a", text),))))
        ).trailer["/ID"][0]
        for text in (b"a", b"b")
    )
    assert one != two


def test_streams_end_where_they_say_and_none_is_packed(made: bytes) -> None:
    """6.1.7.1: a line end before `endstream`, which `Length` does not count."""
    found = list(STREAM.finditer(made))
    assert len(found) > 8
    for each in found:
        head = made[made.rindex(b" obj", 0, each.start()) : each.start()]
        length = int(LENGTH.findall(head)[0])
        assert made[each.end() + length :].startswith(b"\nendstream\nendobj"), head
        assert b"/Filter" not in head


def test_colours_are_those_of_one_output_intent(reader: pypdf.PdfReader) -> None:
    (intent,) = reader.root_object["/OutputIntents"]
    assert intent["/S"] == "/GTS_PDFA1"
    stream = intent["/DestOutputProfile"].get_object()
    assert stream["/N"] == 3
    assert stream.get_data() == profile()
    opened = ImageCms.ImageCmsProfile(BytesIO(profile()))
    assert opened.profile.xcolor_space.strip() == "RGB"
    assert 2 <= opened.profile.version < 5


def test_profile_is_that_of_srgb() -> None:
    """Primaries and white of IEC 61966-2-1 (Rec. 709 and D65), and a grey ramp left as it is."""
    mine = ImageCms.ImageCmsProfile(BytesIO(profile()))
    red, green, blue = mine.profile.chromaticity
    assert red[:2] == pytest.approx((0.64, 0.33), abs=0.001)
    assert green[:2] == pytest.approx((0.30, 0.60), abs=0.001)
    assert blue[:2] == pytest.approx((0.15, 0.06), abs=0.001)
    assert mine.profile.media_white_point_temperature == pytest.approx(5000, abs=100)
    ramp = Image.new("RGB", (256, 3))
    ramp.putdata(
        [(x, x if y else 0, x if y > 1 else 255 - x) for y in range(3) for x in range(256)]
    )
    built_in = ImageCms.createProfile("sRGB")
    turned = ImageCms.profileToProfile(ramp, mine, built_in)
    assert max(abs(a - b) for a, b in zip(ramp.tobytes(), turned.tobytes(), strict=True)) <= 1


def test_metadata_packet_says_what_the_information_says(
    made: bytes, reader: pypdf.PdfReader
) -> None:
    stream = reader.root_object["/Metadata"].get_object()
    assert (stream["/Type"], stream["/Subtype"]) == ("/Metadata", "/XML")
    packet = stream.get_data().decode()
    head = packet[: packet.index("?>")]
    assert "bytes=" not in head
    assert "encoding=" not in head
    root = ElementTree.fromstring(packet)

    def said(path: str) -> str:
        found = root.find(f".//{path}", NAMESPACES)
        assert found is not None, path
        return "".join(found.itertext()).strip()

    assert (said("pdfaid:part"), said("pdfaid:conformance")) == ("3", "B")
    information = reader.metadata
    assert information is not None
    assert said("dc:title") == information.title == "Wren <&> é"
    assert said("dc:creator") == information.author == "A. Nobody"
    assert said("dc:description") == information.subject == "panel"
    assert said("pdf:Keywords") == information["/Keywords"] == "dc, wiring"
    assert said("pdf:Producer") == information.producer == "rigfolio"
    assert said("xmp:CreatorTool") == information.creator == "rigfolio"
    assert information.creation_date is not None
    assert said("xmp:CreateDate") == information.creation_date.isoformat()
    assert said("xmp:ModifyDate") == said("xmp:CreateDate")


def test_what_is_not_said_has_no_entry(page: Page) -> None:
    reader = pypdf.PdfReader(BytesIO(write_pdf((page,), title="t")))
    assert reader.metadata is not None
    assert {"/Author", "/Subject", "/Keywords"} & set(reader.metadata) == set()
    assert b"dc:creator" not in reader.root_object["/Metadata"].get_object().get_data()


def used_codes(reader: pypdf.PdfReader) -> dict[str, set[int]]:
    """Codes shown in each font, by the name of its resource."""
    shown: dict[str, set[int]] = {}
    for page in reader.pages:
        content = pypdf.generic.ContentStream(page.get_contents(), reader)
        name = ""
        for operands, operator in content.operations:
            if operator == b"Tf":
                name = str(operands[0])
            if operator == b"Tj":
                shown.setdefault(name, set()).update(operands[0].original_bytes)
    return shown


def test_fonts_are_embedded_with_their_own_widths_and_their_letters(
    reader: pypdf.PdfReader,
) -> None:
    """6.2.11: embedded, widths as in the font, symbolic TrueType with one map, no missing glyph."""
    shown = used_codes(reader)
    fonts = {
        name: font.get_object()
        for page in reader.pages
        for name, font in page["/Resources"]["/Font"].items()
    }
    assert set(shown) == set(fonts)
    assert len(fonts) >= 2
    for name, codes in shown.items():
        font = fonts[name]
        about = font["/FontDescriptor"]
        assert (font["/Subtype"], about["/Flags"] & 4) == ("/TrueType", 4)
        assert "/Encoding" not in font
        inside = TTFont(BytesIO(about["/FontFile2"].get_data()))
        (table,) = inside["cmap"].tables
        each_em = 1000 / inside["head"].unitsPerEm
        letters = font["/ToUnicode"].get_data().decode("latin-1")
        assert codes
        for code in codes:
            glyph = table.cmap[code]
            assert glyph != ".notdef"
            width = inside["hmtx"][glyph][0] * each_em
            assert font["/Widths"][code - font["/FirstChar"]] == pytest.approx(width, abs=1)
            assert f"<{code:02X}> <" in letters


def test_content_has_known_operators_only(reader: pypdf.PdfReader) -> None:
    """6.2.2, and 6.2.10: neither transparency nor a colour space that the intent does not cover."""
    seen = {
        operator.decode()
        for page in reader.pages
        for _, operator in pypdf.generic.ContentStream(page.get_contents(), reader).operations
    }
    assert seen
    assert seen <= OPERATORS
    for page in reader.pages:
        assert {"/ExtGState", "/XObject", "/Shading", "/Pattern"} & set(page["/Resources"]) == set()
        assert "/Group" not in page


def test_nothing_acts_and_links_may_be_printed(reader: pypdf.PdfReader) -> None:
    """6.3 and 6.6: link annotations that are neither hidden nor left off paper, and no actions."""
    assert {"/OpenAction", "/AA", "/AcroForm", "/JavaScript"} & set(reader.root_object) == set()
    links = [each.get_object() for page in reader.pages for each in page.get("/Annots", [])]
    assert len(links) == 1
    assert (links[0]["/Subtype"], links[0]["/F"]) == ("/Link", 4)
    assert "/A" not in links[0]
    assert list(links[0]["/Border"]) == [0, 0, 0]


def test_link_leads_to_its_group(reader: pypdf.PdfReader) -> None:
    (link,) = reader.pages[1]["/Annots"]
    to = link.get_object()["/Dest"].get_object()
    named = reader.named_destinations["far"]
    assert to[0].get_object() == named.page.get_object() == reader.pages[1]
    left, bottom, right, top = (float(side) for side in to[2:6])
    # The baseline of the text, from the lower left corner.
    x, y = 20 / 25.4 * 72, (120 - 20) / 25.4 * 72
    assert left <= x <= right
    assert bottom <= y <= top
    (x0, y0, x1, y1) = (float(side) for side in link.get_object()["/Rect"])
    assert x0 <= x <= x1
    assert y0 <= (120 - 40) / 25.4 * 72 <= y1


def test_outline_is_a_tree_and_pages_are_counted(reader: pypdf.PdfReader) -> None:
    first, under = reader.outline
    assert first.title == "First"
    assert [(each.title, reader.get_destination_page_number(each)) for each in under] == [
        ("Far", 1)
    ]
    assert reader.page_labels == ["1", "2"]
    assert reader.root_object["/PageMode"] == "/UseOutlines"
    assert reader.root_object["/Lang"] == "en"


def test_files_are_sources_of_the_document(reader: pypdf.PdfReader) -> None:
    """6.8: each is associated, with its relation, its kind, both names and its date."""
    specs = [each.get_object() for each in reader.root_object["/AF"]]
    assert [spec["/UF"] for spec in specs] == ["wren.rig", "parts/é.rig"]
    for spec, content in zip(specs, (TEXT, b""), strict=True):
        assert spec["/F"] == spec["/UF"]
        assert spec["/AFRelationship"] == "/Source"
        stream = spec["/EF"]["/F"].get_object()
        assert stream == spec["/EF"]["/UF"].get_object()
        assert (stream["/Type"], stream["/Subtype"]) == ("/EmbeddedFile", "/text/plain")
        assert stream["/Params"]["/Size"] == len(content)
        assert "/ModDate" in stream["/Params"]
        assert stream.get_data() == content
    keys = list(reader.root_object["/Names"]["/EmbeddedFiles"]["/Names"])[::2]
    assert {str(key) for key in keys} == {"parts/é.rig", "wren.rig"}


def test_name_trees_are_in_the_order_of_their_bytes(page: Page) -> None:
    """ISO 32000-1, 7.9.6: or a reader that searches by halves finds nothing."""
    names = ("é.rig", "wren.rig", "Ω.rig", "a.rig", "日本.rig", "ÿ.rig", "parts/x.rig")
    attached = tuple(Attached(name, b"") for name in names)
    marks = tuple(Group(name, "", (Text((5, 5), "x"),), goes_to=name) for name in names)
    made = write_pdf((page, Page(9, 9, marks)), title="t", binding=Binding(attached=attached))
    tables = pypdf.PdfReader(BytesIO(made)).root_object["/Names"]
    for table in ("/EmbeddedFiles", "/Dests"):
        keys = [key.original_bytes for key in tables[table]["/Names"][::2]]
        assert keys == sorted(keys)
        assert len(keys) == len(names)


def test_a_link_that_leads_nowhere_is_refused(page: Page) -> None:
    lost = Group("a", "a", (Text((5, 5), "a"),), goes_to="nowhere")
    with pytest.raises(ValueError, match="'nowhere'"):
        write_pdf((Page(50, 50, (lost,)),), title="t")
    with pytest.raises(ValueError, match="'page-3'"):
        write_pdf((page,), title="t", binding=Binding(outline=(Entry("x", "page-3"),)))


def test_same_bytes_twice(page: Page) -> None:
    assert bound(page) == bound(page)
