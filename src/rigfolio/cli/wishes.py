"""What a person asks of the sheets behind a command, made sure of before anything is printed."""

import re
from argparse import Namespace
from collections.abc import Iterator

from rigfolio.books import LabelSheet, label_sheets, tape
from rigfolio.draw import PAPERS, Paper
from rigfolio.judgement import Result
from rigfolio.model import Rig
from rigfolio.network import landing_on
from rigfolio.refusal import RefusalError
from rigfolio.wording import Finder, Named, finder_of, terminals_of

_EXAMPLE = "3 x 10 of 66.7 x 25.4 mm, first at 4.8 x 12.7 mm, every 69.9 x 25.4 mm, letter"
_PAIR = r"(?P<{}>\d{{1,4}}(?:\.\d{{1,6}})?) x (?P<{}>\d{{1,4}}(?:\.\d{{1,6}})?)"
_STOCK = re.compile(
    r"(?P<columns>\d{1,3}) x (?P<rows>\d{1,3}) of "
    f"{_PAIR.format('wide', 'high')} mm, "
    f"first at {_PAIR.format('left', 'top')} mm, every {_PAIR.format('across', 'down')} mm, "
    r"(?P<paper>[\w-]+)"
)
_LEAST_LABEL_MM = (20.0, 8.0)
_MOST_LABELS = 1000
_RULER_MM = 100.0
_LEAST_MM, _MOST_MM = 80.0, 120.0
_FIGURE = r"(?P<{}>\d{{1,3}}(?:\.\d{{1,6}})?)(?: ?mm)?"
_MEASURED = re.compile(f"{_FIGURE.format('across')}(?:(?: ?, ?| ?x ?){_FIGURE.format('down')})?")
_LEAST_PRINT_MM = 3.5
_MM_PER_INCH = 25.4


def chosen(result: Result, text: str, *, at_parts: bool = False) -> frozenset[str]:
    """The circuits, panels, slots, wires and devices of a list with commas.

    A load stands for its circuit, and a fuse for the wire or the circuit that it sits in; with
    `at_parts` a source, a bar or another part for all wires that land on it.

    Raises
    ------
    RefusalError
        Something in it is none of these, or may be several.
    """
    if result.study is None:
        raise RefusalError("place-unknown", f"nothing is called `{text}`")
    finder = finder_of(result.study.rig)
    parts = [finder.the(name) for name in finder.several(text)]
    landing = {part.name: _landing(finder, part) if at_parts else () for part in parts}
    return frozenset(
        name
        for part in parts
        for name in landing[part.name] or (_printed(finder, part, at_parts=at_parts),)
    )


def _landing(finder: Finder, part: Named) -> tuple[str, ...]:
    """The wires on a part that has no documents of its own; of one that has, none.

    A wire lands there by its end, or by the fuse that sits on it; a circuit that begins there is
    another part.
    """
    rig, ends = finder.rig, _ends_of(finder.rig, part)
    return tuple(wire.name for wire in landing_on(rig, ends, rig.begun))


def _ends_of(rig: Rig, part: Named) -> frozenset[str]:
    """The terminals of a part that has no documents of its own."""
    is_alone = part.kind == "load" and not rig.by_name.loads[part.key].circuit
    if is_alone or part.kind in ("bar", "terminal", "source"):
        return frozenset(terminals_of(rig, part.kind, part.key).every)
    return frozenset()


def _printed(finder: Finder, part: Named, *, at_parts: bool) -> str:
    """What a part is printed for: itself, or the circuit or wire that it belongs to."""
    rig = finder.rig
    if part.kind in ("circuit", "panel", "slot", "wire"):
        return part.key
    load = rig.by_name.loads.get(part.key)
    inside = [load.circuit] if load is not None else []
    inside += [device.on_wire for device in rig.poles.get(part.key, ())]
    inside += [circuit.place for circuit in rig.begun.get(part.key, ())]
    if any(inside):
        return next(name for name in inside if name)
    if part.kind == "device":
        return part.key
    if part.kind == "terminal" and not at_parts:
        owners = [*_owners(rig, part)]
        if len(owners) == 1:
            return owners[0]
    starts = [one for one in rig.circuits if one.stem == part.key]
    listed = "`rigfolio live FILE` lists the parts, `rigfolio wirelist FILE` the wires"
    kinds = "circuit, panel, slot, wire, fuse or switch"
    why = f"`{part.name}` is no {kinds}"
    if at_parts:
        why = f"no wire lands on `{part.name}`, which is no {kinds}"
    raise RefusalError(
        "place-unknown", why, f"`{starts[0].place}` starts there" if starts else listed
    )


