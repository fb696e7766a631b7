"""The terminal: what is written there, and whether in colour."""

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import TextIO, TypeVar

from rigfolio.refusal import RefusalError

Thing = TypeVar("Thing")
_WORTH_A_BAR = 16
"""Quick things, before it is worth to show how many of them are done."""


def in_colour(stream: TextIO | None) -> bool:
    """Whether a stream shows colours and its reader wants them."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return stream is not None and stream.isatty() and not plain


def say(stream: TextIO | None, text: str) -> None:
    """Print; a reader that has gone away, or was never there, changes nothing of what was found.

    Raises
    ------
    RefusalError
        What is to be read cannot be written, as on a disk that is full.
    """
    if stream is None:
        # The program was started with this stream closed.
        return
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        _let_go(stream)
    except (OSError, ValueError) as problem:
        if isinstance(problem, OSError):
            _let_go(stream)
        if stream is sys.stderr:
            return
        why = getattr(problem, "strerror", None) or "it is closed"
        raise RefusalError(
            "output-lost",
            f"the answer cannot be written to standard output: {why[0].lower()}{why[1:]}",
            "send the output elsewhere; files that were written are whole",
        ) from None


def _let_go(stream: TextIO) -> None:
    """Throw away what is still to be written: it would be tried again at the end of the process."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def watched(things: Iterable[Thing], count: int, worth: int = _WORTH_A_BAR) -> Iterator[Thing]:
    """Things as they come; where there are many, a bar on a terminal shows how many are done.

    What is said while they come stands above the bar, which is gone at the end.
    """
    if count < worth or sys.stderr is None or not sys.stderr.isatty():
        yield from things
        return
    from tqdm import tqdm

    with tqdm(total=count, unit=" rigs", leave=False, file=sys.stderr, dynamic_ncols=True) as bar:
        for thing in things:
            bar.clear()
            yield thing
            bar.update()
