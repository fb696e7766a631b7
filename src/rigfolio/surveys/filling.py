"""A survey put into the text of a rig: what was asked with `?` is filled in, what is new is added.

Nothing that stands in the text is taken away or changed: where the survey says something else, that
is told, and the text stays as it is. The same survey put in again changes nothing.
"""

import re
from collections.abc import Collection, Mapping, Sequence

from rigfolio.findings import Edit, Span
from rigfolio.kinds import guards
from rigfolio.model import About, Circuit, Conductor, Device, Load, Rig
from rigfolio.natural_order import natural
from rigfolio.reading import Said
from rigfolio.record import record
from rigfolio.surveys.change import SurveyChange, is_same
from rigfolio.surveys.columns import Column
from rigfolio.surveys.loads import put_draws, put_loads
from rigfolio.surveys.new_part import put_part
from rigfolio.surveys.rows import Survey
from rigfolio.surveys.slots import put_slot, slot_of
from rigfolio.surveys.statement_index import StatementIndex, read_statement
from rigfolio.surveys.told import Spelt, Surveyed, Trouble
from rigfolio.wording import Named, end_words, finder_of, one_of

_KEYS: Mapping[Column, str] = {
    "colour": "colour", "gauge": "size", "length": "length", "tail": "tail",
    "leaves loom at": "breakout", "belongs": "fuse", "found": "found", "marked": "marked",
}  # fmt: skip
"""The fact that each column fills in."""
_PLAIN = ("colour", "gauge", "length")
"""Columns whose values stand in the text without a word before them."""
_OF_WIRE: tuple[Column, ...] = ("gauge", "colour", "length", "tail", "leaves loom at")
_OF_CIRCUIT: tuple[Column, ...] = ("belongs", "found", "marked")
_OTHERS = ("panel", "source", "bar")
_OF_ANY: tuple[Column, ...] = ("name", "note", "condition", "wires")


@record
class Filled:
    """What a survey does to a rig: edits of its texts, lines to be added, and what it met.

    `added` stands for the end of the rig file. `done` tells row by row what was filled in or
    added, `trouble` what was left alone and why, `spelt` what was read otherwise than written.
    """

    edits: tuple[Edit, ...]
    added: str
    done: tuple[Trouble, ...]
    trouble: tuple[Trouble, ...]
    spelt: tuple[Spelt, ...] = ()


def fill(rig: Rig, texts: Mapping[str, str], survey: Survey) -> Filled:
    """Put the rows of a survey into a rig.

    Parameters
    ----------
    rig : Rig
        As it was read from the texts.
    texts : Mapping[str, str]
        The texts of its files by name.
    survey : Survey
        The survey.
    """
    filling = _Filling(rig, texts, has_commas=survey.has_commas)
    for row in survey.rows:
        filling.row(row)
    made = filling.change
    added = "".join(text for _, text in sorted(made.added, key=lambda one: natural(one[0])))
    return Filled(
        tuple(made.edits), added, tuple(made.done), tuple(made.trouble), tuple(made.spelt)
    )


