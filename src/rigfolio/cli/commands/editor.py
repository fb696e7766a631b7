"""Answer a text editor while a rig is written: findings as you type, numbers under the pointer.

An editor that speaks the language server protocol starts this and talks to it on the standard input
and output; nobody types it. `grammar/EDITORS.md` says how. Needs `pip install 'rigfolio[editor]'`.
"""

import sys
from argparse import ArgumentParser, Namespace

from rigfolio.cli.registry import Command
from rigfolio.refusal import RefusalError

COMMAND = Command(
    "answer a text editor while a rig is written",
    "write down",
    ("editor",),
)


def takes(_: ArgumentParser) -> None:
    """Add no arguments: all else is said by the editor."""


def run(_: Namespace) -> int:
    """Answer until the editor lets go."""
    from rigfolio.editor import serve

    if sys.stdin is None or sys.stdout is None or sys.stdin.isatty():
        raise RefusalError(
            "no-editor",
            "no editor talks to this on the standard input and output",
            "let your editor start it, see `grammar/EDITORS.md`; `rigfolio check FILE` judges here",
        )
    serve()
    return 0
