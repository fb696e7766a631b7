"""The ways out of a rig that go together, as a difference to read and as texts to write."""

from collections.abc import Iterable, Iterator, Mapping
from difflib import unified_diff
from pathlib import Path

from rigfolio.findings import Edit, Finding
from rigfolio.judgement.result import Result
from rigfolio.judgement.trial import Mended, together
from rigfolio.lang import apply, edited
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.reports import clean
from rigfolio.sizing import keeping_found

_CONTEXT = 2
"""Lines around a change that are shown."""


def mended(result: Result) -> tuple[Mended, str]:
    """The ways out that may be written without a question, and what they change, for people.

    What is fitted is kept in the text as `found`.

    Parameters
    ----------
    result : Result
        What was found, with all ways out tried.

    Returns
    -------
    tuple of Mended and str
        What goes together; the difference, with what is left to decide. It ends in a line break.
    """
    found = together(result)
    if result.study is not None:
        found = replace(found, edits=keeping_found(result.study.rig, found.edits))
    lines = list(differences(result.texts, found.edits, "mended"))
    lines.append(_counted(result, found))
    return found, "\n".join(lines) + "\n"


def written_files(result: Result, by_file: Mapping[str, Iterable[Edit]]) -> Mapping[Path, bytes]:
    """The files of a rig with edits written in.

    Raises
    ------
    OSError
        A text cannot be read again; a text that came through a pipe never can.
    ValueError
        A text has changed since it was read.
    """
    contents: dict[Path, bytes] = {}
    for file, edits in by_file.items():
        path = Path(file)
        contents[path] = edited(path.read_bytes(), result.texts[file], edits)
    return contents


def refuse_types(result: Result, files: Iterable[str | Path]) -> None:
    """Nothing, unless the file of a type is among those that are to be written for one rig.

    What is written there changes every unit of the type, and it was tried on this one alone.

    Raises
    ------
    RefusalError
        One of them is such a file.
    """
    types = {Path(file): file for file in result.types}
    for file in map(Path, files):
        if file in types:
            raise RefusalError(
                "type-not-written",
                f"`{types[file]}` would be written into, a type of which `{result.file}` is one "
                "unit; nothing was changed",
                "what is so in every unit is written into the type by itself; what is so in this "
                "one alone is said here, below `include` with `except`",
            )


def differences(
    texts: Mapping[str, str], by_file: Mapping[str, Iterable[Edit]], what: str
) -> Iterator[str]:
    """The lines that edits change, with some around them; `what` was done: `mended`."""
    for file, edits in by_file.items():
        yield from difference(file, texts[file], apply(texts[file], edits), what)


def difference(file: str, before: str, after: str, what: str) -> Iterator[str]:
    """The lines that show how a text differs from what it was; `what` was done to it."""
    lines = unified_diff(
        before.split("\n"), after.split("\n"), file, f"{file}, {what}", n=_CONTEXT, lineterm=""
    )
    yield from (clean(line.rstrip("\r\n")) for line in lines)


def _counted(result: Result, found: Mended) -> str:
    """How many findings the difference mends, and how many ways out are for a person to decide."""
    offered = [one for one in result.findings if _is_offered(one)]
    rest = [one for one in offered if one not in found.findings]
    mends = _number(len(found.findings), "finding")
    said = f"{clean(result.file)}: "
    if found.findings:
        said += f"this mends {mends}, and nothing else is worse"
        if any(", found " in one.text for each in found.edits.values() for one in each):
            said += "; what is fitted stays in the text as `found` until it is swapped"
    else:
        said += "nothing can be written without a question"
    if rest:
        said += f"; {len(rest)} more, below `fix:`, for you to decide"
    return said


def _is_offered(finding: Finding) -> bool:
    return finding.fix is not None and finding.fix.is_tried


def _number(count: int, word: str) -> str:
    return f"1 {word}" if count == 1 else f"{count} {word}s"
