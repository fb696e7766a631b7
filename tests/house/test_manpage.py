"""The manual page follows from the help, tells of every command, and is set without a warning."""

import re
import shutil
import subprocess
import tomllib

import pytest

from helpers.home import HOME
from make_manpage import PAGE, manpage
from rigfolio.cli import registry

TEXT = PAGE.read_text("utf-8")
PLAIN = TEXT.replace("\\-", "-").replace("\\fB", "").replace("\\fR", "")
MACROS = {"TH", "SH", "SS", "TP", "B", "nf", "fi", "PP", "RS", "RE", "IP", "br", "sp"}


def test_the_page_is_as_the_code_says():
    assert manpage() == TEXT, "run `python tests/make_manpage.py`"


@pytest.mark.parametrize("name", registry.command_names())
def test_it_has_every_command_with_what_it_takes(name):
    part = re.split(r"\n\.SH COMMAND ", PLAIN.partition(f"'rigfolio {name}'")[2])[0]
    for action in registry.parser(name)._actions:
        for option in action.option_strings:
            # That each takes `--help` is said once, above.
            assert option == "--help" or option in part
    words = " ".join(registry.page(name).replace("`", "").split())
    assert words in " ".join(part.replace("\\(aq", "'").split())


def test_no_line_is_obeyed_that_was_meant_to_be_read():
    obeyed = [line for line in TEXT.splitlines() if line[:1] in (".", "'")]
    assert {re.split(r"\W", line[1:])[0] for line in obeyed} <= MACROS


def test_it_is_set_without_a_warning():
    program = shutil.which("groff")
    if program is None:
        pytest.skip("no groff here")
    done = subprocess.run(
        [program, "-man", "-ww", "-K", "utf8", "-T", "utf8", str(PAGE)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stderr == ""
    # A letter in bold is struck twice.
    assert "EXIT STATUS" in re.sub(".\b", "", done.stdout)


def test_it_is_installed_where_it_is_looked_for():
    settings = tomllib.loads((HOME / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]
    assert settings["data-files"]["share/man/man1"] == [PAGE.relative_to(HOME).as_posix()]
