"""What a sheet is given: the rig, what was worked out of it, and what was found."""

from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING, Literal

from rigfolio.books import LabelSheet
from rigfolio.draw import PAPERS, Paper
from rigfolio.findings import Finding
from rigfolio.model import Log, Photo, Rig
from rigfolio.record import derived, record
from rigfolio.study import Study

if TYPE_CHECKING:
    # What only some jobs hold is read from its files by whoever makes it.
    from rigfolio.compare import Work
    from rigfolio.render import Photograph

TagForm = Literal["wrap", "flag", "sleeve"]
"""How a wire is tagged: round it, as a flag beside it, or by a tube over it."""


@record
class Again:
    """What must be printed again: places of labels, names of tagged wires, titles of sheets.

    `tags` are the wires whose tags say something else now, `wires` those that changed themselves.
    `taken_off` are places whose labels are no longer true, `tags_off` each tag that is not, with
    the name that its wire bears now, empty where it is gone. `work` is what is done at each
    part, `before` the rig as it was.
    """

    labels: tuple[str, ...]
    tags: tuple[str, ...]
    taken_off: tuple[str, ...]
    compare_sheets: Callable[[], tuple[str, ...]]
    wires: tuple[str, ...] = ()
    tags_off: tuple[tuple[str, str], ...] = ()
    work: "tuple[Work, ...]" = ()
    before: Study | None = None

    @derived
    def sheets(self) -> tuple[str, ...]:
        """Titles of the sheets that say something else now."""
        return self.compare_sheets()


@record
class Taken:
    """A picture with what it shows: its statement, and the photograph that was read."""

    photo: Photo
    image: "Photograph"


@record
class Wish:
    """What the person at the printer asked for, beside what the text says.

    `paper` is one of `PAPERS`, empty for that of the text. `only` names the circuits (`P1.3`),
    panels (`P1`) and wires (`W7`) to print for; empty for all of them. `since` is what has
    to be printed again since an earlier version, `asked` what of `only` was named beside that.
    `scale` enlarges everything about the middle of the page, across and down, for a printer that
    shrinks [-]. `stock` is a sheet of labels that is cut already, of which `start` is the first
    label that is left; `tape_mm` is the width of a tape, 0 for the usual one, `tape_dpi` the dots
    an inch of its printer, `tape_dots` how many of them it prints across the tape, 0 for as many
    as is usual.
    """

    paper: str = ""
    only: frozenset[str] = frozenset()
    since: Again | None = None
    scale: tuple[float, float] = (1.0, 1.0)
    stock: LabelSheet | None = None
    start: int = 1
    tape_mm: float = 0.0
    tag_form: TagForm | None = None
    tape_dpi: int = 180
    tape_dots: int = 0
    asked: frozenset[str] = frozenset()


@record
class Job:
    """One rig, ready to be printed.

    `study` is the rig under its rule book, to be asked for answers; `rig` is the same with the
    digest of its text. `wish` is what was asked for when it was printed, `log` the readings that
    were kept beside the rig file, `pictures` the photographs that the text names. `texts` are the
    files that the rig was read from, to the byte, by name from the folder of the rig file.
    """

    rig: Rig
    findings: tuple[Finding, ...]
    study: Study
    wish: Wish = Wish()
    log: Log = Log()
    pictures: tuple[Taken, ...] = ()
    texts: tuple[tuple[str, bytes], ...] = ()

    @derived
    def answers(self) -> dict[Hashable, object]:
        """What `record.once` keeps with it."""
        return {}

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
        return strip_words(rig.name, rig.revision, rig.revised, rig.book, rig.digest)


def strip_words(name: str, revision: str, revised: str, book: str, digest: str) -> tuple[str, ...]:
    """What the strip of a sheet and the foot of the page say of a rig."""
    stated = " ".join(word for word in (revision, revised) if word)
    return (
        name,
        f"revision {stated}" if stated else "no revision stated",
        f"rule book {book}",
        f"text {digest}",
    )
