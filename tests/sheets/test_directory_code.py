"""Directory code: an independent decoder reads the directory off the printed page."""

import re
from io import BytesIO
from itertools import pairwise

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import RIGS
from helpers.label_rigs import BARE, groups, job_of, marsh_wren, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from rigfolio.books.trade.directory_code import code_limits
from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import printable
from rigfolio.draw.page import Text, flat
from rigfolio.record import replace
from rigfolio.render.pdf import write_pdf
from rigfolio.sheets import directory_code

SCRIPTS = (
    "Wasserpumpe für Küche ",
    "Насос и каюта ",
    "Αντλία νερού ",
    "ثلاجة ",
    "冷蔵庫とポンプ",
    "W",
)
FEW = settings(max_examples=8, deadline=None, derandomize=True)
HEAD = re.compile(r"(.*), text [0-9a-f]{12}, code (\d+) of (\d+)")


def decoded(pages, scale=3.0):
    """The texts of the codes on paper, down each page, as the decoder reads them."""
    document = pypdfium2.PdfDocument(BytesIO(write_pdf(pages, title="test")))
    found = []
    for page in document:
        codes = zxingcpp.read_barcodes(page.render(scale=scale).to_pil())
        found += sorted(codes, key=lambda code: code.position.top_left.y)
    assert [str(code.ec_level) for code in found] == ["M"] * len(found)
    return [code.text for code in found]


def panels(texts):
    """The lines of all codes of a panel, behind one another, by rig and panel."""
    held = {}
    for text in texts:
        head, *lines = text.split("\n")
        name, number, count = HEAD.fullmatch(head).groups()
        held.setdefault((name, int(count)), []).append((int(number), lines))
    for (_, count), parts in held.items():
        assert [number for number, _ in parts] == list(range(1, count + 1))
    return {name: [line for _, part in parts for line in part] for (name, _), parts in held.items()}


@cache
def example(path):
    return directory_code.pages(job_from(path))


@pytest.mark.parametrize("path", RIGS, ids=[path.stem for path in RIGS])
def test_examples_are_read_off_paper(path):
    job = job_from(path)
    texts = decoded(example(path))
    assert len(texts) == len(groups(example(path), "code-")) >= len(job.rig.panels)
    said = panels(texts)
    for panel in job.rig.panels:
        lines = said[f"{job.rig.name}, {panel.about.name} {panel.about.label}".strip()]
        for circuit in job.rig.circuits:
            if circuit.panel == panel.about.name and circuit.slot:
                assert [
                    line for line in lines
                    if line.startswith(f"{circuit.slot} ") and circuit.label in line
                ], circuit.place  # fmt: skip
    assert all(job.rig.digest in text for text in texts)


def test_what_is_said_of_each_slot():
    said = panels(decoded(directory_code.pages(marsh_wren())))
    assert said["Marsh Wren 17, P1 Galley panel"] == [
        "revision 2026-03-14, rule book rv",
        "1 Ceiling lights, 7.5 A brown, 14 AWG red/black",
        "2 Water pump, 10 A red, 14 AWG yellow",
        "3 Refrigerator control, 3 A violet, 16 AWG red/black",
        "4 Roof fan, 20 A TOO LARGE, 16 AWG blue/white",
        "5 USB sockets, bunk end, fuse ?, 18 AWG tan",
        "6 not stated",
        "7 Propane furnace blower, 15 A blue, 12 AWG violet/yellow, SCORCHED",
        "8 Breakaway brake charger, 5 A, wire ?, ? size blue, MUST STAY ON: IS NOT",
        "9 Awning lights, 5 A tan, 16 AWG white/red",
        "10 blank",
        "11 not stated",
        "12 spare: for a second lamp circuit",
    ]
    assert said["Marsh Wren 17, Outside panels"] == [
        "revision 2026-03-14, rule book rv",
        "F1 Battery fuse, 50 A fuse, goes dark: P1 Galley panel; Gas detector (unless C1 Converter"
        " runs)",
        "S1 Battery disconnect, 100 A disconnect, goes dark: P1 Galley panel (unless C1 Converter"
        " runs)",
        "W4 fuse C1 Converter, 50 A fuse, on P1 feed",
        "S1.line/1 fuse Gas detector, 3 A fuse, 16 AWG ? not surveyed, ALWAYS ON",
    ]


