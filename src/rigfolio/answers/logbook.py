"""The log of a rig: readings and work, one a line, in a plain text beside the rig file."""

import datetime
import math
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from rigfolio.books import figure
from rigfolio.findings import Finding, Span
from rigfolio.isolation import states_of
from rigfolio.judgement import Result
from rigfolio.model import Done, Log, Reading, Unplaced
from rigfolio.protection import sun_volts
from rigfolio.reading import (
    ENTRY,
    LARGEST,
    READ,
    UNIT,
    date_of,
    entries_of,
    not_read,
    plain_text,
    read_log,
    read_table,
    stored,
)
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError
from rigfolio.render import first_row, is_workbook
from rigfolio.study import Study
from rigfolio.units import show_load

_FIX = "readings stand one a line in a text"
_MOST_WRONG = 4
_MOST_ASIDE, _MOST_LINES = 3, 20
TYPED = "<command>"
"""The name of a text that was typed behind a command."""


@record
class Heard:
    """What was read of texts with readings: the texts by name, the log, what was not understood.

    `told` says what of the log was left aside, and why.
    """

    texts: Mapping[str, str]
    log: Log
    found: tuple[Finding, ...]
    told: tuple[str, ...] = ()

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
    return datetime.date.today().isoformat()  # noqa: DTZ011


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
    told: list[str] = []
    texts = {file: _heard(Path(file), told) for file in files}
    if typed:
        texts[TYPED] = "\n".join(line.replace("\n", " ") for line in typed)
    return replace(_understood(result, texts), told=tuple(told))


def _understood(result: Result, texts: Mapping[str, str], *, is_history: bool = False) -> Heard:
    """What texts with readings say of a rig; of the rig as it was, where they are history."""
    if result.study is None:
        raise ValueError(f"{result.file}: not understood")
    rig, states = result.study.rig, _supplied(result.study)
    read = [
        read_log(text, file, rig, states, is_history=is_history) for file, text in texts.items()
    ]
    log = Log(
        tuple(one for log, _ in read for one in log.readings),
        tuple(one for log, _ in read for one in log.done),
        tuple(one for log, _ in read for one in log.unplaced),
    )
    return Heard(texts, log, tuple(one for _, found in read for one in found))


def _supplied(study: Study) -> Callable[[], tuple[str, ...]]:
    """The names of all states of a rig, those that the text does not write among them."""
    return lambda: tuple(one.name for one in states_of(study))


def logged(result: Result, date: str = "") -> Heard:
    """What the log of a rig holds, all of it or of one day; nothing where there is no log.

    Of a day, the readings of one state of the rig: those behind the last work that was done, or,
    where none is, those before it. A reading of a part that the rig has no more is history: it is
    left aside, and told.
    """
    path = log_path(result.file)
    if not path.exists():
        return Heard({}, Log(), ())
    told: list[str] = []
    heard = _understood(result, {str(path): _heard(path, told)}, is_history=True)
    log = heard.log
    if date:
        readings = tuple(one for one in log.readings if one.date == date)
        done = tuple(one for one in log.done if one.date == date)
        kept = _of_one_state(readings, done)
        left = len(readings) - len(kept)
        told += [_left_words(left, kept, done)] if left else []
        log = Log(kept, done, tuple(one for one in log.unplaced if one.date == date))
    told += _aside(heard.texts, log.unplaced)
    return replace(heard, log=log, told=tuple(told))


def _aside(texts: Mapping[str, str], unplaced: Sequence[Unplaced]) -> list[str]:
    """Which entries have no place in the rig of today, and why, each in a line of its own."""
    told = [
        f"{one.span.file}:{_line_of(texts, one.span)}: `{one.text}`: left aside, it was written of "
        f"the rig as it was then: {one.why}"
        for one in unplaced[:_MOST_ASIDE]
    ]
    more = unplaced[_MOST_ASIDE:]
    if more:
        lines = ", ".join(str(_line_of(texts, one.span)) for one in more[:_MOST_LINES])
        lines += ", ..." if len(more) > _MOST_LINES else ""
        told.append(
            f"{more[0].span.file}: {len(more)} more of the rig as it was are left aside: "
            f"line {lines}"
        )
    return told


def not_taken(heard: Heard) -> tuple[str, ...]:
    """What of a log cannot be read, and what of it was left aside, each in a line of its own."""
    broken = (
        f"{one.at.span.file}:{_line_of(heard.texts, one.at.span)}: not understood: {one.headline}"
        for one in heard.found
    )
    return (*broken, *heard.told)


def _line_of(texts: Mapping[str, str], span: Span) -> int:
    return texts[span.file].count("\n", 0, span.start) + 1


def _of_one_state(readings: Sequence[Reading], done: Sequence[Done]) -> tuple[Reading, ...]:
    """The last readings between which nothing was done at the rig; order in the log counts."""
    starts = [one.span.start for one in done]
    turns = [sum(start < one.span.start for start in starts) for one in readings]
    return tuple(one for one, turn in zip(readings, turns, strict=True) if turn == max(turns))


def _left_words(left: int, kept: Sequence[Reading], done: Sequence[Done]) -> str:
    """`2 readings before `done "..."` are left aside: the rig was another one then`."""
    first = min(one.span.start for one in kept)
    work = next(one for one in reversed(done) if one.span.start < first)
    many = "1 reading" if left == 1 else f"{left} readings"
    return f'{many} of that day before `done "{work.text}"`: left aside, the rig was another then'


