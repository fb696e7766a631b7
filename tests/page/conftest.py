"""A browser for the tests that ask for one; they are skipped, and say so, where there is none."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers.browser import PHONE, chromium, missing
from helpers.forgotten import cache
from helpers.studies import checked
from rigfolio.folio import taken
from rigfolio.judgement.result import Result, job_of
from rigfolio.page import page_html, rig_page
from rigfolio.record import replace

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

Opened = Callable[..., "Page"]


def html_of(result: Result) -> str:
    """The page of a rig, its photographs in it."""
    return page_html(rig_page(result, replace(job_of(result), pictures=taken(result))))


@cache
def html_in(file: Path) -> str:
    """The page of a file that no test changes, made once."""
    return html_of(checked(file))


# Its driver keeps a loop running in the process: tests elsewhere have loops of their own.
@pytest.fixture(scope="module")
def browser() -> Iterator["Browser"]:
    why = missing()
    if why:
        pytest.skip(why)
    with chromium() as found:
        yield found


class _Watched:
    """Opens pages offline, and keeps what went wrong in them and what they asked for."""

    def __init__(self, browser: "Browser", folder: Path) -> None:
        self._browser, self._file = browser, folder / "page.html"
        self._troubles: list[str] = []
        self._asked: list[str] = []
        self.after = ExitStack()

    def open(
        self, of: Path | Result, size: tuple[int, int] = PHONE, *, scripts: bool = True
    ) -> "Page":
        html = html_in(of) if isinstance(of, Path) else html_of(of)
        self._file.write_text(html, encoding="utf-8")
        context = self._browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            has_touch=size == PHONE,
            is_mobile=size == PHONE,
            offline=True,
            accept_downloads=True,
            java_script_enabled=scripts,
        )
        self.after.callback(context.close)
        page = context.new_page()
        page.on("pageerror", lambda problem: self._troubles.append(str(problem)))
        page.on(
            "console", lambda said: self._troubles.append(said.text) if said.type == "error" else 0
        )
        page.on("request", lambda request: self._asked.append(request.url))
        page.goto(self._file.as_uri())
        if scripts:
            page.wait_for_selector("html[data-ready]")
        return page

    def expect_peace(self) -> None:
        assert self._troubles == []
        assert [url for url in self._asked if not url.startswith(("file:", "data:", "blob:"))] == []


@pytest.fixture
def opened(browser: "Browser", tmp_path: Path) -> Iterator[Opened]:
    """Opens the page of a rig from a file, offline; any error or request in it fails the test."""
    watched = _Watched(browser, tmp_path)
    with watched.after:
        yield watched.open
    watched.expect_peace()


@pytest.fixture(scope="module")
def _at_hand(browser: "Browser", tmp_path_factory: pytest.TempPathFactory) -> Iterator[_Watched]:
    watched = _Watched(browser, tmp_path_factory.mktemp("at-hand"))
    kept = cache(watched.open)

    def opened_once(of: Path, size: tuple[int, int] = PHONE) -> "Page":
        return kept(of, size)

    watched.open = opened_once  # type: ignore[assignment,method-assign]
    with watched.after:
        yield watched


@pytest.fixture
def at_hand(_at_hand: _Watched) -> Iterator[Opened]:
    """As `opened`, once for all tests that leave the page as they found it."""
    yield _at_hand.open
    _at_hand.expect_peace()