def test_the_same_words_stand_beside_the_code():
    pages = directory_code.pages(marsh_wren())
    seen = words(pages)
    for text in decoded(pages):
        for line in text.split("\n"):
            assert line in seen


def test_alike_neighbours_share_a_line():
    said = panels(decoded(directory_code.pages(panel_of(60, ["Lamp", "Fan"]))))
    lines = said["Reed Bunting, P1 Galley panel"]
    assert lines[-1] == "3 to 60 not stated"
    assert [line[:6] for line in lines[1:3]] == ["1 Lamp", "2 Fan,"]


@FEW
@given(
    slots=st.integers(1, 60),
    names=st.lists(
        st.tuples(st.sampled_from(SCRIPTS), st.integers(1, 80)).map(
            lambda pair: (pair[0] * 80)[: pair[1]].strip()
        ),
        min_size=1,
        max_size=60,
    ),
    paper=st.sampled_from(["letter", "a4"]),
)
def test_any_panel_is_read_whole(slots, names, paper):
    job = panel_of(slots, names, paper=paper)
    pages = directory_code.pages(job)
    texts = decoded(pages)
    limits = code_limits()
    assert max(len(text.encode()) for text in texts) <= limits.most_bytes
    lines = panels(texts)["Reed Bunting, P1 Galley panel"]
    for number, name in enumerate(names[:slots], start=1):
        assert [line for line in lines if line.startswith(f"{number} {name},")], name
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []


def test_a_name_that_is_too_long_for_one_code_goes_on_in_the_next():
    name = "冷蔵庫" * 400
    job = panel_of(3, ["Cold box"])
    circuits = tuple(replace(each, label=name) for each in job.rig.circuits)
    job = replace(job, rig=replace(job.rig, circuits=circuits))
    said = panels(decoded(directory_code.pages(job)))
    whole = "".join(said["Reed Bunting, P1 Galley panel"])
    assert f"1 {name}, " in whole


@pytest.mark.parametrize("path", RIGS, ids=[path.stem for path in RIGS])
def test_modules_are_large_enough_and_the_border_is_clear(path):
    """0.4 mm is the smallest module; about the code four modules stay white (ISO/IEC 18004)."""
    limits = code_limits()
    assert limits.module_mm >= 0.4
    for page in example(path):
        texts = [text_box(mark) for mark in flat(page.marks) if isinstance(mark, Text)]
        codes = groups([page], "code-")
        assert codes
        for code in codes:
            points = [point for mark in code.marks for point in mark.points]
            across, down = zip(*points, strict=True)
            side = (max(across) - min(across)) / limits.module_mm
            assert side == pytest.approx(round(side))
            assert side <= 4 * limits.version + 17
            border = limits.quiet * limits.module_mm
            left, right = min(across) - border, max(across) + border
            top, bottom = min(down) - border, max(down) + border
            inside = [
                box for box in texts
                if box[0] < right and box[2] > left and box[1] < bottom and box[3] > top
            ]  # fmt: skip
            assert inside == []


def test_codes_of_a_panel_are_about_equally_full():
    texts = decoded(directory_code.pages(panel_of(60, [f"Reading lamp {n}" for n in range(60)])))
    sizes = [len(text.encode()) for text in texts]
    assert len(sizes) >= 3
    assert max(sizes) - min(sizes) < 200


def test_codes_follow_one_another_down_the_pages():
    pages = directory_code.pages(panel_of(60, ["Reading lamp by the bunk"] * 60))
    numbers = [int(HEAD.match(text).group(2)) for text in decoded(pages)]
    assert len(numbers) > 3
    assert all(second == first + 1 for first, second in pairwise(numbers))
    assert len(pages) > 1


def test_letters_without_a_picture_are_in_the_code_all_the_same():
    pages = directory_code.pages(panel_of(1, ["冷蔵庫"]))
    assert "1 冷蔵庫," in decoded(pages)[0]
    assert printable("冷蔵庫") in words(pages)


def test_a_rig_without_a_panel_says_so():
    pages = directory_code.pages(job_of(BARE))
    assert "no panel and no circuit" in words(pages)
    assert groups(pages, "code-") == []
