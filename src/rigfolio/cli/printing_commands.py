"""What the printing commands do with their arguments; gives the exit code."""

import sys
from argparse import Namespace
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.parts import judged, not_understood, write
from rigfolio.cli.terminal import say
from rigfolio.folio import form_of, is_one_file, placed
from rigfolio.record import replace
from rigfolio.refusal import RefusalError

if TYPE_CHECKING:
    from rigfolio.answers import Heard
    from rigfolio.job import Again, Job, Wish
    from rigfolio.judgement import Result

_FORMS = {"sheet": "label_sheet", "tape": "label_tape", "tape-strip": "tape_strip"}
"""The sheet of each form of labels but the first."""
_SHOW_PICTURES = frozenset({"photo", "survey", "workplan", "folio"})
_SHOW_THE_LOG = frozenset({"testsheet", "folio"})


def draw_command(given: Namespace) -> int:
    """Draw the schematic."""
    from rigfolio.folio import drawing

    form = form_of(given.out, given.format)
    return _print(given, lambda job: drawing(job, form))


def labels_command(given: Namespace) -> int:
    """Print labels as strips, on a cut sheet or on tape."""
    from rigfolio.cli.wishes import fit_together

    fit_together(given)
    form = form_of(given.out, "png" if _end(given.out) == ".png" else "pdf")
    if form == "png" and not given.form.startswith("tape"):
        raise RefusalError("format-not-plain", "labels on paper are PDF", "`.pdf`")
    from rigfolio.folio import sheet, sheet_named, taped
    from rigfolio.labels import every_label

    def render(job: "Job") -> "Mapping[str, bytes]":
        if job.wish.only and not every_label(job):
            named = ", ".join(f"`{name}`" for name in sorted(job.wish.only))
            raise RefusalError("place-unknown", f"no slot label belongs to {named}",
                               "name a slot, a panel or a circuit: `--only P1.3`")  # fmt: skip
        if given.form == "strip":
            return sheet(job, "labels")
        made = sheet_named(job, "label_sheet") if given.form == "sheet" else taped(
            job, _FORMS[given.form]
        )  # fmt: skip
        kept = _only(made, given, _end(given.out))
        if form == "png" and len(kept) > 1:
            raise RefusalError("format-not-plain", f"the tape takes {len(kept)} pictures",
                               "name a folder with `-o`, or fewer slots with `--only`")  # fmt: skip
        return kept

    return _print(given, render)


def _end(out: str | None) -> str:
    """`.pdf` or `.png` where a file of that kind was named; empty for all that there is."""
    end = (out or "").lower()[-4:]
    return end if end in (".pdf", ".png") else ""


def photo_command(given: Namespace) -> int:
    """Print the pictures, and say which wire colours stand under their marks."""
    from rigfolio.folio import sheet, taken
    from rigfolio.labels import colour_words
    from rigfolio.reports import clean

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    pictures = taken(result)
    if not pictures:
        raise RefusalError(
            "photo-not-read", "the rig names no photo", '`photo "before.jpg"` with its marks'
        )
    code = _print(given, lambda job: _only(sheet(job, "photo"), given, ".pdf"))
    for each in pictures:
        for line in colour_words(result.study.rig, each):
            say(sys.stdout, f"{clean(line)}\n")
    say(sys.stderr, "a colour on a picture is a hint: look at the wire before you write it down\n")
    return code


def rulers_command(given: Namespace) -> int:
    """Print the page that a printer is measured by."""
    from rigfolio.cli.wishes import correction, paper_of
    from rigfolio.folio import rulers
    from rigfolio.reports import clean

    form_of(given.out, "pdf")
    made = rulers(paper_of(given.paper or "letter"), correction(given.measured))
    contents = placed(made, "printer", "rulers", given.out)
    write(contents)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    return 0


def sheet_command(given: Namespace) -> int:
    """Print one sheet, as PDF and as a table where it is one."""
    from rigfolio.folio import sheet

    suffix = (given.out or "").lower()[-4:]
    if suffix == ".csv":
        return _print(given, lambda job: _only(sheet(job, given.command), given, ".csv"))
    form_of(given.out, "pdf")
    only = ".pdf" if suffix == ".pdf" else ""
    return _print(given, lambda job: _only(sheet(job, given.command), given, only))


