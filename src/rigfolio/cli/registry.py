"""A command, and how the commands are found: one file each, in the folder of commands.

A file states its facts as `COMMAND`, adds its arguments in `takes`, and does its work in `run`,
which gives the exit code; its docstring is its row in the README. Only the file of the command that
was typed is imported, so that `check` starts fast.
"""

import argparse
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import Literal, NoReturn, get_args

from rigfolio.faces import page_of
from rigfolio.record import record
from rigfolio.refusal import RefusalError
from rigfolio.reports import DEFERS

Step = Literal["write down", "judge", "plan", "print", "measure", "keep"]
"""The steps of the job, in their order."""
STEPS: tuple[Step, ...] = get_args(Step)
ABOUT = "Low-voltage DC fuse panels from one text file: checks and documents."
"""What the program is for."""
_FOLDER = Path(__file__).resolve().parent / "commands"


@record
class Command:
    """What a command is for: a line of the help, the step of the job, and lines to type.

    An example has the words behind `rigfolio`, as one types them in a shell.
    """

    about: str
    step: Step
    examples: tuple[str, ...]


class _Parser(ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Refuse arguments in the manner of every other message."""
        text = message[:1].lower() + message[1:].replace("invalid choice: ", "found ")
        raise RefusalError("command-not-understood", text, f"`{self.prog} --help` shows how")


def command_names() -> tuple[str, ...]:
    """Every command that has a file in the folder of commands, by the alphabet."""
    return tuple(sorted(file.stem for file in _FOLDER.glob("[!_]*.py")))


def is_command(name: str) -> bool:
    """Whether a command of this name has a file; looks for no other."""
    plain = name.isidentifier() and not name.startswith("_")
    return plain and (_FOLDER / f"{name}.py").is_file()


def facts(name: str) -> Command:
    """What a command says of itself."""
    found: Command = import_module(f"rigfolio.cli.commands.{name}").COMMAND
    return found


def page(name: str) -> str:
    """What a command does, at more length."""
    return page_of(import_module(f"rigfolio.cli.commands.{name}"))


def by_step() -> tuple[tuple[Step, tuple[str, ...]], ...]:
    """The commands of each step of the job."""
    names = command_names()
    return tuple((step, tuple(n for n in names if facts(n).step == step)) for step in STEPS)


def parser(name: str) -> ArgumentParser:
    """The parser of one command; those of the others are not made."""
    return _filled(name, _Parser)


def whole_parser() -> ArgumentParser:
    """One parser with all commands below it, for what is made of it; nothing is parsed with it."""
    made = _Parser(prog="rigfolio", description=ABOUT, allow_abbrev=False)
    made.add_argument("--version", action="store_true", help="say which version this is")
    below = made.add_subparsers(metavar="COMMAND", parser_class=_Parser)
    for name in command_names():
        _filled(name, partial(below.add_parser, name, help=facts(name).about))
    return made


def _filled(name: str, make: Callable[..., ArgumentParser]) -> ArgumentParser:
    """A parser of one command, with all that it takes."""
    about = facts(name).about
    examples = "".join(f"  rigfolio {example}\n" for example in facts(name).examples)
    made = make(
        prog=f"rigfolio {name}",
        description=f"{about[0].upper()}{about[1:]}.",
        epilog=f"examples:\n{examples}\n{DEFERS}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    takes: Callable[[ArgumentParser], None] = import_module(f"rigfolio.cli.commands.{name}").takes
    takes(made)
    made.set_defaults(command=name)
    return made


def usage(name: str) -> str:
    """What is typed behind `rigfolio`: the command and what it cannot do without.

    Examples
    --------
    >>> usage("explain"), usage("isolate")
    ('explain [RULE]', 'isolate FILE PLACE')
    """
    shown = [name]
    for action in parser(name)._actions:
        if not action.option_strings:
            word = str(action.metavar or action.dest.upper())
            many = word if action.nargs is None else f"{word}..."
            shown.append(f"[{word}]" if action.nargs == argparse.OPTIONAL else many)
    return " ".join(shown)


def run(given: Namespace) -> int:
    """Do what a command was given; gives the exit code."""
    work: Callable[[Namespace], int]
    work = import_module(f"rigfolio.cli.commands.{given.command}").run
    return work(given)
