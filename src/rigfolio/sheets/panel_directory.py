"""Panel directory: the list for the door of the panel.

Every slot with its purpose, its fuse, the largest fuse that may stand there, its wire and what
feeds it; what is always on; every other fuse, breaker and switch that somebody may have to pull or
set; the AC breakers by name, so that the list is complete; the states of the rig and what is
switched in each; what is remarked of any part. A slot that the text does not mention says so.
"""

from collections.abc import Iterable, Iterator
from textwrap import wrap

from rigfolio import wording
from rigfolio.draw import Column, Page, Row, Table, body, flow, numbered, pieces, prose
from rigfolio.isolation import stay_words_of
from rigfolio.job import Job
from rigfolio.labels import brake_words, coil_words, device_rows, feed_words, panel_title
from rigfolio.model import Circuit, Panel, Slot
from rigfolio.protection import fitted_now_words, largest_words
from rigfolio.record import replace
from rigfolio.reports import DEFERS
from rigfolio.sheet import Sheet, SheetPart
from rigfolio.swap import notes_at, notes_elsewhere

SHEET = Sheet("Panel directory", "panel-directory", command="directory", bound=30, beside=True)

_SLOTS = (
    Column("slot", 11, bold=True),
    Column("purpose and loads", 77),
    Column("fuse or breaker", 30, bold=True),
    Column("largest", 15),
    Column("wire", 42),
    Column("always on", 21, bold=True),
)
_LOOSE = (
    Column("circuit", 31, bold=True),
    Column("purpose and loads", 33),
    Column("fuse or breaker", 26, bold=True),
    Column("largest", 13),
    Column("wire", 35),
    Column("fed from", 37),
    Column("always on", 21, bold=True),
)
_DEVICES = (
    Column("part", 48, bold=True),
    Column("rating", 33, bold=True),
    Column("where", 47),
    Column("opened, goes dark", 70),
)
_LOOKS = ((8.0, 1.0), (7.5, 0.7), (7.0, 0.5))
"""Size of the type [pt] and air above and below a row [mm]: the first that takes fewest pages."""
_STATES = (Column("state", 30, bold=True), Column("set by", 145))
_AC_CAUTION = "AC breakers carry mains voltage, which kills: work on them takes a licence."
_WIND_CAUTION = (
    "A wind turbine may turn at any time and keeps live what it reaches: brake it before its "
    "battery is taken off."
)
_MOST = 180
"""Letters of a purpose that stand in one row; the narrower of the two tables takes them."""
_CAUTIONS = (
    "“largest” is the largest fuse or breaker that all behind it allows, and not what to fit: "
    "fit the printed rating only. If it opens again, find the fault: never fit a larger one. A "
    "slot marked TOO LARGE needs a smaller fuse or thicker wire before it is used.",
    "Switching the battery off does not make every slot dead: chargers, solar and always-on "
    "branches stay live. Measure before you touch.",
    f"Colour never tells polarity or function. {DEFERS}",
)


def pages(job: Job) -> tuple[Page, ...]:
    """Panels in the order of the text, then what is not in a panel."""
    area = body(job.paper.width_mm, job.paper.height_mm)
    parts = tuple(_parts(job))
    bodies = flow(_looking(parts, *_LOOKS[0]), area)
    for look in _LOOKS[1:]:
        if len(bodies) == 1:
            break
        tighter = flow(_looking(parts, *look), area)
        bodies = tighter if len(tighter) < len(bodies) else bodies
    note = f"Judged under rule book {job.rig.book} only."
    return numbered(job.paper, SHEET.title, job.strip, bodies, note=note)


def content(job: Job) -> Iterator[SheetPart]:
    """What it is made from, table by table."""
    return map(SheetPart, _parts(job))


def _looking(tables: Iterable[Table], size_pt: float, pad_mm: float) -> Iterator[Table]:
    """Tables in type of a size with some air in their rows."""
    for table in tables:
        yield replace(table, size_pt=size_pt, pad_mm=pad_mm)