def _only(documents: "Mapping[str, bytes]", given: Namespace, suffix: str) -> dict[str, bytes]:
    """The documents whose names end in a suffix; all of them where it is empty."""
    kept = {name: content for name, content in documents.items() if name.endswith(suffix)}
    if not kept:
        headline = f"`{given.command}` has no table to write into `{given.out}`"
        raise RefusalError("format-not-plain", headline, "`.pdf`")
    return kept


def folio_command(given: Namespace) -> int:
    """Print everything, or what changed."""
    from rigfolio.folio import bound, folio, some

    def render(job: "Job") -> "Mapping[str, bytes]":
        again = job.wish.since
        if again is not None:
            return some(job, again.sheets)
        return bound(job) if is_one_file(given.out) else folio(job)

    return _print(given, render)


def _wish(given: Namespace, result: "Result") -> "Wish":
    """What was asked of the sheets, beside what the text says."""
    from rigfolio.books import usual_sheet
    from rigfolio.cli.wishes import (
        chosen,
        correction,
        dots_of,
        paper_of,
        start_of,
        stock_of,
        tape_of,
    )
    from rigfolio.job import Wish

    paper = paper_of(given.paper).name if given.paper else ""
    only = chosen(result, getattr(given, "only", None) or "")
    since = _since(given, result)
    if since is not None:
        only |= frozenset(since.labels) | frozenset(since.tags)
    form = given.form if given.command == "tags" else None
    wish = Wish(paper, only, since, correction(given.measured), tag_form=form)
    if given.command != "labels":
        return wish
    stock = stock_of(given.stock or "")
    if paper and stock is not None and stock.paper != paper:
        raise RefusalError("command-not-understood",
                           f"`{stock.name}` is a sheet of {stock.paper}, not of {paper}",
                           "leave `--paper` out")  # fmt: skip
    if stock is None and result.study is not None:
        stock = usual_sheet(paper or result.study.rig.paper)
    dpi = wish.tape_dpi if given.dpi is None else given.dpi
    wide_mm = tape_of(given.tape, dpi)
    return replace(
        wish, stock=stock, start=start_of(1 if given.start is None else given.start, stock),
        tape_mm=wide_mm, tape_dpi=dpi, tape_dots=dots_of(given.dots, wide_mm, dpi),
    )  # fmt: skip


def _sheets_of(given: Namespace) -> "tuple[str, ...]":
    """The modules of the sheets that a command prints."""
    from rigfolio.folio import BOUND, SHEETS

    if given.command == "folio":
        return BOUND
    if given.command == "labels":
        return (_FORMS.get(given.form, "slot_labels"),)
    return ("schematic",) if given.command == "draw" else (SHEETS[given.command],)


def _since(given: Namespace, result: "Result") -> "Again | None":
    """What has to be printed again since an earlier version; None where none was named."""
    named = getattr(given, "since", None)
    if not named:
        return None
    from rigfolio.folio import compared, version

    old = version(named, given.rules or "")
    if old.study is None:
        raise RefusalError("revision-not-read", f"`{named}` was not understood",
                           f"`rigfolio check {named}` says why")  # fmt: skip
    _, again = compared(old, result)
    if not (again.labels or again.tags or again.sheets):
        raise RefusalError("nothing-changed", f"nothing changed since `{named}`",
                           "leave `--since` out to print all of it")  # fmt: skip
    return again


def _print(given: Namespace, render: "Callable[[Job], Mapping[str, bytes]]") -> int:
    """Render all documents, then write them; nothing is written if the text is not understood."""
    from rigfolio.folio import beyond
    from rigfolio.judgement import CAUTION, job_of, summary
    from rigfolio.reports import clean

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    heard = _heard(given, result)
    if heard is not None and heard.found:
        return not_understood(heard.as_result)
    job = job_of(result, _wish(given, result))
    job = replace(job, log=heard.log) if heard is not None else job
    if given.command in _SHOW_PICTURES and job.rig.photos:
        from rigfolio.folio import taken

        job = replace(job, pictures=taken(result))
    contents = placed(render(job), given.file, given.command, given.out)
    write(contents, result.texts)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    for line in beyond(job, _sheets_of(given)):
        say(sys.stderr, f"{clean(line)} once it is made up for, and lost there\n")
    told = f"{summary(result)}\n{CAUTION}\n"
    say(sys.stderr, told)
    return 0


def _heard(given: Namespace, result: "Result") -> "Heard | None":
    """The log beside the rig file, for the documents that show the last readings."""
    if given.command not in _SHOW_THE_LOG or given.file == "-":
        return None
    from rigfolio.answers import logged

    return logged(result)
