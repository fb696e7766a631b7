"""What a person asks of the sheets behind a command, made sure of before anything is printed."""

import re
from difflib import get_close_matches

from rigfolio.app import Result
from rigfolio.books.label_stock import LabelSheet, label_sheets, tape
from rigfolio.draw.page import PAPERS, Paper
from rigfolio.model.graph import Rig
from rigfolio.placing import RefusalError

_EXAMPLE = "3 x 10 of 66.7 x 25.4 mm, first at 4.8 x 12.7 mm, every 69.9 x 25.4 mm, letter"
_PAIR = r"(?P<{}>\d+(?:\.\d+)?) x (?P<{}>\d+(?:\.\d+)?)"
_STOCK = re.compile(
    f"{_PAIR.format('columns', 'rows')} of {_PAIR.format('wide', 'high')} mm, "
    f"first at {_PAIR.format('left', 'top')} mm, every {_PAIR.format('across', 'down')} mm, "
    r"(?P<paper>[\w-]+)"
)
_LEAST_LABEL_MM = 8.0
_RULER_MM = 100.0
_LEAST_MM, _MOST_MM = 80.0, 120.0


def chosen(result: Result, text: str) -> frozenset[str]:
    """The circuits, panels and wires of a list with commas.

    Raises
    ------
    RefusalError
        Something in it is none of these.
    """
    names = frozenset(name.strip() for name in text.split(",") if name.strip())
    study = result.study
    known = _known(study.rig) if study is not None else frozenset[str]()
    for name in sorted(names - known):
        near = get_close_matches(name, sorted(known), n=1, cutoff=0.5)
        fix = f"the nearest is `{near[0]}`" if near else "`rigfolio live FILE` lists the parts"
        raise RefusalError("place-unknown", f"no circuit, panel or wire is called `{name}`", fix)
    return names


def _known(rig: Rig) -> frozenset[str]:
    return frozenset(
        (
            *(circuit.place for circuit in rig.circuits),
            *(panel.about.name for panel in rig.panels),
            *(wire.name for wire in rig.conductors),
            *(f"{slot.panel}.{slot.number}" for slot in rig.slots),
        )
    )


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
            f"fit on `{paper}` like that",
            f"measure the sheet again: `{_EXAMPLE}`",
        )
    return made


def _fits(made: LabelSheet, size: Paper) -> bool:
    wide = made.first_mm[0] + (made.columns - 1) * made.pitch_mm[0] + made.label_mm[0]
    high = made.first_mm[1] + (made.rows - 1) * made.pitch_mm[1] + made.label_mm[1]
    apart = all(p >= one for p, one in zip(made.pitch_mm, made.label_mm, strict=True))
    least = min(made.columns, made.rows) >= 1 and min(made.label_mm) >= _LEAST_LABEL_MM
    return apart and least and wide <= size.width_mm + 0.5 and high <= size.height_mm + 0.5


def correction(measured_mm: float | None) -> float:
    """By how much a print is to be enlarged, from what 100 mm on its ruler measured [-].

    Raises
    ------
    RefusalError
        No printer is that far off.
    """
    if measured_mm is None:
        return 1.0
    if not _LEAST_MM <= measured_mm <= _MOST_MM:
        raise RefusalError(
            "command-not-understood",
            f"`--measured {measured_mm:g}` found, expected what 100 mm of the ruler measure",
            f"between {_LEAST_MM:g} and {_MOST_MM:g} mm; else print at full size, without fitting",
        )
    return _RULER_MM / measured_mm
