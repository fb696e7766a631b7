"""A survey put into the text of a rig: what was asked with `?` is filled in, what is new is added.

Nothing that stands in the text is taken away or changed: where the survey says something else, that
is told, and the text stays as it is.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.findings import UNKNOWN, Edit, Finding, Span
from rigfolio.lang import Value, blocks, match, parse
from rigfolio.model import Circuit, Conductor, Device, Rig, guards
from rigfolio.natural_order import natural
from rigfolio.reading.spelling import one_spelling
from rigfolio.reading.survey_rows import Column, Surveyed, Trouble
from rigfolio.reading.text import context, statement
from rigfolio.reading.word import Said
from rigfolio.record import record
from rigfolio.units import show
from rigfolio.wording import Finder, one_of

_KEPT = ("spare", "blank")
_PHRASES: Mapping[Column, tuple[str, str]] = {
    "colour": ("colour", "{}"),
    "size": ("size", "{}"),
    "length": ("length", "{}"),
    "tail": ("tail", "tail {}"),
    "breakout": ("breakout", "breakout {}"),
    "fuse": ("fuse", "fuse {}"),
    "fuse found": ("found", "found {}"),
    "fuse marked": ("marked", "marked {}"),
}
"""The fact that each column fills in, and how it is written."""
_OF_WIRE: tuple[Column, ...] = ("size", "colour", "length", "tail", "breakout")
_OF_CIRCUIT: tuple[Column, ...] = ("fuse", "fuse found", "fuse marked")


@record
class Filled:
    """What a survey does to a rig: edits of its texts, lines to be added, and what it met.

    `added` stands for the end of the rig file. `done` tells row by row what was filled in or
    added, `trouble` what was left alone and why.
    """

    edits: tuple[Edit, ...]
    added: str
    done: tuple[Trouble, ...]
    trouble: tuple[Trouble, ...]


def fill(rig: Rig, texts: Mapping[str, str], rows: Iterable[Surveyed]) -> Filled:
    """Put the rows of a survey into a rig.

    Parameters
    ----------
    rig : Rig
        As it was read from the texts.
    texts : Mapping[str, str]
        The texts of its files by name.
    rows : Iterable[Surveyed]
        The rows of the survey.
    """
    filling = _Filling(rig, texts)
    for row in rows:
        filling.row(row)
    added = "".join(text for _, text in sorted(filling.added, key=lambda one: natural(one[0])))
    return Filled(tuple(filling.edits), added, tuple(filling.done), tuple(filling.trouble))


class _Filling:
    def __init__(self, rig: Rig, texts: Mapping[str, str]) -> None:
        self.rig, self.texts = rig, texts
        self.finder = Finder(rig)
        self.statements = tuple(_statements(texts))
        self.shared = {
            inner.span: said.facts
            for said in self.statements
            if said.word == "wires"
            for inner in said.inside
        }
        """What a block of wires says of each of them."""
        self.edits: list[Edit] = []
        self.added: list[tuple[str, str]] = []
        self.done: list[Trouble] = []
        self.trouble: list[Trouble] = []

    def row(self, row: Surveyed) -> None:
        """Put in one row."""
        found = self.finder.find(row.place)
        part = found[0] if len(found) == 1 else None
        if len(found) > 1:
            words = f"{len(found)} parts are called `{row.place}`: {one_of(found)}"
            self.trouble.append(Trouble(row.line, words))
        elif part is not None and part.kind == "circuit":
            self._circuit(row, self.rig.by_name.circuits[part.key])
        elif part is not None and part.kind == "wire":
            self._wire(row, self.rig.conductor(part.key))
        elif part is not None and part.kind == "device":
            self._device(row, self.rig.by_name.devices[part.key])
        elif not self._slot(row):
            words = f"nothing is called `{row.place}`, and it is no slot of a panel"
            if part is not None:
                words = f"`{part.name}` is no circuit, slot, wire, fuse or switch"
            self.trouble.append(Trouble(row.line, words))

    def _wire(self, row: Surveyed, wire: Conductor) -> None:
        said = self._at(wire.span)
        self._into(row, said, _OF_WIRE)
        self._condition(row, said, wire.condition)
        self._note(row, said, wire.note)
        self._left(row, (*_OF_WIRE, "name", "note", "condition", "wires"))

    def _device(self, row: Surveyed, device: Device) -> None:
        """A fuse, breaker or switch of its own: its rating, and what is to be seen on it."""
        said = self._at(device.about.span)
        if said is None:
            self._told(row, "it has no statement of its own in the text; write it at its wire")
            return
        if "fuse" in row.cells:
            given = said.facts.all("rating")
            written = row.cells["fuse"]
            if not given:
                self._put(row, said, written, "rating")
            elif given[0].value is UNKNOWN:
                self._replace(row, given[0].span, written, "rating")
            elif not _agree("fuse", written, given[0].value):
                self._told(row, f"the text says `{_shown(given[0].value)}`, the survey `{written}`")
        self._condition(row, said, device.about.condition)
        self._note(row, said, device.about.note)
        self._left(row, ("name", "fuse", "note", "condition", "wires"))

    def _slot(self, row: Surveyed) -> bool:
        """A row of a slot that has no circuit yet; whether it is one."""
        name, _, number = row.place.rpartition(".")
        panel = self.rig.by_name.panels.get(name)
        if panel is None or not number.isdigit() or number[0] == "0":
            return False
        if int(number) > panel.slots:
            self.trouble.append(
                Trouble(row.line, f"`{name}` has {panel.slots} slots in the text: write the count")
            )
            return True
        kept = next(
            (s for s in self.rig.slots if s.panel == name and s.number == int(number)), None
        )
        said = row.cells.get("name", "").lower()
        if kept is not None:
            if said and said != kept.use and row.cells.get("name") != kept.label:
                self._told(row, f"the text says it is {kept.use}, the survey `{row.cells['name']}`")
            return True
        if said in _KEPT and len(row.cells) == 1:
            self._add(row, f"slot {row.place} {said}\n", f"added as {said}")
        elif row.cells:
            self._add(row, _circuit_text(row), "added as a circuit")
        return True

    def _circuit(self, row: Surveyed, circuit: Circuit) -> None:
        said = self._at(circuit.span)
        if said is None:
            self._told(row, "its statement was not found in the text")
            return
        name = row.cells.get("name", "")
        if name and not circuit.label:
            self._put(row, said, f'"{name}"', "name")
        elif name and name.casefold() != circuit.label.casefold():
            self._told(row, f"the text calls it `{circuit.label}`, the survey `{name}`")
        self._into(row, said, _OF_CIRCUIT)
        wires = [one for one in said.inside if one.word == "wire"]
        if wires:
            self._into(row, wires[0], _OF_WIRE)
        elif any(column in row.cells for column in _OF_WIRE):
            self._told(row, "it has no wire in the text; write its first one")
        self._condition(row, said, circuit.condition)
        self._note(row, said, circuit.note)
        self._dead(row, circuit)

    def _into(self, row: Surveyed, said: Said | None, columns: Sequence[Column]) -> None:
        """Fill in what a statement asks for or does not say yet."""
        for column in columns:
            if column not in row.cells or said is None:
                continue
            key, phrase = _PHRASES[column]
            other = next((guard for guard in guards() if said.facts.has(guard)), "")
            if column == "fuse" and other:
                key, phrase = other, f"{other} {{}}"
            written = phrase.format(row.cells[column])
            own = said.facts.all(key)
            given = own or self.shared.get(said.span, said.facts).all(key)
            if not given or (not own and given[0].value is UNKNOWN):
                self._put(row, said, written, column)
            elif given[0].value is UNKNOWN:
                self._replace(row, given[0].span, written, column)
            elif not _agree(column, row.cells[column], given[0].value):
                was = self.texts[given[0].span.file][given[0].span.start : given[0].span.end]
                self._told(row, f"the text says `{was}`, the survey `{written}`")

    def _condition(self, row: Surveyed, said: Said | None, known: str) -> None:
        words = row.cells.get("condition", "").split(", ")
        if words == [""] or said is None:
            return
        if known and known not in words:
            self._told(row, f"the text says `{known}`, the survey `{words[0]}`")
        elif not known:
            self._put(row, said, words[0], "condition")

    def _note(self, row: Surveyed, said: Said | None, known: str = "") -> None:
        """Keep what has no word of its own as a remark."""
        parts = []
        more = row.cells.get("condition", "").split(", ")[1:]
        if more:
            parts.append(f"also {', '.join(more)}")
        parts += _wires_words(row.cells)
        if "note" in row.cells:
            parts.append(row.cells["note"])
        words = "; ".join(parts)
        if not words or said is None or words == known:
            return
        if known:
            self._told(row, f"the text notes `{known}`, the survey `{words}`")
        else:
            self._put(row, said, f'note "{words[:80]}"', "note")

    def _dead(self, row: Surveyed, circuit: Circuit) -> None:
        seen = row.cells.get("went dead", "")
        labels = [load.about.label for load in self.rig.loads if load.about.name in circuit.loads]
        known = {label.casefold() for label in labels}
        new = [part.strip() for part in seen.split(";") if part.strip()]
        new = [part for part in new if part.casefold() not in known]
        if not new:
            return
        said = self._at(circuit.span)
        if said is None:
            return
        lines = "".join(f'\n    load "{part}" ? A' for part in new)
        end = max(one.span.end for one in (said, *said.inside))
        end = _line_end(self.texts[said.span.file], end)
        self.edits.append(Edit(Span(said.span.file, end, end), lines))
        self.done.append(Trouble(row.line, f"{row.place}: went dead with it: {'; '.join(new)}"))

    def _left(self, row: Surveyed, known: Sequence[Column]) -> None:
        for column in row.cells:
            if column not in known:
                self._told(row, f"`{column}` is not said of `{row.place}`")

    def _put(self, row: Surveyed, said: Said, words: str, column: str) -> None:
        end = said.span.end
        self.edits.append(Edit(Span(said.span.file, end, end), f", {words}"))
        self.done.append(Trouble(row.line, f"{row.place}: {_once_said(column, words)}"))

    def _replace(self, row: Surveyed, span: Span, words: str, column: str) -> None:
        self.edits.append(Edit(span, words))
        self.done.append(Trouble(row.line, f"{row.place}: {_once_said(column, words)}"))

    def _add(self, row: Surveyed, text: str, told: str) -> None:
        self.added.append((row.place, text))
        self.done.append(Trouble(row.line, f"{row.place}: {told}"))

    def _told(self, row: Surveyed, words: str) -> None:
        self.trouble.append(Trouble(row.line, f"{row.place}: {words}"))

    def _at(self, span: Span) -> Said | None:
        for said in self.statements:
            if said.span == span:
                return said
            for inner in said.inside:
                if inner.span == span:
                    return inner
        return None


def _line_end(text: str, at: int) -> int:
    """Where the line of a character ends, its line break left aside."""
    end = text.find("\n", at)
    end = len(text) if end < 0 else end
    return end - 1 if end > at and text[end - 1] == "\r" else end


def _once_said(column: str, words: str) -> str:
    """What was filled in, with the name of its column where the words do not hold it."""
    is_said = words.startswith(f"{column.rpartition(' ')[2]} ")
    return words if is_said else f"{column} {words}"


def _shown(value: Value) -> str:
    return show(value, "A") if isinstance(value, float) else str(value)


def _wires_words(cells: Mapping[Column, str]) -> list[str]:
    count = cells.get("wires", "")
    return [f"{count} {'wire' if count == '1' else 'wires'} on its terminal"] if count else []


def _statements(texts: Mapping[str, str]) -> Iterator[Said]:
    for file, text in texts.items():
        lines, _ = parse(text, file)
        held = one_spelling(blocks(lines)[0])
        for block in held:
            found: list[Finding] = []
            said = statement(block, found)
            if said is not None:
                yield said


def _agree(column: Column, cell: str, value: Value) -> bool:
    """Whether a cell says the same as a fact of the text."""
    patterns: Mapping[Column, str] = {
        "colour": "<colour>", "size": "<size>", "length": "<length>", "tail": "<length>",
        "breakout": "<length>",
    }  # fmt: skip
    lines, _ = parse(cell, "")
    got = match((patterns.get(column, "<current>"),), lines[0].items, 0, context())
    return got is not None and got.values[0] == value


def _circuit_text(row: Surveyed) -> str:
    """A new circuit; what the survey does not tell stands as `?`."""
    cells = row.cells
    head = [f"circuit {row.place}"]
    if "name" in cells:
        head.append(f'"{cells["name"]}"')
    head.append(f"fuse {cells.get('fuse', '? A')}")
    line = " ".join(head)
    marks: tuple[Column, ...] = ("fuse found", "fuse marked")
    for column in marks:
        if column in cells:
            line += f", {_PHRASES[column][1].format(cells[column])}"
    words = cells.get("condition", "").split(", ")
    notes = [f"also {', '.join(words[1:])}"] if len(words) > 1 else []
    if words[0]:
        line += f", {words[0]}"
    notes += _wires_words(cells)
    notes += [cells["note"]] if "note" in cells else []
    if notes:
        line += f', note "{"; ".join(notes)[:80]}"'
    size, colour, length = (cells.get("size", "? AWG"), cells.get("colour", "?"),
                            cells.get("length", "? ft"))  # fmt: skip
    wire = f"    wire {size} {colour} {length}"
    hangs: tuple[Column, ...] = ("tail", "breakout")
    for column in hangs:
        if column in cells:
            wire += f", {_PHRASES[column][1].format(cells[column])}"
    dead = [part.strip() for part in cells.get("went dead", "").split(";") if part.strip()]
    loads = "".join(f'    load "{part}" ? A\n' for part in dead or ["not known yet"])
    return f"{line}\n{wire}\n{loads}"
