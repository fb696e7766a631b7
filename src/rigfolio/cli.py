"""Arguments in, exit code out; the only module that prints.

Exit codes: 0 nothing but advice, or documents written; 1 a danger, a fault or something that
cannot be judged; 2 a text or a command not understood, or a file that could not be read or
written; 3 a bug of this program; 130 stopped by the user. What a command needs is imported when it
is asked for, so that `check` starts fast.
"""

import argparse
import io
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TextIO

from rigfolio.placing import RefusalError, form_of, not_written, placed, spare

if TYPE_CHECKING:
    from rigfolio.app import Result
    from rigfolio.study.job import Job

_COMMANDS = {
    "check": "judge rig files under their rule book",
    "explain": "say what a rule forbids and why, or list all rules",
    "isolate": "say what to open to make a panel or part dead, and what stays live then",
    "live": "say what is alive in which state of the rig, and what must stay on but does not",
    "size": "propose gauge and fuse for every circuit and feed, and write them in if asked",
    "compare": "say what changed between two versions of a rig, and what to print again",
    "draw": "draw the schematic",
    "labels": "print the labels of the panel's slots",
    "tags": "print the tags for both ends of every wire",
    "legend": "print which colour belongs to which circuit",
    "directory": "print the directory for the panel's door",
    "folio": "print all of these, each by itself and bound as one PDF",
}
_CAUTION = "Not a safety certificate: local code and licensed practice come first."


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Refuse arguments in the manner of every other message."""
        text = message[:1].lower() + message[1:].replace("invalid choice: ", "found ")
        raise RefusalError("command-not-understood", text, f"`{self.prog} --help` shows how")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit code and raises nothing.

    Parameters
    ----------
    arguments : sequence of str, optional
        The words after the name of the program; those of the process where it is left out.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        return _run(sys.argv[1:] if arguments is None else arguments)
    except RefusalError as refusal:
        return _refused(refusal)
    except SystemExit as asked:
        return int(asked.code or 0)
    except KeyboardInterrupt:
        _say(sys.stderr, "stopped\n")
        return 130
    except Exception as problem:  # noqa: BLE001
        return _bug(problem)


def _run(arguments: Sequence[str]) -> int:
    if not arguments:
        _say(sys.stderr, _help())
        return 2
    first, *rest = arguments
    if first in ("-h", "--help"):
        _say(sys.stdout, _help())
        return 0
    if first == "--version":
        _say(sys.stdout, f"rigfolio {_version()}\n")
        return 0
    if first not in _COMMANDS:
        raise RefusalError("command-not-understood", f"`{first}` is not a command", _nearest(first))
    given = _parser(first).parse_args(rest)
    run: Callable[[argparse.Namespace], int] = given.run
    return run(given)


def _nearest(word: str) -> str:
    from difflib import get_close_matches

    close = get_close_matches(word, _COMMANDS, n=1, cutoff=0.5)
    if close:
        return f"the nearest command is `{close[0]}`"
    if word.endswith(".rig"):
        return f"`rigfolio check {word}`"
    return "the commands are " + ", ".join(f"`{name}`" for name in _COMMANDS)


def _help() -> str:
    """What the program is for and which commands it has."""
    wide = max(len(name) for name in _COMMANDS)
    listed = "".join(f"  {name:<{wide}}  {about}\n" for name, about in _COMMANDS.items())
    return (
        "usage: rigfolio COMMAND ...\n\n"
        "Low-voltage DC fuse panels from one text file: checks and documents.\n\n"
        f"commands:\n{listed}\n"
        "`rigfolio COMMAND --help` shows what a command takes, `rigfolio --version` which version "
        f"this is.\n{_CAUTION}\n"
    )


def _parser(name: str) -> _Parser:
    """The parser of one command; those of the others are not made."""
    parser = _Parser(
        prog=f"rigfolio {name}",
        description=f"{_COMMANDS[name].capitalize()}.",
        epilog=_CAUTION,
        allow_abbrev=False,
    )
    _arguments(name, parser)
    parser.set_defaults(command=name)
    return parser


def _arguments(name: str, parser: argparse.ArgumentParser) -> None:
    """What one command takes."""
    if name == "explain":
        parser.add_argument("rule", nargs="?", help="a rule or an error; all of them if left out")
        parser.set_defaults(run=_explain)
        return
    if name == "compare":
        for each in ("old", "new"):
            parser.add_argument(
                each, metavar=each.upper(), help="a rig file, or REVISION:FILE out of git"
            )
        parser.add_argument("--rules", metavar="NAME", help="a rule book instead of the files' own")
        parser.add_argument("--format", choices=("text", "json"), default="text")
        parser.set_defaults(run=_compare)
        return
    many = "+" if name == "check" else None
    parser.add_argument("file", nargs=many, metavar="FILE", help="a rig file; - reads from a pipe")
    parser.add_argument("--rules", metavar="NAME", help="a rule book instead of the file's own")
    if name == "check":
        parser.add_argument("--format", choices=("text", "json"), default="text")
        parser.set_defaults(run=_check)
        return
    if name in ("isolate", "live", "size"):
        if name == "isolate":
            parser.add_argument(
                "place", metavar="PLACE", help="a panel, a slot or a part: P1, P1.3"
            )
        if name == "size":
            parser.add_argument(
                "--write", action="store_true", help="edit those gauges and ratings in the text"
            )
        parser.add_argument("--format", choices=("text", "json"), default="text")
        parser.set_defaults(run=_answer, place="", write=False)
        return
    where = "folder" if name == "folio" else "file or folder"
    parser.add_argument("-o", dest="out", metavar="PATH", help=f"{where} instead of one under out/")
    parser.set_defaults(run=_sheet)
    if name == "draw":
        parser.add_argument("--format", choices=("svg", "pdf", "png"))
        parser.set_defaults(run=_draw)
    if name == "folio":
        parser.set_defaults(run=_folio)


def _check(given: argparse.Namespace) -> int:
    from rigfolio import report
    from rigfolio.app import check_many

    _known_book(given.rules)
    results = check_many(given.file, given.rules or "")
    if given.format == "json":
        _say(sys.stdout, report.as_json(results))
    else:
        _say(sys.stdout, report.as_text(results, colour=_in_colour(sys.stdout)))
    return max(result.exit_code for result in results)


def _explain(given: argparse.Namespace) -> int:
    from rigfolio import explain

    if given.rule is None:
        _say(sys.stdout, explain.overview())
        return 0
    try:
        _say(sys.stdout, explain.explain(given.rule))
    except KeyError:
        near = explain.near(given.rule)
        fix = f"the nearest is `{near}`" if near else "`rigfolio explain` lists all rules"
        raise RefusalError("rule-unknown", f"`{given.rule}` is not a rule", fix) from None
    return 0


def _answer(given: argparse.Namespace) -> int:
    from rigfolio import answers, report

    result = _judged(given.file, given.rules)
    study = result.study
    if study is None:
        _say(sys.stderr, report.as_text([result], colour=_in_colour(sys.stderr)))
        return 2
    try:
        text = answers.answer(given.command, study, given.place, as_json=given.format == "json")
    except KeyError:
        near = answers.nearest_place(study, given.place)
        raise RefusalError("place-unknown", f"nothing is called `{given.place}`", near) from None
    if given.write:
        return _write_sizes(result, text)
    _say(sys.stdout, text)
    return 0


def _compare(given: argparse.Namespace) -> int:
    from rigfolio import comparing, report

    _known_book(given.rules)
    versions = [comparing.version(name, given.rules or "") for name in (given.old, given.new)]
    broken = [result for result in versions if result.study is None]
    if broken:
        _say(sys.stderr, report.as_text(broken, colour=_in_colour(sys.stderr)))
        return 2
    old, new = versions
    _say(sys.stdout, comparing.told(old, new, as_json=given.format == "json"))
    return 0


def _write_sizes(result: "Result", text: str) -> int:
    """Edit the texts; what was proposed is said when it has been written."""
    from rigfolio import answers
    from rigfolio.writing import write_all

    try:
        contents, told = answers.sized(result)
        write_all(contents)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    _say(sys.stdout, text)
    _say(sys.stderr, told)
    return 0


def _draw(given: argparse.Namespace) -> int:
    from rigfolio.printing import drawing

    form = form_of(given.out, given.format)
    return _print(given, lambda job: {f"schematic.{form}": drawing(job, form)})


def _sheet(given: argparse.Namespace) -> int:
    from rigfolio.printing import sheet

    form_of(given.out, "pdf")
    return _print(given, lambda job: dict([sheet(job, given.command)]))


def _folio(given: argparse.Namespace) -> int:
    from rigfolio.printing import folio

    return _print(given, folio)


def _print(given: argparse.Namespace, render: "Callable[[Job], Mapping[str, bytes]]") -> int:
    """Render all documents, then write them; nothing is written if the text is not understood."""
    from rigfolio import report
    from rigfolio.app import job_of
    from rigfolio.excerpt import clean
    from rigfolio.writing import write_all

    result = _judged(given.file, given.rules)
    if result.study is None:
        _say(sys.stderr, report.as_text([result], colour=_in_colour(sys.stderr)))
        return 2
    contents = placed(render(job_of(result)), given.file, given.command, given.out)
    try:
        spare(contents, result.texts)
        write_all(contents)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    _say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    told = f"{report.summary(result)}\n{report.CAUTION}\n"
    _say(sys.stderr, told)
    return 0


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


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("rigfolio")
    except PackageNotFoundError:
        return "from a source tree"


def _in_colour(stream: TextIO) -> bool:
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return stream.isatty() and not plain


def _say(stream: TextIO, text: str) -> None:
    """Print; a reader that has gone away changes nothing of what was found."""
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        # What is still in the buffer would be tried again at the end of the process.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    except OSError as problem:
        if stream is sys.stderr:
            return
        raise not_written(OSError(problem.errno, problem.strerror, "standard output")) from None


def _refused(refusal: RefusalError) -> int:
    from rigfolio.findings import Finding, Fix, Label, Severity, Span
    from rigfolio.report import one_message

    fix = Fix(refusal.fix) if refusal.fix else None
    at = Label(Span("", 0, 0))
    finding = Finding(refusal.rule, Severity.ERROR, refusal.headline, at, fix=fix)
    _say(sys.stderr, one_message(finding, colour=_in_colour(sys.stderr)))
    return 2


def _bug(problem: Exception) -> int:
    if os.environ.get("RIGFOLIO_DEBUG"):
        import traceback

        _say(sys.stderr, "".join(traceback.format_exception(problem)))
        return 3
    trace = problem.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = f" at {Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}" if trace else ""
    from rigfolio.excerpt import clean

    text = clean(f"{type(problem).__name__}{place}: {problem}")[:300]
    _say(
        sys.stderr,
        f"rigfolio has a bug: {text}. This is a fault of the program, not of your rig; no document "
        "was changed. Please report it with this line and the rig file. With RIGFOLIO_DEBUG=1 in "
        "the environment the command tells more.\n",
    )
    return 3