def doubts(study: Study, readings: Sequence[Reading]) -> tuple[str, ...]:
    """The volts that no source of a rig can give, each as a line that asks to read again."""
    most_v = _most_v(study)
    return tuple(
        f"`{one.text}`: no source of this rig gives more than {show_load(most_v, 'V', 3)}; read it "
        "again, and mend its line in the log if it was mistyped"
        for one in readings
        if one.measure == "voltage" and abs(one.value) > most_v
    )


def _most_v(study: Study) -> float:
    """What nothing in a rig exceeds, its batteries in a row; infinite beside modules untold [V]."""
    sources = study.rig.sources
    arrays = [one for one in sources if one.traits.by_light]
    if any(one.plus not in sun_volts(study) for one in arrays):
        return math.inf
    row_v = sum(one.voltage_v for one in sources if one.stores)
    others = [one.voltage_v for one in sources if not one.traits.by_light]
    sun_v = sum(sun_volts(study)[one.plus] for one in arrays)
    return max(figure("beyond", "share") * max((row_v, *others), default=0.0), sun_v)


def log_with(result: Result, typed: Sequence[str], date: str) -> tuple[Path, bytes, str]:
    """The log of a rig with entries behind it, each under its day; a remark, `# cold`, has none.

    The last of the three is what the log held, which it must still hold when it is written.

    Raises
    ------
    ValueError
        The text of the rig was not understood.
    RefusalError
        The log is there and cannot be read, or it could not be read with these behind it.
    """
    path = log_path(result.file)
    is_new = not path.exists()
    raw = b"" if is_new else stored(path, what="log", fix=_FIX)
    before = _decoded(raw, path)
    if is_new:
        before = f"# Readings and work: {Path(result.file).name}\n"
    if before and not before.endswith("\n"):
        before += "\n"
    lines = [_entry(line, date) for line in typed if line.strip()]
    content = _encoded(before + "".join(f"{line}\n" for line in lines), path)
    _see(result, typed, lines, plain_text(content).removeprefix(before))
    return path, content, raw.decode("utf-8-sig")


def _encoded(text: str, path: Path) -> bytes:
    try:
        content = text.encode()
    except UnicodeEncodeError:
        raise _not_kept("it holds bytes that are no letters") from None
    if len(content) > LARGEST:
        raise RefusalError(
            "file-too-large", f"`{path}` is full", "give it another name, and a new one is begun"
        )
    return content


def _see(result: Result, typed: Sequence[str], lines: Sequence[str], added: str) -> None:
    """Refuse what would be read back otherwise than it was typed, or not at all."""
    if added.split("\n")[:-1] != list(lines) or not all(one.isprintable() for one in lines):
        raise _not_kept("it holds line ends or letters that cannot be seen")
    if result.study is None:
        raise ValueError(f"{result.file}: not understood")
    rig, states = result.study.rig, _supplied(result.study)
    meant, _ = read_log("\n".join(typed), TYPED, rig, states)
    kept, problems = read_log(added, TYPED, rig, states)
    if problems or _said(kept) != _said(meant):
        headline = problems[0].headline if problems else "it would be read otherwise"
        raise _not_kept(headline)


def _not_kept(why: str) -> RefusalError:
    return RefusalError(
        "reading-not-understood",
        f"the entry cannot be kept so that it can be read again: {why}",
        "write it as plain words in one line",
    )


def _said(log: Log) -> tuple[Reading | Done, ...]:
    """What a log says, its days and where it stands in the text left aside."""
    nowhere = Span("", 0, 0)
    readings = [replace(one, date="", span=nowhere, text="") for one in log.readings]
    return (*readings, *(replace(one, date="", span=nowhere) for one in log.done))


def _entry(line: str, date: str) -> str:
    """A line as it is kept: with its day, but for a remark."""
    plain = line.strip()
    return plain if plain.startswith("#") or date_of(plain) else f"{date}  {plain}"


def log_lines(path: Path) -> tuple[str, ...]:
    """The lines of a log.

    Raises
    ------
    RefusalError
        It cannot be read.
    """
    return tuple(_text(path).splitlines())


def _heard(path: Path, told: list[str]) -> str:
    """Readings of a file, one a line: a text of them, or the table of a test sheet.

    Rows that are marked as not read are left out, and `told`. Of a table with a cell that is no
    reading nothing is taken: who mends the cell gives the whole table again.
    """
    content = stored(path, what="log", fix=_FIX)
    if not is_workbook(content):
        text = _decoded(content, path)
        if entries_of(first_row(text)) is None:
            return text
    grid, broken = read_table(path, what="log", fix=_FIX)
    if broken:
        raise not_read(path, broken, "mend that line, or save the table as CSV anew")
    entries = entries_of(grid)
    if entries is None:
        why = f"it has no columns `{READ}`, `{ENTRY}` and `{UNIT}`"
        raise not_read(path, why, "`rigfolio testsheet` prints a table to fill in")
    if entries.wrong:
        (line, why), *more = entries.wrong
        also = "".join(f"; line {line}: {why}" for line, why in more[:_MOST_WRONG])
        rest = len(more) - _MOST_WRONG
        also += f"; and {rest} more" if rest > 0 else ""
        raise RefusalError(
            "reading-not-understood",
            f"{path}:{line}: column `{READ}`: {why}{also}; nothing was taken",
            "mend the cell, or leave it empty where nothing was read",
        )
    if entries.left:
        listed = ", ".join(map(str, entries.left))
        told.append(f"`{path}`: marked as not read, and left out: line {listed}")
    return entries.text


def _text(path: Path) -> str:
    return _decoded(stored(path, what="log", fix=_FIX), path)


def _decoded(content: bytes, path: Path) -> str:
    try:
        return plain_text(content)
    except ValueError:
        raise not_read(path, "it is no UTF-8 text", _FIX) from None
