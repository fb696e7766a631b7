"""Measures against reportlab's, and the promise that no line is wider than its room."""

from io import BytesIO
from itertools import combinations

import pytest
from hypothesis import given, settings, strategies as st
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from helpers.page_checks import overlaps
from rigfolio.draw import fonts
from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import (
    ELLIPSIS,
    MISSING,
    Style,
    block,
    fit,
    holds,
    ink_mm,
    plain,
    printable,
    width_mm,
)
from rigfolio.draw.page import MM_PER_PT, Page, Text

HYPHEN = "\u2010"
STEADY = settings(derandomize=True, max_examples=150, deadline=None)
ANY_TEXT = st.text(min_size=1, max_size=120)
WORDS = st.text("abcdefgh WMil -/,.(0123456789)ÄÅgjqy…□Ωж", min_size=1, max_size=120)
TEXTS = ANY_TEXT | WORDS


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text",
    ["16 AWG rd/bk", "AVAToWa fi ffl", "Ωµ°²½¼¾≤≥→←↔⚠✓✗⌀″′–—…×÷±•■□▲▼●○☐☑", "Жäßç ĐŁ ό"],
)
def test_width_is_that_of_reportlab(text: str, bold: bool) -> None:
    """Source: reportlab's own reading of the same file, unkerned advances."""
    name = f"measured-{bold}"
    pdfmetrics.registerFont(TTFont(name, BytesIO(fonts.font_data(bold=bold))))
    measured_mm = pdfmetrics.stringWidth(text, name, 7.3) * MM_PER_PT
    assert width_mm(text, 7.3, bold=bold) == pytest.approx(measured_mm, abs=1e-6)


def lacking(text: str) -> tuple[str, ...]:
    """Characters that the font cannot print, each once, in order of appearance."""
    return tuple(x for x in dict.fromkeys(text) if x != MISSING and printable(x) == MISSING)


def test_both_fonts_cover_the_same_characters_of_the_trade() -> None:
    assert fonts.font_face().advances.keys() == fonts.font_face(bold=True).advances.keys()
    assert (
        lacking("Ω µ ° ² ½ ¼ ¾ ≤ ≥ → ← ↔ ⚠ ✓ ✗ ⌀ ″ ′ – — … × ÷ ± • ■ □ ▲ ▼ ● ○ ☐ ☑ äÖß ĐŁ жЯ") == ()
    )


def test_fonts_carry_no_name_that_their_licence_reserves() -> None:
    """Source: the licence beside the fonts, which reserves two names for unmodified copies."""
    from fontTools.ttLib import TTFont as Font

    for bold in (False, True):
        names = Font(BytesIO(fonts.font_data(bold=bold)))["name"]
        assert names.getDebugName(1) == "Rigfolio Sans"
        shown = " ".join(str(names.getDebugName(number)) for number in (1, 2, 3, 4, 6))
        assert not any(word in shown for word in ("Vera", "Bitstream", "Arev", "Bah"))


def test_measures_are_those_of_an_independent_reader() -> None:
    """Source: fontTools on the same file."""
    from fontTools.ttLib import TTFont as Font

    for bold in (False, True):
        font = Font(BytesIO(fonts.font_data(bold=bold)))
        names = font.getBestCmap()
        face = fonts.font_face(bold=bold)
        assert face.advances == {code: font["hmtx"][name][0] for code, name in names.items()}
        boxes = {code: font["glyf"][name] for code, name in names.items()}
        inked = {code: (box.yMin, box.yMax) for code, box in boxes.items() if box.numberOfContours}
        assert face.inks == inked


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("a\nb\tc\r\nd", "a b c  d"),
        ("nul\x00", "nul□"),
        ("e\u0301", "é"),
        ("\u200bx\u202ey\ufe0f\u00ad", "xy"),
        ("\U0001f600 日", "□ □"),
        ("\ud800", "□"),
        ("thin\u2009space", "thin space"),
    ],
)
def test_printable(written: str, shown: str) -> None:
    assert printable(written).replace("\u2009", " ") == shown


