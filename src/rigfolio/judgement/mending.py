"""The ways out of a rig that go together, as a difference to read and as texts to write."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import unified_diff
from itertools import pairwise
from pathlib import Path

from rigfolio.findings import Edit, Finding, Span
from rigfolio.judgement.result import Result
from rigfolio.judgement.trial import Mended, goes_with, together
from rigfolio.lang import apply, edited
from rigfolio.record import record, replace
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
    kept = found.edits
    if result.study is not None:
        kept = keeping_found(result.study.rig, found.edits)
    found = replace(found, edits=kept, tried=found.edits)
    lines = list(differences(result.texts, kept, "mended"))
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


def combined(
    results: Sequence[Result], found: Sequence[Mended]
) -> Mapping[str, tuple[Result, tuple[Edit, ...]]]:
    """What is written into each file for several rigs, with a rig whose text of it that is.

    A part that several rigs share gets what is written for each of them, once all of it was tried
    in each.

    Raises
    ------
    RefusalError
        Two rigs want a shared part otherwise in one place, or what is written for one of them
        spoils another.
    """
    written = _gathered((result, one.edits) for result, one in zip(results, found, strict=True))
    tried = _gathered((result, one.tried) for result, one in zip(results, found, strict=True))
    for gathered in written.values():
        _refuse_unlike(gathered)
    for result, one in zip(results, found, strict=True):
        whole = {
            file: _placed(file, tried[path].edits)
            for file in result.texts
            if (path := Path(file).resolve()) in tried
        }
        own = {file: frozenset(edits) for file, edits in one.tried.items()}
        if own != {file: frozenset(edits) for file, edits in whole.items()}:
            _refuse_spoilt(result, one, whole, own)
    return {one.file: (one.result, _placed(one.file, one.edits)) for one in written.values()}


@record
class _Gathered:
    """What is written into one file: a rig of which it is a part, what that calls it, the edits.

    Each edit is known by its place and its words, with the rig that wants it.
    """

    result: Result
    file: str
    edits: dict[tuple[int, int, str], str]


def _gathered(
    wanted: Iterable[tuple[Result, Mapping[str, tuple[Edit, ...]]]],
) -> dict[Path, _Gathered]:
    """The edits of several rigs by the file that they are written into, by whatever way."""
    made: dict[Path, _Gathered] = {}
    for result, by_file in wanted:
        for file, edits in by_file.items():
            one = made.setdefault(Path(file).resolve(), _Gathered(result, file, {}))
            for edit in edits:
                key = (edit.span.start, edit.span.end, edit.text)
                one.edits.setdefault(key, result.file)
    return made


def _placed(file: str, edits: Iterable[tuple[int, int, str]]) -> tuple[Edit, ...]:
    """Edits by their places in a file, as a rig calls it."""
    return tuple(Edit(Span(file, start, end), text) for start, end, text in sorted(edits))


def _refuse_unlike(gathered: _Gathered) -> None:
    """Nothing, unless two rigs want a file otherwise in one place."""
    edits = gathered.edits
    for one, two in pairwise(sorted(edits)):
        if two[0] < one[1] or two[0] == one[0]:
            why = "they want it otherwise in one place"
            raise _not_shared(gathered.file, edits[one], edits[two], why)


def _refuse_spoilt(
    result: Result, one: Mended, whole: Mapping[str, tuple[Edit, ...]],
    own: Mapping[str, frozenset[Edit]],
) -> None:  # fmt: skip
    """Nothing, unless what is written for others into what they share leaves a rig worse."""
    every = [edit for edits in whole.values() for edit in edits]
    if goes_with(result, every, one.findings):
        return
    file = next(name for name, edits in whole.items() if frozenset(edits) != own.get(name))
    raise _not_shared(file, "others", result.file, "what mends one of them spoils the other")


def _not_shared(file: str, one: str, two: str, why: str) -> RefusalError:
    whose = f"`{two}` and others" if one == "others" else f"`{one}` and `{two}`"
    return RefusalError(
        "shared-not-written",
        f"`{file}` is a part of {whose}: {why}; nothing was changed",
        "write into one rig at a time, and judge the others again in between",
    )


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
