"""Tables as they were parsed last, kept in the user's own folder: TOML takes ten times as long."""

import marshal
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

from rigfolio.own_folder import keep, kept, own_folder


def read_toml(path: Path) -> dict[str, Any]:
    """The tables of a TOML file, from what is kept of it where that is of the same text and whole.

    Raises
    ------
    OSError
        The file cannot be read.
    tomllib.TOMLDecodeError
        It is not TOML.
    """
    content = path.read_bytes()
    folder = own_folder()
    if folder is None:
        return _parsed(content)
    place = folder / f"{path.stem}.table"
    # Other versions of Python may write the same values in another way.
    made_of = sys.version.encode() + b"\n" + content
    found = _kept(place, made_of)
    if found is None:
        found = _parsed(content)
        _keep(place, made_of, found)
    return found


def _parsed(content: bytes) -> dict[str, Any]:
    import tomllib

    return tomllib.loads(content.decode())


def _kept(place: Path, made_of: bytes) -> dict[str, Any] | None:
    """What was kept of a text; None where nothing was, or where it is not what was written."""
    body = kept(place, made_of)
    if body is None:
        return None
    found: dict[str, Any] = marshal.loads(body)
    return found


def _keep(place: Path, made_of: bytes, tables: dict[str, Any]) -> None:
    """Keep tables for the next process; where that cannot be done they are parsed again."""
    # Not a date, which no table of ours has.
    with suppress(ValueError):
        keep(place, made_of, marshal.dumps(tables))
