"""Pick list: what has to be bought, from fuses to labels, with spares and slack."""

from collections.abc import Iterator

from rigfolio.books import most_on_stud, terminal_source
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.job import Again, Job
from rigfolio.labels import every_label, tagged_wires
from rigfolio.natural_order import natural
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.swap import Marks, Pick, picks, picks_in_turn
from rigfolio.wording import on_paper

SHEET = Sheet("Pick list", "pick-list", command="picklist", binder="to-file", bound=50, beside=True)

_COLUMNS = (
    Column("", 4),
    Column("what", 34, bold=True),
    Column("fitted", 10, align="end"),
    Column("", 2),
    Column("buy", 11, bold=True, align="end"),
    Column("", 2),
    Column("for", 37),
    Column("remark", 22),
)
_BOX = "☐"
_MOST_PLACES = 14
_MOST_LETTERS = 260
_BY_THE_BAG = frozenset({"Terminals", "Heat-shrink and sleeves"})
_CHANGED = "Only what is new or replaced; nothing for what was only learnt."
_WHOLE = (
    "Everything that the rig holds, as for building it anew. What a change alone asks for is "
    "listed by `rigfolio picklist` with `--since` and the text as it was."
)
_NOTE = "Compare with what is in the drawer."


def pages(job: Job) -> tuple[Page, ...]:
    """As many pages as the list needs."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    return numbered(job.paper, SHEET.title, job.strip, flow(_tables(job), area), note=_NOTE)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, thing by thing, and what is said above and below them."""
    some = False
    for one in picks_in_turn(job.study, *_asked(job)):
        some = True
        yield SheetPart((one.group, tuple(_rows(one))))
    yield SheetPart((_lead(job), _foot(job) if some else None))


def _tables(job: Job) -> Iterator[Table]:
    found = picks(job.study, *_asked(job))
    yield _lead(job)
    if not found:
        yield prose("", "There is nothing to be bought.")
    for group in dict.fromkeys(one.group for one in found):
        rows = (row for one in found if one.group == group for row in _rows(one))
        yield Table(_COLUMNS, tuple(rows), group)
    if found:
        yield _foot(job)


def _lead(job: Job) -> Table:
    """What the list is for."""
    since = job.wish.since
    # What only lies behind another label or fuse is counted in, and its tags stay on.
    names = job.wish.only if since is None else {*since.labels, *since.tags, *job.wish.asked}
    listed = ", ".join(sorted(names, key=natural))
    if since is not None:
        return prose("", *pieces(f"{_CHANGED} Labels and tags: {listed or 'none'}."))
    if listed:
        return prose("", *pieces(f"Only for {listed}."))
    return prose("", _WHOLE)


def _foot(job: Job) -> Table:
    """How the list is read."""
    sources = [str(terminal_source(key)) for key in ("spares", "terminals", "slack")]
    return prose(
        "",
        *_studs(job),
        "Which terminal a part takes is said by `ends` of a wire or by `stud` of the part; the "
        "figures behind a colour are the gauges on its packet. A tube goes over both ends of each "
        "wire, and shrinks to half of its diameter.",
        f"Bought besides what is fitted: {'; '.join(sources)}.",
        size_pt=7.0,
    )


def _asked(job: Job) -> tuple[frozenset[str], Again | None, Marks]:
    """What is asked of the list: for which places, since when, how many marks are printed."""
    labels = every_label(job)
    tags = sum(len(one.tags) for one in tagged_wires(job))
    # With nothing to be printed again, no name is asked for, and that would mean all of them.
    if job.wish.since is not None and not job.wish.only:
        labels = ()
    slots = sum(1 for label in labels if label.above)
    return job.wish.only, job.wish.since, Marks(tags, slots, len(labels) - slots)


def _studs(job: Job) -> Iterator[str]:
    """Whether more terminals sit on a stud than belong there."""
    most = most_on_stud()
    crowded = [on_paper(one.headline) for one in job.findings if one.rule == "stud-crowded"]
    if crowded:
        yield f"TOO MANY ON A STUD: {'; '.join(crowded)}."
    else:
        yield f"No stud of the text holds more than {most.value:g} terminals ({most.source})."


def _rows(one: Pick) -> Iterator[Row]:
    """The line of a thing; what it is for goes on below where that is long."""
    first, *others = pieces(_places(one), _MOST_LETTERS)
    yield Row((_BOX, one.what, one.fitted, "", one.bought, "", first, one.note))
    for more in others:
        yield Row(("", "", "", "", "", "", more, ""))


def _places(one: Pick) -> str:
    """What a thing is for: every fuse and wire by name, of the ends of wires the first ones."""
    more = len(one.places) - _MOST_PLACES if one.group in _BY_THE_BAG else 0
    words = ", ".join(one.places[: len(one.places) - more] if more > 0 else one.places)
    return f"{words} and {more} more" if more > 0 else words


def table(job: Job) -> tuple[tuple[str, ...], ...]:
    """The list as rows for a spreadsheet, headings first."""
    heads = ("group", "what", "fitted", "buy", "for", "remark")
    rows = [
        (one.group, one.what, one.fitted, one.bought, " ".join(one.places), one.note)
        for one in picks(job.study, *_asked(job))
    ]
    return (heads, *rows)
