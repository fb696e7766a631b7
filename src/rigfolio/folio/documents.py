"""The documents of a rig, rendered in memory, and where they belong by default."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from importlib import import_module
from types import ModuleType

from rigfolio.draw import Page, Paper, corrected, extent
from rigfolio.folio.links import Part
from rigfolio.folio.made import DOT_REMARK, SVG_REMARK, as_drawing, as_table
from rigfolio.folio.places import WHOLE, Format
from rigfolio.job import Job
from rigfolio.nearness import nearest
from rigfolio.refusal import RefusalError
from rigfolio.sheet import BINDERS, Binder, sheet_facts, sheet_names, sheets_beside, sheets_bound

EVERY = "all"
"""In place of the name of a sheet: each of them."""
_DPI = 200
_SPARE_MM = 0.05


class Documents:
    """The documents of one rig; the pages of each sheet are laid out once."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self._laid: dict[str, tuple[Page, ...]] = {}

    def pages(self, name: str) -> tuple[Page, ...]:
        """The pages of a sheet, by the name of its module."""
        if name not in self._laid:
            lay: Callable[[Job], tuple[Page, ...]] = module_of(name).pages
            self._laid[name] = lay(self.job)
        return self._laid[name]

    def pdf(self, name: str) -> bytes:
        """A sheet as a PDF of its own."""
        from rigfolio.render import write_pdf

        title = f"{self.job.rig.name}: {title_of(name).lower()}"
        pages = [corrected(page, *self.job.wish.scale) for page in self.pages(name)]
        return write_pdf(pages, title=title, subject=", ".join(self.job.strip[1:]))

    def drawing(self, name: str, form: Format) -> dict[str, bytes]:
        """A drawing by file name, with its title strip; one file a page unless it is a PDF."""
        if form == "pdf":
            return {_file(name, form): self.pdf(name)}
        if form == "dot":
            return {_file(name, form): as_drawing(module_of(name).dot_text(self.job), DOT_REMARK)}
        made = {}
        for number, laid in enumerate(self.pages(name), start=1):
            tail = f"-{number}" if number > 1 else ""
            page = corrected(laid, *self.job.wish.scale)
            made[_file(name, form, tail)] = _svg(page) if form == "svg" else _png(page)
        return made

    def has(self, name: str) -> bool:
        """Whether a sheet belongs in the folio of this rig."""
        return bool(self.job.pictures) or not sheet_facts(name).needs_pictures

    def bound(self, binder: Binder = "folio") -> bytes:
        """The sheets of a binder as one PDF; in the folio the first lists the others by page."""
        from rigfolio.folio.binding import bind

        names = [name for name in sheets_bound(binder) if self.has(name)]
        titles = tuple(title_of(name) for name in names)
        parts = []
        first = 1
        for name in names:
            facts = sheet_facts(name)
            if facts.lists_the_rest:
                # How many pages it takes depends on how many sheets it lists, not on their pages.
                laid = module_of(name).pages(self.job, tuple((title, 1) for title in titles[1:]))
            elif facts.is_drawing:
                # What goes on upon another page names that page as it is numbered in the folio.
                laid = module_of(name).pages(self.job, first)
            else:
                laid = self.pages(name)
            parts.append((name, title_of(name), laid))
            first += len(laid)
        if names and sheet_facts(names[0]).lists_the_rest:
            told = module_of(names[0]).pages(self.job, _contents(parts))
            parts[0] = (names[0], titles[0], told)
        return bind(self.job, binder, parts)


def _contents(parts: Sequence[Part]) -> tuple[tuple[str, int], ...]:
    """Each sheet behind the first one, and the page that it begins on."""
    lines, first = [], 1
    for _, title, pages in parts:
        lines.append((title, first))
        first += len(pages)
    return tuple(lines[1:])


def _svg(page: Page) -> bytes:
    from rigfolio.render import write_svg

    return as_drawing(write_svg(page), SVG_REMARK)


def _png(page: Page) -> bytes:
    from rigfolio.render import LARGEST_PIXELS, write_png

    # A large drawing keeps its whole extent and gives up fineness.
    square_inches = page.width_mm * page.height_mm / 25.4**2
    finest = int((LARGEST_PIXELS * 0.99 / square_inches) ** 0.5)
    return write_png(page, min(_DPI, finest))


