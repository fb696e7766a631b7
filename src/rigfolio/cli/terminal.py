"""The terminal: what is written there, and whether in colour."""

import os
import sys
from typing import TextIO

from rigfolio.refusal import not_written


def in_colour(stream: TextIO) -> bool:
    """Whether a stream shows colours and its reader wants them."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return stream.isatty() and not plain


def say(stream: TextIO, text: str) -> None:
    """Print; a reader that has gone away changes nothing of what was found."""
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        # What is still in the buffer would be tried again at the end of the process.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    except OSError as problem:
        if stream is sys.stderr:
            return
        raise not_written(OSError(problem.errno, problem.strerror, "standard output")) from None