@STEADY
@given(TEXTS)
def test_printable_is_stable_and_covered(text: str) -> None:
    shown = printable(text)
    assert printable(shown) == shown
    assert lacking(shown) == ()
    assert shown.count(MISSING) >= text.count(MISSING)


def test_lacking_names_each_missing_character_once() -> None:
    assert lacking("日a本日\x00") == ("日", "本", "\x00")


def test_plain_keeps_what_can_be_stored() -> None:
    assert plain("日 \U0001f600 ok\n") == "日 \U0001f600 ok\n"
    assert plain("\x00\ud800\ufffe") == "\ufffd\ufffd\ufffd"


LONG = st.sampled_from(
    ("Kühlschrankbeleuchtung", "Akkumulatorenraumlüfter", "υδροσυλλεκτών", "Водонагреватель",
     "nawigacyjnych", "CB2.load", "P1.12/1R", "S1.line-2/1", "W14", "Z1")
)  # fmt: skip


@STEADY
@given(st.lists(LONG, min_size=1, max_size=3), st.floats(6.0, 40.0))
def test_a_word_is_broken_with_a_hyphen_and_a_designation_behind_a_sign(
    words: list[str], room_mm: float
) -> None:
    fitted = fit(" ".join(words), room_mm, size_pt=9.0, floor_pt=5.5, lines=40)
    assert not fitted.is_cut
    for word in words:
        if any(word in line.split(" ") for line in fitted.lines):
            continue
        place = next(at for at, line in enumerate(fitted.lines) if _starts(line, word))
        end = fitted.lines[place].split(" ")[-1]
        assert end[-1] in (f"{HYPHEN}./-" if any(map(str.isdigit, word)) else HYPHEN)
        assert fitted.size_pt == 5.5
        assert fitted.is_parted or not any(map(str.isdigit, word))


def _starts(line: str, word: str) -> bool:
    end = line.rsplit(" ", maxsplit=1)[-1].removesuffix(HYPHEN)
    return bool(end) and word.startswith(end) and end != word


def test_a_designation_that_is_parted_is_not_held_whole() -> None:
    style = Style(9.0, 5.5, 4)
    assert holds("CB2.load", (0.0, 0.0, 9.5, 20.0), style)
    assert not holds("CB2.load", (0.0, 0.0, 6.0, 20.0), style)
    assert fit("CB2.load", 6.0, size_pt=9.0, floor_pt=5.5, lines=4).lines == ("CB2.", "load")


@STEADY
@given(
    TEXTS,
    st.floats(3.0, 120.0),
    st.floats(2.0, 40.0),
    st.floats(2.0, 40.0),
    st.integers(1, 5),
    st.booleans(),
)
def test_every_line_fits(
    text: str, room_mm: float, size_pt: float, floor_pt: float, lines: int, bold: bool
) -> None:
    fitted = fit(text, room_mm, size_pt=size_pt, floor_pt=floor_pt, lines=lines, bold=bold)
    assert 1 <= len(fitted.lines) <= lines
    assert 0 < fitted.size_pt <= size_pt
    assert all(width_mm(line, fitted.size_pt, bold=bold) <= room_mm for line in fitted.lines)
    letters = printable(text).replace(" ", "").replace(HYPHEN, "")
    kept = "".join(fitted.lines).replace(" ", "").replace(HYPHEN, "")
    if fitted.is_cut:
        assert kept.endswith(ELLIPSIS)
        assert letters.startswith(kept.removesuffix(ELLIPSIS))
        assert len(kept) > 1
    else:
        assert kept == letters


@STEADY
@given(
    TEXTS,
    st.tuples(st.floats(0, 50), st.floats(0, 50), st.floats(3, 80), st.floats(1, 40)),
    st.sampled_from(["start", "middle", "end"]),
    st.integers(1, 4),
    st.booleans(),
)
def test_block_stays_in_its_box(
    text: str, box: tuple[float, float, float, float], align: str, lines: int, is_top: bool
) -> None:
    marks = block(text, box, Style(12, 5, lines, align=align, is_top=is_top))
    assert bool(marks) == bool(printable(text).strip(" "))
    for mark in marks:
        left, top, right, bottom = text_box(mark)
        assert left >= box[0] - 1e-6
        assert top >= box[1] - 1e-6
        assert right <= box[0] + box[2] + 1e-6
        assert bottom <= box[1] + box[3] + 1e-6
    assert overlaps(Page(200, 200, marks)) == ()


