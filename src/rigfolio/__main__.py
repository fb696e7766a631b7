"""`python -m rigfolio` is the command `rigfolio`."""

# Whoever stops the command while its first modules are read is told no more than later on. So what
# is imported here is there by the time that Python runs this file; all else comes inside of `run`.
import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

# A command ends soon: to look for garbage as often as a long-lived program does costs a tenth.
_OBJECTS_BETWEEN_SEARCHES = 400_000
_INTERRUPTED = 130
_SIGNALLED = 128
"""Exit codes of shells: with the number of the signal added."""


def run() -> "NoReturn":
    """Run the command and end the process.

    It ends at once: to take every module apart first would cost as much as judging a small rig.
    """
    try:
        code = _run()
    except KeyboardInterrupt:
        code = _INTERRUPTED
    os._exit(code)


def _run() -> int:
    import gc
    import signal

    gc.set_threshold(_OBJECTS_BETWEEN_SEARCHES, 20, 20)
    # The solver of diagrams loads a library of linear algebra that nobody asks for anything; a
    # thread for each processor would be started for it, which takes a third of that.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # So that a half-written file is taken away before the end, and no other process is left alone.
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        # Who was started deaf to it, as by `nohup`, stays so.
        if number is not None and signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, _stop)
    try:
        from rigfolio.cli import main

        code = main()
    except KeyboardInterrupt:
        code = _INTERRUPTED
    except RuntimeError as problem:
        # Python 3.11 wraps what comes in the midst of making a class, here while a module is read.
        if not isinstance(problem.__cause__, KeyboardInterrupt):
            raise
        code = _INTERRUPTED
    # What was asked for is done, and how it ended is settled.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError, AttributeError):
            # The reader has gone away, or was never there; what was found does not change by it.
            continue
    return code


def _stop(number: int, _: object) -> "NoReturn":
    raise SystemExit(_SIGNALLED + number)


if __name__ == "__main__":
    run()
