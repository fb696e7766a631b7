"""One label a slot, at the pitch of the panel in true scale, and one for each device elsewhere.

`--form sheet` prints on cut labels, with `--stock` and `--start` for a sheet that is partly used;
`--form tape` and `--form tape-strip` are for a tape printer, with `--tape`, `--dpi` and `--dots`,
as PDF and PNG.
"""

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from rigfolio.cli.options import add_part
from rigfolio.cli.output import ending_in, print_documents, suffix_of
from rigfolio.cli.registry import Command
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.sheet import forms_of, sheet_of

if TYPE_CHECKING:
    from rigfolio.job import Job, Wish
    from rigfolio.judgement import Result

COMMAND = Command(
    "print the labels of slots, fuses and switches",
    "print",
    (
        "labels my.rig",
        "labels my.rig --form sheet --start 7 --only P1.3",
    ),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    add_part(made)
    made.add_argument(
        "--form", choices=forms_of("labels"), default="strip",
        help="strips at the pitch of the panel, a sheet of cut labels, single labels on tape, or "
        "strips on tape",
    )  # fmt: skip
    made.add_argument("--stock", metavar="SHEET", help="a sheet by name, or its measures")
    made.add_argument("--start", type=int, metavar="N", help="first label that is left on a sheet")
    made.add_argument("--tape", type=float, metavar="MM", help="width of the tape: 6 to 24 mm")
    made.add_argument("--dpi", type=int, metavar="N", help="dots an inch of the tape: 180 to 360")
    made.add_argument("--dots", type=int, metavar="N", help="dots that are printed across the tape")


def run(given: Namespace) -> int:
    """Print labels as strips, on a cut sheet or on tape."""
    from rigfolio.cli.wishes import fit_together
    from rigfolio.folio import form_of

    fit_together(given)
    end = suffix_of(given.out, ".pdf", ".png")
    form = form_of(given.out, "png" if end == ".png" else "pdf")
    if form == "png" and not given.form.startswith("tape"):
        raise RefusalError("format-not-plain", "labels on paper are PDF", "`.pdf`")
    name = sheet_of(given.command, given.form)

    def render(job: "Job") -> Mapping[str, bytes]:
        from rigfolio.folio import sheet, taped
        from rigfolio.labels import every_label, labels_of

        of_slots = any(labels_of(job, panel) for panel in job.rig.panels)
        has_any = of_slots if given.form == "tape-strip" else bool(every_label(job))
        if job.wish.since is not None and not (job.wish.only and has_any):
            return {}
        if job.wish.only and not has_any:
            named = ", ".join(f"`{place}`" for place in sorted(job.wish.only))
            raise RefusalError("place-unknown", f"no label belongs to {named}",
                               "name a slot, a panel, a circuit, a fuse: `--only F1`")  # fmt: skip
        if given.form == "strip":
            return sheet(job, name)
        made = taped(job, name) if given.form.startswith("tape") else sheet(job, name)
        kept = ending_in(end, made, given)
        if form == "png" and len(kept) > 1:
            raise RefusalError("format-not-plain", f"the tape takes {len(kept)} pictures",
                               "name a folder with `-o`, or fewer slots with `--only`")  # fmt: skip
        return kept

    return print_documents(given, (name,), render, lambda wish, of: _on_stock(wish, of, given))


def _on_stock(wish: "Wish", result: "Result", given: Namespace) -> "Wish":
    """What was asked for, with the sheet of labels and the tape."""
    from rigfolio.books import usual_sheet
    from rigfolio.cli.wishes import dots_of, start_of, stock_of, tape_of

    stock = stock_of(given.stock or "")
    if wish.paper and stock is not None and stock.paper != wish.paper:
        raise RefusalError("command-not-understood",
                           f"`{stock.name}` is a sheet of {stock.paper}, not of {wish.paper}",
                           "leave `--paper` out")  # fmt: skip
    if stock is None and result.study is not None:
        stock = usual_sheet(wish.paper or result.study.rig.paper)
    dpi = wish.tape_dpi if given.dpi is None else given.dpi
    wide_mm = tape_of(given.tape, dpi)
    return replace(
        wish, stock=stock, start=start_of(1 if given.start is None else given.start, stock),
        tape_mm=wide_mm, tape_dpi=dpi, tape_dots=dots_of(given.dots, wide_mm, dpi),
    )  # fmt: skip
