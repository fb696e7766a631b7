"""`python -m rigfolio` is the command `rigfolio`."""

import gc
import os
import sys
from typing import NoReturn

# A command ends soon: to look for garbage as often as a long-lived program does costs a tenth.
_OBJECTS_BETWEEN_SEARCHES = 100_000


def run() -> NoReturn:
    """Run the command and end the process.

    It ends at once: to take every module apart first would cost as much as judging a small rig.
    """
    gc.set_threshold(_OBJECTS_BETWEEN_SEARCHES, 20, 20)
    from rigfolio.cli import main

    code = main()
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            # The reader has gone away; what was found does not change by it.
            continue
    os._exit(code)


if __name__ == "__main__":
    run()
