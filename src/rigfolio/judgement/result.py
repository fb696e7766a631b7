"""From a rig file to what was found in it and to what its sheets are given; prints nothing."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from rigfolio.findings import RANK, Finding, Severity, Span, in_order
from rigfolio.judgement.crowding import too_crowded
from rigfolio.judgement.series import in_series
from rigfolio.model import Draft, Rig, build
from rigfolio.reading import (
    MOST_ERRORS,
    SHOWN_STDIN,
    RigTexts,
    first_errors,
    read_blocks,
    read_rig,
)
from rigfolio.record import keep_together, record, replace
from rigfolio.rule import judged
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.job import Job, Wish

_NAMELESS = "rig.rig"
"""What a rig is called inside its documents that was read from a pipe."""


@record
class Result:
    """What came of a file: the texts read, the study of the rig, and everything found.

    `texts` are by file name, the rig file first; `study` is None where the text was not
    understood. `raw` is what those files hold to the byte; empty where another process read them.
    `untried` counts the ways out that were not tried and so are not among the findings.
    `draft` is what was understood of a text that was not understood as a whole, `asked` the rule
    book that was asked for. `left_out` counts the statements that the study and the findings are
    without; then they are no verdict on a rig. `types` are the files that the rig takes over but
    for some things, with the places there of those.
    """

    file: str
    texts: Mapping[str, str]
    study: Study | None
    findings: tuple[Finding, ...]
    raw: Mapping[str, bytes] = {}
    untried: int = 0
    draft: Draft | None = None
    asked: str = ""
    left_out: int = 0
    types: Mapping[str, tuple[Span, ...]] = {}

    @property
    def exit_code(self) -> int:
        """0 nothing but advice; 1 a danger, a fault or an unknown; 2 text not understood."""
        return self.ends_with(Severity.UNKNOWN)

    def ends_with(self, fail_on: Severity) -> int:
        """The same, 1 only for what is as grave as some severity; what is accepted counts not."""
        if any(finding.severity is Severity.ERROR for finding in self.findings):
            return 2
        most = RANK[fail_on]
        return int(any(RANK[f.severity] <= most and not f.accepted for f in self.findings))

    @property
    def book(self) -> str:
        """The rule book that judged; empty where the text was not understood."""
        return self.study.book.name if self.study else ""

    @property
    def rig_and_book(self) -> tuple[str, str] | None:
        """The name of the rig and its rule book; None where the text was not understood."""
        return (self.study.rig.name, self.book) if self.study else None

    @property
    def digest(self) -> str:
        """Twelve letters that stand for the text."""
        return digest(self.texts)


def check(
    file: str,
    book: str = "",
    *,
    text: str | None = None,
    instead: Mapping[str, str] | None = None,
) -> Result:
    """Read a rig file and judge it.

    Parameters
    ----------
    file : str
        Its path, or the name to show for `text`.
    book : str
        A rule book instead of the one that the text names.
    text : str, optional
        What the file says, where it has been read already.
    instead : mapping of str to str, optional
        What included files say, by the names that are shown, where they have been read already.

    Raises
    ------
    KeyError
        There is no such rule book.
    """
    result = understood(file, book, text=text, instead=instead)
    study = result.study
    return result if study is None else replace(result, findings=judged(study))


def understood(
    file: str,
    book: str = "",
    *,
    text: str | None = None,
    instead: Mapping[str, str] | None = None,
) -> Result:
    """Read a rig file and judge nothing, for an answer that no finding has a part in.

    Parameters
    ----------
    file, book, text, instead
        As for `check`.

    Raises
    ------
    KeyError
        There is no such rule book.
    """
    reading, draft, errors = _load(file, text, instead)
    shown = next(iter(reading.texts))
    if errors:
        found = in_order(list(errors))
        return Result(
            shown, reading.texts, None, found, reading.raw, draft=draft, asked=book,
            types=reading.types,
        )  # fmt: skip
    rig = build(draft)
    crowded = too_crowded(rig)
    if crowded is not None:
        return Result(shown, reading.texts, None, (crowded,), reading.raw, asked=book)
    study = Study(replace(rig, book=book) if book else rig, book or rig.book)
    series = in_series(study)
    if series is not None:
        return Result(shown, reading.texts, None, (series,), reading.raw, asked=book)
    return Result(shown, reading.texts, study, (), reading.raw, types=reading.types)


def load(
    file: str, text: str | None = None
) -> tuple[Mapping[str, str], Rig | None, tuple[Finding, ...]]:
    """The texts of a rig file and of what it includes, the rig, and the errors of the text."""
    reading, draft, errors = _load(file, text)
    rig = None if errors else build(draft)
    crowded = None if rig is None else too_crowded(rig)
    if crowded is not None:
        return reading.texts, None, (crowded,)
    return reading.texts, rig, errors


def _load(
    file: str, text: str | None, instead: Mapping[str, str] | None = None
) -> tuple[RigTexts, Draft, tuple[Finding, ...]]:
    reading = read_rig(file, text, instead)
    draft = Draft(excepted=reading.excepted)
    for block in reading.blocks:
        read_blocks([block], draft)
        if len(draft.found) > MOST_ERRORS:
            break
    found = (*reading.found, *draft.found)
    return reading, draft, first_errors(found) if found else ()


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
    rig = replace(study.rig, digest=result.digest)
    keep_together(study.rig, rig)
    return Job(
        rig=rig,
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
