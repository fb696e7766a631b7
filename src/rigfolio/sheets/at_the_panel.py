"""At the panel: what has to be known before anything is touched, on the first page.

Which rig; how much was found, dangers by name; how each panel is made dead, one step a line with a
box to tick, and what stays live then; every fuse, breaker and switch outside panels with rating,
place and what goes dark with it; the face of each panel; the spare fuses to carry.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from rigfolio import wording
from rigfolio.books import spare_fuses
from rigfolio.draw import (
    FLOOR_PT,
    Box,
    Column,
    Group,
    Kind,
    Mark,
    Page,
    Pen,
    Row,
    Style,
    Table,
    block,
    body,
    flow_on,
    numbered,
    pieces,
    prose,
    rect,
)
from rigfolio.isolation import (
    NOT_ENOUGH,
    UNREACHED,
    Plan,
    back_feed_words,
    charged,
    charged_words,
    closed_first,
    comes_back_words,
    goes_dark_words,
    in_turn,
    isolate,
    readings_at,
    rejoin_words,
    still_live_words,
)
from rigfolio.job import Job
from rigfolio.judgement import danger_lines
from rigfolio.labels import device_rows, slots_now, small_face, small_slot_mm, volts_at
from rigfolio.model import Panel
from rigfolio.record import once, record
from rigfolio.reports import DEAD, HANDS, PAPER_DIFFERS, REASONED, SLIPPED
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.swap import notes_at, notes_elsewhere, spares_to_carry
from rigfolio.units import show
from rigfolio.wording import called, capital, how_many, in_a_row, short_end, verdict_words

SHEET = Sheet("At the panel", "at-the-panel", bound=10, beside=True, lists_the_rest=True)

_GAP_MM = 4.0
_NAME_MM, _FACT_MM, _VERDICT_MM, _DANGER_MM = 10.0, 5.5, 8.0, 5.0
_MOST_DANGERS, _ALL = 6, 10_000
_FACE_HEAD_MM = 10.5
_MOST_SLOT_MM, _LEAST_WIDE_MM = 12.0, 60.0
_MOST_COLUMNS = 2
_FACE_SHARE, _WIDE_SHARE = 0.36, 0.5
_CONTENTS_MM, _CONTENTS_COLUMNS, _CONTENTS_SHARE = 4.4, 2, 0.42
_CONTENTS = Style(8, FLOOR_PT, align="start")
_ENDLESS_MM = 1e5
_BOX = "☐"
_FRAME = Pen(0.5)
_VOLTS = "________\N{NO-BREAK SPACE}V"
_STEPS = (Column("", 6), Column("", 94))
_DEVICES = (
    Column("part", 47, bold=True),
    Column("rating", 32, bold=True),
    Column("where", 46),
    Column("opened, goes dark", 73),
)
_SPARES = (Column("", 55, bold=True), Column("", 65))
_CAUTIONS = (
    f"{SLIPPED} {HANDS}",
    f"{DEAD} {PAPER_DIFFERS}",
)

Contents = tuple[tuple[str, int], ...]


@record
class _Sizes:
    """How large it is set: the orders [pt], the rest [pt], a slot of the face at the least [mm]."""

    orders_pt: float
    rest_pt: float
    slot_mm: float


_SIZES = (
    _Sizes(11.0, 9.0, 7.5), _Sizes(11.0, 8.0, 6.5), _Sizes(10.0, 8.0, 5.5), _Sizes(9.5, 8.0, 5.5),
    _Sizes(9.5, 7.5, 5.5), _Sizes(9.0, 7.0, 5.5),
)  # fmt: skip
"""From what is read at arm's length to what is read in the hand; the first that saves a page."""
_DANGER_PT = 9.0


