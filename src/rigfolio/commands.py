"""What each command does with its arguments: judge, ask, print; gives the exit code.

What a command needs is imported when it is asked for, so that `check` starts fast.
"""

import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

from rigfolio.placing import RefusalError, form_of, not_written, placed, spare
from rigfolio.record import replace
from rigfolio.terminal import in_colour, say

if TYPE_CHECKING:
    from pathlib import Path

    from rigfolio.app import Result
    from rigfolio.logbook import Heard
    from rigfolio.study.changes_text import Again
    from rigfolio.study.job import Job, Wish

_SHOW_THE_LOG = frozenset({"testsheet", "folio"})


def _check(given: Namespace) -> int:
    from rigfolio import report
    from rigfolio.app import check_many

    _known_book(given.rules)
    results = check_many(given.file, given.rules or "")
    if given.format == "json":
        say(sys.stdout, report.as_json(results))
    else:
        say(sys.stdout, report.as_text(results, colour=in_colour(sys.stdout)))
    return max(result.exit_code for result in results)


def _explain(given: Namespace) -> int:
    from rigfolio import explain

    if given.rule is None:
        say(sys.stdout, explain.overview())
        return 0
    try:
        say(sys.stdout, explain.explain(given.rule))
    except KeyError:
        near = explain.near(given.rule)
        fix = f"the nearest is `{near}`" if near else "`rigfolio explain` lists all rules"
        raise RefusalError("rule-unknown", f"`{given.rule}` is not a rule", fix) from None
    return 0


def _answer(given: Namespace) -> int:
    from rigfolio import answers

    result = _judged(given.file, given.rules)
    study = result.study
    if study is None:
        return _not_understood(result)
    try:
        text = answers.answer(given.command, study, given.place, as_json=given.format == "json")
    except KeyError:
        near = answers.nearest_place(study, given.place)
        raise RefusalError("place-unknown", f"nothing is called `{given.place}`", near) from None
    if given.write:
        return _write_sizes(result, text)
    say(sys.stdout, text)
    return 0


def _write_sizes(result: "Result", text: str) -> int:
    """Edit the texts; what was proposed is said when it has been written."""
    from rigfolio import answers

    try:
        contents, told = answers.sized(result)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    _write(contents)
    say(sys.stdout, text)
    say(sys.stderr, told)
    return 0


def _arrange(given: Namespace) -> int:
    from rigfolio import answers

    result = _judged(given.file, given.rules)
    if result.study is None:
        return _not_understood(result)
    try:
        text, contents = answers.arranging(result, as_json=given.format == "json")
    except TimeoutError as problem:
        raise RefusalError(
            "no-best-order", str(problem), "say `stays put` of some circuits"
        ) from None
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if given.write:
        _write(contents)
    say(sys.stdout, text)
    if given.write:
        told = "".join(f"written: {path}\n" for path in contents)
        say(sys.stderr, told or "nothing had to be written\n")
    return 0


def _diagnose(given: Namespace) -> int:
    from rigfolio import answers, logbook

    result = _judged(given.file, given.rules)
    study = result.study
    if study is None:
        return _not_understood(result)
    heard = [logbook.hear(result, given.reading, given.texts)]
    if given.logged:
        heard.append(logbook.logged(result, logbook.day(given.logged)))
    broken = [each.as_result for each in heard if each.found]
    if broken:
        return _not_understood(*broken)
    readings = [reading for each in heard for reading in each.log.readings]
    if not readings:
        raise RefusalError("reading-not-understood", "no reading was given", "`'P1.3 = 11.2 V'`")
    say(sys.stdout, answers.diagnosis(study, readings, as_json=given.format == "json"))
    return 0


