"""Files that appear whole or not at all."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path


def write_all(contents: Mapping[Path, bytes]) -> None:
    """Write files so that either all of them are new or all of them are as before.

    Each is written beside its place, forced to the disk and then put there in one step. A link is
    followed. Folders are made as needed, and taken away again where nothing came of it.

    Parameters
    ----------
    contents : mapping of Path to bytes
        What each file is to hold.

    Raises
    ------
    OSError
        One of them cannot be written; `filename` says which.
    """
    targets = {Path(os.path.realpath(path)): content for path, content in contents.items()}
    for target in targets:
        if target.exists() and not target.is_file():
            kind = "it is a folder" if target.is_dir() else "it is not a plain file"
            raise OSError(0, kind, str(target))
    parts: dict[Path, Path] = {}
    with _folders({target.parent for target in targets}):
        try:
            for target, content in targets.items():
                parts[target] = _part(target)
                _write(parts[target], content)
            _swap(parts)
        finally:
            for part in parts.values():
                part.unlink(missing_ok=True)


@contextmanager
def _folders(wanted: set[Path]) -> Iterator[None]:
    """Make folders; take those that were new away again if the block fails."""
    made: list[Path] = []
    try:
        for folder in sorted(wanted):
            missing = [one for one in (folder, *folder.parents) if not one.exists()]
            for one in reversed(missing):
                one.mkdir(exist_ok=True)
                made.append(one)
        yield
    except BaseException:
        for folder in reversed(made):
            # Not empty: somebody else has put something there.
            with suppress(OSError):
                folder.rmdir()
        raise


def _part(target: Path) -> Path:
    return target.with_name(f".{target.name[:100]}.{os.getpid()}.part")


def _write(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _swap(parts: Mapping[Path, Path]) -> None:
    """Put finished files in their places; put the former ones back if one of them fails."""
    former: dict[Path, bytes | None] = {}
    try:
        for target, part in parts.items():
            former[target] = target.read_bytes() if target.exists() else None
            part.replace(target)
    except BaseException:
        for target, content in former.items():
            _restore(target, content)
        raise


def _restore(target: Path, content: bytes | None) -> None:
    """Bring back what stood in a place; only a place that has changed is touched."""
    with suppress(OSError):
        if content is None:
            target.unlink(missing_ok=True)
        elif target.read_bytes() != content:
            part = _part(target)
            _write(part, content)
            part.replace(target)
