"""Many rig files read and judged at once, on all processors."""

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from rigfolio.judgement.result import Result, check
from rigfolio.model import Rig
from rigfolio.reading import STDIN
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.study import Study

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

Answer = TypeVar("Answer")
_AHEAD = 32
"""Parts of the work that are handed out and not yet taken back."""

WORTH_A_PROCESS = 16
"""Rig files that take about as long to judge as a process takes to start."""
FIRST = 10
"""Ways out that a plain `check` tries: each takes as long as to judge the rig once more."""
_WORTH_PRINTING = 3000
"""Wires that are judged anew, over all trials, in about the time that it takes to print a folio."""


def check_many(
    files: Sequence[str], book: str = "", *, most: int | None = FIRST
) -> tuple[Result, ...]:
    """Read and judge rig files, and try their ways out; many of them on all processors.

    Parameters
    ----------
    files : sequence of str
        Their paths; results come in this order.
    book : str
        A rule book instead of the one that each text names.
    most : int, optional
        How many ways out of each file are tried; None for all.

    Raises
    ------
    KeyError
        There is no such rule book.
    """
    if _processes(files) < 2:
        return tuple([check_tried(file, book, most) for file in files])
    parts = each_in_turn(partial(_parts, book=book, most=most), files)
    return tuple([_whole(*each) for each in parts])


def each_in_turn(
    work: Callable[[str], Answer], files: Sequence[str], worth: int = WORTH_A_PROCESS
) -> Iterator[Answer]:
    """Do some work for each rig file, for many on all processors; the answers in their order.

    Parameters
    ----------
    work : callable
        Takes a file; it and what it gives travel between processes.
    files : sequence of str
        Their paths; the standard input is read by this process.
    worth : int
        How many of them take about as long as a process takes to start.

    Raises
    ------
    RefusalError
        A process was ended from outside.
    """
    processes = _processes(files, worth)
    if processes < 2:
        yield from map(work, files)
        return
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import active_children

    # Of a process that was ended this one is told; a plain pool would wait for it for ever.
    with ProcessPoolExecutor(processes, initializer=_begin) as pool:
        try:
            yield from _in_turn(pool, work, files, max(1, worth // 4))
        except BrokenProcessPool:
            headline = "a process that did part of the work was ended from outside"
            raise RefusalError("process-ended", headline, "see whether memory is short") from None
        except (KeyboardInterrupt, SystemExit, GeneratorExit):
            # Nobody waits for the rest; those that are at work would outlive this process.
            for child in active_children():
                child.terminate()
            raise


def _in_turn(
    pool: "Executor", work: Callable[[str], Answer], files: Sequence[str], size: int
) -> Iterator[Answer]:
    """The answers in their order; no more parts are handed out than keep all at work."""
    waiting: deque[Future[list[Answer]]] = deque()
    for start in range(0, len(files), size):
        waiting.append(pool.submit(_done, work, files[start : start + size]))
        if len(waiting) > _AHEAD:
            yield from waiting.popleft().result()
    while waiting:
        yield from waiting.popleft().result()


def _done(work: Callable[[str], Answer], files: Sequence[str]) -> list[Answer]:
    return [work(file) for file in files]


def _processes(files: Sequence[str], worth: int = WORTH_A_PROCESS) -> int:
    """How many processes are worth their start; one where the standard input is read."""
    return 1 if STDIN in files else min(len(files) // worth, os.cpu_count() or 1)


def check_tried(file: str, book: str = "", most: int | None = FIRST) -> Result:
    """Read a rig file, judge it and try its ways out; as `check` and `tried` do."""
    result = check(file, book)
    if not any(finding.fix is not None and finding.fix.is_edit for finding in result.findings):
        return result
    from rigfolio.judgement.trial import tried

    return tried(result, most)


def tried_for_print(result: Result) -> Result:
    """A result whose ways out have been tried for what is printed of it.

    Paper cannot be asked again: all of them are tried where that takes no longer than to print it,
    and of a large rig in which much is wrong the gravest.
    """
    from rigfolio.judgement.trial import tried

    wires = 0 if result.study is None else len(result.study.rig.conductors)
    return tried(result, max(FIRST, _WORTH_PRINTING // max(wires, 1)))


_Parts: TypeAlias = tuple[Result, Rig | None, str]


def _parts(file: str, book: str, most: int | None) -> _Parts:
    """A result as it travels between processes: what a study has worked out stays behind."""
    result = check_tried(file, book, most)
    study = result.study
    rig, own = (study.rig, study.book.name) if study else (None, "")
    return replace(result, study=None, raw={}), rig, own


def _whole(result: Result, rig: Rig | None, book: str) -> Result:
    return replace(result, study=Study(rig, book) if rig is not None else None)


def _begin() -> None:
    """Leave Ctrl-C to the process that waits; end when it tells to, and with it, and at once."""
    import signal
    from threading import Thread

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    """End this process when the one that waits for it is gone, however that ended."""
    from multiprocessing import parent_process
    from multiprocessing.connection import wait

    first = parent_process()
    if first is not None:
        wait([first.sentinel])
        os._exit(1)
