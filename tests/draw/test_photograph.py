"""Pictures from a phone: upright, on white, and no second one of full size in memory."""

import struct
import subprocess
import sys
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageOps

from helpers.home import environment
from rigfolio.render.photograph import Photograph

PEAK = """
import resource, sys
from rigfolio.render.photograph import Photograph
with open(sys.argv[1], "rb") as file:
    content = file.read()
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
Photograph(content)
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


def picture(wide: int, high: int, mode: str = "RGBA") -> Image.Image:
    across = Image.linear_gradient("L").resize((wide, high))
    down = across.transpose(Image.Transpose.FLIP_TOP_BOTTOM)
    made = Image.merge("RGBA", (across, down, across, down.point(lambda shade: 255 - shade // 2)))
    return made.convert(mode)


def stored(made: Image.Image, turn: int = 1) -> bytes:
    target = BytesIO()
    about = made.getexif()
    about[0x0112] = turn
    made.save(target, "PNG", exif=about, compress_level=1)
    return target.getvalue()


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("size", [(90, 70), (3300, 130), (6500, 700)])
def test_large_pictures_look_like_small_ones(size: tuple[int, int], turn: int) -> None:
    content = stored(picture(*size), turn)
    seen = Photograph(content)
    with Image.open(BytesIO(content)) as photo:
        upright = ImageOps.exif_transpose(photo)
    white = Image.new("RGBA", upright.size, "#ffffff")
    white.alpha_composite(upright)
    plain = white.convert("RGB")
    plain.thumbnail((1600, 1600), Image.Resampling.LANCZOS)
    assert seen.size == plain.size
    for x, y in ((0.1, 0.1), (0.9, 0.2), (0.5, 0.5), (0.2, 0.9)):
        at = (round(x * (plain.width - 1)), round(y * (plain.height - 1)))
        found = plain.getpixel(at)
        assert isinstance(found, tuple)
        assert seen.shade(x, y, 0.0) == pytest.approx(found, abs=4)


@pytest.mark.skipif(sys.platform != "linux", reason="kilobytes are those of Linux")
def test_no_second_picture_of_full_size(tmp_path) -> None:
    place = tmp_path / "large.png"
    place.write_bytes(stored(picture(8000, 5000)))
    done = subprocess.run(
        [sys.executable, "-c", PEAK, str(place)], env=environment(), text=True,
        capture_output=True, check=True,
    )  # fmt: skip
    decoded_kb = 4 * 8000 * 5000 / 1024
    assert int(done.stdout) < 1.5 * decoded_kb


def shell_of(wide: int, high: int, mode: str, depth: int, kind: int) -> bytes:
    """A PNG of one colour, so small that nobody would think it large."""

    def chunk(name: bytes, data: bytes) -> bytes:
        whole = name + data
        return struct.pack(">I", len(data)) + whole + struct.pack(">I", zlib.crc32(whole))

    bits = {"L": 1, "RGB": 3, "RGBA": 4}[mode] * depth
    row = b"\0" + bytes(-(-wide * bits // 8))
    packer = zlib.compressobj(1)
    packed = b"".join(packer.compress(row) for _ in range(high)) + packer.flush()
    head = struct.pack(">IIBBBBB", wide, high, depth, kind, 0, 0, 0)
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


@pytest.mark.parametrize(("mode", "depth", "kind"), [("RGBA", 16, 6), ("RGB", 8, 2)])
def test_a_small_file_of_a_large_picture_is_refused_before_it_is_decoded(mode, depth, kind) -> None:
    content = shell_of(10_900, 9_000, mode, depth, kind)
    with pytest.raises(ValueError, match="392 MB when it is decoded, 320 are read"):
        Photograph(content)


def test_a_jpeg_that_keeps_all_its_scans_counts_with_them() -> None:
    target = BytesIO()
    Image.new("RGB", (8_000, 7_000), "red").save(target, "JPEG", progressive=True)
    with pytest.raises(ValueError, match="MB when it is decoded"):
        Photograph(target.getvalue())
    plain = BytesIO()
    Image.new("RGB", (8_000, 7_000), "red").save(plain, "JPEG")
    assert Photograph(plain.getvalue()).taken_size == (8_000, 7_000)


@pytest.mark.skipif(sys.platform != "linux", reason="kilobytes are those of Linux")
def test_the_largest_of_one_bit_stays_within_bounds(tmp_path) -> None:
    place = tmp_path / "one.png"
    place.write_bytes(shell_of(10_900, 10_900, "L", 1, 0))
    assert place.stat().st_size < 100_000
    done = subprocess.run(
        [sys.executable, "-c", PEAK, str(place)], env=environment(), text=True,
        capture_output=True, check=True,
    )  # fmt: skip
    assert int(done.stdout) < 350_000


def test_remarks_of_the_library_reach_nobody(capfd, recwarn) -> None:
    target = BytesIO()
    # A directory of Exif that claims more entries than there are.
    spoilt = b"Exif\0\0MM\0*\0\0\0\x08\0\x09" + b"\x01\x12\0\x03\0\0"
    Image.new("RGB", (40, 30)).save(target, "JPEG", exif=spoilt)
    Photograph(target.getvalue())
    assert not recwarn.list
    assert capfd.readouterr() == ("", "")
