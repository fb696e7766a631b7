"""Processor time of this tree beside that of another one, case by case, by turns.

    python tests/benchmarks/paired.py OTHER [CASE ...] [--rounds N]

`OTHER` is a checkout of another version, made for instance by `git worktree add`. A case is a
command on a large radial rig of 300 circuits, the folio of an example, or `check` of a rig of one
shape; without names all are run. Each line tells the medians of both and their ratio, this tree to
the other: the ratio holds on a busy machine, the times do not. Modules are compiled first, and each
tree has a cache of its own. The compiled helpers of the PDF library are left out. What was found so
stands in `record.txt` beside this file.
"""

import argparse
import compileall
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from commands import COMMANDS, PLAIN, edited
from scale import ENVIRONMENT, SHAPES, radial

from helpers.home import EXAMPLES, HOME

_CIRCUITS = 300
_OF_A_SHAPE = 400
_LARGE = "large.rig"


def cases() -> Mapping[str, tuple[str, ...]]:
    """The words of each case, behind the name of the program."""
    found = {" ".join(words): (words[0], _LARGE, *words[1:]) for words in COMMANDS}
    found |= {f"folio {file.stem}": ("folio", file.name) for file in EXAMPLES.glob("*.rig")}
    return found | {shape: ("check", f"{shape}.rig") for shape in SHAPES}


def lay_out(folder: Path) -> None:
    """Put the rigs of all cases into a folder."""
    shutil.copytree(EXAMPLES, folder, dirs_exist_ok=True)
    (folder / _LARGE).write_text(radial(_CIRCUITS), encoding="utf-8")
    (folder / "other.rig").write_text(edited(radial(_CIRCUITS)), encoding="utf-8")
    for shape, made in SHAPES.items():
        (folder / f"{shape}.rig").write_text(made(_OF_A_SHAPE), encoding="utf-8")


def seconds(tree: Path, words: tuple[str, ...], folder: Path) -> float:
    """Processor time of one process of a tree, which must not fail [s]."""
    place = {"PYTHONPATH": str(tree / "src"), "XDG_CACHE_HOME": str(folder / "cache")}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, "-c", PLAIN, *words],
        cwd=folder, capture_output=True, check=False, env={**ENVIRONMENT, **place},
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1):
        raise SystemExit(f"{tree}: {words} ended with {done.returncode}: {done.stderr.decode()}")
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    known = cases()
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("other", type=Path)
    parser.add_argument("case", nargs="*", help=f"some of: {'; '.join(known)}")
    parser.add_argument("--rounds", type=int, default=5)
    given = parser.parse_args()
    for name in set(given.case) - set(known):
        parser.error(f"no case {name}, expected one of: {'; '.join(known)}")
    trees = (HOME, given.other.resolve())
    with tempfile.TemporaryDirectory() as name:
        folders = tuple(Path(name) / side for side in ("this", "other"))
        for tree, folder in zip(trees, folders, strict=True):
            compileall.compile_dir(tree / "src" / "rigfolio", quiet=1)
            lay_out(folder)
            # What a process keeps for the next one is there before anything is measured.
            seconds(tree, ("check", _LARGE), folder)
        for case in given.case or known:
            took: tuple[list[float], list[float]] = ([], [])
            for _ in range(given.rounds):
                for each, tree, folder in zip(took, trees, folders, strict=True):
                    each.append(seconds(tree, known[case], folder))
            ours, theirs = map(statistics.median, took)
            sys.stdout.write(
                f"{case:26} {ours:7.3f} s  other {theirs:7.3f} s  ratio {ours / theirs:5.2f}\n"
            )
            sys.stdout.flush()


if __name__ == "__main__":
    main()
