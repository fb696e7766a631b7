"""Two versions of a rig: where they come from, what changed, what must be printed again."""

import re
from pathlib import Path

from rigfolio.compare import Comparison, compare, same_wires, work_between
from rigfolio.findings import Finding, Label, Span
from rigfolio.folio.changed import bare, changed_sheets
from rigfolio.job import Again
from rigfolio.judgement import Result, job_of, understood as read
from rigfolio.labels import changed_labels, changed_tags, gone_devices, labelled_as
from rigfolio.natural_order import natural
from rigfolio.reading import LARGEST_FILE
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.reports import clean
from rigfolio.rule import judged
from rigfolio.study import as_found

_REVISION = re.compile(r"(?P<revision>[^-:\s][^:\s]*):(?P<file>.+)", re.DOTALL)
_GIT_S = 60.0


def version(named: str, book: str = "") -> Result:
    """A rig file, not judged: a path, or `REVISION:PATH` for a file as a git repository holds it.

    Raises
    ------
    RefusalError
        The revision cannot be read.
    """
    in_git = _REVISION.fullmatch(named)
    if in_git is None or Path(named).exists():
        return read(named, book)
    import tempfile

    revision, path = in_git.group("revision"), Path(in_git.group("file"))
    with tempfile.TemporaryDirectory(prefix="rigfolio-") as folder:
        _unpack(_archive(revision, path), Path(folder))
        here = Path(folder) / path.name
        if not here.is_file():
            raise RefusalError(
                "revision-not-read",
                f"`{path}` is not in revision `{revision}`",
                f"`git log -- {path}` lists the revisions that have it",
            )
        return _shown(read(str(here), book), folder, named, revision, path.parent)


def _archive(revision: str, path: Path) -> bytes:
    """The folder of a file, as a revision holds it, in the tar format."""
    import subprocess

    folder = path.parent
    command = ["git", "-C", str(folder), "archive", "--format=tar", revision]
    try:
        done = subprocess.run(command, capture_output=True, timeout=_GIT_S, check=False)
    except FileNotFoundError:
        raise RefusalError(
            "revision-not-read", "the program `git` is not installed", "name two files instead"
        ) from None
    except subprocess.TimeoutExpired:
        raise RefusalError("revision-not-read", f"`git` gave no answer in {_GIT_S:g} s") from None
    if done.returncode:
        told = done.stderr.decode(errors="replace").strip().splitlines() or ["no reason given"]
        raise RefusalError(
            "revision-not-read",
            f"`{revision}` of `{folder}` cannot be read: {clean(told[-1])}",
            "`git log --oneline` lists the revisions",
        )
    return done.stdout


def _unpack(archive: bytes, folder: Path) -> None:
    """Write the plain files of an archive that could belong to a rig; links are left out."""
    import io
    import tarfile

    with tarfile.open(fileobj=io.BytesIO(archive)) as tar:
        for member in tar:
            inside = (folder / member.name).resolve().is_relative_to(folder.resolve())
            content = tar.extractfile(member) if member.isfile() and inside else None
            if content is not None and member.size <= LARGEST_FILE:
                target = folder / member.name
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(content.read())


def _shown(result: Result, folder: str, named: str, revision: str, parent: Path) -> Result:
    """The result with its files called by revision and path."""

    def name(file: str) -> str:
        inside = Path(file).relative_to(folder) if file.startswith(folder) else Path(file)
        return f"{revision}:{parent / inside}"

    def label(one: Label) -> Label:
        return Label(Span(name(one.span.file), one.span.start, one.span.end), one.text)

    def renamed(finding: Finding) -> Finding:
        others = tuple(label(other) for other in finding.others)
        return replace(finding, at=label(finding.at), others=others)

    texts = {name(file): text for file, text in result.texts.items()}
    # The study keeps the places of the unpacked files; findings are compared against those.
    if result.study is not None:
        return replace(result, file=named, raw={})
    found = tuple(renamed(finding) for finding in result.findings)
    return replace(result, file=named, texts=texts, findings=found)


def understood(named: str, book: str = "") -> Result:
    """An older version, not judged, of which something was asked.

    Raises
    ------
    RefusalError
        The revision cannot be read, or its text was not understood.
    """
    old = version(named, book)
    if old.study is None:
        raise RefusalError("revision-not-read", f"`{named}` was not understood",
                           f"`rigfolio check {named}` says why")  # fmt: skip
    return old


def _found(result: Result) -> tuple[Finding, ...]:
    """What was found in a version, which is judged now where it has not been."""
    if result.findings or result.study is None:
        return result.findings
    return judged(result.study)


def _is_one_text(old: Result, new: Result) -> bool:
    """Whether two versions say the same to the letter, all files counted, under one rule book."""
    return old.book == new.book and [*old.texts.values()] == [*new.texts.values()]


def compared(old: Result, new: Result) -> tuple[Comparison, Again]:
    """What changed from one version to another, and what must be printed again.

    They are judged where they have not been, and where there is anything to compare.

    Raises
    ------
    ValueError
        A text was not understood.
    """
    if old.study is None or new.study is None:
        raise ValueError(f"{old.file}, {new.file}: not understood, there is nothing to compare")
    if _is_one_text(old, new):
        nothing = Comparison((), (), (), frozenset(), frozenset(), ())
        return nothing, Again((), (), (), tuple, before=old.study)
    before, after = old.study.rig, new.study.rig
    there = as_found(new.study)
    in_place = () if there is new.study else judged(there)
    # No label and no tag bears the strip of a sheet: what these say is worked out once for both.
    was, now = (bare(job_of(replace(each, findings=_found(each)))) for each in (old, new))
    found = compare(before, after, was.findings, now.findings, in_place)
    tags, off = changed_tags(was, now, same_wires(before, after))
    again = Again(
        tuple(sorted({*labelled_as(now, found.circuits), *changed_labels(was, now)})),
        tuple(sorted(tags, key=natural)),
        tuple(
            dict.fromkeys(
                (*labelled_as(was, found.taken_off), *sorted(gone_devices(was, now), key=natural))
            )
        ),
        lambda: changed_sheets(was, now),
        tuple(sorted(found.wires, key=natural)),
        off,
        work_between(before, after),
        old.study,
    )
    return found, again