def _owners(rig: Rig, part: Named) -> Iterator[str]:
    """The circuits of the loads, and the devices, that a terminal is an end of and has its name of.

    A post that others sit on is none of theirs, and an end on which a circuit begins no load's.
    """
    loads = [load for load in rig.loads if part.key in (load.plus, load.minus)]
    yield from {load.circuit: None for load in loads if load.circuit}
    for device in rig.devices:
        if part.key.startswith(f"{device.about.name}.") and part.key in (device.line, device.load):
            yield device.about.name


def paper_of(name: str) -> Paper:
    """A paper by its name.

    Raises
    ------
    RefusalError
        There is none.
    """
    found = PAPERS.get(name.lower())
    if found is None:
        listed = ", ".join(f"`{one}`" for one in PAPERS)
        raise RefusalError("command-not-understood", f"`{name}` is no paper", f"there are {listed}")
    return found


def tape_of(width_mm: float | None, dpi: int | None) -> float:
    """The width of a tape [mm]; 0 where none was asked for.

    Raises
    ------
    RefusalError
        There is no such tape, or no printer of so many dots.
    """
    stock = tape()
    if dpi is not None and dpi not in stock.dpi:
        listed = ", ".join(f"{one:g}" for one in stock.dpi)
        raise RefusalError("command-not-understood", f"`--dpi {dpi}`", f"there are {listed}")
    if width_mm is None:
        return 0.0
    if width_mm not in stock.width_mm:
        listed = ", ".join(f"{one:g}" for one in stock.width_mm)
        headline = f"no tape is {width_mm:g} mm wide"
        raise RefusalError("command-not-understood", headline, f"there are {listed} mm")
    return width_mm


def stock_of(text: str) -> LabelSheet | None:
    """A sheet of labels by its name, or as it was described; None where none was asked for.

    Raises
    ------
    RefusalError
        There is no such sheet, or its labels do not lie on its paper.
    """
    if not text:
        return None
    known = {one.name: one for one in label_sheets()}
    if text in known:
        return known[text]
    described = _STOCK.fullmatch(" ".join(text.split()))
    if described is None:
        listed = ", ".join(f"`{name}`" for name in known)
        raise RefusalError(
            "command-not-understood",
            f"`{text}` is no sheet of labels; there are {listed}",
            f"or describe it: `{_EXAMPLE}`",
        )
    part = {name: float(value) for name, value in described.groupdict().items() if name != "paper"}
    paper = described["paper"]
    made = LabelSheet(
        text, paper, int(part["columns"]), int(part["rows"]), (part["wide"], part["high"]),
        (part["left"], part["top"]), (part["across"], part["down"]),
    )  # fmt: skip
    size = PAPERS.get(paper)
    if size is None or not _fits(made, size):
        raise RefusalError(
            "command-not-understood",
            f"{made.columns} x {made.rows} labels of {part['wide']:g} x {part['high']:g} mm do not "
            f"fit on `{paper}` like that, or are smaller than "
            f"{_LEAST_LABEL_MM[0]:g} x {_LEAST_LABEL_MM[1]:g} mm",
            f"measure the sheet again: `{_EXAMPLE}`",
        )
    return made


def _fits(made: LabelSheet, size: Paper) -> bool:
    wide = made.first_mm[0] + (made.columns - 1) * made.pitch_mm[0] + made.label_mm[0]
    high = made.first_mm[1] + (made.rows - 1) * made.pitch_mm[1] + made.label_mm[1]
    apart = all(p >= one for p, one in zip(made.pitch_mm, made.label_mm, strict=True))
    each = all(one >= least for one, least in zip(made.label_mm, _LEAST_LABEL_MM, strict=True))
    least = each and 1 <= made.columns * made.rows <= _MOST_LABELS
    return apart and least and wide <= size.width_mm + 0.5 and high <= size.height_mm + 0.5


