"""`python -m rigfolio` is the command `rigfolio`."""

import gc
import os
import signal
import sys
from contextlib import suppress
from typing import NoReturn

# A command ends soon: to look for garbage as often as a long-lived program does costs a tenth.
_OBJECTS_BETWEEN_SEARCHES = 100_000
_INTERRUPTED = 130
_SIGNALLED = 128
"""Exit codes of shells: with the number of the signal added."""


def run() -> NoReturn:
    """Run the command and end the process.

    It ends at once: to take every module apart first would cost as much as judging a small rig.
    """
    gc.set_threshold(_OBJECTS_BETWEEN_SEARCHES, 20, 20)
    try:
        # So that a half-written file is taken away before the end.
        signal.signal(signal.SIGTERM, _stop)
        from rigfolio.cli import main

        code = main()
    except KeyboardInterrupt:
        code = _INTERRUPTED
    for stream in (sys.stdout, sys.stderr):
        # The reader has gone away, or was never there; what was found does not change by it.
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()
    os._exit(code)


def _stop(number: int, _: object) -> NoReturn:
    raise SystemExit(_SIGNALLED + number)


if __name__ == "__main__":
    run()
