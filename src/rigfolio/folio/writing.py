"""Files that appear whole or not at all."""

import errno
import json
import os
import signal
import stat
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import NoReturn

from rigfolio.folio.turns import turn_of
from rigfolio.lang import still_holds
from rigfolio.refusal import ChangedError

_PART = ".part"
_LONGEST_NAME = 100
_STOPS = {
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
}
"""Signals that a person or a system sends to end a process."""


def write_all(contents: Mapping[Path, bytes], read: Mapping[Path, str] | None = None) -> None:
    """Write files so that either all of them are new or all of them are as before.

    Each is written beside its place, forced to the disk and then put there in one step, with the
    owner, rights and attributes of the file that it replaces; a file that has several names keeps
    them. A link is followed. Folders are made as needed, and taken away again where nothing came of
    it.

    Parameters
    ----------
    contents : mapping of Path to bytes
        What each file is to hold.
    read : mapping of Path to str, optional
        What those that were made of what they held must still hold when they are replaced; nothing
        where they were not there. Others who do so are kept out.

    Raises
    ------
    RefusalError
        Another command holds one of them.
    ChangedError
        Somebody else has changed one of them since it was read; theirs is left.
    OSError
        One of them cannot be written or is write-protected; `filename` says which.
    """
    targets = {Path(os.path.realpath(path)): content for path, content in contents.items()}
    former = {Path(os.path.realpath(path)): text for path, text in (read or {}).items()}
    for target in targets:
        _see(target)
    parts: dict[Path, Path] = {}
    # Nobody else has an unfinished one of such a file then, which is looked for by numbers of
    # processes: another container counts them anew.
    with turn_of(targets.keys() & former.keys()), _folders({one.parent for one in targets}):
        try:
            for target, content in targets.items():
                _clear(target)
                parts[target] = _part(target)
                with _named(target):
                    _write(parts[target], content)
            _swap(parts, former)
        finally:
            for part in parts.values():
                part.unlink(missing_ok=True)


@contextmanager
def _named(target: Path) -> Iterator[None]:
    """Say of the place itself what goes wrong with it or with the unfinished file beside it."""
    try:
        yield
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise OSError(problem.errno or 0, why, str(target)) from problem


def _see(target: Path) -> None:
    """Refuse to put a file in a place where there is something else, or one that is protected."""
    if not target.exists():
        return
    if not target.is_file():
        kind = "it is a folder" if target.is_dir() else "it is not a plain file"
        raise OSError(0, kind, str(target))
    # The rights of the file itself count, for one who may write anything as well.
    protected = not target.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)
    if protected or not os.access(target, os.W_OK):
        raise OSError(0, "it is write-protected", str(target))


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
    return target.with_name(f"{_stem(target)}{os.getpid()}{_PART}")


def _stem(target: Path) -> str:
    """How the names of all unfinished files for a place begin."""
    return f".{target.name[:_LONGEST_NAME]}."


def _clear(target: Path) -> None:
    """Take away what a process that was killed has left unfinished."""
    stem = _stem(target)
    for path in target.parent.iterdir():
        number = path.name.removeprefix(stem).removesuffix(_PART)
        if path.name == f"{stem}{number}{_PART}" and number.isdigit() and not _runs(int(number)):
            path.unlink(missing_ok=True)


