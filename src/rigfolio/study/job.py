"""What a sheet is given: the rig, what was worked out of it, and what was found."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from rigfolio.books.label_stock import LabelSheet
from rigfolio.books.loader import Limit
from rigfolio.draw.page import PAPERS, Paper
from rigfolio.findings import Finding
from rigfolio.model.graph import Rig
from rigfolio.model.reading import Log
from rigfolio.record import record
from rigfolio.study.study import Study

if TYPE_CHECKING:
    from rigfolio.study.changes_text import Again
    from rigfolio.study.pictures import Taken


TagForm = Literal["wrap", "flag", "sleeve"]
"""How a wire is tagged: round it, as a flag beside it, or by a tube over it."""


@record
class Wish:
    """What the person at the printer asked for, beside what the text says.

    `paper` is one of `PAPERS`, empty for that of the text. `only` names the circuits (`P1.3`),
    panels (`P1`) and wires (`W7`) to print for; empty for all of them. `since` is what has
    to be printed again since an earlier version. `scale` enlarges everything about the middle of
    the page, across and down, for a printer that shrinks [-]. `stock` is a sheet of labels that is
    cut already, of which `start` is the first label that is left; `tape_mm` is the width of a tape,
    0 for the usual one, `tape_dpi` the dots an inch of its printer, `tape_dots` how many of them it
    prints across the tape, 0 for as many as is usual.
    """

    paper: str = ""
    only: frozenset[str] = frozenset()
    since: "Again | None" = None
    scale: tuple[float, float] = (1.0, 1.0)
    stock: LabelSheet | None = None
    start: int = 1
    tape_mm: float = 0.0
    tag_form: TagForm | None = None
    tape_dpi: int = 180
    tape_dots: int = 0


@record
class Job:
    """One rig, ready to be printed.

    `polarity` says of each terminal whether it lies on the plus side (`+`), the minus side (`-`),
    or is not joined to a source (absent); worked out from the wiring, never from colours.
    `carries` is what each conductor may carry and `largest_fuse` the largest device that the wires
    of each circuit allow, by conductor name and by circuit place; absent where it cannot be judged.
    `study` has worked all of it out, and goes on to what only some sheets need. `wish` is what was
    asked for when it was printed, `log` the readings that were kept beside the rig file,
    `pictures` the photographs that the text names. `texts` are the files that the rig was read
    from, to the byte, by name from the folder of the rig file.
    """

    rig: Rig
    book_title: str
    polarity: Mapping[str, str]
    carries: Mapping[str, Limit]
    largest_fuse: Mapping[str, Limit]
    findings: tuple[Finding, ...]
    study: Study
    wish: Wish = Wish()
    log: Log = Log()
    pictures: "tuple[Taken, ...]" = ()
    texts: tuple[tuple[str, bytes], ...] = ()

    def wants(self, *names: str) -> bool:
        """Whether something of any of these names is to be printed."""
        return not self.wish.only or bool(self.wish.only.intersection(names))

    @property
    def paper(self) -> Paper:
        """The paper that was asked for, or else that of the rig."""
        return PAPERS[self.wish.paper or self.rig.paper]

    @property
    def strip(self) -> tuple[str, ...]:
        """What every page bears: rig, revision, rule book, digest of the text."""
        rig = self.rig
        revision = " ".join(word for word in (rig.revision, rig.revised) if word)
        return (
            rig.name,
            f"revision {revision}" if revision else "no revision stated",
            f"rule book {rig.book}",
            f"text {rig.digest}",
        )
