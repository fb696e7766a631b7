"""What a shell needs to complete commands, options, words, rules, books and sheets; it is printed.

SHELL is `bash`, `zsh` or `fish`. `rigfolio completion bash >> ~/.bash_completion` is enough for the
first; the others want it in a file of their own: `_rigfolio` in a folder of zsh's `fpath`,
`~/.config/fish/completions/rigfolio.fish`. It is made once and costs nothing at the prompt. Needs
`pip install 'rigfolio[completion]'`.
"""

import sys
from argparse import Action, ArgumentParser, Namespace
from collections.abc import Iterable, Iterator

from rigfolio.cli.registry import Command, command_names, whole_parser
from rigfolio.cli.terminal import say

COMMAND = Command(
    "print what a shell needs to complete what is typed",
    "write down",
    ("completion bash", "completion zsh"),
)
SHELLS = ("bash", "zsh", "fish")
_FILES = frozenset({"file", "old", "new", "out", "survey", "texts", "since"})
"""What is a file by what it is kept as."""
_FOLDERS = frozenset({"FOLDER"})


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("shell", choices=SHELLS, help="the shell that completes")


def run(given: Namespace) -> int:
    """Print the script of a shell."""
    import shtab

    parser = whole_parser()
    for action in _actions(parser):
        _told(action, shtab.FILE, shtab.DIRECTORY)
    say(sys.stdout, f"{shtab.complete(parser, given.shell)}\n")
    return 0


def _actions(parser: ArgumentParser) -> Iterator[Action]:
    """Every argument of a parser and of those below it."""
    for action in parser._actions:
        yield action
        if isinstance(action.choices, dict):
            for below in action.choices.values():
                yield from _actions(below)


def _told(action: Action, file: object, folder: object) -> None:
    """Say what may stand for an argument: names that are known, a file, or nothing that is."""
    names = tuple(_names_for(action))
    if names:
        action.choices = names
    elif action.metavar in _FOLDERS:
        action.complete = folder  # type: ignore[attr-defined]
    elif action.dest in _FILES:
        action.complete = file  # type: ignore[attr-defined]


def _names_for(action: Action) -> Iterable[str]:
    """What is known to stand for an argument, by what it is kept as."""
    from rigfolio.books import book_names
    from rigfolio.rule import rule_names

    match action.dest:
        case "word":
            from rigfolio.manual import reference_words

            words = (word for word in reference_words() if " " not in word)
            return (*words, *rule_names(), *command_names())
        case "rule":
            return (*rule_names(), *book_names())
        case "rules":
            return book_names()
        case "sheets":
            from rigfolio.sheet import sheet_facts, sheet_names

            return ("all", *(sheet_facts(name).file for name in sheet_names()))
        case "paper":
            from rigfolio.draw import PAPERS

            return PAPERS
        case _:
            return ()
