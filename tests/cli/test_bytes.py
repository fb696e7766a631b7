"""The same text gives the same bytes: in another process, with another hash seed and zone."""

import json
import subprocess
import sys

from helpers.home import EXAMPLES, environment

EXAMPLE = EXAMPLES / "marsh-wren-17.rig"
SETTINGS = (
    {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "4242", "TZ": "Pacific/Auckland", "SOURCE_DATE_EPOCH": "1000000000"},
)
ONE_BY_ONE = """
import contextlib, json, os, sys
from rigfolio.cli import main
folder, asked = json.loads(sys.argv[1])
for number, words in enumerate(asked):
    name = f"said-{number}" if words[0] == "check" else os.devnull
    with open(os.path.join(folder, name), "w") as file, contextlib.redirect_stdout(file):
        assert main(words) < 2, words
"""


def made(folder, settings):
    folder.mkdir()
    asked = (
        ("folio", EXAMPLE.name, "-o", f"{folder}/"),
        ("folio", EXAMPLE.name, "--sheets", "all", "-o", f"{folder}/"),
        ("check", EXAMPLE.name),
        ("check", "--format", "json", EXAMPLE.name),
    )
    done = subprocess.run(
        [sys.executable, "-c", ONE_BY_ONE, json.dumps([str(folder), asked])],
        cwd=EXAMPLE.parent, env=environment(**settings), capture_output=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr.decode()
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_two_processes_give_the_same_bytes(tmp_path):
    one, two = (made(tmp_path / f"{place}", setting) for place, setting in enumerate(SETTINGS))
    assert sorted(one) == sorted(two)
    assert {"folio.pdf", "to-cut.pdf", "to-file.pdf", "schematic.svg", "said-2", "said-3"} <= set(
        one
    )
    for name, content in one.items():
        assert content == two[name], name
        assert content
