"""The rig files of a folder, and which files a text includes."""

import os
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from rigfolio.natural_order import natural
from rigfolio.reading import plain_bytes
from rigfolio.refusal import RefusalError

INCLUDE = re.compile(r'^include[ \t]+"([^"\n]*)"', re.MULTILINE | re.IGNORECASE)
"""A line that names a file to be read with this one."""
MOST_FOLDERS = 5_000
"""Folders that are looked through for rigs."""
_LARGEST = 1_000_000
"""Bytes of a file that is looked into for what it includes."""


def included_path(file: str, name: str) -> str:
    """The path of a file that another one includes by a name."""
    return str(Path(file).parent / name)


def rig_files(places: Iterable[str]) -> tuple[str, ...]:
    """Files as they are named, and of each folder the rigs in it and below, once each.

    A rig of a folder is a file that ends in `.rig` and that no other one of the folder includes;
    folders whose names begin with a point are passed over, and links to folders.

    Raises
    ------
    RefusalError
        A folder has no rig in it, or more folders below it than anybody keeps rigs in.
    """
    found: dict[str, None] = {}
    for place in places:
        inside = _of_folder(place) if os.path.isdir(place) else (place,)  # noqa: PTH112
        if not inside:
            raise RefusalError(
                "folder-empty", f"no rig file lies in `{place}` or below it",
                "a rig file ends in `.rig`; `rigfolio new towable my.rig` writes one",
            )  # fmt: skip
        found.update(dict.fromkeys(inside))
    return tuple(found)


def _of_folder(folder: str) -> Sequence[str]:
    files: list[str] = []
    for count, (here, below, names) in enumerate(os.walk(folder)):
        if count == MOST_FOLDERS:
            headline = f"more than {MOST_FOLDERS} folders lie below `{folder}`"
            raise RefusalError("folder-too-large", headline, "name the one that holds the rigs")
        below[:] = sorted((name for name in below if not name.startswith(".")), key=natural)
        rigs = [name for name in names if name.endswith(".rig") and not name.startswith(".")]
        files += [str(Path(here, name)) for name in sorted(rigs, key=natural)]
    parts = {one for file in files for one in _included(file)}
    return [file for file in files if file not in parts]


def _included(file: str) -> list[str]:
    """What a file on the disk includes; nothing where it cannot be read, which is told later."""
    try:
        text = plain_bytes(Path(file), _LARGEST).decode("utf-8", errors="replace")
    except (OSError, ValueError):
        return []
    names = INCLUDE.findall(text.replace("\r", "\n"))
    return [included_path(file, name) for name in names]
