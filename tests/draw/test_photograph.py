"""Pictures from a phone: upright, on white, and no second one of full size in memory."""

import subprocess
import sys
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
