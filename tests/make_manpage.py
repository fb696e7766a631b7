"""Writes the manual page of the program, from the same facts as its help.

Run with `python tests/make_manpage.py`; a house test holds the page to the code.
"""

import os
import re
import textwrap

from argparse_manpage.manpage import Manpage

from helpers.home import HOME
from rigfolio.cli import registry
from rigfolio.reports.cautions import JUDGED, SLIPPED

PAGE = HOME / "grammar" / "rigfolio.1"
SECTIONS = (
    ("EXIT STATUS", (
        ("0", "nothing but advice, or documents written"),
        ("1", "a danger, a fault or something that cannot be judged; what counts is set by "
         "`check --fail-on`"),
        ("2", "a text or a command that is not understood, a file that cannot be read or written"),
        ("3", "a bug of the program"),
        ("130", "stopped by the user"),
    )),
    ("ENVIRONMENT", (
        ("NO_COLOR", "set to anything, nothing is printed in colour"),
        ("XDG_CACHE_HOME", "where what takes long to work out is kept, in a folder `rigfolio`; it "
         "may be deleted at any time"),
        ("RIGFOLIO_DEBUG", "set to 1, a bug is told at length"),
    )),
)  # fmt: skip


HELP = (
    "`rigfolio COMMAND --help` shows what a command takes, `rigfolio help WORD` what a word of a "
    "rig file, a rule or a command means."
)


def manpage() -> str:
    """The page as it is to be, in the language of manual pages."""
    os.environ["COLUMNS"] = "80"
    parser = registry.whole_parser()
    parser.description = f"{registry.ABOUT}\n\n{SLIPPED} {JUDGED}\n\n{HELP}"
    for action in parser._actions:
        for name, below in (action.choices or {}).items():
            below.description = registry.page(name).strip()
            below.epilog = None
    about = registry.ABOUT.rstrip(".")
    page = Manpage(
        parser,
        _data={
            "project_name": "rigfolio",
            "description": about[0].lower() + about[1:],
            "manual_title": "rigfolio",
            "date": " ",
        },
    )
    return _in_bold(f"{page}{''.join(_section(*each) for each in SECTIONS)}")


def _section(title: str, rows: tuple[tuple[str, str], ...]) -> str:
    told = "".join(f".TP\n\\fB{name}\\fR\n{_wrapped(words)}\n" for name, words in rows)
    return f".SH {title}\n{told}"


def _wrapped(words: str) -> str:
    return "\n".join(textwrap.wrap(words.replace("-", "\\-"), 78))


def _in_bold(page: str) -> str:
    """What stands in backticks, which are quotes to a reader of manual pages, set in bold."""
    return re.sub("`([^`]*)`", r"\\fB\1\\fR", page)


def main() -> None:
    """Write the page."""
    PAGE.write_text(manpage(), encoding="utf-8")


if __name__ == "__main__":
    main()
