"""From a rig file to what was found in it and to what its sheets are given; prints nothing."""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from rigfolio.findings import Finding, Severity, in_order
from rigfolio.model import Draft, Rig, build
from rigfolio.reading import (
    MOST_ERRORS,
    SHOWN_STDIN,
    STDIN,
    RigTexts,
    first_errors,
    read_blocks,
    read_rig,
)
from rigfolio.record import record, replace
from rigfolio.rule import judge
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.job import Job, Wish

_NAMELESS = "rig.rig"
"""What a rig is called inside its documents that was read from a pipe."""
_WORTH_A_PROCESS = 16
"""Rig files that take about as long to judge as a process takes to start."""


@record
class Result:
    """What came of a file: the texts read, the study of the rig, and everything found.

    `texts` are by file name, the rig file first; `study` is None where the text was not
    understood. `raw` is what those files hold to the byte; empty where another process read them.
    """

    file: str
    texts: Mapping[str, str]
    study: Study | None
    findings: tuple[Finding, ...]
    raw: Mapping[str, bytes] = {}

    @property
    def exit_code(self) -> int:
        """0 nothing but advice; 1 a danger, a fault or an unknown; 2 text not understood."""
        severities = {finding.severity for finding in self.findings}
        if Severity.ERROR in severities:
            return 2
        return 1 if severities - {Severity.ADVICE} else 0

    @property
    def book(self) -> str:
        """The rule book that judged; empty where the text was not understood."""
        return self.study.book.name if self.study else ""

    @property
    def digest(self) -> str:
        """Twelve letters that stand for the text."""
        return digest(self.texts)


def check(file: str, book: str = "", *, text: str | None = None) -> Result:
    """Read a rig file and judge it.

    Parameters
    ----------
    file : str
        Its path, or the name to show for `text`.
    book : str
        A rule book instead of the one that the text names.
    text : str, optional
        What the file says, where it has been read already.

    Raises
    ------
    KeyError
        There is no such rule book.
    """
    reading, rig, errors = _load(file, text)
    shown = next(iter(reading.texts))
    if rig is None:
        return Result(shown, reading.texts, None, in_order(list(errors)), reading.raw)
    study = Study(replace(rig, book=book) if book else rig, book or rig.book)
    return Result(shown, reading.texts, study, in_order(list(judge(study))), reading.raw)


def check_many(files: Sequence[str], book: str = "") -> tuple[Result, ...]:
    """Read and judge rig files as `check` does, many of them on all processors.

    Results come in the order of the files.

    Raises
    ------
    KeyError
        There is no such rule book.
    """
    processes = min(len(files) // _WORTH_A_PROCESS, os.cpu_count() or 1)
    if processes < 2 or STDIN in files:
        return tuple([check(file, book) for file in files])
    from functools import partial
    from multiprocessing import get_context

    with get_context().Pool(processes, _leave_interrupts) as pool:
        parts = pool.imap(partial(_parts, book=book), files, chunksize=_WORTH_A_PROCESS // 4)
        return tuple([_whole(*each) for each in parts])


_Parts: TypeAlias = tuple[str, Mapping[str, str], Rig | None, str, tuple[Finding, ...]]


def _parts(file: str, book: str) -> _Parts:
    """A result as it travels between processes: what a study has worked out stays behind."""
    result = check(file, book)
    study = result.study
    rig, own = (study.rig, study.book.name) if study else (None, "")
    return result.file, result.texts, rig, own, result.findings


def _whole(
    file: str,
    texts: Mapping[str, str],
    rig: Rig | None,
    book: str,
    findings: tuple[Finding, ...],
) -> Result:
    return Result(file, texts, Study(rig, book) if rig is not None else None, findings)


def _leave_interrupts() -> None:
    """Leave Ctrl-C to the process that waits; the others end with it."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


def load(
    file: str, text: str | None = None
) -> tuple[Mapping[str, str], Rig | None, tuple[Finding, ...]]:
    """The texts of a rig file and of what it includes, the rig, and the errors of the text."""
    reading, rig, errors = _load(file, text)
    return reading.texts, rig, errors


def _load(file: str, text: str | None) -> tuple[RigTexts, Rig | None, tuple[Finding, ...]]:
    reading = read_rig(file, text)
    draft = Draft()
    for block in reading.blocks:
        read_blocks([block], draft)
        if len(draft.found) > MOST_ERRORS:
            break
    found = (*reading.found, *draft.found)
    if found:
        return reading, None, first_errors(found)
    return reading, build(draft), ()


def job_of(result: Result, wish: "Wish | None" = None) -> "Job":
    """What the sheets of a rig are given; its rig bears the digest of the text.

    Raises
    ------
    ValueError
        The text was not understood.
    """
    from rigfolio.job import Job, Wish

    study = result.study
    if study is None:
        raise ValueError(f"{result.file}: not understood, there is nothing to print")
    return Job(
        rig=replace(study.rig, digest=result.digest),
        findings=result.findings,
        study=study,
        wish=wish or Wish(),
        texts=_attachable(result),
    )


def _attachable(result: Result) -> tuple[tuple[str, bytes], ...]:
    """The files that were read, by names that hold on any machine: from the rig file's folder."""
    folder = Path(result.file).parent
    return tuple(
        (_NAMELESS if name == SHOWN_STDIN else Path(name).relative_to(folder).as_posix(), content)
        for name, content in result.raw.items()
    )


def digest(texts: Mapping[str, str]) -> str:
    """Twelve letters that change when any character of the text does, line ends left aside."""
    import hashlib

    whole = hashlib.sha256()
    for text in texts.values():
        whole.update(text.replace("\r\n", "\n").encode() + b"\0")
    return whole.hexdigest()[:12]
