"""A browser for the tests that ask for one; they are skipped, and say so, where there is none."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from helpers.browser import PHONE, chromium, missing
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


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    why = missing()
    if why:
        pytest.skip(why)
    with chromium() as found:
        yield found


@pytest.fixture
def opened(browser: "Browser", tmp_path: Path) -> Iterator[Opened]:
    """Opens the page of a rig from a file, offline; any error or request in it fails the test."""
    troubles: list[str] = []
    asked: list[str] = []
    with ExitStack() as after:

        def open_page(
            of: Path | Result, size: tuple[int, int] = PHONE, *, scripts: bool = True
        ) -> "Page":
            file = tmp_path / "page.html"
            html = html_in(of) if isinstance(of, Path) else html_of(of)
            file.write_text(html, encoding="utf-8")
            context = browser.new_context(
                viewport={"width": size[0], "height": size[1]},
                has_touch=size == PHONE,
                is_mobile=size == PHONE,
                offline=True,
                accept_downloads=True,
                java_script_enabled=scripts,
            )
            after.callback(context.close)
            page = context.new_page()
            page.on("pageerror", lambda problem: troubles.append(str(problem)))
            page.on(
                "console", lambda said: troubles.append(said.text) if said.type == "error" else 0
            )
            page.on("request", lambda request: asked.append(request.url))
            page.goto(file.as_uri())
            if scripts:
                page.wait_for_selector("html[data-ready]")
            return page

        yield open_page
    assert troubles == []
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
