"""Arguments in, exit code out; the only module that prints.

Exit codes: 0 nothing but advice, or documents written; 1 a danger, a fault or something that
cannot be judged; 2 a text or a command not understood, or a file that could not be read or
written; 3 a bug of this program; 130 stopped by the user. What a command needs is imported when it
is asked for, so that `check` starts fast.
"""

import io
import os
import sys
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

from rigfolio.cli.registry import (
    ABOUT,
    by_step,
    command_names,
    facts,
    is_command,
    parser,
    run,
)
from rigfolio.cli.terminal import in_colour, say
from rigfolio.faces import own_version
from rigfolio.nearness import nearest
from rigfolio.refusal import RefusalError
from rigfolio.reports import DEFERS


def main(arguments: Sequence[str] | None = None, *, is_alone: bool = False) -> int:
    """Run one command; gives the exit code and raises nothing.

    Parameters
    ----------
    arguments : sequence of str, optional
        The words after the name of the program; those of the process where it is left out.
    is_alone : bool
        Whether the process does nothing else before it ends.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    arguments = sys.argv[1:] if arguments is None else arguments
    try:
        return _run(arguments, is_alone=is_alone)
    except RefusalError as refusal:
        return _refused(refusal, arguments)
    except SystemExit as asked:
        return int(asked.code or 0)
    except KeyboardInterrupt:
        return _stopped()
    except ModuleNotFoundError as problem:
        from rigfolio.cli.missing import missing_part

        missing = missing_part(problem)
        return _bug(problem) if missing is None else _refused(missing, arguments)
    except Exception as problem:  # noqa: BLE001
        # Python 3.11 wraps what comes in the midst of making a class.
        if isinstance(problem.__cause__, KeyboardInterrupt):
            return _stopped()
        if isinstance(problem.__cause__, SystemExit):
            return int(problem.__cause__.code or 0)
        return _bug(problem)


def _stopped() -> int:
    say(sys.stderr, "stopped\n")
    return 130


def _run(arguments: Sequence[str], *, is_alone: bool) -> int:
    if not arguments:
        say(sys.stderr, _help())
        return 2
    first, *rest = arguments
    if first in ("-h", "--help"):
        say(sys.stdout, _help())
        return 0
    if first == "--version":
        say(sys.stdout, f"rigfolio {own_version() or 'from a source tree'}\n")
        return 0
    if not is_command(first):
        raise RefusalError("command-not-understood", f"`{first}` is not a command", _nearest(first))
    given = parser(first).parse_intermixed_args(rest)
    given.is_alone = is_alone
    return run(given)


def _nearest(word: str) -> str:
    close = nearest(word, command_names())
    if close:
        return f"the nearest command is `{close}`"
    if word.endswith(".rig"):
        return f"`rigfolio check {word}`"
    return "the commands are " + ", ".join(f"`{name}`" for name in command_names())


def _help() -> str:
    """What the program is for and which commands it has."""
    wide = max(len(name) for name in command_names())
    listed = "".join(
        f"{step}:\n" + "".join(f"  {name:<{wide}}  {facts(name).about}\n" for name in names)
        for step, names in by_step()
    )
    return (
        "usage: rigfolio COMMAND ...\n\n"
        f"{ABOUT}\n\n"
        f"{listed}\n"
        "`rigfolio COMMAND --help` shows what a command takes, `rigfolio --version` which version "
        "this is,\n`rigfolio help WORD` what a word of a rig file, a rule or a command means.\n"
        f"{DEFERS}\n"
    )


def _refused(refusal: RefusalError, arguments: Sequence[str]) -> int:
    from rigfolio.findings import Finding, Fix, Label, Severity, Span
    from rigfolio.judgement import one_message, refused_json

    fix = Fix(refusal.fix) if refusal.fix else None
    at = Label(Span("", 0, 0))
    finding = Finding(refusal.rule, Severity.ERROR, refusal.headline, at, fix=fix)
    if _is_for_programs(arguments):
        say(sys.stdout, refused_json(arguments[0], finding))
    say(sys.stderr, one_message(finding, colour=in_colour(sys.stderr)))
    return 2


def _is_for_programs(arguments: Sequence[str]) -> bool:
    """Whether JSON was asked for, be the rest understood or not."""
    asked = ("--format", "json") in pairwise(arguments)
    return asked or "--format=json" in arguments


def _bug(problem: Exception) -> int:
    if os.environ.get("RIGFOLIO_DEBUG"):
        import traceback

        say(sys.stderr, "".join(traceback.format_exception(problem)))
        return 3
    trace = problem.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = f" at {Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}" if trace else ""
    from rigfolio.reports import clean

    text = clean(f"{type(problem).__name__}{place}: {problem}")[:300]
    say(
        sys.stderr,
        f"rigfolio has a bug: {text}. This is a fault of the program, not of your rig; no document "
        "was changed. Please report it with this line and the rig file. With RIGFOLIO_DEBUG=1 in "
        "the environment the command tells more.\n",
    )
    return 3
