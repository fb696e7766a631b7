"""A browser for tests: Debian's chromium, driven by playwright; none where either is missing."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser

PROGRAM = shutil.which("chromium") or shutil.which("chromium-browser")
DRIVERS = ("playwright", "axe_playwright_python")
_ARGUMENTS = ["--no-sandbox", "--disable-dev-shm-usage"]
"""Tests may run as root and where there is little shared memory; they open their own files only."""
PHONE, DESK = (390, 844), (1280, 800)
"""Width and height of what the page is looked at on [CSS pixels]."""


def missing() -> str:
    """Why no browser can be driven here; empty where one can."""
    lacking = [name for name in DRIVERS if find_spec(name) is None]
    if lacking:
        return f"the page was NOT tried in a browser: {', '.join(lacking)} is not installed"
    return "" if PROGRAM else "the page was NOT tried in a browser: there is no chromium here"


@contextmanager
def chromium() -> Iterator["Browser"]:
    """A browser as long as the block lasts."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=PROGRAM, args=_ARGUMENTS)
        yield browser
        browser.close()
