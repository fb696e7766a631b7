"""Photographs as they come from a phone: turned upright, made small, looked at; with pillow."""

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

LARGEST_BYTES = 40_000_000
LARGEST_PIXELS = 120_000_000
LARGEST_DECODED = 320_000_000
"""Bytes that a picture may take while it is decoded, which a small file can make many."""
_SHOWN_PIXELS = 1600
_FORMATS = ("JPEG", "PNG")
_QUALITY = 88
_STRIP_ROWS = 64
_FIRST_LYING = 5
"""From this value of Exif on, width and height change over, of the values 1 to 8."""
_ORIENTATION = 0x0112
"""Tag of Exif for how the camera was held."""
_ONE_BYTE = frozenset({"1", "L", "P"})
"""Modes of a byte a pixel; the library keeps all others in four."""
_WORD = 4
_COEFFICIENT = 2
"""Bytes of each number that a progressive JPEG keeps until its last scan is read."""


class _LargePictureError(ValueError):
    """A picture of more pixels or bytes than are read."""


class Photograph:
    """A picture that was read: upright, no side longer than 1600 pixels.

    Parameters
    ----------
    content : bytes
        What its file holds, a JPEG or PNG.

    Raises
    ------
    ValueError
        It is no such picture, is broken, or is larger than any phone makes them.
    """

    def __init__(self, content: bytes) -> None:
        if len(content) > LARGEST_BYTES:
            raise ValueError(
                f"{len(content) // 1_000_000} MB, {LARGEST_BYTES // 1_000_000} are read"
            )
        try:
            self._image, self.taken_size = _read(content)
        except UnidentifiedImageError:
            raise ValueError("it is no picture that is read; save it as JPEG or PNG") from None
        except _LargePictureError:
            raise
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as problem:
            raise ValueError(f"the picture is broken: {problem}") from None

    taken_size: tuple[int, int]
    """Width and height as it was taken, held upright [pixels]."""

    @property
    def size(self) -> tuple[int, int]:
        """Width and height [pixels]."""
        return self._image.size

    @cached_property
    def jpeg(self) -> bytes:
        """The picture as a JPEG, nothing else that the file held about place or person."""
        target = BytesIO()
        self._image.save(target, "JPEG", quality=_QUALITY)
        return target.getvalue()

    def small_jpeg(self, most_px: int, quality: int) -> bytes:
        """The same with no side longer than so many pixels, for a file that is to be small."""
        small = self._image.copy()
        small.thumbnail((most_px, most_px), Image.Resampling.LANCZOS)
        target = BytesIO()
        small.save(target, "JPEG", quality=quality, optimize=True)
        return target.getvalue()

    def shade(self, x: float, y: float, reach: float = 0.006) -> tuple[float, float, float]:
        """The middle one of the colours about a point.

        Parameters
        ----------
        x, y : float
            Where, as shares of width and height [-].
        reach : float
            Half of the side of the square that is looked at, as a share of the width [-].

        Returns
        -------
        tuple[float, float, float]
            Red, green and blue, 0 to 255 [-].
        """
        wide, high = self.size
        half = max(1, round(reach * wide))
        left, top = round(x * (wide - 1)), round(y * (high - 1))
        return self._middle((left - half, top - half, left + half + 1, top + half + 1))

    def mean_of(self, corners: tuple[float, float, float, float]) -> tuple[float, float, float]:
        """The middle one of the colours between two corners, given as shares [-]."""
        wide, high = self.size
        x0, y0, x1, y1 = corners
        left, right = sorted((round(x0 * wide), round(x1 * wide)))
        top, bottom = sorted((round(y0 * high), round(y1 * high)))
        return self._middle((left, top, max(right, left + 1), max(bottom, top + 1)))

    def _middle(self, box: tuple[int, int, int, int]) -> tuple[float, float, float]:
        wide, high = self.size
        inside = (
            min(max(box[0], 0), wide - 1), min(max(box[1], 0), high - 1),
            max(min(box[2], wide), 1), max(min(box[3], high), 1),
        )  # fmt: skip
        part = self._image.crop(inside)
        count = part.width * part.height
        found = []
        for band in part.split():
            seen = 0
            for value, many in enumerate(band.histogram()):
                seen += many
                if 2 * seen >= count:
                    found.append(float(value))
                    break
        return found[0], found[1], found[2]


def _read(content: bytes) -> tuple[Image.Image, tuple[int, int]]:
    """The picture upright and small, and how large it was."""
    with _without_remarks(), Image.open(BytesIO(content), formats=_FORMATS) as photo:
        wide, high = photo.size
        if wide * high > LARGEST_PIXELS:
            raise _LargePictureError(f"{wide} x {high} pixels, {LARGEST_PIXELS} are read")
        scans = wide * high * _COEFFICIENT * len(photo.getbands())
        photo.draft("RGB", (_SHOWN_PIXELS, _SHOWN_PIXELS))
        need = _decoded(photo) + (scans if "progressive" in photo.info else 0)
        if need > LARGEST_DECODED:
            raise _LargePictureError(
                f"{need // 1_000_000} MB when it is decoded, "
                f"{LARGEST_DECODED // 1_000_000} are read"
            )
        turn = photo.getexif().get(_ORIENTATION)
        plain = _reduced(photo, max(1, max(photo.size) // (2 * _SHOWN_PIXELS)))
    is_lying = turn is not None and turn >= _FIRST_LYING
    size = (high, wide) if is_lying else (wide, high)
    if turn is not None:
        plain.getexif()[_ORIENTATION] = turn
        ImageOps.exif_transpose(plain, in_place=True)
    plain.thumbnail((_SHOWN_PIXELS, _SHOWN_PIXELS), Image.Resampling.LANCZOS)
    return plain, size


@contextmanager
def _without_remarks() -> Iterator[None]:
    """What the library would say of a picture is said in our own words, or means nothing to us."""
    log = logging.getLogger("PIL")
    kept = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        log.setLevel(kept)


def _decoded(photo: Image.Image) -> int:
    """Bytes of a picture in memory."""
    return photo.width * photo.height * (1 if photo.mode in _ONE_BYTE else _WORD)


def _reduced(photo: Image.Image, times: int) -> Image.Image:
    """A picture on white, so many times smaller, made strip by strip.

    No second picture of the size of the first is made.
    """
    wide, high = photo.size
    small = Image.new("RGB", (-(-wide // times), -(-high // times)))
    for top in range(0, high, times * _STRIP_ROWS):
        strip = photo.crop((0, top, wide, min(high, top + times * _STRIP_ROWS))).convert("RGBA")
        white = Image.new("RGBA", strip.size, "#ffffff")
        white.alpha_composite(strip)
        small.paste(white.convert("RGB").reduce(times), (0, top // times))
    return small
