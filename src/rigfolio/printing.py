"""The documents of a rig, rendered in memory, and where they belong by default."""

from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path
from typing import Literal

from rigfolio.draw.page import Page
from rigfolio.study.job import Job

Format = Literal["svg", "pdf", "png"]

FOLDER = Path("out")
"""Where documents go that were not given a place."""
SHEETS = {
    "labels": "slot_labels",
    "tags": "wire_tags",
    "legend": "colour_legend",
    "directory": "panel_directory",
}
"""The module of each sheet that has a command of its own."""
_BOUND = ("schematic", "panel_directory", "slot_labels", "wire_tags", "colour_legend")
_DPI = 200


def drawing(job: Job, form: Format) -> bytes:
    """Content of the schematic as a file, with its title strip."""
    if form == "pdf":
        return _pdf(job, "schematic")
    (page,) = _pages("schematic")(job)
    if form == "svg":
        from rigfolio.draw.svg import write_svg

        return write_svg(page).encode()
    from rigfolio.draw.image import LARGEST_PIXELS, write_png

    # A large drawing keeps its whole extent and gives up fineness.
    square_inches = page.width_mm * page.height_mm / 25.4**2
    finest = int((LARGEST_PIXELS * 0.99 / square_inches) ** 0.5)
    return write_png(page, min(_DPI, finest))


def sheet(job: Job, command: str) -> tuple[str, bytes]:
    """File name and PDF content of the sheet that a command prints."""
    module = import_module(f"rigfolio.sheets.{SHEETS[command]}")
    return f"{module.NAME}.pdf", _pdf(job, SHEETS[command])


def folio(job: Job) -> Mapping[str, bytes]:
    """Every document of a rig by file name: each by itself, and all of them bound."""
    forms: tuple[Format, ...] = ("svg", "pdf", "png")
    made = {f"schematic.{form}": drawing(job, form) for form in forms}
    made |= dict(sheet(job, command) for command in SHEETS)
    made["folio.pdf"] = bound(job)
    return made


def bound(job: Job) -> bytes:
    """PDF content of all sheets behind a cover that lists them by page."""
    from rigfolio.draw.pdf import write_pdf
    from rigfolio.sheets import cover

    parts = [(_title(name), _pages(name)(job)) for name in _BOUND]

    def listed(first: int) -> tuple[tuple[str, int], ...]:
        lines: list[tuple[str, int]] = []
        for title, pages in parts:
            lines.append((title, first))
            first += len(pages)
        return tuple(lines)

    # How long the cover is depends on the number of lines in its contents, not on what they say.
    length = len(cover.pages(job, listed(2)))
    front = cover.pages(job, listed(length + 1))
    every = [*front, *(page for _, pages in parts for page in pages)]
    return write_pdf(every, title=f"{job.rig.name}: folio", subject=", ".join(job.strip[1:]))


def folder_of(file: str) -> Path:
    """The folder for the documents of a rig file that were not given a place."""
    return FOLDER / ("rig" if file == "-" else Path(file).stem)


def _pdf(job: Job, name: str) -> bytes:
    from rigfolio.draw.pdf import write_pdf

    title = f"{job.rig.name}: {_title(name).lower()}"
    return write_pdf(_pages(name)(job), title=title, subject=", ".join(job.strip[1:]))


def _pages(name: str) -> Callable[[Job], tuple[Page, ...]]:
    pages: Callable[[Job], tuple[Page, ...]] = import_module(f"rigfolio.sheets.{name}").pages
    return pages


def _title(name: str) -> str:
    title: str = import_module(f"rigfolio.sheets.{name}").TITLE
    return title
