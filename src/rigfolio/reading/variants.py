"""A unit that differs from its type in a few lines: what it takes over of the file of the type."""

import re
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from rigfolio.findings import Finding, Label, Span
from rigfolio.lang import Block, TextLine, error
from rigfolio.nearness import nearest
from rigfolio.reading.text import goes_on, own_name, statement, whole_span
from rigfolio.reading.word import Said
from rigfolio.record import record, replace
from rigfolio.values import Place

_HEAD = "rig"
MOST_ERRORS = 20
"""Errors of one `include` after which no more are told."""
_REMARKS = {"note": "", "accept": "at"}
"""Words that say something of a thing which stands elsewhere: in their opening, or in a fact."""
_WITHIN = re.compile(r"(.+)/\d+r?")
_END = re.compile(r"\.[^\W\d][^./]*$")
"""The end of a part, `.line`; a slot and a pin are numbers."""


@record
class _Excepted:
    """One thing that an `include` leaves out: as it is written, and where."""

    name: str
    span: Span

    @property
    def key(self) -> str:
        """The name as it is compared."""
        return self.name.casefold()


@record
class TakenOver:
    """What a rig has of an included file, and the places there of what it has not.

    `is_type` is whether anything was excepted at all. `names` are those of what is left out, in
    small letters, each with the place that excepts it.
    """

    blocks: tuple[Block, ...]
    left_out: tuple[Span, ...] = ()
    is_type: bool = False
    names: Mapping[str, Span] = MappingProxyType({})


@record
class _Removable:
    """What can be left out as a whole: a block, or one wire of a block of wires.

    It is called by its `names`; where it has none that is meant by its `places`, where it starts or
    what it joins; else by what stands in quotes behind its word. `inside` are names of what
    stands in its block and goes with it.
    """

    block: int
    lines: frozenset[int]
    span: Span
    header: Span
    names: tuple[str, ...]
    places: tuple[str, ...]
    labels: tuple[str, ...]
    inside: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """The first of what it is called, to be typed; empty where it is called nothing."""
        quoted = [f'"{one}"' for one in self.labels]
        return next(iter((*self.names, *self.places, *quoted)), "")


def taken_over(include: Block, blocks: Sequence[Block], found: list[Finding]) -> TakenOver:
    """The blocks of an included file without what its `include` excepts.

    With a thing goes what is noted and accepted of it and of what stands in its block: a finding
    that is accepted in the type is not accepted of what a unit has in that place.

    Parameters
    ----------
    include : Block
        The statement that names the file.
    blocks : sequence of Block
        What the file says, and what the files say that it includes.
    found : list of Finding
        Errors are added here: what is excepted and not there, or there more than once.
    """
    excepted = list(_excepted(include))
    if not excepted:
        return TakenOver(tuple(blocks))
    pieces = [one for at, block in enumerate(blocks) for one in _pieces(block, at)]
    named = _by_name(pieces)
    out: list[_Removable] = []
    names: dict[str, Span] = {}
    amiss: list[Finding] = []
    for one in excepted:
        meant = next((each[one.key] for each in named if one.key in each), [])
        if len(meant) == 1:
            out += meant
            names |= dict.fromkeys(_folded((*meant[0].names, *meant[0].inside)), one.span)
        elif len(amiss) < MOST_ERRORS:
            amiss.append(_several(one, meant) if meant else _not_there(one, pieces))
    found += amiss
    left, gone = _gone(out, pieces)
    lines: dict[int, list[_Removable]] = {}
    for piece in out:
        lines.setdefault(piece.block, []).append(piece)
    rests = [_rest(block, lines.get(at, ())) for at, block in enumerate(blocks)]
    kept = tuple(rest for rest in rests if rest is not None and not _is_of(rest, left, gone))
    return TakenOver(kept, tuple(one.span for one in out), is_type=True, names=names)


def _excepted(include: Block) -> Iterator[_Excepted]:
    """What an `include` leaves out; errors in it are told where it is read as a statement."""
    if len(include.header.items) < 3 and not include.body:
        return
    said = statement(include, [])
    for key in ("head", "thing", "title") if said is not None else ():
        for given in said.facts.all(key) if said is not None else ():
            span, value = given.span, given.value
            if isinstance(value, Place):
                span = Span(span.file, value.start, value.end)
            yield _Excepted(_HEAD if key == "head" else str(value), span)


def _pieces(block: Block, at: int) -> Iterator[_Removable]:
    """What can be left out of a block."""
    head = block.header.head
    if head == "wires":
        for lines in _wire_lines(block.body):
            first = block.body[lines[0]]
            line = Block(first, tuple(block.body[one] for one in lines[1:]))
            yield _piece(line, at, frozenset(lines))
    elif head != "include" and head not in _REMARKS:
        yield _piece(block, at, frozenset())


def _wire_lines(body: Sequence[TextLine]) -> list[list[int]]:
    """The lines of each wire of a block of wires: its own and those that go on with it."""
    made: list[list[int]] = []
    last: TextLine | None = None
    is_wire = False
    for at, line in enumerate(body):
        if last is None or not goes_on(line, last):
            last, is_wire = line, line.head == "wire"
            made += [[]] if is_wire else []
        if is_wire:
            made[-1].append(at)
    return made