def _log(given: Namespace) -> int:
    from rigfolio import logbook
    from rigfolio.excerpt import clean

    result = _judged(given.file, given.rules)
    if result.study is None:
        return _not_understood(result)
    heard = logbook.hear(result, given.reading, given.texts)
    if heard.found:
        return _not_understood(heard.as_result)
    lines = [line for text in heard.texts.values() for line in text.split("\n") if line.strip()]
    path = logbook.path_of(result.file)
    if lines:
        date = logbook.day(given.on) if given.on else logbook.today()
        path, content = logbook.added(result, lines, date)
        _write({path: content})
    elif path.exists():
        say(sys.stdout, "".join(f"{clean(each)}\n" for each in logbook.lines(path)))
        return 0
    say(sys.stdout, f"{clean(str(path))}\n" if lines else "nothing was kept yet\n")
    return 0


def _compare(given: Namespace) -> int:
    from rigfolio import comparing

    _known_book(given.rules)
    versions = [comparing.version(name, given.rules or "") for name in (given.old, given.new)]
    broken = [result for result in versions if result.study is None]
    if broken:
        return _not_understood(*broken)
    old, new = versions
    say(sys.stdout, comparing.told(old, new, as_json=given.format == "json"))
    return 0


def _new(given: Namespace) -> int:
    from pathlib import Path

    from rigfolio.starting import PARTS, Start, starter

    parts = frozenset(part.strip() for part in given.parts.split(",") if part.strip())
    for part in sorted(parts - PARTS):
        listed = ", ".join(f"`{name}`" for name in sorted(PARTS))
        raise RefusalError("command-not-understood", f"`{part}` is no part", f"there are {listed}")
    path = Path(given.file)
    if path.exists():
        headline = f"`{given.file}` is there already and would be lost"
        raise RefusalError("would-overwrite", headline, "name another file")
    start = Start(given.kind, given.name or path.stem, given.slots, given.volts,
                  metric=given.metric, parts=parts)  # fmt: skip
    _write({path: starter(start).encode()})
    say(sys.stdout, f"{given.file}\n")
    return 0


def _survey(given: Namespace) -> int:
    if not given.survey:
        return _sheet(given)
    from rigfolio.surveying import put_in

    _known_book(given.rules)
    try:
        put, result = put_in(given.file, given.survey, given.rules or "")
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if put is None:
        return _not_understood(result)
    say(sys.stdout, put.told)
    if given.write:
        _write(put.contents)
        say(sys.stderr, "".join(f"written: {path}\n" for path in put.contents))
    elif put.contents:
        say(sys.stderr, "nothing was written; `--write` puts it into the text\n")
    return 1 if put.has_trouble else 0


def _draw(given: Namespace) -> int:
    from rigfolio.printing import drawing

    form = form_of(given.out, given.format)
    return _print(given, lambda job: {f"schematic.{form}": drawing(job, form)})


def _sheet(given: Namespace) -> int:
    from rigfolio.printing import sheet

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


def _labels(given: Namespace) -> int:
    if given.form == "strip":
        return _sheet(given)
    from rigfolio.printing import sheet_named, taped

    if given.form == "sheet":
        return _print(given, lambda job: sheet_named(job, "label_sheet"))
    return _print(given, lambda job: taped(job, given.dpi))


def _rulers(given: Namespace) -> int:
    from rigfolio.excerpt import clean
    from rigfolio.printing import rulers
    from rigfolio.wishes import correction, paper_of

    form_of(given.out, "pdf")
    made = rulers(paper_of(given.paper or "letter"), correction(given.measured))
    contents = placed(made, "printer", "rulers", given.out)
    _write(contents)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    return 0


def _folio(given: Namespace) -> int:
    from rigfolio.printing import folio, some

    def render(job: "Job") -> "Mapping[str, bytes]":
        again = job.wish.since
        return folio(job) if again is None else some(job, again.sheets)

    return _print(given, render)


def _wish(given: Namespace, result: "Result") -> "Wish":
    """What was asked of the sheets, beside what the text says."""
    from rigfolio.study.job import Wish
    from rigfolio.wishes import chosen, correction, paper_of, stock_of, tape_of

    paper = paper_of(given.paper).name if given.paper else ""
    only = chosen(result, getattr(given, "only", None) or "")
    since = _since(given, result)
    if since is not None:
        only |= frozenset(since.labels) | frozenset(since.tags)
    stock = stock_of(getattr(given, "stock", None) or "")
    tape_mm = tape_of(getattr(given, "tape", None), getattr(given, "dpi", None))
    start = max(1, getattr(given, "start", 1))
    return Wish(paper, only, since, correction(given.measured), stock, start, tape_mm)


