"""A picture of the panel: read as phones make them, named without crossing lines, never trusted."""

import io
import struct
import zlib
from collections.abc import Callable, Sequence
from pathlib import Path
from types import ModuleType

import pdfplumber
import pytest
from hypothesis import given, settings, strategies as st
from PIL import Image, ImageDraw

from helpers.page_checks import overlaps
from rigfolio.cli.entry import main
from rigfolio.draw.extents import text_box
from rigfolio.draw.page import Line, Page, Picture, flat, texts
from rigfolio.findings import Span
from rigfolio.folio.photographs import taken
from rigfolio.job import Job
from rigfolio.judgement.result import check, job_of
from rigfolio.labels.photo import guesses, uncrossed
from rigfolio.model.asides import PhotoMark
from rigfolio.record import replace
from rigfolio.render.pdf import write_pdf
from rigfolio.render.photograph import Photograph
from rigfolio.sheets import photo, survey

SHADES = {"red": "#cc2222", "yellow": "#f4d21f", "blue": "#2563c4", "violet": "#7b3fa0"}
WARM = (1.0, 0.87, 0.70)
"""What an old lamp makes of white."""


def picture(*, light: tuple[float, float, float] = (1.0, 1.0, 1.0), turn: int = 0) -> bytes:
    """Four wires on grey with a white card, in some light, stored turned as phones do."""
    image = Image.new("RGB", (800, 600), lit("#5a5a5a", light))
    draw = ImageDraw.Draw(image)
    draw.rectangle((10, 10, 110, 70), fill=lit("#ffffff", light))
    for place, shade in enumerate(SHADES.values()):
        draw.rectangle((400, 120 + 100 * place, 780, 150 + 100 * place), fill=lit(shade, light))
    exif = Image.Exif()
    if turn:
        exif[0x0112] = {90: 6, 180: 3}[turn]
        image = image.rotate(turn, expand=True)
    target = io.BytesIO()
    image.save(target, "JPEG", quality=95, exif=exif)
    return target.getvalue()


def lit(colour: str, light: tuple[float, float, float]) -> tuple[int, int, int]:
    parts = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    red, green, blue = (round(part * of) for part, of in zip(parts, light, strict=True))
    return red, green, blue


def text(name: str = "before.jpg", white: bool = True) -> str:
    circuits = "".join(
        f'circuit P1.{slot} "{colour} <b>&" fuse 5 A\n    wire 16 AWG ? 4 ft\n'
        f'    load "L{slot}" 1 A\n'
        for slot, colour in enumerate(SHADES, start=1)
    )
    marks = "".join(
        f"    mark P1.{slot} at 75 % {(135 + 100 * (slot - 1)) / 6:.1f} %\n" for slot in range(1, 5)
    )
    patch = "    white 2 % 3 % to 12 % 10 %\n" if white else ""
    return (
        'rig "Photo"\n    system 12 V\n    rules rv\nbattery B1 flooded, 100 Ah\n'
        "panel P1 4 slots of 20 A\nbusbar N1 100 A\n"
        "wire B1+ to P1 6 AWG red 4 ft, fuse 50 A at B1+\nwire N1 to B1- 6 AWG black 4 ft\n"
        f'{circuits}photo "{name}"\n{patch}{marks}'
    )


def rig(folder: Path, content: bytes, **how: bool) -> Path:
    (folder / "before.jpg").write_bytes(content)
    file = folder / "photo.rig"
    file.write_text(text(**how), encoding="utf-8")
    return file


@pytest.mark.parametrize("turn", [0, 90, 180])
def test_a_turned_picture_is_put_upright(turn: int) -> None:
    image = Photograph(picture(turn=turn))
    assert image.size == (800, 600)
    assert image.shade(0.75, 135 / 600) == pytest.approx((0xCC, 0x22, 0x22), abs=12)


def test_nothing_of_place_or_person_is_kept() -> None:
    content = io.BytesIO()
    exif = Image.Exif()
    exif[0x010F], exif[0x9286] = "somebody", "a place"
    Image.new("RGB", (40, 30)).save(content, "JPEG", exif=exif, comment=b"secret")
    kept = Photograph(content.getvalue()).jpeg
    assert b"somebody" not in kept
    assert b"secret" not in kept