class _Filling:
    def __init__(self, rig: Rig, texts: Mapping[str, str], *, has_commas: bool) -> None:
        self.rig = rig
        self.finder = finder_of(rig)
        self.index = StatementIndex(texts)
        self.change = SurveyChange(self.index)
        self.has_commas = has_commas

    def row(self, row: Surveyed) -> None:
        """Put in one row."""
        slot = slot_of(self.rig, row.place)
        if slot is not None and put_slot(
            row, self.rig, *slot, self.change, has_commas=self.has_commas
        ):
            return
        place = f"{slot[0].about.name}.{slot[1]}" if slot is not None else row.place
        found = self.finder.find(place)
        if len(found) == 1 and found[0].kind == "terminal":
            # A circuit that starts there is what can be surveyed of it.
            found = self.finder.find(f"circuit {place}") or found
        if {one.kind for one in found} == {"source"} and len(
            {_about(self.rig, one).span for one in found}
        ) == 1:
            found = found[:1]  # The outputs of one charger are one part that a person finds.
        if not found and put_part(row, self.change):
            return
        if len(found) > 1:
            words = f"{len(found)} parts are called `{row.place}`: {one_of(found)}"
            self.change.trouble.append(Trouble(row.line, words))
        elif not found:
            words = f"nothing is called `{row.place}`, and it is no slot of a panel"
            self.change.trouble.append(Trouble(row.line, words))
        else:
            self._part(row, found[0])

    def _part(self, row: Surveyed, part: Named) -> None:
        names = self.rig.by_name
        if part.kind == "circuit":
            self._circuit(row, names.circuits[part.key])
        elif part.kind == "wire":
            self._wire(row, self.rig.conductor(part.key))
        elif part.kind == "device":
            self._device(row, names.devices[part.key])
        elif part.kind == "load":
            self._load(row, names.loads[part.key])
        elif part.kind in _OTHERS:
            self._other(row, _about(self.rig, part))
        else:
            words = f"`{part.name}` is no circuit, slot, wire, load, fuse, switch, panel or source"
            self.change.trouble.append(Trouble(row.line, words))

    def _other(self, row: Surveyed, about: About) -> None:
        """A panel, source or bar: what is printed on it, and what is to be seen on it."""
        said = self._statement(row, about.span)
        if said is not None:
            self._label(row, said, about.label)
            source = self.rig.by_name.sources.get(about.name)
            # Marine cranking is printed as the cold cranking that follows from it.
            self.change.plate(row, said, {"cold": source.cranking_a} if source else {})
            self.change.condition(row, said, about.condition)
            self.change.note(row, said, about.note)
            self._left(row, ("plate",))

    def _wire(self, row: Surveyed, wire: Conductor) -> None:
        said = self._statement(row, wire.span)
        if said is not None:
            self._no_label(row, _ends_of(self.rig, wire))
            self._into(row, said, _OF_WIRE)
            self.change.condition(row, said, wire.condition)
            self.change.note(row, said, wire.note)
            self._left(row, _OF_WIRE)

    def _device(self, row: Surveyed, device: Device) -> None:
        """A fuse, breaker or switch: its rating, what was found there, what is to be seen on it."""
        if device.on_wire:
            said = self.index.around(device.about.span)
        elif self.index.at(device.about.span) is None and _says_its_rating(row, device):
            return  # A main is said in the line of its panel.
        else:
            said = self._statement(row, device.about.span)
        if said is None:
            return
        if not device.on_wire:
            self._label(row, said, device.about.label)
        self._rating(row, said, device)
        self.change.plate(row, said)
        if device.on_wire:
            self._no_label(row, (f"{device.kind} on it",))
            self._left(row, ("found", "belongs", "plate"), ("name",))
            return
        self.change.condition(row, said, device.about.condition)
        self.change.note(row, said, device.about.note)
        self._left(row, ("found", "belongs", "plate"))

    def _load(self, row: Surveyed, load: Load) -> None:
        """A load: what it draws or has on its plate, and what is to be seen on it."""
        said = self._statement(row, load.about.span)
        if said is None:
            return
        self._label(row, said, load.about.label)
        put_draws(row, load, self.change)
        self.change.plate(row, said)
        self.change.condition(row, said, load.about.condition)
        self.change.note(row, said, load.about.note)
        self._left(row, ("draws", "plate"))

    def _rating(self, row: Surveyed, said: Said, device: Device) -> None:
        """What belongs there, and what was found there where that is another one.

        Where nobody says what belongs there, what was found is the rating: it guards the wire
        today.
        """
        found, belongs = row.cells.get("found", ""), row.cells.get("belongs", "")
        is_known = isinstance(device.rating_a, float)
        # A switch has one rating, which is read on it.
        keeps = device.protects and bool(belongs or is_known)
        rating = belongs if keeps else found or belongs
        key = "rating" if not device.on_wire else next(g for g in guards() if said.facts.has(g))
        if found and belongs and not keeps and found != belongs:
            words = f"it has one rating, which is read on it: belongs `{belongs}` is NOT TAKEN"
            self.change.told(row, words)
        if rating:
            words = rating if key == "rating" else f"{key} {rating}"
            self.change.fact(row, said, key, words, "belongs" if keeps or not found else "found")
        if not keeps or not found:
            return
        was = "was" if device.on_wire else "found"
        found_a = self.change.value(said, was, f"found {found}")
        known_a = device.rating_a if is_known else self.change.value(said, was, f"found {belongs}")
        is_same_rating = known_a is not None and found_a is not None and is_same(found_a, known_a)
        if said.facts.has(was) or not is_same_rating:
            self.change.fact(row, said, was, f"found {found}", "found")

    def _circuit(self, row: Surveyed, circuit: Circuit) -> None:
        said = self._statement(row, circuit.span)
        if said is None:
            return
        self._label(row, said, circuit.label, tells=True)
        self._into(row, said, _OF_CIRCUIT)
        wires = [one for one in said.inside if one.word == "wire"]
        if wires:
            self._into(row, wires[0], _OF_WIRE)
        elif any(column in row.cells for column in _OF_WIRE):
            self.change.told(row, "it has no wire in the text; write its first one")
        self.change.plate(row, said)
        self.change.condition(row, said, circuit.condition)
        self.change.note(row, said, circuit.note)
        put_loads(row, self.rig, circuit, self.change, has_commas=self.has_commas)

    def _label(self, row: Surveyed, said: Said, label: str, *, tells: bool = False) -> None:
        """The name of a part that has none; a printed table has the kind of the part before it."""
        name = row.cells.get("name", "")
        if not tells:
            name = re.sub(rf"^{re.escape(said.word)}\b\s*", "", name, flags=re.IGNORECASE)
        if name and not label:
            self.change.put(row, said, f'"{name}"', "name")
        elif name and not _ends_in(name, label, whole=tells):
            self.change.told(row, f"the text calls it `{label}`, the survey `{name}`")

    def _no_label(self, row: Surveyed, known: Collection[str]) -> None:
        """Tell a name of what is called by its place alone, where it is not the printed one."""
        name = row.cells.get("name", "")
        if name and name not in known:
            words = f"it is called by where it is: name `{name}` is NOT TAKEN, write it as a note"
            self.change.told(row, words)

    def _into(self, row: Surveyed, said: Said, columns: Sequence[Column]) -> None:
        """Fill in what a statement asks for or does not say yet."""
        for column in columns:
            if column not in row.cells:
                continue
            key = _KEYS[column]
            if key == "fuse":
                key = next((guard for guard in guards() if said.facts.has(guard)), key)
            words = f"{key} {row.cells[column]}" if column not in _PLAIN else row.cells[column]
            if column == "gauge" and self.change.differs(said, key, words):
                # What belongs there stays said; the wire that was found is judged beside it.
                key, words = "found", f"found {words}"
            self.change.fact(row, said, key, words, column)

    def _left(
        self, row: Surveyed, known: Sequence[Column], more: Sequence[Column] = _OF_ANY
    ) -> None:
        """Tell of cells that a part has no room for."""
        for column in row.cells:
            if column not in (*known, *more):
                self.change.told(row, f"`{row.place}` has no `{column}`: leave that cell empty")

    def _statement(self, row: Surveyed, span: Span) -> Said | None:
        said = self.index.at(span)
        if said is None:
            self.change.told(
                row, "it has no statement of its own in the text; write it at its wire"
            )
        return said


