"""A filled survey put into the text of a rig, and the text that a new rig starts from."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from rigfolio.findings import Edit, Span
from rigfolio.judgement import Result, understood
from rigfolio.lang import edited
from rigfolio.natural_order import natural
from rigfolio.reading import read_table
from rigfolio.record import record, replace
from rigfolio.reports import clean_lines
from rigfolio.surveys import (
    Filled,
    Spelt,
    Survey,
    Surveyed,
    Trouble,
    fill,
    read_survey,
    written_slot,
)

MOST_SLOTS = 120
_FIRST = "P1"
"""The panel of slots that are written without one."""


@record
class Put:
    """A survey on its way into a rig: the files to be written, and what is to be told.

    `cells` is how many cells say something, `unread` how many of them could not be read; `read` is
    what the files held, nothing where there was none.
    """

    contents: Mapping[Path, bytes]
    read: Mapping[str, str]
    told: str
    has_trouble: bool
    cells: int = 0
    unread: int = 0


@record
class _Tried:
    """The rows of a survey that go into a text together, and what comes of them."""

    filled: Filled
    contents: Mapping[Path, bytes]
    after: Result


def put_in(file: str, survey: str, book: str = "") -> tuple[Put | None, Result]:
    """Put a filled survey into a rig file, or make one of it where there is none; judges nothing.

    Parameters
    ----------
    file : str
        The rig file; it need not be there yet.
    survey : str
        The table of the survey: CSV, or a workbook.
    book : str
        A rule book instead of the one that the text names.

    Returns
    -------
    tuple[Put | None, Result]
        None where the rig file is there and was not understood.

    Raises
    ------
    RefusalError
        The table cannot be read.
    OSError, ValueError
        The text has changed since it was read.
    """
    fix = "`rigfolio survey FILE` writes a table to fill in"
    table, broken = read_table(Path(survey), what="survey", fix=fix)
    read = _broken(broken) if broken else read_survey(table)
    path = Path(file)
    start = _start(path.stem, read.rows) if not path.exists() else None
    result = understood(file, book, text=start)
    if result.study is None:
        return None, result
    tried, left = _most(result, read, start)
    told = _told(survey, tried.filled, (*read.trouble, *left), read.spelt, tried.contents)
    trouble = bool(read.trouble or left or tried.filled.trouble)
    unread = sum(1 for one in (*read.trouble, *tried.filled.trouble) if one.kind)
    texts = result.texts if start is None else {file: ""}
    return Put(tried.contents, texts, told, trouble, read.cells, unread), tried.after


def _broken(problem: str) -> Survey:
    """What is said of a text that is no table: `line 3: ...`."""
    line, _, why = problem.partition(": ")
    trouble = Trouble(int(line.removeprefix("line ")), f"not a table: {why}")
    return Survey((), trouble=(trouble,))


def _most(result: Result, survey: Survey, start: str | None) -> tuple[_Tried, list[Trouble]]:
    """As many rows as can be read again when they are in, and what is told of the others."""
    tried: _Tried | None = None
    kept: list[Surveyed] = []
    left: list[Trouble] = []
    waiting: list[Sequence[Surveyed]] = [survey.rows]
    while waiting:
        some = waiting.pop()
        more = _try(result, replace(survey, rows=(*kept, *some)), start)
        if more.after.study is not None:
            kept += some
            tried = more
        elif len(some) == 1:
            headline = more.after.findings[0].headline
            left.append(Trouble(some[0].line, f"{some[0].place}: {headline}"))
        elif some:
            half = len(some) // 2
            waiting += [some[half:], some[:half]]
    return tried or _try(result, replace(survey, rows=()), start), left


def _try(result: Result, survey: Survey, start: str | None) -> _Tried:
    if result.study is None:
        raise ValueError(f"{result.file}: not understood")
    filled = fill(result.study.rig, result.texts, survey)
    contents = _contents(result, filled, start)
    return _Tried(filled, contents, _checked(result.file, contents))


def _checked(file: str, contents: Mapping[Path, bytes]) -> Result:
    """The rig as it would be; its other files are those on the disk, which are filled in first."""
    raw = contents.get(Path(file))
    return understood(file, text=None if raw is None else raw.decode("utf-8-sig"))


def _contents(result: Result, filled: Filled, start: str | None) -> Mapping[Path, bytes]:
    by_file: dict[str, list[Edit]] = {}
    for edit in filled.edits:
        by_file.setdefault(edit.span.file, []).append(edit)
    main = next(iter(result.texts))
    if filled.added:
        text = result.texts[main]
        gap = "" if text.endswith("\n\n") or not text else "\n" if text.endswith("\n") else "\n\n"
        end = Span(main, len(text), len(text))
        by_file.setdefault(main, []).append(Edit(end, gap + filled.added))
    contents: dict[Path, bytes] = {}
    for file, edits in by_file.items():
        path = Path(file)
        raw = start.encode() if start is not None else path.read_bytes()
        contents[path] = edited(raw, result.texts[file], edits)
    if start is not None and not contents:
        contents[Path(main)] = start.encode()
    return contents


def _told(
    survey: str,
    filled: Filled,
    trouble: Sequence[Trouble],
    spelt: Sequence[Spelt],
    contents: Mapping[Path, bytes],
) -> str:
    lines = [f"{survey}:{one.line}: {one.text}" for one in filled.done]
    left = sorted((*trouble, *filled.trouble), key=lambda one: one.line)
    plain = [one for one in left if not one.kind]
    if plain:
        lines += ["", "left alone:", *(f"{survey}:{one.line}: {one.text}" for one in plain)]
    if len(left) > len(plain):
        lines += [
            "",
            "not read; mend these cells and put the table in again, nothing goes in twice:",
        ]
    for kind in dict.fromkeys(one.kind for one in left if one.kind):
        lines.append(f"{kind}:")
        lines += [f"  {survey}:{one.line}: {one.text}" for one in left if one.kind == kind]
    said = list(_said_back((*spelt, *filled.spelt)))
    if said:
        lines += ["", "read as:", *said]
    if not contents and not filled.done and not left:
        lines.append("the survey says nothing that the text does not say already")
    return clean_lines(lines)


def _said_back(spelt: Sequence[Spelt]) -> Iterator[str]:
    """Each spelling once, with the rows in which it stands."""
    rows: dict[tuple[str, str], list[int]] = {}
    for one in spelt:
        rows.setdefault((one.written, one.read), []).append(one.line)
    for (written, read), lines in rows.items():
        numbers = [str(line) for line in dict.fromkeys(lines)]
        word = "row" if len(numbers) == 1 else "rows"
        yield f"read `{written}` as {read} in {word} {', '.join(numbers)}"


def _start(stem: str, rows: Sequence[Surveyed]) -> str:
    """The least text that holds the panels of a survey."""
    slots: dict[str, int] = {}
    names: dict[str, str] = {}
    for row in rows:
        panel, number = written_slot(row.place) or ("", 0)
        if not 0 < number <= MOST_SLOTS or not (panel or _FIRST).isidentifier():
            continue
        # Short names are in capitals like those of all parts, however the first row has it.
        spelt = panel.upper() if len(panel) <= len(_FIRST) else panel
        name = names.setdefault(panel.casefold() or _FIRST.casefold(), spelt or _FIRST)
        slots[name] = max(slots.get(name, 0), number)
    label = " ".join(stem.replace('"', "'").split()) or "Rig"
    held = sorted(slots, key=natural)
    wires = [*(f"B1+ to {name}" for name in held), "N1 to B1-"]
    panels = "".join(f"panel {name} {slots[name]} slots of ? A\n" for name in held)
    return (
        f'rig "{label[:80]}"\n    system ? V\n    rules vehicle\n'
        f"    tags used to W{len(wires)}\n\n"
        "# Made of a survey. Every `?` is something that nobody has looked at yet.\n"
        f"battery B1 ? Ah\nbusbar N1 ? A\n{panels}"
        + "".join(f"wire {ends} ? AWG ? ? ft, tag W{n}\n" for n, ends in enumerate(wires, 1))
    )