def _runs(process: int) -> bool:
    """Whether there is a process of a number; it is taken for granted where one cannot ask."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True


def _write(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _swap(parts: Mapping[Path, Path], read: Mapping[Path, str]) -> None:
    """Put finished files in their places, in one go whatever becomes of this process.

    Several are put there by a process of its own: where this one is killed between two of them it
    goes on, and where that one is killed this one finishes. Signals wait until it is done.
    """
    if len(parts) == 1 or not hasattr(os, "fork"):
        _put_all(parts, read)
        return
    kept = signal.pthread_sigmask(signal.SIG_BLOCK, _STOPS)
    try:
        _swap_apart(parts, read)
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, kept)


def _swap_apart(parts: Mapping[Path, Path], read: Mapping[Path, str]) -> None:
    """Let a process of its own put files in their places.

    Raises
    ------
    OSError
        It could not; all is as it was.
    """
    ear, mouth = os.pipe()
    with warnings.catch_warnings():
        # It calls nothing but the system, which threads of this one cannot hinder.
        warnings.simplefilter("ignore", DeprecationWarning)
        child = os.fork()
    if child == 0:
        _put_apart(parts, read, mouth)
    os.close(mouth)
    with os.fdopen(ear, "rb") as told:
        said = told.read()
    os.waitpid(child, 0)
    if not said:
        # It was killed: what is still there is whole and goes to its place.
        _put_all({target: part for target, part in parts.items() if part.exists()}, read)
        return
    number, why, name = json.loads(said)
    if why:
        raise OSError(number, why, name)


def _put_apart(parts: Mapping[Path, Path], read: Mapping[Path, str], mouth: int) -> NoReturn:
    """Put files in their places, tell how it went, and end."""
    said: tuple[int, str, str] = (0, "", "")
    try:
        os.setsid()
        _put_all(parts, read)
    except OSError as problem:
        why = problem.strerror or "it cannot be put in its place"
        said = (problem.errno or 0, why, str(problem.filename2 or problem.filename or ""))
    except BaseException as problem:  # noqa: BLE001
        said = (0, type(problem).__name__, "")
    with suppress(OSError):
        os.write(mouth, json.dumps(said).encode())
    os._exit(0)


def _put_all(parts: Mapping[Path, Path], read: Mapping[Path, str]) -> None:
    """Put finished files in their places; put the former ones back if one of them fails.

    What somebody else may have changed is looked at last of all: from there to the new file no
    more time goes by than the system takes to put it there.
    """
    former: dict[Path, bytes | None] = {}
    try:
        for target, part in parts.items():
            former[target] = target.read_bytes() if target.exists() else None
            if target in read and not still_holds(former[target] or b"", read[target]):
                raise ChangedError(str(target))
            with _named(target):
                _put(part, target)
    except BaseException:
        for target, content in former.items():
            _restore(target, content)
        raise


def _put(part: Path, target: Path) -> None:
    """Put a finished file in its place in one step, or over the former one that must stay itself.

    One that has several names, or an owner or attributes that cannot be given to another file, is
    written over.
    """
    if target.exists():
        there = target.stat()
        if there.st_nlink > 1 or not _resembles(part, target, there):
            _overwrite(target, part.read_bytes())
            return
    part.replace(target)


def _resembles(part: Path, target: Path, there: os.stat_result) -> bool:
    """Give a file rights, owner and attributes of another; whether that could be done."""
    try:
        part.chmod(stat.S_IMODE(there.st_mode))
        here = part.stat()
        if (here.st_uid, here.st_gid) != (there.st_uid, there.st_gid):
            os.chown(part, there.st_uid, there.st_gid)
            part.chmod(stat.S_IMODE(there.st_mode))
        _give_attributes(part, target)
    except (OSError, AttributeError):
        return False
    return True


def _give_attributes(part: Path, target: Path) -> None:
    """Give a file what else the system keeps of another: attributes, lists of who may do what.

    Raises
    ------
    OSError
        One of them cannot be given, or what the folder gave cannot be taken away.
    """
    if not hasattr(os, "listxattr"):
        return
    wanted, there = _attributes(target), _attributes(part)
    for name in there.keys() - wanted.keys():
        os.removexattr(part, name)
    for name, value in wanted.items():
        if there.get(name) != value:
            os.setxattr(part, name, value)


def _attributes(path: Path) -> dict[str, bytes]:
    try:
        return {name: os.getxattr(path, name) for name in os.listxattr(path)}
    except OSError as problem:
        if problem.errno != errno.ENOTSUP:
            raise
        return {}


def _overwrite(target: Path, content: bytes) -> None:
    with target.open("r+b") as file:
        file.write(content)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())


def _restore(target: Path, content: bytes | None) -> None:
    """Bring back what stood in a place; only a place that has changed is touched."""
    with suppress(OSError):
        if content is None:
            target.unlink(missing_ok=True)
        elif target.read_bytes() != content:
            _overwrite(target, content)
