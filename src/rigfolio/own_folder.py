"""The folder in which a user's own processes keep what takes long to work out again."""

import os
from contextlib import suppress
from pathlib import Path
from zlib import crc32

_SUM = 4
"""Bytes of a check sum."""


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
    own = _is_own(folder, about)
    return folder if own and folder.is_absolute() and os.access(folder, os.W_OK) else None


def _is_own(folder: Path, about: os.stat_result) -> bool:
    """Whether nobody but the user may write to a folder."""
    if hasattr(os, "getuid"):
        return about.st_uid == os.getuid() and not about.st_mode & 0o022
    # Owner and permissions tell nothing here.
    import tempfile

    return Path(tempfile.gettempdir()) != folder


def kept(place: Path, made_of: bytes) -> bytes | None:
    """What was kept in a file; None where nothing was, or where it is damaged or of something else.

    Parameters
    ----------
    place : Path
        The file.
    made_of : bytes
        All that it must have been made of, or a digest of that.
    """
    try:
        held = place.read_bytes()
    except OSError:
        return None
    if not held.startswith(made_of):
        return None
    start = len(made_of) + _SUM
    body = held[start:]
    return body if held[len(made_of) : start] == _sum(made_of, body) else None


def keep(place: Path, made_of: bytes, body: bytes) -> None:
    """Keep something for the next process, whole or not at all; where that fails it is lost."""
    written = place.with_name(f"{place.name}.{os.getpid()}")
    try:
        written.write_bytes(made_of + _sum(made_of, body) + body)
        written.replace(place)
    except OSError:
        with suppress(OSError):
            written.unlink()


def _sum(made_of: bytes, body: bytes) -> bytes:
    """What tells of damage; whoever may write here could make any other sum as well.

    A digest would tell no more, and to load what works it out takes longer than all that is kept.
    """
    return crc32(body, crc32(made_of)).to_bytes(_SUM, "big")
