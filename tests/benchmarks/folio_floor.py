"""What the folio of a large rig costs at the least: its pages with nothing but their words.

    python tests/benchmarks/folio_floor.py [CIRCUITS] [--rounds N]

The documents of `rigfolio folio` are laid out in this process. Then the library writes as many
pages, with each text at its place in its font and nothing else: no line, colour, link, bookmark or
tag, and nothing laid out: about the least that the library takes for them. Behind it
stand the time of `write_pdf` for the same pages, and that of laying them out. Compiled helpers of
the library are left out, as in a plain install. Processor time, the least of the rounds.
"""

import argparse
import sys
import tempfile
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

sys.modules["_rl_accel"] = None  # type: ignore[assignment]

from reportlab.lib.units import mm  # noqa: E402
from reportlab.pdfgen.canvas import Canvas  # noqa: E402
from scale import radial  # noqa: E402

from rigfolio.draw import Page, printable  # noqa: E402
from rigfolio.draw.page import texts  # noqa: E402
from rigfolio.folio.documents import Documents, module_of  # noqa: E402
from rigfolio.judgement.result import check, job_of  # noqa: E402
from rigfolio.render.pdf import write_pdf  # noqa: E402
from rigfolio.render.pdf_font import font_of  # noqa: E402
from rigfolio.sheet import BINDERS, sheets_bound  # noqa: E402


def pages_of(file: Path) -> list[Page]:
    """The pages of all three documents, one behind the other, without links."""
    whole = Documents(job_of(check(str(file))))
    names = [name for binder in BINDERS for name in sheets_bound(binder) if whole.has(name)]
    return [page for name in names for page in module_of(name).pages(whole.job)]


def bare(pages: list[Page]) -> bytes:
    """A PDF with nothing but the words of pages."""
    target = BytesIO()
    faces = (font_of(bold=False), font_of(bold=True))
    canvas = Canvas(target, invariant=1, pageCompression=0, initialFontName=faces[0])
    for page in pages:
        canvas.setPageSize((page.width_mm * mm, page.height_mm * mm))
        for text in texts(page):
            canvas.setFont(faces[text.bold], text.size_pt)
            x, y = text.at[0] * mm, (page.height_mm - text.at[1]) * mm
            canvas.drawString(x, y, printable(text.text))
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def least_s(rounds: int, work: Callable[[], object]) -> float:
    """Least processor time of some work [s]."""
    took = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        took.append(time.process_time() - start)
    return min(took)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("circuits", nargs="?", type=int, default=300)
    parser.add_argument("--rounds", type=int, default=3)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "large.rig"
        file.write_text(radial(given.circuits), encoding="utf-8")
        pages = pages_of(file)
        laid_s = least_s(given.rounds, lambda: pages_of(file))
    words = sum(len(texts(page)) for page in pages)
    bare_s = least_s(given.rounds, lambda: bare(pages))
    whole_s = least_s(given.rounds, lambda: write_pdf(pages, title="folio"))
    sys.stdout.write(
        f"{len(pages)} pages, {words} texts\n"
        f"nothing but their words {bare_s:6.2f} s, {bare_s / len(pages) * 1e3:.1f} ms a page\n"
        f"written whole           {whole_s:6.2f} s, {whole_s / len(pages) * 1e3:.1f} ms a page\n"
        f"read, judged, laid out  {laid_s:6.2f} s\n"
    )


if __name__ == "__main__":
    main()
