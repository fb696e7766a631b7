"""A sheet, and what all sheets say of themselves.

A sheet is a file in the folder of sheets. It states its facts as `SHEET` and lays its pages in
`pages`; one that is a table as well gives its rows in `table`. One that takes long to be laid tells
in `content` what it is made from, by which two versions are compared. The facts are plain values
and are read from the text of the file: a command must know which sheet is its own, and to run all
of them for that would take longer than to print it.
"""

import ast
import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import zip_longest
from pathlib import Path
from typing import Literal, get_args

from rigfolio.record import record

Binder = Literal["folio", "to-cut", "to-file"]
BINDERS: tuple[Binder, ...] = get_args(Binder)
"""What is bound: what is read at the panel, what is cut out and stuck on, what is kept."""
_FOLDER = Path(__file__).resolve().parent / "sheets"
_FACTS = re.compile(r"^SHEET = (Sheet\(.*?\))$", re.DOTALL | re.MULTILINE)


@record
class Sheet:
    """What a sheet is called, what prints it, and where it goes in the folio.

    `file` is the name of its files without their end. `command` prints it alone; where a command
    prints it in several forms, `form` is which of them this is. `binder` is the file that it is
    bound into, one of `BINDERS`, and `bound` its place in there, from the front, with gaps for
    those to come; 0 where it is bound nowhere. One that is `beside` is a sheet by itself too where
    every sheet is asked for. A drawing is written as pictures then. One that needs pictures is left
    out for a rig that names none. One that lists the rest is told what is bound behind it.
    """

    title: str
    file: str
    command: str = ""
    form: str = ""
    binder: Binder = "folio"
    bound: int = 0
    beside: bool = False
    is_drawing: bool = False
    shows_the_log: bool = False
    shows_pictures: bool = False
    needs_pictures: bool = False
    lists_the_rest: bool = False


@record
class SheetPart:
    """A part of what a sheet is made from, without the strip at its foot.

    Where `made_of` is equal in two versions of a rig, the part looks the same in both. Where it is
    not, `drawn` lays out this part alone, to be compared; without it, all of `made_of` is printed
    and looks as unequal as it is.
    """

    made_of: object
    drawn: Callable[[], object] | None = None


class EachOf:
    """Many small things that a sheet is made from, worked out one by one while they are compared.

    Parameters
    ----------
    near : sequence of object
        What is near at hand of each: where that differs in two versions, the thing is looked at
        first, for there it most likely is another one.
    made : Callable[[int], object]
        Works one of them out, by its number.
    """

    def __init__(self, near: Sequence[object], made: Callable[[int], object]) -> None:
        self.near, self.made = near, made

    def __eq__(self, other: object) -> bool:
        """Whether all of them are equal, those first that are not near each other."""
        if not isinstance(other, EachOf) or len(self.near) != len(other.near):
            return False
        numbers = sorted(range(len(self.near)), key=lambda n: bool(self.near[n] == other.near[n]))
        return all(self.made(n) == other.made(n) for n in numbers)

    __hash__ = None  # type: ignore[assignment]


def look_alike(one: Iterator[SheetPart], two: Iterator[SheetPart]) -> bool:
    """Whether a sheet looks the same in two versions, by the parts that it is made from.

    The parts are asked for one by one, and no further than to the first one that is not the same.
    """
    return all(
        was is not None and now is not None and _looks_alike(was, now)
        for was, now in zip_longest(one, two)
    )


def _looks_alike(one: SheetPart, two: SheetPart) -> bool:
    if one.made_of == two.made_of:
        return True
    return one.drawn is not None and two.drawn is not None and one.drawn() == two.drawn()


@cache
def sheet_names() -> tuple[str, ...]:
    """The module of every sheet, binder by binder in their order, then by the alphabet."""
    names = sorted(file.stem for file in _FOLDER.glob("[!_]*.py"))
    return tuple(sorted(names, key=_place))


def _place(name: str) -> tuple[int, int]:
    facts = sheet_facts(name)
    return (BINDERS.index(facts.binder), facts.bound) if facts.bound else (len(BINDERS), 0)


@cache
def sheet_facts(name: str) -> Sheet:
    """What a sheet says of itself, by the name of its module.

    Raises
    ------
    ValueError
        It says nothing, or something that is no plain value.
    """
    stated = _FACTS.search((_FOLDER / f"{name}.py").read_text(encoding="utf-8"))
    call = ast.parse(stated[1], mode="eval").body if stated else None
    if not isinstance(call, ast.Call):
        raise ValueError(f"sheets/{name}.py states no `SHEET`")
    return Sheet(
        *(ast.literal_eval(each) for each in call.args),
        **{str(each.arg): ast.literal_eval(each.value) for each in call.keywords},
    )


def sheets_bound(binder: Binder | None = None) -> tuple[str, ...]:
    """The sheets of a binder in their order; of all of them where none is named."""
    bound = (name for name in sheet_names() if sheet_facts(name).bound)
    return tuple(name for name in bound if binder in (None, sheet_facts(name).binder))


def sheets_beside() -> tuple[str, ...]:
    """The sheets that are printed by themselves where every sheet is asked for."""
    return tuple(name for name in sheet_names() if sheet_facts(name).beside)


def forms_of(command: str) -> tuple[str, ...]:
    """The forms in which a command prints, that of the folio first."""
    return tuple(sheet_facts(n).form for n in sheet_names() if sheet_facts(n).command == command)


def sheet_of(command: str, form: str = "") -> str:
    """The module of the sheet that a command prints, in one of its forms.

    Raises
    ------
    ValueError
        No sheet says so.
    """
    for name in sheet_names():
        facts = sheet_facts(name)
        if (facts.command, facts.form) == (command, form):
            return name
    raise ValueError(f"no sheet is printed by `{command}` in the form `{form}`")
