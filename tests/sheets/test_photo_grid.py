"""Marks set by the grid or by pixels stand where per cent would put them; the grid is true."""

import io
from pathlib import Path

import pytest
from hypothesis import given, strategies as st
from PIL import Image, ImageDraw

from helpers.page_checks import overlaps
from rigfolio.calc import COLUMNS, ROWS, grid_field
from rigfolio.cli.entry import main
from rigfolio.draw.extents import text_box
from rigfolio.draw.page import Picture, flat, texts
from rigfolio.folio.photographs import taken
from rigfolio.judgement.result import check, job_of
from rigfolio.labels.photo import guesses
from rigfolio.record import replace
from rigfolio.sheets import photo_grid

HEAD = """rig "Photo"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah
panel P1 4 slots of 20 A
busbar N1 100 A
wire B1+ to P1 6 AWG red 4 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse 5 A
    wire 16 AWG ? 4 ft
    load "Lamp" 1 A
circuit P1.2 "Fan" fuse 5 A
    wire 16 AWG ? 4 ft
    load "Fan" 1 A
photo "before.jpg"
"""


def picture(size: tuple[int, int] = (800, 600), turn: int = 0) -> bytes:
    """A red wire in the middle of field P5 and a blue one in the lower ninths of P8, on grey."""
    image = Image.new("RGB", (800, 600), "#5a5a5a")
    draw = ImageDraw.Draw(image)
    draw.rectangle((400, 120, 780, 150), fill="#cc2222")
    draw.rectangle((400, 228, 780, 240), fill="#2563c4")
    image = image.resize(size)
    exif = Image.Exif()
    if turn:
        exif[0x0112] = 6
        image = image.rotate(90, expand=True)
    target = io.BytesIO()
    image.save(target, "JPEG", quality=95, exif=exif)
    return target.getvalue()


def shown(folder: Path, marks: str, content: bytes):
    (folder / "before.jpg").write_bytes(content)
    file = folder / "photo.rig"
    file.write_text(HEAD + marks, encoding="utf-8")
    result = check(str(file))
    assert result.study is not None, result.findings
    return result


@pytest.mark.parametrize("turn", [0, 90])
@pytest.mark.parametrize(
    "marks",
    [
        "    mark P1.1 at P5\n    mark P1.2 at p8.8\n",
        "    mark P1.1 at 620 px 135 px\n    mark P1.2 at 620 px 234 px\n",
        "    mark P1.1 at 77.5 % 22.5 %\n    mark P1.2 at 620 px 234 px\n",
    ],
    ids=["grid", "pixels", "both"],
)
def test_a_mark_stands_on_its_wire_however_it_is_told(tmp_path, marks, turn) -> None:
    (one,) = taken(shown(tmp_path, marks, picture(turn=turn)))
    assert [mark.place for mark in one.photo.marks] == ["P1.1", "P1.2"]
    assert [guesses(one, mark)[0].word for mark in one.photo.marks] == ["red", "blue"]
    assert one.photo.marks[0].x == pytest.approx(0.775)
    assert one.photo.marks[0].y == pytest.approx(0.225)


def test_pixels_are_those_of_the_picture_as_it_was_taken(tmp_path) -> None:
    # Four times as large as what is kept of it.
    marks = "    mark P1.1 at 4960 px 1080 px\n"
    (one,) = taken(shown(tmp_path, marks, picture((6400, 4800))))
    assert one.image.size == (1600, 1200)
    assert (one.photo.marks[0].x, one.photo.marks[0].y) == pytest.approx((0.775, 0.225))


def test_a_mark_beside_the_picture_is_told(tmp_path, capsys) -> None:
    shown(tmp_path, "    mark P1.1 at 900 px 30 px\n", picture())
    assert main(["photo", str(tmp_path / "photo.rig"), "-o", f"{tmp_path}/out/"]) == 2
    said = capsys.readouterr().err
    assert "`P1.1` is marked at 900 px 30 px, and `before.jpg` has 800 x 600 pixels" in said
    assert not (tmp_path / "out").exists()


def test_something_white_is_told_by_the_fields_that_it_covers(tmp_path) -> None:
    (one,) = taken(shown(tmp_path, "    white B3 to A1\n    mark P1.1 at P5\n", picture()))
    assert one.photo.white == pytest.approx((0.0, 0.0, 0.1, 0.15))


@given(column=st.sampled_from(COLUMNS), row=st.integers(1, ROWS), ninth=st.integers(0, 9))
def test_a_ninth_lies_in_its_field_and_every_field_on_the_picture(column, row, ninth) -> None:
    whole = grid_field(f"{column}{row}")
    part = grid_field(f"{column}{row}.{ninth}") if ninth else whole
    assert whole is not None
    assert part is not None
    assert whole.left <= part.middle[0] <= whole.left + whole.wide
    assert whole.top <= part.middle[1] <= whole.top + whole.high
    assert 0.0 <= whole.left < whole.left + whole.wide <= 1.0 + 1e-9
    assert grid_field(f"{column}{row}".lower()) == whole


@pytest.mark.parametrize("size", [(800, 600), (600, 800), (2000, 300)])
def test_letters_and_numbers_stand_beside_what_they_name(tmp_path, size) -> None:
    result = shown(tmp_path, "    mark P1.1 at P5\n", picture(size))
    job = replace(job_of(result), pictures=taken(result))
    (page,) = photo_grid.pages(job)
    assert overlaps(page) == ()
    (image,) = [mark for mark in flat(page.marks) if isinstance(mark, Picture)]
    (x, y), wide, high = image.at, image.width_mm, image.height_mm
    found = {letter: [m for m in texts(page) if m.text == letter] for letter in COLUMNS}
    for place, letter in enumerate(COLUMNS):
        assert len(found[letter]) == 2
        for mark in found[letter]:
            left, _, right, _ = text_box(mark)
            middle = (left + right) / 2.0
            assert x + wide * place / 20 <= middle <= x + wide * (place + 1) / 20
    for row in range(1, ROWS + 1):
        beside = [m for m in texts(page) if m.text == str(row) and y <= m.at[1] <= y + high + 1]
        assert len(beside) == 2
        for mark in beside:
            _, top, _, bottom = text_box(mark)
            middle = (top + bottom) / 2.0
            assert y + high * (row - 1) / 20 - 0.3 <= middle <= y + high * row / 20 + 0.3


def test_the_grid_is_printed_by_its_form(tmp_path, capsys) -> None:
    shown(tmp_path, "", picture())
    rig, out = str(tmp_path / "photo.rig"), f"{tmp_path}/out/"
    assert main(["photo", rig, "--form", "grid", "-o", out]) == 0
    assert (tmp_path / "out" / "photo-grid.pdf").exists()
    assert "looks like" not in capsys.readouterr().out
