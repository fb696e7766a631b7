"""How large pages are, how long they take to make, and how long a save takes to the desk.

With a browser (`--browser`): how long a page takes from a file until it can be used, with the
processor slowed four times.
"""

import argparse
import shutil
import statistics
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from threading import Event, Thread
from time import perf_counter, process_time

from helpers.home import RIGS
from rigfolio.folio import taken
from rigfolio.judgement.result import check, job_of
from rigfolio.page import page_html, rig_page
from rigfolio.page.desk import WatchedRig
from rigfolio.record import replace

SLOWED, ROUNDS = 4, 5
WAIT_S = 30.0


def made(file: Path) -> str:
    """The page of a rig."""
    result = check(str(file))
    job = replace(job_of(result), pictures=taken(result))
    return page_html(rig_page(result, job))


def saves(file: Path) -> Iterator[tuple[float, float, float]]:
    """From a save to findings and face, to the diagram, and the processor time of both [s]."""
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder) / file.name
        shutil.copy(file, here)
        beside = file.parent / file.stem
        if beside.is_dir():
            shutil.copytree(beside, here.parent / file.stem)
        text = here.read_text(encoding="utf-8")
        desk, stop = WatchedRig(str(here)), Event()
        looking = Thread(target=desk.run, args=(stop,), daemon=True)
        looking.start()
        number = _quiet(desk, 0)
        for turn in range(ROUNDS):
            start, worked = perf_counter(), process_time()
            here.write_text(_renamed(text, turn), encoding="utf-8")
            seen: dict[str, float] = {}
            while not {"face", "diagram"} <= seen.keys():
                renewal = desk.since(number, WAIT_S)
                if renewal is None:
                    raise SystemExit(f"{file}: nothing was renewed")
                number = renewal.number
                for name in renewal.sections:
                    seen.setdefault(name, perf_counter() - start)
            yield seen["face"], seen["diagram"], process_time() - worked
            number = _quiet(desk, number)
        stop.set()
        looking.join()


def _renamed(text: str, turn: int) -> str:
    """A text with another label on the first circuit of a panel."""
    head, word, rest = text.partition("\ncircuit P")
    place, quote, label = rest.partition('"')
    return f"{head}{word}{place}{quote}{turn} {label}"


def _quiet(desk: WatchedRig, number: int) -> int:
    """Wait until all is told."""
    while (renewal := desk.since(number, 2.0)) is not None:
        number = renewal.number
    return number


def loads(html: str) -> float:
    """From opening a file until it can be used, the processor slowed [s]."""
    from playwright.sync_api import sync_playwright

    program = shutil.which("chromium")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        file = Path(folder) / "page.html"
        file.write_text(html, encoding="utf-8")
        browser = driver.chromium.launch(executable_path=program, args=["--no-sandbox"])
        size = {"width": 390, "height": 844}
        page = browser.new_context(viewport=size, is_mobile=True, has_touch=True).new_page()
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        start = perf_counter()
        page.goto(file.as_uri())
        page.wait_for_selector("html[data-ready]")
        page.locator(".slot").first.click()
        page.wait_for_selector("#in-hand:not([hidden])")
        took = perf_counter() - start
        browser.close()
        return took


def main() -> None:
    """Print a line a rig."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--browser", action="store_true")
    given = asked.parse_args()
    for file in RIGS:
        start = process_time()
        html = made(file)
        words = [f"{len(html.encode()) / 1000:.0f} kB", f"made in {process_time() - start:.2f} s"]
        times = list(zip(*saves(file), strict=True))
        face, drawn, worked = (statistics.median(one) for one in times)
        words.append(f"save to face {face:.2f} s, to diagram {drawn:.2f} s")
        words.append(f"{worked:.2f} s of it work")
        if given.browser:
            words.append(f"usable on a {SLOWED} times slower processor in {loads(html):.2f} s")
        sys.stdout.write(f"{file.stem:15} {', '.join(words)}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
