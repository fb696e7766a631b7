"""The same text gives the same bytes: in another process, with another hash seed and zone."""

import subprocess
import sys

from helpers.home import EXAMPLES, environment

EXAMPLE = EXAMPLES / "marsh-wren-17.rig"
SETTINGS = (
    {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "4242", "TZ": "Pacific/Auckland", "SOURCE_DATE_EPOCH": "1000000000"},
)


def made(folder, settings):
    surroundings = environment(**settings)
    for arguments in (
        ("folio", EXAMPLE.name, "-o", str(folder)),
        ("folio", EXAMPLE.name, "--sheets", "all", "-o", str(folder)),
        ("check", EXAMPLE.name),
        ("check", "--format", "json", EXAMPLE.name),
    ):
        done = subprocess.run(
            [sys.executable, "-m", "rigfolio", *arguments],
            cwd=EXAMPLE.parent, env=surroundings, capture_output=True, check=False,
        )  # fmt: skip
        assert done.returncode < 2, done.stderr.decode()
        if arguments[0] == "check":
            (folder / f"said-{len(arguments)}").write_bytes(done.stdout)
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_two_processes_give_the_same_bytes(tmp_path):
    one, two = (made(tmp_path / f"{place}", setting) for place, setting in enumerate(SETTINGS))
    assert sorted(one) == sorted(two)
    assert {"folio.pdf", "to-cut.pdf", "to-file.pdf", "schematic.svg", "said-2", "said-4"} <= set(
        one
    )
    for name, content in one.items():
        assert content == two[name], name
        assert content
