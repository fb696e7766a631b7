"""The folder in which a user's own processes keep what takes long to work out again."""

import os
import tempfile
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

_DIGEST = 32
"""Bytes of a digest."""


def own_folder() -> Path | None:
    """The cache folder of the user; None where there is none that only the user may write to.

    Never one that others may write to, such as the shared temporary folder: what is kept there is
    loaded by means that could run the code of whoever wrote it.
    """
    try:
        home = os.environ.get("XDG_CACHE_HOME") or str(Path("~/.cache").expanduser())
        folder = Path(home) / "rigfolio"
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        about = folder.stat()
    except (OSError, RuntimeError, ValueError):
        return None
    own = not hasattr(os, "getuid") or (about.st_uid == os.getuid() and not about.st_mode & 0o022)
    shared = Path(tempfile.gettempdir()) == folder or not folder.is_absolute()
    if not own or shared or not os.access(folder, os.W_OK):
        return None
    return folder


def kept(place: Path, made_of: bytes) -> bytes | None:
    """What was kept in a file; None where nothing was, or where it is damaged or of something else.

    Parameters
    ----------
    place : Path
        The file.
    made_of : bytes
        The digest of all that it must have been made of.
    """
    try:
        held = place.read_bytes()
    except OSError:
        return None
    body = held[2 * _DIGEST :]
    return body if held[: 2 * _DIGEST] == made_of + sha256(body).digest() else None


def keep(place: Path, made_of: bytes, body: bytes) -> None:
    """Keep something for the next process, whole or not at all; where that fails it is lost."""
    written = place.with_name(f"{place.name}.{os.getpid()}")
    try:
        written.write_bytes(made_of + sha256(body).digest() + body)
        written.replace(place)
    except OSError:
        with suppress(OSError):
            written.unlink()
