"""Processor time of every sheet and of the whole folio, for each example.

    python tests/benchmarks/sheets.py [EXAMPLE ...] [--rounds N]

A sheet is laid out and written as PDF from a rig that is read and judged already; the least of a
few rounds is printed, each with a job of its own, so that no sheet lives on what another worked
out. The folio is a whole process, as a user runs it. The aim is 2 s for the folio of a rig with 12
slots.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import ModuleType

import rigfolio.sheets
from helpers.home import EXAMPLES
from rigfolio.judgement.result import check, job_of
from rigfolio.render.pdf import write_pdf

SHEETS = [
    module
    for each in iter_modules(rigfolio.sheets.__path__)
    if hasattr(module := import_module(f"rigfolio.sheets.{each.name}"), "pages")
]


def sheet_s(file: Path, sheet: ModuleType, rounds: int) -> tuple[float, int]:
    """Least processor time of a sheet as PDF [s], and how many pages it has."""
    least, count = float("inf"), 0
    for _ in range(rounds):
        job = job_of(check(str(file)))
        start = time.process_time()
        pages = sheet.pages(job)
        if pages:
            write_pdf(pages, title=file.stem)
        least, count = min(least, time.process_time() - start), len(pages)
    return least, count


def folio_s(file: Path, rounds: int) -> float:
    """Least processor time of `rigfolio folio` as a whole process [s]."""
    least = float("inf")
    for _ in range(rounds):
        with tempfile.TemporaryDirectory() as folder:
            before = os.times()
            command = [sys.executable, "-m", "rigfolio", "folio", str(file), "-o", folder]
            subprocess.run(command, capture_output=True, check=True)
            after = os.times()
        used = (after.children_user - before.children_user) + (
            after.children_system - before.children_system
        )
        least = min(least, used)
    return least


def main() -> None:
    known = sorted(file.stem for file in EXAMPLES.glob("*.rig"))
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("examples", nargs="*", help=f"some of {', '.join(known)}")
    parser.add_argument("--rounds", type=int, default=3)
    given = parser.parse_args()
    for name in set(given.examples) - set(known):
        parser.error(f"no example {name}, expected one of {', '.join(known)}")
    for name in given.examples or known:
        file = EXAMPLES / f"{name}.rig"
        sys.stdout.write(f"{name}\n")
        for sheet in SHEETS:
            seconds, count = sheet_s(file, sheet, given.rounds)
            title = sheet.__name__.rpartition(".")[2].replace("_", " ")
            sys.stdout.write(f"  {title:<22} {seconds:6.3f} s, {count} pages\n")
        sys.stdout.write(f"  {'whole folio, process':<22} {folio_s(file, given.rounds):6.3f} s\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
