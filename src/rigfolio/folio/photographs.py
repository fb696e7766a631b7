"""The photographs that a rig names, read from beside the rig file."""

from pathlib import Path

from rigfolio.job import Taken
from rigfolio.judgement import Result
from rigfolio.model import Photo
from rigfolio.reading import plain_bytes
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.render import LARGEST_BYTES, Photograph


def taken(result: Result) -> tuple[Taken, ...]:
    """All pictures of a rig.

    Raises
    ------
    RefusalError
        One lies elsewhere, is missing, or is no picture that can be read.
    """
    if result.study is None:
        return ()
    folder = Path(result.file).parent
    read = ((photo, _read(photo, folder)) for photo in result.study.rig.photos)
    return tuple(Taken(_in_shares(photo, image), image) for photo, image in read)


def _in_shares(photo: Photo, image: Photograph) -> Photo:
    """A picture whose marks are all told as shares of it.

    Raises
    ------
    RefusalError
        A mark in pixels lies beside the picture.
    """
    wide, high = image.taken_size
    marks = []
    for mark in photo.marks:
        if mark.in_pixels and (mark.x > wide or mark.y > high):
            raise RefusalError(
                "photo-not-read",
                f"`{mark.place}` is marked at {mark.x:g} px {mark.y:g} px, and `{photo.file}` has "
                f"{wide} x {high} pixels",
                "count from the upper left corner of the picture held upright",
            )
        at = (mark.x / wide, mark.y / high) if mark.in_pixels else (mark.x, mark.y)
        marks.append(replace(mark, x=at[0], y=at[1], in_pixels=False))
    return replace(photo, marks=tuple(marks))


def _read(photo: Photo, folder: Path) -> Photograph:
    path = folder / photo.file
    try:
        outside = not path.resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        outside = True
    if outside:
        raise RefusalError(
            "photo-not-read",
            f"`{photo.file}` does not lie beside the rig file or below it",
            "copy the picture into the folder of the rig",
        )
    try:
        content = plain_bytes(path, LARGEST_BYTES)
        if len(content) > LARGEST_BYTES:
            raise ValueError(f"more than {LARGEST_BYTES // 1_000_000} MB")
        return Photograph(content)
    except OSError as problem:
        why = (problem.strerror or "it cannot be read").lower()
        fix = "put it there, or take the `photo` lines out"
        raise RefusalError("photo-not-read", f"`{photo.file}`: {why}", fix) from None
    except ValueError as problem:
        fix = "save it from the phone again as JPEG"
        raise RefusalError("photo-not-read", f"`{photo.file}`: {problem}", fix) from None