def _parts(job: Job) -> Iterator[Table]:
    """All that stands on the door."""
    rig = job.rig
    for panel in rig.panels:
        holders = wording.slot_holders(rig, panel)
        rows = tuple(row for held in holders for row in _rows(job, panel, *held))
        said = _mind(panel.about.condition, panel.about.note)
        heads = (Row((feed_words(rig, panel),)), *((Row((said,), bold=True),) if said else ()))
        yield Table(_SLOTS, (*heads, *rows), panel_title(panel))
    loose = [each for each in wording.circuits_in_order(rig) if not each.slot]
    if loose:
        rows = tuple(row for each in loose for row in _loose(job, each))
        yield Table(_LOOSE, rows, "Not in a panel")
    held = tuple(one for one in device_rows(job.study) if not one.circuit)
    devices = tuple(
        Row(
            (
                wording.called(one.name, one.label),
                one.rated or one.kind,
                one.seat,
                one.dark_words,
            )
        )
        for one in held
    )
    if devices:
        yield Table(_DEVICES, devices, wording.outside_title(rig, (one.name for one in held)))
    if not rig.panels and not loose:
        yield prose("", wording.states_no("panel", "circuit"))
    if rig.ac:
        listed = (f"{one.label or 'no name stated'} {wording.amps(one.rating_a)}" for one in rig.ac)
        words = pieces(f"{'; '.join(listed)}.")
        yield prose("AC breakers: listed only, not judged", *words)
    if rig.states:
        rows = tuple(Row((state.name, _settings(state.settings))) for state in rig.states)
        yield Table(_STATES, rows, "States")
    remarks = tuple(piece for words in _remarked(job) for piece in pieces(words))
    if remarks:
        yield prose("Remarked", *remarks)
    yield prose("Rule book", f"{rig.book}: {job.study.book.title}. {_count(job)}")
    turning = any(source.traits.runs_away for source in rig.sources)
    more = ((_AC_CAUTION,) if rig.ac else ()) + ((_WIND_CAUTION,) if turning else ())
    yield prose("Cautions", *_CAUTIONS, *more)


def _rows(
    job: Job, panel: Panel, number: int, circuits: tuple[Circuit, ...], kept: Slot | None
) -> Iterator[Row]:
    remarks = _remarks(job, f"{panel.about.name}.{number}")
    if circuits:
        names = "; ".join(
            word for word in (" + ".join(_purpose(job, each) for each in circuits), remarks) if word
        )
        always = stay_words_of(job.study, circuits)
        first, *more = _divided(names)
        yield Row((str(number), first, *_protection(job, circuits[0]), always))
        for part in more:
            yield Row(("", part, "", "", "", ""))
        return
    use = (kept.use.upper() if kept else "not stated") + (f": {kept.label}" if kept and kept.label
                                                         else "")  # fmt: skip
    yield Row((str(number), f"{use}; {remarks}" if remarks else use, "", "", "", ""))


def _loose(job: Job, circuit: Circuit) -> Iterator[Row]:
    place, fed = circuit.place, wording.fed_from(job.rig, circuit)
    always = stay_words_of(job.study, (circuit,))
    first, *more = _divided(_purpose(job, circuit))
    yield Row((place, first, *_protection(job, circuit), fed, always))
    for part in more:
        yield Row(("", part, "", "", "", "", ""))


def _divided(words: str) -> tuple[str, ...]:
    """Words in parts that a row holds whole, the first of them at least empty."""
    return tuple(wrap(words, _MOST)) or ("",)


def _remarks(job: Job, place: str) -> str:
    """What was remarked of a slot itself."""
    found = [each for each in job.rig.remarks if each.place == place]
    return "; ".join(filter(None, (_mind(each.condition, each.note) for each in found)))


def _remarked(job: Job) -> Iterator[str]:
    """What is remarked of parts that have no row here that says it."""
    rig = job.rig
    shown = {(one.condition, one.note) for one in rig.circuits}
    shown |= {(one.condition, one.note) for one in rig.remarks}
    shown |= {(panel.about.condition, panel.about.note) for panel in rig.panels}
    notes = [note for panel in rig.panels for note in notes_at(rig, panel)]
    for note in (*notes, *notes_elsewhere(rig)):
        if (note.condition, note.note) not in shown:
            yield note.words


def _mind(condition: str, note: str) -> str:
    return "; ".join(word for word in (condition.upper(), note) if word)


def _protection(job: Job, circuit: Circuit) -> tuple[str, str, str]:
    """Device, largest device and wire of a circuit."""
    wire = job.rig.by_name.conductors[circuit.wires[0]] if circuit.wires else None
    words = "not stated"
    if wire is not None:
        words = f"{wording.there_words(wire)} {wording.colour_text(wire.colour)}"
    largest = largest_words(job.study, circuit, short=False)
    device = job.study.device(circuit.device)
    said = (fitted_now_words(job.study, circuit), wording.again_words(device))
    return ", ".join(filter(None, said)), largest, words


def _purpose(job: Job, circuit: Circuit) -> str:
    loads = wording.loads_words(job.rig, circuit)
    words = circuit.label or "no name stated"
    if loads and loads != circuit.label:
        words = f"{words}: {loads}"
    first, also = brake_words(job.study, (circuit,)), coil_words(job.study, (circuit,))
    for more in (first, also, circuit.condition.upper(), circuit.note):
        words = f"{words}; {more}" if more else words
    return words


def _settings(settings: tuple[tuple[str, str], ...]) -> str:
    return ", ".join(f"{name} {setting}" for name, setting in settings) or "nothing switched"


def _count(job: Job) -> str:
    """How much was found, in words that never say that a rig is safe."""
    found = wording.found_words(job.findings)
    if not found:
        return f"No findings under rule book {job.rig.book}."
    return f"Found: {found}; see the sheet of findings."
