"""Draws the picture that stands in for a photograph of the Heron's panel, with its marks.

Nobody has photographed a van that does not exist. What is drawn is what a phone would see: a grey
plate, twelve blade fuses one below the other, the plus wires leaving to the right, a sheet of paper
to read colours by, lamp light that is a little yellow, and noise. Run with
`python tests/make_picture.py`; it prints the lines of the marks for the text.
"""

import random
import sys

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from helpers.home import HOME

SIZE = (1200, 1500)
SCALE = 2
LIGHT = (0.97, 0.91, 0.80)
TOP, PITCH, FUSE_X, WIRE_X = 150, 104, 330, 760


def main() -> None:
    """Write the picture and print its marks."""
    from rigfolio.judgement.result import check, job_of

    path = HOME / "examples" / "heron-van.rig"
    rig = job_of(check(str(path))).study.rig
    image = Image.new("RGB", (SIZE[0] * SCALE, SIZE[1] * SCALE), (96, 78, 58))
    pen = ImageDraw.Draw(image)
    _box(pen, (90, 60, 620, 1450), (58, 60, 62), 24)
    _box(pen, (190, 90, 470, 1420), (30, 31, 33), 14)
    _box(pen, (1000, 40, 1160, 200), (250, 250, 250), 0)
    for slot in range(1, 13):
        y = TOP + (slot - 1) * PITCH
        circuit = next((one for one in rig.circuits if one.place == f"P1.{slot}"), None)
        _box(pen, (250, y - 36, 410, y + 36), (14, 14, 15), 8)
        if circuit is None:
            continue
        device = next(one for one in rig.devices if one.about.name == circuit.device)
        _fuse(pen, y, device.rating_a)
        _wire(pen, y, slot, next(w for w in rig.conductors if w.name == f"P1.{slot}/1"))
    image = image.resize(SIZE).filter(ImageFilter.GaussianBlur(0.8))
    image = _lit(image)
    folder = HOME / "examples" / "heron-van"
    folder.mkdir(exist_ok=True)
    image.save(folder / "panel-before.jpg", quality=88)
    sys.stdout.write(f"white {_at(1020, 60)} to {_at(1140, 180)}\n")
    for slot in range(1, 12):
        y = TOP + (slot - 1) * PITCH
        sys.stdout.write(f"mark P1.{slot}  at {_at(FUSE_X, y)}\n")
        sys.stdout.write(f"mark P1.{slot}/1 at {_at(WIRE_X, _wire_y(y, slot, WIRE_X))}\n")


def _at(x: float, y: float) -> str:
    return f"{100 * x / SIZE[0]:.1f} % {100 * y / SIZE[1]:.1f} %"


def _box(pen: ImageDraw.ImageDraw, box: tuple[float, ...], fill: tuple[int, ...], r: int) -> None:
    pen.rounded_rectangle([side * SCALE for side in box], r * SCALE, fill)


def _fuse(pen: ImageDraw.ImageDraw, y: float, rating_a: float) -> None:
    from rigfolio.books.colours import colour_book
    from rigfolio.books.fuses import fuse_colour

    colour = colour_book().find(fuse_colour(rating_a))
    _box(pen, (262, y - 28, 398, y + 28), _rgb(colour.rgb), 6)
    _box(pen, (280, y - 20, 380, y - 8), (225, 225, 222), 2)


def _wire(pen: ImageDraw.ImageDraw, y: float, slot: int, wire: object) -> None:
    from rigfolio.books.colours import colour_book

    colour, find = wire.colour, colour_book().find  # type: ignore[attr-defined]
    points = [(x * SCALE, _wire_y(y, slot, x) * SCALE) for x in range(430, SIZE[0] + 10, 4)]
    base, stripe = _rgb(find(colour.base).rgb), colour.stripe
    pen.line(points, tuple(c // 3 for c in base), 30 * SCALE, joint="curve")
    pen.line(points, base, 24 * SCALE, joint="curve")
    if stripe is not None:
        pen.line([(x, y - 7 * SCALE) for x, y in points], _rgb(find(stripe).rgb), 7 * SCALE)
    _box(pen, (416, y - 15, 446, y + 15), (150, 148, 140), 4)


def _wire_y(y: float, slot: int, x: float) -> float:
    bend = max(0.0, (x - 560.0) / 640.0)
    return y + bend * bend * (6.5 - slot) * 16.0


def _rgb(text: str) -> tuple[int, ...]:
    return tuple(int(text[i : i + 2], 16) for i in (1, 3, 5))


def _lit(image: Image.Image) -> Image.Image:
    """The picture in warm light that falls off to one side, with the noise of a small lens."""
    chance = random.Random(7)
    small = Image.new("RGB", (24, 30))
    small.putdata([
        tuple(round(255 * share * (1.0 - 0.18 * x / 23 - 0.10 * y / 29)) for share in LIGHT)
        for y in range(30) for x in range(24)
    ])  # fmt: skip
    light = small.resize(image.size, Image.Resampling.BICUBIC)
    lit = ImageChops.multiply(image, light)
    grain = Image.new("RGB", image.size)
    grain.putdata([(chance.randrange(9),) * 3 for _ in range(image.size[0] * image.size[1])])
    return ImageChops.add(lit, grain)


if __name__ == "__main__":
    main()