@pytest.mark.parametrize("light", [(1.0, 1.0, 1.0), WARM])
def test_colours_are_read_against_white(tmp_path: Path, light: tuple[float, float, float]) -> None:
    result = check(str(rig(tmp_path, picture(light=light))))
    (one,) = taken(result)
    for mark, colour in zip(one.photo.marks, SHADES, strict=True):
        found = guesses(one, mark)
        assert found[0].word == colour
        assert found[0].share > found[1].share > found[2].share
        assert 0.0 < sum(guess.share for guess in found) <= 1.0


def test_the_sheets_show_it_with_names(tmp_path: Path) -> None:
    result = check(str(rig(tmp_path, picture())))
    job = replace(job_of(result), pictures=taken(result))
    for sheet in (photo, survey):
        pages = sheet.pages(job)
        shown = [mark for page in pages for mark in flat(page.marks) if isinstance(mark, Picture)]
        assert len(shown) == 1
        for page in pages:
            assert overlaps(page) == ()


def test_as_a_user_runs_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = rig(tmp_path, picture())
    before = file.read_bytes()
    out = tmp_path / "out"
    assert main(["photo", str(file), "-o", f"{out}/"]) == 0
    told = capsys.readouterr()
    assert "P1.1: looks like red" in told.out
    assert "the text says ? not surveyed" in told.out
    assert "is a hint" in told.err
    assert file.read_bytes() == before
    with pdfplumber.open(out / "photo.pdf") as pdf:
        assert len(pdf.pages[0].images) == 1
        assert "red <b>&" in pdf.pages[0].extract_text()
    assert main(["folio", str(file), "-o", str(out)]) == 0
    assert (out / "photo.pdf").exists()


def bomb() -> bytes:
    content = io.BytesIO()
    Image.new("1", (20_000, 20_000)).save(content, "PNG")
    return content.getvalue()


def text_bomb() -> bytes:
    """A small picture with a remark that unpacks to 80 MB."""
    content = io.BytesIO()
    Image.new("RGB", (30, 20)).save(content, "PNG")
    packed = b"k\0\0" + zlib.compress(b"a" * 80_000_000)
    sums = struct.pack(">I", zlib.crc32(b"zTXt" + packed))
    chunk = struct.pack(">I", len(packed)) + b"zTXt" + packed + sums
    return content.getvalue()[:33] + chunk + content.getvalue()[33:]


def webp() -> bytes:
    content = io.BytesIO()
    Image.new("RGB", (30, 20)).save(content, "WEBP")
    return content.getvalue()


