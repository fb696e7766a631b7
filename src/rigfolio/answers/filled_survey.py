"""A filled survey put into the text of a rig, and the text that a new rig starts from."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from rigfolio.findings import Edit, Span
from rigfolio.judgement import Result, check
from rigfolio.lang import edited
from rigfolio.reading import Filled, Surveyed, Trouble, fill, plain_bytes, read_survey
from rigfolio.record import record
from rigfolio.refusal import RefusalError
from rigfolio.reports import clean_lines

LARGEST = 3_000_000
"""Bytes of a survey."""
MOST_SLOTS = 120


@record
class Put:
    """A survey on its way into a rig: the files to be written, and what is to be told."""

    contents: Mapping[Path, bytes]
    told: str
    has_trouble: bool


def put_in(file: str, survey: str, book: str = "") -> tuple[Put | None, Result]:
    """Put a filled survey into a rig file, or make one of it where there is none.

    Parameters
    ----------
    file : str
        The rig file; it need not be there yet.
    survey : str
        The table of the survey.
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
    rows, trouble = read_survey(_text(survey))
    path = Path(file)
    is_new = not path.exists()
    start = _start(path.stem, rows) if is_new else None
    result = check(file, book, text=start)
    if result.study is None:
        return None, result
    filled = fill(result.study.rig, result.texts, rows)
    contents = _contents(result, filled, start)
    after = _checked(file, contents, path)
    problem = (
        [Trouble(0, finding.headline) for finding in after.findings] if not after.study else []
    )
    if problem:
        # What was put in has to be read again; if not, nothing is written at all.
        said = _told(survey, filled, (*trouble, *problem), written=False)
        return Put({}, said, has_trouble=True), after
    told = _told(survey, filled, trouble, written=bool(contents))
    return Put(contents, told, has_trouble=bool(trouble or filled.trouble)), after


def _checked(file: str, contents: Mapping[Path, bytes], path: Path) -> Result:
    """The rig as it would be; its other files are those on the disk, which are filled in first."""
    raw = contents.get(path)
    if raw is None:
        return check(file)
    return check(file, text=raw.decode("utf-8-sig"))


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


def _told(survey: str, filled: Filled, trouble: Sequence[Trouble], *, written: bool) -> str:
    lines = [f"{survey}:{one.line}: {one.text}" for one in filled.done]
    left = sorted((*trouble, *filled.trouble), key=lambda one: one.line)
    if left:
        lines.append("")
        lines.append("left alone:")
        lines += [f"{survey}:{one.line}: {one.text}" for one in left]
    if not written and not filled.done:
        lines.append("the survey says nothing that the text does not say already")
    return clean_lines(lines)


def _start(stem: str, rows: Sequence[Surveyed]) -> str:
    """The least text that holds the panels of a survey."""
    slots: dict[str, int] = {}
    for row in rows:
        name, _, number = row.place.rpartition(".")
        if name.isidentifier() and number.isdigit() and 0 < int(number) <= MOST_SLOTS:
            slots[name] = max(slots.get(name, 0), int(number))
    label = " ".join(stem.replace('"', "'").split()) or "Rig"
    panels = "".join(
        f"panel {name} {count} slots of ? A\n" for name, count in sorted(slots.items())
    )
    return (
        f'rig "{label[:80]}"\n    system ? V\n    rules vehicle\n\n'
        "# Made of a survey. Every `?` is something that nobody has looked at yet.\n"
        f"battery B1 ? Ah\nbusbar N1 ? A\n{panels}"
        + "".join(f"wire B1+ to {name} ? AWG ? ? ft\n" for name in sorted(slots))
        + "wire N1 to B1- ? AWG ? ? ft\n"
    )


def _text(file: str) -> str:
    path = Path(file)
    try:
        content = plain_bytes(path, LARGEST)
        if len(content) > LARGEST:
            raise RefusalError("file-too-large", f"`{file}` is larger than any survey")
        return content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except (OSError, ValueError) as problem:
        why = getattr(problem, "strerror", None) or "it is no UTF-8 text; save it as CSV in UTF-8"
        headline = f"`{file}` cannot be read: {why[0].lower()}{why[1:]}"
        fix = "`rigfolio survey FILE` writes a table to fill in"
        raise RefusalError("file-not-read", headline, fix) from None
