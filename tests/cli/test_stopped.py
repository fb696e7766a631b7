"""Ctrl-C at any moment of a command: 130, a word at most, and no traceback."""

import subprocess
import sys

import pytest

from helpers.home import EXAMPLES, environment

# Each module that is looked for is a moment: at the one that is asked for the signal comes.
STOPPED = """
import os, runpy, signal, sys
# As of a command that was typed: one that is started in the background leaves Ctrl-C unheard.
signal.signal(signal.SIGINT, signal.default_int_handler)
at = int(sys.argv.pop(1))
class Moment:
    count = 0
    @classmethod
    def find_spec(cls, name, path=None, target=None):
        cls.count += bool(cls.count) or name == "rigfolio.cli"
        if cls.count == at:
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, Moment)
runpy.run_module("rigfolio", run_name="__main__")
"""


@pytest.mark.parametrize("moment", [1, 2, 5, 12, 30, 60, 100, 150])
@pytest.mark.parametrize("words", [("check",), ("folio", "-o", "made")])
def test_stopped_at_any_moment(moment, words, tmp_path):
    name, *rest = words
    rig = str(EXAMPLES / "kittiwake-30.rig")
    done = subprocess.run(
        [sys.executable, "-c", STOPPED, str(moment), name, rig, *rest],
        cwd=tmp_path, env=environment(), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 130, done.stderr
    assert done.stderr in ("", "stopped\n")
    assert list(tmp_path.iterdir()) == []