def _piece(block: Block, at: int, lines: frozenset[int]) -> _Removable:
    """A block, or the lines of one wire as a block, by all that it may be called."""
    header = block.header
    said = statement(block, [])
    names = [_HEAD] if header.head == _HEAD else [own_name(header)]
    places: list[str] = []
    labels: list[str] = []
    if said is not None:
        names.append(said.facts.word("tag"))
        if header.head == "state":
            names.append(said.name)
        elif header.head in ("photo", "ac"):
            labels.append(said.name)
        labels.append(said.facts.word("label"))
        places += _places(said)
    inside = [name for line in block.body for name in _line_names(line)] if not lines else []
    return _Removable(
        at, lines, whole_span(block), header.span, _filled(names),
        () if any(names) else tuple(places), _filled(labels), tuple(inside),
    )  # fmt: skip


def _places(said: Said) -> Iterator[str]:
    """Where a circuit or slot is; what a wire joins, from either end."""
    if said.opening and isinstance(said.opening[0], Place):
        yield str(said.opening[0])
    for given in said.facts.all("run"):
        if isinstance(given.value, tuple):
            one, two = given.value
            yield from (f"{one}/{two}", f"{two}/{one}")


def _line_names(line: TextLine) -> Iterator[str]:
    """The names that a line within a block gives."""
    if own_name(line):
        yield own_name(line)
    for before, item in zip(line.items, line.items[1:], strict=False):
        if before.plain == "tag":
            yield item.text + item.unit


def _filled(names: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name in names if name))


def _by_name(pieces: Sequence[_Removable]) -> tuple[dict[str, list[_Removable]], ...]:
    """What is called by each name, is at each place, bears each label; the first of them counts."""
    named: dict[str, list[_Removable]] = {}
    placed: dict[str, list[_Removable]] = {}
    labelled: dict[str, list[_Removable]] = {}
    for piece in pieces:
        for held, names in (
            (named, piece.names), (placed, piece.places), (labelled, piece.labels),
        ):  # fmt: skip
            for name in _folded(names):
                held.setdefault(name, []).append(piece)
    return named, placed, labelled


def _folded(names: Sequence[str]) -> set[str]:
    return {name.casefold() for name in names}


def _gone(out: Sequence[_Removable], pieces: Sequence[_Removable]) -> tuple[set[str], set[str]]:
    """The names of what is left out; the same without those that something else bears as well."""
    left = {name for one in out for name in _folded((*one.names, *one.places, *one.inside))}
    spans = {one.span for one in out}
    kept = {name for one in pieces if one.span not in spans for name in _folded(one.names)}
    return left, left - kept


def _rest(block: Block, out: Sequence[_Removable]) -> Block | None:
    """A block without what is left out of it; None where that is all of it."""
    lines = {line for one in out for line in one.lines}
    if not out:
        return block
    body = tuple(line for at, line in enumerate(block.body) if at not in lines)
    is_empty = not lines or not any(line.head == "wire" for line in body)
    return None if is_empty else Block(block.header, body)


def _is_of(block: Block, left: set[str], gone: set[str]) -> bool:
    """Whether a block is a remark about something that is left out.

    A wire of a circuit that has no name is called by its circuit and a number, `P1.3/2R`.
    """
    fact = _REMARKS.get(block.header.head)
    said = statement(block, []) if fact is not None else None
    if said is None:
        return False
    place = said.facts.place(fact) if fact else said.opening[0]
    if not isinstance(place, Place):
        return False
    text = str(place).removesuffix(place.sign).casefold()
    within = _WITHIN.fullmatch(text)
    if within is not None:
        return within[1] in left
    return text in gone or _END.sub("", text) in gone


def _several(one: _Excepted, meant: Sequence[_Removable]) -> Finding:
    """Which of several is left out is not said."""
    named = next((each.names[0] for each in meant if each.names), "")
    labels = [f'"{each.labels[0]}"' for each in meant if each.labels]
    other = named or next((label for label in labels if label.strip('"') != one.name), "")
    found = error(
        "except-several",
        one.span,
        f"`{one.name}` means {len(meant)} statements of the included file",
        fix=f"except each by what it alone is called, as `except {other}`" if other else
        "give each of them a name there, and except it by that",
    )  # fmt: skip
    return _with_places(found, meant)


def _not_there(one: _Excepted, pieces: Sequence[_Removable]) -> Finding:
    """Nothing is called so, or only something within a block, which is left out as a whole."""
    outer = next((each for each in pieces if one.key in _folded(each.inside)), None)
    if outer is not None:
        found = error(
            "except-not-there",
            one.span,
            f"`{one.name}` stands in the block of `{outer.called}`, which is left out as a whole",
            fix=f"`except {outer.called}`, and write the whole block anew",
        )
        return _with_places(found, [outer])
    typed = {name: name for each in pieces for name in (*each.names, *each.places)}
    known = {name: f'"{name}"' for each in pieces for name in each.labels} | typed
    near = nearest(one.name, known)
    return error(
        "except-not-there",
        one.span,
        f"nothing in the included file is called `{one.name}`",
        fix=f"the nearest name there is `{known[near]}`" if near else "",
    )


def _with_places(found: Finding, pieces: Sequence[_Removable]) -> Finding:
    return replace(found, others=tuple(Label(one.header, "it stands here") for one in pieces))
