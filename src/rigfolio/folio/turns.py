"""One after another: who writes files anew that several may write at once."""

import os
import time
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from rigfolio.refusal import RefusalError

try:
    import fcntl
except ImportError:  # pragma: no cover
    # As on Windows.
    _HAS_LOCKS = False
else:
    _HAS_LOCKS = True

LONGEST_S = 30.0
"""How long others are waited for [s]; to put files in their places takes far less."""
_STEP_S = 0.02


@contextmanager
def turn_of(targets: Iterable[Path]) -> Iterator[None]:
    """Hold files, and the folders that they lie in, from comparing them to putting them there.

    The folders and files themselves are locked: whoever comes to them meets the lock, whatever user
    or place for temporary files is theirs, nothing is left beside the rig, and the system lets go
    when the process ends, however it ends. A disk that knows no locks is written without; what a
    file holds is compared there all the same.

    Parameters
    ----------
    targets : iterable of Path
        The files; they need not be there yet.

    Raises
    ------
    RefusalError
        Another command has not let go of one of them.
    """
    wanted = sorted(set(targets))
    with ExitStack() as held:
        # All in one order, or two would wait for each other.
        for place in (*sorted({one.parent for one in wanted}), *wanted):
            if not _HAS_LOCKS:
                held.enter_context(_apart(place))
                continue
            with suppress(OSError):
                number = os.open(place, os.O_RDONLY if place.is_dir() else os.O_RDWR)
                held.callback(os.close, number)
                _wait(number, place)
        yield


def _wait(number: int, place: Path) -> None:
    """Lock an open file or folder.

    Raises
    ------
    OSError
        Where it lies, nothing can be locked.
    RefusalError
        Another command has not let go of it.
    """
    end = time.monotonic() + LONGEST_S
    while True:
        try:
            fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() >= end:
                raise _in_use(place) from None
            time.sleep(_STEP_S)
        else:
            return


@contextmanager
def _apart(place: Path) -> Iterator[None]:
    """Lock a file of the same name for all processes of a user, where no folder can be locked."""
    import tempfile
    from hashlib import sha256

    import filelock

    name = sha256(os.path.normcase(place).encode("utf-8", "surrogateescape")).hexdigest()[:20]
    lock = filelock.FileLock(Path(tempfile.gettempdir()) / f"rigfolio-{name}.lock")
    try:
        lock.acquire(timeout=LONGEST_S)
    except filelock.Timeout:
        raise _in_use(place) from None
    except OSError:
        # Something else lies there; what the files hold is compared all the same.
        yield
        return
    try:
        yield
    finally:
        lock.release()


def _in_use(place: Path) -> RefusalError:
    return RefusalError(
        "file-in-use", f"another command is writing `{place}`", "wait for it, then try again"
    )