@pytest.mark.parametrize(
    ("text", "room_mm", "lines", "expected"),
    [
        ("Water pump", 60, 1, ("Water pump",)),
        ("Water pump", 10, 2, ("Water", "pump")),
        ("red/black", 8, 2, ("red/", "black")),
        ("grey-water", 9, 2, ("grey-", "water")),
        ("feed 1/0 AWG", 11, 2, ("feed", "1/0 AWG")),
        ("two of 12 V, 8 A", 9, 3, ("two of", "12 V, 8 A")),
        ("400 Ah", 5, 2, ("400", "Ah")),
        ("12 Vents", 8, 2, ("12", "Vents")),
        ("fridge control board", 11, 1, ("fridge…",)),
        ("Abcdefghijklmnopqrstuvwxyz", 12, 1, ("Abcdefghij…",)),
        ("", 12, 1, ("",)),
        (" \n ", 12, 1, ("",)),
    ],
)
def test_breaks(text: str, room_mm: float, lines: int, expected: tuple[str, ...]) -> None:
    assert fit(text, room_mm, size_pt=6, floor_pt=5.5, lines=lines).lines == expected


def test_shrinks_before_it_cuts() -> None:
    whole_mm = width_mm("Water pump", 6.0)
    fitted = fit("Water pump", whole_mm, size_pt=9, floor_pt=5)
    assert fitted.lines == ("Water pump",)
    assert fitted.size_pt == 6.0
    assert not fitted.is_cut


@pytest.mark.parametrize("room_mm", [0.0, -1.0, float("nan")])
def test_no_room_is_an_error(room_mm: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        fit("x", room_mm, size_pt=8, floor_pt=5)
    with pytest.raises(ValueError, match="above 0"):
        block("x", (0, 0, 10, room_mm))


def test_font_heights_hold_the_letters() -> None:
    above, below = ink_mm("ÅÉÖgjpqy|", 10)
    assert 0.7 < above / (10 * MM_PER_PT) < 1.0
    assert 0.1 < below / (10 * MM_PER_PT) < 0.3


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_text_box_turns_with_the_text(anchor: str) -> None:
    upright = text_box(Text((10, 10), "Hg", 8, anchor))
    quarter = text_box(Text((10, 10), "Hg", 8, anchor, turn=90))
    half = text_box(Text((10, 10), "Hg", 8, anchor, turn=-180))
    left, top, right, bottom = (side - 10 for side in upright)
    assert [side - 10 for side in quarter] == pytest.approx([top, -right, bottom, -left])
    assert [side - 10 for side in half] == pytest.approx([-right, -bottom, -left, -top])
    near = text_box(Text((10, 10), "Hg", 8, anchor, turn=89.999))
    assert near == pytest.approx(quarter, abs=0.01)


WRITTEN = st.builds(
    Text,
    st.tuples(st.integers(0, 40), st.integers(0, 20)),
    st.sampled_from(("a", "Hg", "Water pump", " ", ".")),
    st.sampled_from((2.0, 8.0, 14.0)),
    turn=st.sampled_from((0.0, 90.0, 30.0)),
)


@given(st.lists(WRITTEN, max_size=12))
def test_overlaps_are_those_of_each_held_against_each(written: list[Text]) -> None:
    boxes = [(text_box(text), text) for text in written if text.text.strip(" ")]
    covering = tuple(
        (first, second)
        for (a, first), (b, second) in combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.05 and min(a[3], b[3]) - max(a[1], b[1]) > 0.05
    )
    assert overlaps(Page(50, 50, tuple(written))) == covering


def test_overlaps_names_the_pair() -> None:
    first, second = Text((10, 10), "Water", 8), Text((12, 11), "pump", 8)
    beside = Text((10, 15), "lamp", 8)
    assert overlaps(Page(50, 50, (first, beside, second))) == ((first, second),)
    assert overlaps(Page(50, 50, (first, beside, Text((10, 10), " ", 8)))) == ()
