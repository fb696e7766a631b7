"""The log of a rig: readings and work, one a line, in a plain text beside the rig file."""

import datetime
from collections.abc import Mapping, Sequence
from pathlib import Path

from rigfolio.findings import Finding
from rigfolio.judgement import Result
from rigfolio.model import Done, Log, Reading
from rigfolio.reading import plain_bytes, read_log
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError

LARGEST = 3_000_000
"""Bytes of a log; some sixty thousand lines."""
TYPED = "<command>"
"""The name of a text that was typed behind a command."""


@record
class Heard:
    """What was read of texts with readings: the texts by name, the log, what was not understood."""

    texts: Mapping[str, str]
    log: Log
    found: tuple[Finding, ...]

    @property
    def as_result(self) -> Result:
        """The errors as a result that can be reported."""
        return Result(next(iter(self.texts), TYPED), self.texts, None, self.found)


def log_path(file: str) -> Path:
    """Where the log of a rig file lies: `wren.rig` has `wren-log.txt` beside it."""
    path = Path(file)
    return path.with_name(f"{path.stem}-log.txt")


def today() -> str:
    """The day of the computer's clock, for an entry that was typed today."""
    return datetime.date.today().isoformat()  # noqa: DTZ011, TID251


def day_of(text: str) -> str:
    """A day as it was typed, if it is one.

    Raises
    ------
    RefusalError
        There is no such day.
    """
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise RefusalError(
            "date-not-read", f"`{text}` is in no calendar", "write it as `2026-03-14`"
        ) from None


def hear(result: Result, typed: Sequence[str], files: Sequence[str] = ()) -> Heard:
    """Readings that were typed behind a command, and those of texts.

    Raises
    ------
    ValueError
        The text of the rig was not understood.
    RefusalError
        A text cannot be read.
    """
    if result.study is None:
        raise ValueError(f"{result.file}: not understood")
    texts = {file: _text(Path(file)) for file in files}
    if typed:
        texts[TYPED] = "\n".join(line.replace("\n", " ") for line in typed)
    readings: list[Reading] = []
    done: list[Done] = []
    found: list[Finding] = []
    for file, text in texts.items():
        log, problems = read_log(text, file, result.study.rig)
        readings += log.readings
        done += log.done
        found += problems
    return Heard(texts, Log(tuple(readings), tuple(done)), tuple(found))


def logged(result: Result, date: str = "") -> Heard:
    """What the log of a rig holds, all of it or of one day; nothing where there is no log."""
    path = log_path(result.file)
    if not path.exists():
        return Heard({}, Log(), ())
    heard = hear(result, (), (str(path),))
    if not date:
        return heard
    readings = tuple(one for one in heard.log.readings if one.date == date)
    done = tuple(one for one in heard.log.done if one.date == date)
    return replace(heard, log=Log(readings, done))


def log_with(result: Result, typed: Sequence[str], date: str) -> tuple[Path, bytes]:
    """The log of a rig with entries behind it, each under its day.

    Raises
    ------
    RefusalError
        The log is there and cannot be read.
    """
    path = log_path(result.file)
    before = _text(path) if path.exists() else f"# Readings and work: {Path(result.file).name}\n"
    if before and not before.endswith("\n"):
        before += "\n"
    lines = (line if _is_dated(line) else f"{date}  {line.strip()}" for line in typed)
    return path, (before + "".join(f"{line}\n" for line in lines)).encode()


def log_lines(path: Path) -> tuple[str, ...]:
    """The lines of a log.

    Raises
    ------
    RefusalError
        It cannot be read.
    """
    return tuple(_text(path).splitlines())


def _is_dated(line: str) -> bool:
    first = line.split(maxsplit=1)[0] if line.split() else ""
    try:
        datetime.date.fromisoformat(first)
    except ValueError:
        return False
    return len(first) == len("2026-03-14")


def _text(path: Path) -> str:
    try:
        content = plain_bytes(path, LARGEST)
        if len(content) > LARGEST:
            raise RefusalError(
                "file-too-large", f"`{path}` is larger than any log", "see whether it is one"
            )
        return content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except (OSError, ValueError) as problem:
        why = getattr(problem, "strerror", None) or "it is no UTF-8 text"
        headline = f"`{path}` cannot be read: {why[0].lower()}{why[1:]}"
        raise RefusalError(
            "file-not-read", headline, "readings stand one a line in a text"
        ) from None
