"""Where the files of the project lie, and how a process of its own finds them."""

import os
from pathlib import Path

HOME = Path(__file__).resolve().parents[2]
TESTS = HOME / "tests"
EXAMPLES = HOME / "examples"
RIGS = sorted(EXAMPLES.glob("*.rig"))
"""The whole examples: those that are not parts of another one, nor hazards."""
FAULTY = sorted((EXAMPLES / "faulty").glob("*.rig"))
"""One hazard each."""
CORPUS = sorted((TESTS / "corpus").glob("*.rig"))
"""Rigs that were written from the reference alone."""
FOUR_DOZEN = Path(__file__).with_name("four-dozen.rig")
"""A rig with four dozen circuits."""


def environment(**more: str) -> dict[str, str]:
    """The surroundings of a process that imports the package and these helpers from this tree."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join((str(HOME / "src"), str(TESTS))), **more}
