"""One writer at a time: what two commands add to one file at once is kept, all of it."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

from rigfolio.refusal import RefusalError

LONGEST_S = 30.0
"""How long another command is waited for [s]; to add some lines takes far less."""


@contextmanager
def turn_of(path: Path) -> Iterator[None]:
    """Hold a file for this process from reading it to writing it anew.

    The lock lies among the temporary files of the user, so that none is left beside the rig; the
    system lets go of it when the process ends, however it ends.

    Parameters
    ----------
    path : Path
        The file; it need not be there yet.

    Raises
    ------
    RefusalError
        Another command has not let go of it.
    """
    import filelock

    where = os.path.normcase(os.path.realpath(path))
    name = sha256(where.encode("utf-8", "surrogateescape")).hexdigest()[:20]
    lock = Path(tempfile.gettempdir()) / f"rigfolio-{_user()}-{name}.lock"
    try:
        with filelock.FileLock(lock, timeout=LONGEST_S):
            yield
    except filelock.Timeout:
        raise RefusalError(
            "file-in-use", f"another command is writing `{path}`", "wait for it, then try again"
        ) from None


def _user() -> str:
    """Who runs this, so that no lock is in a place that another user owns."""
    return str(os.getuid()) if hasattr(os, "getuid") else "user"
