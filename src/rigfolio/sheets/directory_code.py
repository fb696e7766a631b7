"""Directory code: the directory of each panel as a square code for the inside of its door.

A phone shows the text without any network; the same words stand beside the code. What is too much
for one code that a phone reads out of the hand is divided between several, and each says which one
it is. Print at full size, cut along the line, and keep the white border about the code.
"""

from collections.abc import Iterable, Iterator

from rigfolio import wording
from rigfolio.books import CodeLimits, code_limits
from rigfolio.draw import (
    FLOOR_PT,
    LINE_HEIGHT,
    MM_PER_PT,
    Box,
    Group,
    Line,
    Mark,
    Page,
    Pen,
    Style,
    block,
    body,
    fit,
    numbered,
    rect,
)
from rigfolio.isolation import stay_words_of
from rigfolio.job import Job
from rigfolio.labels import brake_words, coil_words, device_rows, undeviced_circuits
from rigfolio.model import Circuit, Panel, Slot
from rigfolio.protection import fitted_now_words
from rigfolio.record import derived, record
from rigfolio.render import Matrix, matrix, modules
from rigfolio.sheet import Sheet, SheetPart

SHEET = Sheet("Directory code", "directory-code", binder="to-cut", bound=40, beside=True)

_CUT = Pen(0.1)
_LEAD_MM = 8.0
_PAD_MM = 3.0
_GAP_MM = 5.0
_HEAD_MM = 6.0
_FOOT_MM = 7.0
_SIZES_PT = (10.0, 9.0, 8.0, 7.0)
_MOST_WRAPS = 20
_NAME_BYTES = 60
_NOTE = "Print at full size. Keep the white border about each code."
_LEAD = (
    "A phone's camera shows the words of the directory from each code, without a network. Cut "
    "along the line and put the card on the inside of the panel's door. When the rig changes, "
    "print anew."
)
_USE = (
    "Hold a phone's camera about {:.0f} cm away, until the whole code with its white border is in "
    "the picture. The words are those of the text, not of the wires: measure before you touch."
)
_ELSEWHERE = "Outside panels"


@record
class Card:
    """One code: what it is of, which one of how many, its words."""

    ident: str
    title: str
    number: int
    count: int
    text: str

    @derived
    def code(self) -> Matrix:
        """Its modules."""
        return matrix(self.text)


def pages(job: Job) -> tuple[Page, ...]:
    """Cards one below the other, those of a panel in order."""
    left, top, wide, high = body(job.paper.width_mm, job.paper.height_mm)
    limits = code_limits()
    bodies: list[list[Mark]] = []
    down = top + high
    for card in _cards(job, limits):
        box = _size(card, wide, limits)
        if down + box > top + high:
            bodies.append(_lead(left, top, wide, _LEAD))
            down = top + _LEAD_MM
        bodies[-1] += _drawn(card, (left, down, wide, box), limits)
        down += box + _GAP_MM
    if not bodies:
        bodies.append(_lead(left, top, wide, wording.states_no("panel", "circuit")))
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=_NOTE)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, card by card."""
    return map(SheetPart, _cards(job, code_limits()))


def _lead(left: float, top: float, wide: float, text: str) -> list[Mark]:
    style = Style(8, FLOOR_PT, 2, align="start", is_top=True)
    return [*block(text, (left, top, wide, _LEAD_MM - 1), style)]


def _cards(job: Job, limits: CodeLimits) -> Iterator[Card]:
    for panel in job.rig.panels:
        rows = _alike(_slot(job, *held) for held in wording.slot_holders(job.rig, panel))
        yield from _divided(job, panel.about.name, _title(panel), [*_said(job), *rows], limits)
    lines = tuple(_elsewhere(job))
    if lines:
        yield from _divided(job, _ELSEWHERE, _ELSEWHERE, [*_said(job), *lines], limits)


def _elsewhere(job: Job) -> Iterator[str]:
    """A line for every device outside panels, then for circuits that begin at none of them."""
    circuits = job.rig.by_name.circuits
    for row in device_rows(job.study):
        if row.circuit:
            yield f"{row.name} {_circuits(job, (circuits[row.circuit],))}"
            continue
        said = (row.label or row.purpose, row.with_kind,
                row.effect if row.label or row.brake else row.place)  # fmt: skip
        yield f"{row.name} {', '.join(said)}"
    for circuit in undeviced_circuits(job.study):
        yield f"{circuit.place} {_circuits(job, (circuit,))}"


def _title(panel: Panel) -> str:
    return str(panel.about)


def _said(job: Job) -> tuple[str, ...]:
    """What goes before the slots."""
    _, revision, book, _ = job.strip
    return (f"{revision}, {book}",)


def _slot(
    job: Job, number: int, circuits: tuple[Circuit, ...], kept: Slot | None
) -> tuple[int, str]:
    """A slot's number and what it is for."""
    if circuits:
        return number, _circuits(job, circuits)
    use = kept.use if kept else "not stated"
    return number, f"{use}: {kept.label}" if kept and kept.label else use


def _circuits(job: Job, circuits: tuple[Circuit, ...]) -> str:
    """Name, fuse and wire: `Water pump, 10 A red, 14 AWG yellow`."""
    first = circuits[0]
    words = [" + ".join(each.label or "no name stated" for each in circuits)]
    words.append(fitted_now_words(job.study, first))
    if first.wires:
        wire = job.rig.by_name.conductors[first.wires[0]]
        words.append(f"{wording.there_words(wire)} {wording.colour_words(wire.colour)}")
    told = (
        brake_words(job.study, circuits), coil_words(job.study, circuits),
        stay_words_of(job.study, circuits),
    )  # fmt: skip
    words += [word for word in told if word]
    words += [each.condition.upper() for each in circuits if each.condition]
    return ", ".join(words)