def _since(given: Namespace, result: "Result") -> "Again | None":
    """What has to be printed again since an earlier version; None where none was named."""
    named = getattr(given, "since", None)
    if not named:
        return None
    from rigfolio import comparing

    old = comparing.version(named, given.rules or "")
    if old.study is None:
        raise RefusalError("revision-not-read", f"`{named}` was not understood",
                           f"`rigfolio check {named}` says why")  # fmt: skip
    _, again = comparing.compared(old, result)
    if not (again.labels or again.tags or again.sheets):
        raise RefusalError("nothing-changed", f"nothing changed since `{named}`",
                           "leave `--since` out to print all of it")  # fmt: skip
    return again


def _extract(given: Namespace) -> int:
    from pathlib import Path

    from rigfolio.attached import kept_apart, taken_out
    from rigfolio.excerpt import clean

    folder = Path(given.out or ".")
    contents = {folder / name: content for name, content in taken_out(given.file).items()}
    _write(kept_apart(contents))
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    return 0


def _print(given: Namespace, render: "Callable[[Job], Mapping[str, bytes]]") -> int:
    """Render all documents, then write them; nothing is written if the text is not understood."""
    from rigfolio import report
    from rigfolio.app import job_of
    from rigfolio.excerpt import clean

    result = _judged(given.file, given.rules)
    if result.study is None:
        return _not_understood(result)
    heard = _heard(given, result)
    if heard is not None and heard.found:
        return _not_understood(heard.as_result)
    job = job_of(result, _wish(given, result))
    job = replace(job, log=heard.log) if heard is not None else job
    contents = placed(render(job), given.file, given.command, given.out)
    _write(contents, result.texts)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    told = f"{report.summary(result)}\n{report.CAUTION}\n"
    say(sys.stderr, told)
    return 0


def _heard(given: Namespace, result: "Result") -> "Heard | None":
    """The log beside the rig file, for the documents that show the last readings."""
    if given.command not in _SHOW_THE_LOG or given.file == "-":
        return None
    from rigfolio.logbook import logged

    return logged(result)


def _judged(file: str, book: str | None) -> "Result":
    """A file checked under its own or another rule book."""
    from rigfolio.app import check

    _known_book(book)
    return check(file, book or "")


def _known_book(book: str | None) -> None:
    """Refuse a rule book that does not exist."""
    if book is None:
        return
    from rigfolio.books.loader import book_names

    if book not in book_names():
        listed = ", ".join(f"`{name}`" for name in book_names())
        raise RefusalError("book-unknown", f"`{book}` is not a rule book", f"there are {listed}")


def _not_understood(*results: "Result") -> int:
    """Say what a text has in it that cannot be read."""
    from rigfolio import report

    say(sys.stderr, report.as_text(results, colour=in_colour(sys.stderr)))
    return 2


def _write(contents: "Mapping[Path, bytes]", texts: "Iterable[str]" = ()) -> None:
    """Write all files, or none and say why; a text that was read is never written over."""
    from rigfolio.writing import write_all

    try:
        spare(contents, texts)
        write_all(contents)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None


RUN: Mapping[str, Callable[[Namespace], int]] = {
    "new": _new,
    "survey": _survey,
    "check": _check,
    "explain": _explain,
    "isolate": _answer,
    "live": _answer,
    "demand": _answer,
    "short": _answer,
    "size": _answer,
    "diagnose": _diagnose,
    "log": _log,
    "arrange": _arrange,
    "compare": _compare,
    "draw": _draw,
    "face": _sheet,
    "rulers": _rulers,
    "labels": _labels,
    "tags": _sheet,
    "legend": _sheet,
    "directory": _sheet,
    "picklist": _sheet,
    "workplan": _sheet,
    "testsheet": _sheet,
    "folio": _folio,
    "extract": _extract,
}
"""What runs each command."""