def drawing(job: Job, name: str, form: Format) -> Mapping[str, bytes]:
    """A drawing by file name, with its title strip; one file a page unless it is a PDF."""
    return Documents(job).drawing(name, form)


def sheet(job: Job, name: str) -> Mapping[str, bytes]:
    """A sheet by file name: as PDF, and as CSV where it is a table."""
    return _both(Documents(job), name)


def taped(job: Job, name: str) -> Mapping[str, bytes]:
    """A sheet on tape: as PDF, and each length as a picture of exactly as many dots."""
    from rigfolio.labels import band_of, printed
    from rigfolio.render import write_bitmap

    whole = Documents(job)
    made = _both(whole, name)
    band, pages = band_of(job), whole.pages(name)
    for number, page in enumerate(pages, start=1):
        tail = f"-{number}" if len(pages) > 1 else ""
        made[_file(name, "png", tail)] = write_bitmap(printed(page, band), band.dpi)
    return made


def beyond(job: Job, names: Iterable[str]) -> Iterator[str]:
    """What a print that is made to fit a printer would lose beyond the edge of its paper."""
    if job.wish.scale == (1.0, 1.0):
        return
    whole = Documents(job)
    for name in filter(whole.has, names):
        for number, page in enumerate(whole.pages(name), start=1):
            left, top, right, bottom = extent(corrected(page, *job.wish.scale))
            over_mm = max(-left, -top, right - page.width_mm, bottom - page.height_mm)
            if over_mm > _SPARE_MM:
                yield f"{title_of(name).lower()}, page {number}: {over_mm:.1f} mm beyond the paper"


def rulers(paper: Paper, scale: tuple[float, float]) -> Mapping[str, bytes]:
    """The page by which a printer is measured."""
    from rigfolio.render import write_pdf
    from rigfolio.sheets import print_check

    pages = [corrected(page, *scale) for page in print_check.pages_on(paper)]
    facts = print_check.SHEET
    return {f"{facts.file}.pdf": write_pdf(pages, title=facts.title)}


def _both(whole: Documents, name: str) -> dict[str, bytes]:
    made = {_file(name, "pdf"): whole.pdf(name)}
    lay: Callable[[Job], tuple[tuple[str, ...], ...]] | None
    lay = getattr(module_of(name), "table", None)
    if lay is not None:
        made[_file(name, "csv")] = as_table(lay(whole.job))
    return made


def some(job: Job, titles: Collection[str]) -> Mapping[str, bytes]:
    """The sheets of some titles, each by itself."""
    whole = Documents(job)
    made: dict[str, bytes] = {}
    for name in sheets_bound():
        if title_of(name) in titles:
            made |= _both(whole, name)
    return made


def bound(job: Job) -> Mapping[str, bytes]:
    """The folio alone."""
    return {WHOLE: Documents(job).bound()}


def folio(job: Job) -> Mapping[str, bytes]:
    """What is printed of a rig by file name: the folio, what is cut, what is filed."""
    whole = Documents(job)
    return {f"{binder}.pdf": whole.bound(binder) for binder in BINDERS}


def chosen(job: Job, files: Iterable[str]) -> Mapping[str, bytes]:
    """Sheets by themselves, by the names of their files; `all` for each that there is.

    Raises
    ------
    RefusalError
        No sheet has that name.
    """
    whole = Documents(job)
    known = {sheet_facts(name).file: name for name in sheet_names()}
    made: dict[str, bytes] = {}
    for file in files:
        if file != EVERY and file not in known:
            listed = ", ".join(f"`{each}`" for each in sorted(known))
            close = nearest(file, known)
            fix = f"the nearest name is `{close}`" if close else f"`{EVERY}`, or one of {listed}"
            raise RefusalError("sheet-unknown", f"no sheet is called `{file}`", fix)
        for name in sheets_beside() if file == EVERY else (known[file],):
            if whole.has(name):
                made |= _both(whole, name)
                made |= whole.drawing(name, "svg") if sheet_facts(name).is_drawing else {}
    return made


def _file(name: str, end: str, tail: str = "") -> str:
    return f"{sheet_facts(name).file}{tail}.{end}"


def title_of(name: str) -> str:
    """The title of a sheet, by the name of its module."""
    return sheet_facts(name).title


def module_of(name: str) -> ModuleType:
    """The file of a sheet, by its name."""
    return import_module(f"rigfolio.sheets.{name}")