def pages(job: Job, contents: Contents = ()) -> tuple[Page, ...]:
    """One page where it can be.

    Parameters
    ----------
    job : Job
        The rig and what was found.
    contents : tuple of (str, int)
        Title of each sheet that follows in the folio, and the page that it begins on.
    """
    unnumbered = tuple((title, 1) for title, _ in contents)
    look, most, made = _with_dangers(job, unnumbered)
    if contents != unnumbered:
        made = _laid(job, contents, look, most)
    return numbered(job.paper, SHEET.title, job.strip, made, note=REASONED)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from: name and dangers, faces, what else there is, how panels are made dead.

    The look turns on nothing else.
    """
    rig, size_pt = job.rig, _SIZES[0].rest_pt
    dangers = danger_lines(job.study, job.findings, _ALL)
    volts = show(rig.system_v, "V")
    yield SheetPart((rig.name, volts, verdict_words(rig.book, job.findings), dangers))
    for panel in rig.panels:
        slots = (str(panel.about), panel.slots, panel.columns, panel.across)
        made_of = (slots, slots_now(job, panel), _facts(job, panel))
        yield SheetPart(made_of, partial(_face_alone, job, panel))
    yield SheetPart((_devices(job, size_pt), tuple(_carried(job, size_pt))))
    for panel in rig.panels:
        plan = isolate(job.study, panel.about.name, kind="panel")
        yield SheetPart(tuple(_orders(job, panel, plan, size_pt)))


def _face_alone(job: Job, panel: Panel) -> tuple[Mark, ...]:
    """The face of a panel as it looks in the hand, with its name and volts."""
    return tuple(_face(job, panel, (0.0, 0.0, 100.0, _SIZES[-1].slot_mm), panel.rows))


@once
def _with_dangers(job: Job, contents: Contents) -> tuple[_Sizes, int, list[list[Mark]]]:
    """How large it is set, how many places of dangers are told, and the marks of each page.

    All places are told, unless that takes one more page. None turns on the numbers of pages.
    """
    look, made = _chosen(job, contents, _ALL)
    if len(danger_lines(job.study, job.findings, _ALL)) > _MOST_DANGERS + 1:
        other, brief = _chosen(job, contents, _MOST_DANGERS)
        if len(brief) < len(made):
            return other, _MOST_DANGERS, brief
    return look, _ALL, made


def _chosen(job: Job, contents: Contents, most: int) -> tuple[_Sizes, list[list[Mark]]]:
    """How large it is set with some dangers told, and the marks of each page."""
    chosen, made = _SIZES[0], _laid(job, contents, _SIZES[0], most)
    for look in _SIZES[1:]:
        if len(made) == 1:
            break
        other = _laid(job, contents, look, most)
        if len(other) < len(made):
            chosen, made = look, other
    return chosen, made


def _laid(job: Job, contents: Contents, look: _Sizes, most: int) -> list[list[Mark]]:
    """The marks of each page."""
    laying = _Laying(body(job.paper.width_mm, job.paper.height_mm))
    _head(job, laying, contents, most)
    for panel in job.rig.panels:
        _panel(job, panel, laying, look)
    laying.tables(_devices(job, look.rest_pt))
    laying.halves(
        tuple(_carried(job, look.rest_pt)), (prose("", *_CAUTIONS, size_pt=look.rest_pt),)
    )
    return laying.pages


class _Laying:
    """Pages that are filled from the top."""

    def __init__(self, area: Box) -> None:
        self.area = area
        self.pages: list[list[Mark]] = [[]]
        self.taken_mm = 0.0

    @property
    def left_mm(self) -> float:
        """How much of the page is left [mm]."""
        return self.area[3] - self.taken_mm

    def room(self, high_mm: float) -> Box:
        """A box of a height over the whole width, on a new page where this one is full."""
        if high_mm > self.left_mm and self.taken_mm:
            self.pages.append([])
            self.taken_mm = 0.0
        left, top, wide, _ = self.area
        return left, top + self.taken_mm, wide, high_mm

    def put(self, marks: Callable[[Box], Iterator[Mark]], high_mm: float) -> None:
        """Set what takes a height."""
        self.pages[-1] += marks(self.room(high_mm))
        self.taken_mm += high_mm + _GAP_MM

    def tables(self, tables: Sequence[Table]) -> None:
        """Set tables over the whole width."""
        taken = min(self.taken_mm, self.area[3])
        (first, *others), end_mm = flow_on(tables, self.area, taken_mm=taken)
        self.pages[-1] += first
        self.pages += [list(page) for page in others]
        self.taken_mm = end_mm + _GAP_MM

    def halves(self, left: Sequence[Table], right: Sequence[Table]) -> None:
        """Set tables side by side, each in half of the width."""
        half_mm = (self.area[2] - _GAP_MM) / 2
        deep = [flow_on(side, (0.0, 0.0, half_mm, _ENDLESS_MM))[1] for side in (left, right)]
        if max(deep) > self.area[3]:
            self.tables((*left, *right))
            return
        x_mm, top, _, high = self.room(max(deep))
        for side, across in ((left, x_mm), (right, x_mm + half_mm + _GAP_MM)):
            self.pages[-1] += flow_on(side, (across, top, half_mm, high + 1))[0][0]
        self.taken_mm += high + _GAP_MM

    def beside(self, tables: Sequence[Table], column: Box) -> None:
        """Set tables in a column that begins on this page, further pages as they need."""
        _, top, _, high = self.area
        area = (column[0], top, column[2], high)
        (first, *others), end_mm = flow_on(tables, area, taken_mm=column[1] - top)
        self.pages[-1] += first
        self.pages += [list(page) for page in others]
        down_mm = column[1] - top + column[3]
        self.taken_mm = (end_mm if others else max(end_mm, down_mm)) + _GAP_MM


def _head(job: Job, laying: _Laying, contents: Contents, most: int) -> None:
    """Name, volts, revision, rule book; what was found, dangers by name."""
    rig, says = job.rig, verdict_words(job.rig.book, job.findings)
    rows = tuple(Row((words,), bold=True) for words in danger_lines(job.study, job.findings, most))
    _, deep_mm = flow_on([Table((Column("", 1),), rows, size_pt=_DANGER_PT, pad_mm=0.4)],
                         (0.0, 0.0, laying.area[2] - 4, _ENDLESS_MM))  # fmt: skip
    frame_mm = _VERDICT_MM + (deep_mm + 1.5 if rows else 0.0)

    def marks(box: Box) -> Iterator[Mark]:
        left, top, wide, _ = box
        name = Style(24, 10, 2, bold=True, align="start", kind=Kind.HEADING)
        told_mm = (1 - _CONTENTS_SHARE) * wide - _GAP_MM if contents else wide
        yield from block(rig.name, (left, top, told_mm, _NAME_MM), name)
        facts = (f"{show(rig.system_v, 'V')} DC", *job.strip[1:3])
        under = (left, top + _NAME_MM, told_mm, _FACT_MM)
        yield from block(", ".join(facts), under, Style(11, FLOOR_PT, align="start"))
        yield from _contents(contents, (left + told_mm + _GAP_MM, top, wide - told_mm - _GAP_MM,
                                        _NAME_MM + _FACT_MM))  # fmt: skip
        down = top + _NAME_MM + _FACT_MM + 1.5
        yield rect(left, down, wide, frame_mm, pen=_FRAME)
        room = (left + 2, down + 1, wide - 4, _VERDICT_MM - 2)
        yield from block(says, room, Style(12, FLOOR_PT, 2, bold=True, align="start"))
        if rows:
            table = Table((Column("", 1),), rows, size_pt=_DANGER_PT, pad_mm=0.4)
            area = (left + 2, down + _VERDICT_MM, wide - 4, deep_mm + 1)
            yield from flow_on([table], area)[0][0]

    laying.put(marks, _NAME_MM + _FACT_MM + 1.5 + frame_mm)


def _panel(job: Job, panel: Panel, laying: _Laying, look: _Sizes) -> None:
    """The face of a panel at the left, beside it how it is made dead; below, where it is wide."""
    left, _, wide, high = laying.area
    plan = isolate(job.study, panel.about.name, kind="panel")
    labels = slots_now(job, panel)
    is_wide = panel.columns > _MOST_COLUMNS
    face_mm = wide if is_wide else (_WIDE_SHARE if panel.columns > 1 else _FACE_SHARE) * wide
    column_mm = wide if is_wide else wide - face_mm - _GAP_MM
    tables = tuple(_orders(job, panel, plan, look.orders_pt))
    _, deep_mm = flow_on(tables, (0.0, 0.0, column_mm, _ENDLESS_MM))
    parts = 1
    while True:
        rows = -(-panel.rows // parts)
        each_mm = face_mm / (max(1, panel.columns) * parts)
        least_mm = max(look.slot_mm, small_slot_mm(labels, each_mm))
        if _FACE_HEAD_MM + rows * least_mm <= high or rows == 1 or each_mm < _LEAST_WIDE_MM:
            break
        parts += 1
    even_mm = (deep_mm - _FACE_HEAD_MM) / rows
    slot_mm = least_mm if is_wide else max(least_mm, min(even_mm, _MOST_SLOT_MM))
    slot_mm = min(slot_mm, (high - _FACE_HEAD_MM) / rows)
    face_high_mm = _FACE_HEAD_MM + rows * slot_mm
    box = laying.room(face_high_mm if is_wide else min(max(face_high_mm, deep_mm), high))
    laying.pages[-1] += _face(job, panel, (box[0], box[1], face_mm, slot_mm), rows)
    if is_wide:
        laying.taken_mm += face_high_mm + _GAP_MM
        laying.tables(tables)
    else:
        laying.beside(tables, (left + face_mm + _GAP_MM, box[1], column_mm, face_high_mm))


def _face(job: Job, panel: Panel, box: Box, rows: int) -> Iterator[Mark]:
    """A panel in small, below its name and volts."""
    left, top, wide, slot_mm = box
    name = Style(12, FLOOR_PT, bold=True, align="start", kind=Kind.HEADING)
    yield from block(str(panel.about), (left, top, wide, 5.5), name)
    yield from block(
        _facts(job, panel), (left, top + 5.5, wide, 4), Style(8, FLOOR_PT, align="start")
    )
    cells = (left, top + _FACE_HEAD_MM, wide, slot_mm)
    yield from small_face(panel, slots_now(job, panel), cells, rows)


def _facts(job: Job, panel: Panel) -> str:
    """Volts, slots and feed of a panel."""
    volts = volts_at(job.study, (panel.bus,)) or show(job.rig.system_v, "V")
    return f"{volts}, {how_many(panel.slots, 'slot')}, fed at {short_end(job.rig, panel.feed)}"


def _orders(job: Job, panel: Panel, plan: Plan, size_pt: float) -> Iterator[Table]:
    """How a panel is made dead, what stays live, what is remarked of it."""
    where = {one.name: one.seat for one in device_rows(job.study)}
    rows = []
    for order in in_turn(job.study, plan):
        place = where.get(order.part, "")
        do = capital(order.do)
        rows.append(Row((_BOX, f"{do} ({place})" if place else do)))
    rows += _measured(job, panel, plan)
    yield Table(_STEPS, tuple(rows), f"Make {panel.about} dead", size_pt)
    mind = [] if plan.is_enough else [f"{NOT_ENOUGH}."]
    if not plan.reached_by:
        mind.append(UNREACHED)
    back = comes_back_words(job.study, plan)
    if back:
        mind.append(f"{back}.")
    if plan.back_feeds:
        mind.append(f"Mind: {back_feed_words(plan.back_feeds)}.")
    told = (charged_words(charged(job.study, plan)), rejoin_words(job.study, plan))
    mind += [f"{capital(words)}." for words in told if words]
    if plan.goes_dark:
        mind.append(f"{goes_dark_words(plan)}.")
    mind += [one.words for one in notes_at(job.rig, panel)]
    said = tuple(piece for words in mind for piece in pieces(words))
    if said:
        yield Table((Column("", 1),), tuple(Row((words,), bold=True) for words in said), "",
                    size_pt - 1)  # fmt: skip
    live = [one for said in still_live_words(plan.stays_live) for one in pieces(said, led=True)]
    if live:
        yield prose("Stays live all the same", *live, size_pt=size_pt - 1)


def _measured(job: Job, panel: Panel, plan: Plan) -> Iterator[Row]:
    """What is measured before a panel is taken for dead, a line a reading."""
    shut = closed_first(job.study, plan)
    if shut:
        yield Row((_BOX, capital(shut)))
    bar = short_end(job.rig, panel.negative) if panel.negative else ""
    for read in readings_at(job.study, plan, f"{panel.about.name} feed and each slot", bar):
        yield Row((_BOX, f"Measured at {read}: {_VOLTS}"), bold=True)


def _devices(job: Job, size_pt: float) -> tuple[Table, ...]:
    """Every device outside panels that somebody may have to pull or set."""
    held = device_rows(job.study)
    rows = ((called(o.name, o.label), o.rated or o.kind, o.seat, o.dark_words) for o in held)
    title = wording.outside_title(job.rig, (one.name for one in held))
    return (Table(_DEVICES, tuple(map(Row, rows)), title, size_pt, pad_mm=0.5),) if held else ()


def _carried(job: Job, size_pt: float) -> Iterator[Table]:
    """What is remarked of parts outside panels, and the fuses to carry."""
    notes = tuple(piece for one in notes_elsewhere(job.rig) for piece in pieces(one.words))
    if notes:
        rows = tuple(Row((words,), bold=True) for words in notes)
        yield Table((Column("", 1),), rows, "", size_pt)
    spares = spares_to_carry(job.study)
    if spares:
        made: dict[str, list[str]] = {}
        for one in spares:
            make = ", ".join(filter(None, (one.make, one.borne)))
            made.setdefault(make, []).append(f"{one.rating} {one.word}".strip())
        rows = tuple(Row((make, in_a_row(ratings))) for make, ratings in made.items())
        title = f"Spare fuses to carry, {spare_fuses()} of each"
        yield Table(_SPARES, rows, title, size_pt, pad_mm=0.4)


def _contents(contents: Contents, box: Box) -> Iterator[Mark]:
    """The sheets that follow, each a group that the binder makes a link."""
    left, top, wide, high = box
    rows = -(-len(contents) // _CONTENTS_COLUMNS)
    each, line = wide / _CONTENTS_COLUMNS, min(high / max(rows, 1), _CONTENTS_MM)
    for place, (title, page) in enumerate(contents):
        across, down = left + place // rows * each, top + place % rows * line
        number = block(str(page), (across, down, 6, line), _CONTENTS)
        said = block(title, (across + 7, down, each - 9, line), _CONTENTS)
        yield Group(f"contents-{page}", title, (*number, *said))