def _ends_of(rig: Rig, wire: Conductor) -> frozenset[str]:
    """How both ends of a wire may be printed, whatever parts it on its way."""
    pieces = [one for one in rig.conductors if one.span == wire.span]
    starts, ends = {one.a for one in pieces}, {one.b for one in pieces}
    return frozenset(f"{end_words(rig, a)} to {end_words(rig, b)}" for a in starts for b in ends)


def _ends_in(name: str, label: str, *, whole: bool) -> bool:
    """Whether a name is a label, or, where it need not be the whole of it, has its kind before."""
    name, label = name.casefold(), label.casefold()
    return name == label or (not whole and name.endswith(f" {label}"))


def _about(rig: Rig, part: Named) -> About:
    """What is said of a panel, a source or a bar."""
    held = [one.about for each in (rig.panels, rig.sources, rig.junctions) for one in each]
    return next(about for about in held if about.name == part.key)


def _says_its_rating(row: Surveyed, device: Device) -> bool:
    """Whether a row says of a device the rating that the text gives it, and no more."""
    read = read_statement(f"{device.kind} X {row.cells.get('belongs', '')}")
    known = read.facts.all("rating") if read is not None else ()
    rating_a = device.rating_a
    is_rating = bool(known) and rating_a is not None and is_same(known[0].value, rating_a)
    return is_rating and row.cells.keys() <= {"name", "belongs"}