@pytest.mark.parametrize("mode", ["CMYK", "L", "I;16", "LA", "P", "1"])
def test_every_kind_of_pixel_is_read(mode: str) -> None:
    content = io.BytesIO()
    Image.new(mode, (50, 40)).save(content, "JPEG" if mode == "CMYK" else "PNG")
    image = Photograph(content.getvalue())
    assert image.size == (50, 40)
    assert image.jpeg.startswith(b"\xff\xd8")


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (lambda: b"", "it is no picture"),
        (webp, "save it as JPEG or PNG"),
        (lambda: b"\0\0\0\x18ftypheic" + bytes(60), "save it as JPEG or PNG"),
        (text_bomb, "the picture is broken"),
        (lambda: b"\xff\xd8\xff\xe0 not a jpeg", "picture"),
        (lambda: b"<svg xmlns='http://www.w3.org/2000/svg'/>", "it is no picture"),
        (lambda: picture()[:2000], "the picture is broken"),
        (bomb, "pixels"),
    ],
)
def test_what_is_no_picture_gets_a_clear_answer(
    made: Callable[[], bytes], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = rig(tmp_path, made())
    out = tmp_path / "out"
    assert main(["photo", str(file), "-o", f"{out}/"]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert "Traceback" not in told
    assert not out.exists()


@pytest.mark.parametrize("name", ["../before.jpg", "/etc/hostname", "missing.jpg", "sub/../../x"])
def test_a_picture_elsewhere_is_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "photo.rig"
    file.write_text(text(name), encoding="utf-8")
    assert main(["photo", str(file), "-o", f"{tmp_path}/out/"]) == 2
    assert "photo-not-read" in capsys.readouterr().err


LONG = "Каюта у носа, Φώτα καμπίνας εμπρός, Éclairage côté bâbord, lamp over the bunk 12"[:80]
NAMES = ("Pump", LONG, "W" * 80, "Wohnraumdeckenbeleuchtungssteuerungsanlage", "A")


def crowd(folder: Path, count: int, size: tuple[int, int], names: Sequence[str]) -> Path:
    """A picture with many marks in two columns."""
    Image.new("RGB", size, "#404040").save(folder / "before.jpg")
    lines = [
        'rig "Crowd"\n    system 12 V\n    rules rv\nbattery B1 flooded, 100 Ah',
        f"panel P1 {count} slots of 20 A\nbusbar N1 100 A",
    ]
    marks = []
    for slot in range(1, count + 1):
        name = names[slot % len(names)]
        lines.append(f'circuit P1.{slot} "{name}" fuse 5 A\n    wire 16 AWG ? 4 ft')
        lines.append(f'    load "L{slot}" 1 A')
        row = (slot - 1) // 2
        across, down = 30 + 35 * (slot % 2) + row % 3, 5 + 90 * row / max(1, count // 2 - 1)
        marks.append(f"    mark P1.{slot} at {across:.1f} % {min(down, 99.0):.1f} %")
    file = folder / "crowd.rig"
    file.write_text("\n".join([*lines, 'photo "before.jpg"', *marks]) + "\n", encoding="utf-8")
    return file


def shown(file: Path, sheet: ModuleType) -> tuple[Job, tuple[Page, ...]]:
    result = check(str(file))
    assert result.study is not None, result.findings
    job = replace(job_of(result), pictures=taken(result))
    return job, sheet.pages(job)


@pytest.mark.parametrize("sheet", [photo, survey])
@pytest.mark.parametrize("size", [(1200, 900), (900, 1200), (200, 2000), (3000, 300)])
@pytest.mark.parametrize(("count", "names"), [(60, NAMES), (12, NAMES), (60, ("Pump", "Lamp"))])
def test_many_marks_and_long_names_are_whole_and_uncrossed(
    tmp_path: Path, sheet: ModuleType, size: tuple[int, int], count: int, names: tuple[str, ...]
) -> None:
    job, pages = shown(crowd(tmp_path, count, size, names), sheet)
    pictured = [p for p in pages if any(isinstance(mark, Picture) for mark in flat(p.marks))]
    assert pictured
    for page in pages:
        assert overlaps(page) == ()
    for page in pictured:
        leaders = [m for m in flat(page.marks) if isinstance(m, Line) and m.pen.colour == "#000000"]
        slanted = [m.points for m in leaders if len(m.points) == 2]
        for at, one in enumerate(slanted):
            for two in slanted[at + 1 :]:
                assert not crosses(*one, *two)
        for mark in texts(page):
            left, top, right, bottom = text_box(mark)
            assert 9.5 <= left < right <= page.width_mm - 9.5
            assert 9.5 <= top < bottom <= page.height_mm - 9.5
            assert mark.size_pt >= 7.0 - 1e-6
            assert "…" not in mark.text.replace("………", "")
    said = " ".join(mark.text for page in pages for mark in texts(page))
    for circuit in job.rig.circuits:
        assert circuit.place in said
    if sheet is photo:
        joined = said.replace("\u2010", "").replace(" ", "")
        assert all(circuit.label.replace(" ", "") in joined for circuit in job.rig.circuits)
        assert write_pdf(pages, title="x") == write_pdf(sheet.pages(job), title="x")


Point = tuple[float, float]


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9


@settings(derandomize=True, max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0.0, 99.0), st.floats(0.0, 100.0)), min_size=2, max_size=12, unique=True
    )
)
def test_leader_lines_do_not_cross(points: list[Point]) -> None:
    mark = PhotoMark("P1.1", 0.0, 0.0, Span("", 0, 0))
    ports = [(100.0, 8.0 * place) for place in range(len(points))]
    pairs = uncrossed([(mark, point) for point in points], ports)
    lines = [(spot[1], port) for spot, port in pairs]
    assert sorted(port for _, port in lines) == ports
    for place, one in enumerate(lines):
        for two in lines[place + 1 :]:
            assert not crosses(*one, *two)