def correction(measured: str | None) -> tuple[float, float]:
    """By how much a print is to be enlarged across and down, from what its 100 mm measured [-].

    Raises
    ------
    RefusalError
        Not one figure or two, or no printer is that far off.
    """
    if measured is None:
        return 1.0, 1.0
    read = _MEASURED.fullmatch(measured.strip())
    if read is None:
        raise RefusalError(
            "command-not-understood",
            f"`--measured {measured}` found, expected what 100 mm of the ruler measure",
            "`--measured 97.5`, or across and down: `--measured 97.5,98.2`; with points",
        )
    across, down = float(read["across"]), float(read["down"] or read["across"])
    for figure, way in ((across, "across"), (down, "down")):
        if not _LEAST_MM <= figure <= _MOST_MM:
            raise RefusalError(
                "command-not-understood",
                f"`--measured {measured}` found, expected what 100 mm of the ruler measure: "
                f"{figure:g} mm {way}, {_LEAST_MM:g} to {_MOST_MM:g} mm can be made up for",
                "decimals take a point, `97.5`; else print at full size, without fitting to the "
                "paper, and measure again",
            )
    return _RULER_MM / across, _RULER_MM / down


def start_of(start: int, stock: LabelSheet | None) -> int:
    """The first label that is left on a sheet, counted along its rows.

    Raises
    ------
    RefusalError
        The sheet has no such label.
    """
    most = stock.columns * stock.rows if stock is not None else start
    if not 1 <= start <= most:
        raise RefusalError(
            "command-not-understood",
            f"`--start {start}` found, the labels of a sheet count from 1"
            + (f" to {most}" if stock is not None else ""),
            "count along the rows, from the top left one",
        )
    return start


def dots_of(dots: int | None, width_mm: float, dpi: int) -> int:
    """How many dots a printer prints across a tape; 0 where the usual number is meant.

    Raises
    ------
    RefusalError
        The tape is not that wide, or a label would be too low to be read.
    """
    if dots is None:
        return 0
    wide_mm = width_mm or tape().width_mm[2]
    least, most = round(_LEAST_PRINT_MM / _MM_PER_INCH * dpi), tape().most_dots(wide_mm, dpi)
    if not least <= dots <= most:
        raise RefusalError(
            "command-not-understood",
            f"`--dots {dots}` found, {least} to {most} dots of {dpi} an inch go across "
            f"{wide_mm:g} mm of tape",
            "the printer's handbook says how many it prints",
        )
    return dots


def fit_together(given: Namespace) -> None:
    """Refuse options of `labels` that mean nothing in the form that was asked for.

    Raises
    ------
    RefusalError
        One of them would be left out without a word.
    """
    of_sheet = {"--stock": given.stock, "--start": given.start}
    of_tape = {"--tape": given.tape, "--dpi": given.dpi, "--dots": given.dots}
    is_tape = given.form.startswith("tape")
    wrong = {} if given.form == "sheet" else dict.fromkeys(
        (name for name, value in of_sheet.items() if value is not None), "sheet"
    )  # fmt: skip
    if not is_tape:
        wrong |= dict.fromkeys((n for n, value in of_tape.items() if value is not None), "tape")
    for name, form in wrong.items():
        headline = f"`{name}` means nothing with `--form {given.form}`"
        raise RefusalError("command-not-understood", headline, f"`--form {form}`")
    if is_tape and given.measured is not None:
        raise RefusalError(
            "command-not-understood", "`--measured` is for printers of paper, not of tape",
            "leave it out: a tape is printed dot by dot",
        )  # fmt: skip
    if is_tape and given.paper is not None:
        raise RefusalError("command-not-understood", "`--paper` means nothing on tape",
                           "`--tape 12`")  # fmt: skip
