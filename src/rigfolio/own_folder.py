"""The folder in which a user's own processes keep what takes long to work out again."""

import os
import tempfile
from pathlib import Path


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