def _alike(slots: Iterable[tuple[int, str]]) -> Iterator[str]:
    """A line for each slot; neighbours that say the same share one: `7 to 9 spare`."""
    runs: list[tuple[int, int, str]] = []
    for number, words in slots:
        if runs and runs[-1][2] == words:
            runs[-1] = (runs[-1][0], number, words)
        else:
            runs.append((number, number, words))
    for first, last, words in runs:
        yield f"{first} {words}" if first == last else f"{first} to {last} {words}"


def _divided(
    job: Job, ident: str, title: str, lines: list[str], limits: CodeLimits
) -> Iterator[Card]:
    """As few codes as hold the lines, each with a first line that tells it from the others."""
    names = f"{_cut(job.rig.name, _NAME_BYTES)}, {_cut(title, _NAME_BYTES)}"

    def head(number: int, count: int) -> str:
        return f"{names}, text {job.rig.digest}, code {number} of {count}"

    most = limits.most_bytes_utf_8 - len(head(99, 99).encode()) - 1
    whole = tuple(piece for line in lines for piece in _pieces(line, most))
    parts = _evenly(whole, most)
    for number, part in enumerate(parts, start=1):
        text = "\n".join([head(number, len(parts)), *part])
        yield Card(ident, title, number, len(parts), text)


def _evenly(lines: tuple[str, ...], most: int) -> list[list[str]]:
    """Lines in as few parts as their bytes allow, the largest part as small as can be."""
    parts = _filled(lines, most)
    least = 1
    while least < most:
        middle = (least + most) // 2
        tried = _filled(lines, middle)
        if len(tried) == len(parts) and all(_bytes(part) <= middle for part in tried):
            most, parts = middle, tried
        else:
            least = middle + 1
    return parts


def _filled(lines: tuple[str, ...], most: int) -> list[list[str]]:
    parts: list[list[str]] = [[]]
    for line in lines:
        if parts[-1] and _bytes([*parts[-1], line]) > most:
            parts.append([])
        parts[-1].append(line)
    return parts


def _bytes(lines: list[str]) -> int:
    return len("\n".join(lines).encode())


def _cut(text: str, most: int) -> str:
    """The start of a text that takes up no more than so many bytes."""
    if len(text.encode()) <= most:
        return text
    return text.encode()[: most - 3].decode(errors="ignore").rstrip() + "…"


def _pieces(line: str, most: int) -> Iterator[str]:
    """A line in pieces of so many bytes at the most."""
    piece, size = "", 0
    for letter in line:
        more = len(letter.encode())
        if size + more > most:
            yield piece
            piece, size = "", 0
        piece, size = piece + letter, size + more
    yield piece


def _side(card: Card, limits: CodeLimits) -> float:
    """Side of a code with its clear border [mm]."""
    return (len(card.code) + 2 * limits.quiet) * limits.module_mm


def _set(card: Card, wide: float, limits: CodeLimits) -> tuple[tuple[str, ...], float]:
    """The words of a code in lines that fit beside it, as large as its height allows [pt].

    The first line, which tells the codes apart, is not divided where a smaller size holds it.
    """
    room = wide - _side(card, limits) - 3 * _PAD_MM
    for size in _SIZES_PT:
        lines = [
            fit(line, room, size_pt=size, floor_pt=size, lines=_MOST_WRAPS).lines
            for line in card.text.split("\n")
        ]
        rows = tuple(row for line in lines for row in line)
        high = _HEAD_MM + len(rows) * _pitch(size)
        if len(lines[0]) == 1 and high <= _side(card, limits):
            break
    return rows, size


def _pitch(size_pt: float) -> float:
    """From line to line [mm]."""
    return LINE_HEIGHT * MM_PER_PT * size_pt + 0.2


def _size(card: Card, wide: float, limits: CodeLimits) -> float:
    """Height of a card [mm]."""
    rows, size = _set(card, wide, limits)
    words = _HEAD_MM + len(rows) * _pitch(size)
    return max(_side(card, limits), words) + 2 * _PAD_MM + _FOOT_MM


def _drawn(card: Card, box: Box, limits: CodeLimits) -> Iterator[Mark]:
    left, top, wide, high = box
    yield rect(left, top, wide, high, pen=_CUT)
    side, border = _side(card, limits), limits.quiet * limits.module_mm
    inner = (left + _PAD_MM, top + _PAD_MM)
    dark = modules(card.code, inner[0] + border, inner[1] + border, limits.module_mm)
    words = f"directory of {card.title}, code {card.number} of {card.count}"
    yield Group(f"code-{card.ident}-{card.number}", words, dark)
    across, room = inner[0] + side + _PAD_MM, wide - side - 3 * _PAD_MM
    count = f", code {card.number} of {card.count}" if card.count > 1 else ""
    head = (across, inner[1], room, _HEAD_MM)
    yield from block(f"{card.title}{count}", head, Style(11, 7, bold=True, align="start"))
    rows, size = _set(card, wide, limits)
    for number, line in enumerate(rows):
        row = (across, inner[1] + _HEAD_MM + number * _pitch(size), room, _pitch(size))
        yield from block(line, row, Style(size, 5, align="start"))
    foot = top + high - _FOOT_MM
    yield Line(((left + _PAD_MM, foot), (left + wide - _PAD_MM, foot)), _CUT)
    use = (left + _PAD_MM, foot + 0.5, wide - 2 * _PAD_MM, _FOOT_MM - 1)
    says = _USE.format(limits.from_m * 100)
    yield from block(says, use, Style(7, FLOOR_PT, 2, align="start"))
