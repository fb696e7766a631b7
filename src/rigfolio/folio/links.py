"""Links between the sheets of a folio: from every printed name of a part to where it is drawn.

A sheet knows nothing of the others. A text that is the name of a part, or begins with it, becomes
a link to that part in the schematic; a part of the schematic leads to its label, its tags or its
line of the calculation, whichever of them the folio has.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from rigfolio.draw import Group, Mark, Page, Text, groups
from rigfolio.model import Rig
from rigfolio.record import replace
from rigfolio.render import Entry

Part = tuple[str, str, tuple[Page, ...]]
"""A sheet of the folio: the name of its module, its title, its pages."""

_HUB = "schematic"
_LOAD = "load "
"""Before the name of a load of a circuit, which may be any words."""
_LABEL, _TAG, _CONTENTS, _SLOTS = "label-", "tag-", "contents-", "panel_directory"
_AFTER = ":,;"
"""What may stand behind a name."""
_MOST_WORDS = 3
"""The longest run of words that is tried as a name: `circuit S1.line`, `P1.4 in-line fuse`."""


def linked(rig: Rig, parts: Sequence[Part]) -> tuple[Part, ...]:
    """The same sheets with links, none of which leads nowhere."""
    hubs = [page for name, _, pages in parts if name == _HUB for page in pages]
    known = {group.ident for page in hubs for group in groups(page.marks)} - {_HUB}
    outer = [
        (name, title, _Namer(name, rig, known).pages(pages))
        for name, title, pages in parts
        if name != _HUB
    ]
    there = {group.ident for _, _, pages in outer for page in pages for group in groups(page.marks)}
    goals = _goals(rig, known, there)
    done = {name: (name, title, pages) for name, title, pages in outer}
    return tuple(
        (name, title, tuple(_sent(page, goals) for page in pages)) if name == _HUB else done[name]
        for name, title, pages in parts
    )


def outline(rig: Rig, parts: Sequence[Part]) -> tuple[Entry, ...]:
    """The tree of bookmarks: each sheet, and under it its further pages and its panels.

    Parameters
    ----------
    rig : Rig
        With the panels to be found.
    parts : sequence of Part
        Sheets with their links.
    """
    entries: list[Entry] = []
    first = 1
    for name, title, pages in parts:
        entries.append(Entry(title, f"page-{first}"))
        for number, page in enumerate(pages):
            if number:
                entries.append(Entry(f"page {number + 1}", f"page-{first + number}", 1))
            held = {group.ident for group in groups(page.marks)}
            for panel in rig.panels:
                ident = _ident(name, panel.about.name)
                if ident in held and not any(entry.goes_to == ident for entry in entries):
                    entries.append(Entry(f"Panel {panel.about}", ident, 1))
        first += len(pages)
    return tuple(entries)


def _ident(sheet: str, name: str) -> str:
    """What the group about a part is called on a sheet."""
    return name if sheet == _HUB else f"{sheet}:{name}"


class _Namer:
    """Makes links of the names that one sheet prints."""

    def __init__(self, sheet: str, rig: Rig, known: set[str]) -> None:
        self.sheet = sheet
        self.known = known
        self.panels = rig.by_name.panels
        self.panel = ""
        self.left_mm = 0.0
        self._named: dict[str, str] = {}
        """The part that each text names, as far as it was asked."""

    def pages(self, pages: Iterable[Page]) -> tuple[Page, ...]:
        """The pages with links."""
        return tuple(replace(page, marks=tuple(self._marks(page.marks))) for page in pages)

    def _marks(self, marks: Iterable[Mark]) -> Iterator[Mark]:
        for is_text, run in groupby(marks, lambda mark: isinstance(mark, Text)):
            if is_text:
                yield from self._texts([mark for mark in run if isinstance(mark, Text)])
            else:
                yield from (self._group(m) if isinstance(m, Group) else m for m in run)

    def _texts(self, texts: list[Text]) -> Iterator[Mark]:
        """Texts with nothing drawn between them; those of a slot are one link as a row."""
        slot = self._slot(texts[0])
        starts = [at for at, text in enumerate(texts) if at and text.at[0] == self.left_mm]
        row = (starts or [len(texts)])[0] if slot in self.known else 0
        if row:
            yield self._link(slot, *texts[:row])
        for text in texts[row:]:
            self._slot(text)
            name = self._name(text)
            yield self._link(name, text) if name in self.known else text

    def _link(self, name: str, *texts: Text) -> Group:
        return Group(_ident(self.sheet, name), f"{name} in the schematic", texts, name)

    def _group(self, group: Group) -> Group:
        """A label or a tag leads to what it is stuck on, a line of the contents to its page."""
        if group.ident.startswith(_CONTENTS):
            return replace(group, goes_to=f"page-{group.ident.removeprefix(_CONTENTS)}")
        for prefix in (_LABEL, _TAG):
            name = group.ident.removeprefix(prefix)
            if prefix == _TAG:
                name = name.rpartition("-")[0]
            if group.ident.startswith(prefix) and name in self.known:
                return replace(group, goes_to=name)
        return group

    def _slot(self, text: Text) -> str:
        """The slot whose row begins with a text: rows have numbers only, their table the panel."""
        if self.sheet != _SLOTS or not text.bold:
            return ""
        first = text.text.partition(" ")[0].rstrip(",")
        if first in self.panels:
            self.panel, self.left_mm = first, text.at[0]
        is_slot = text.text.isdigit() and text.at[0] == self.left_mm
        return f"{self.panel}.{text.text}" if is_slot else ""

    def _name(self, text: Text) -> str:
        """The part that a text names, alone, before other words, or behind one: `wire W7`."""
        said = text.text
        if said not in self._named:
            self._named[said] = self._part(said)
        return self._named[said]

    def _part(self, said: str) -> str:
        whole = said.replace("−", "-")
        if whole in self.known:
            return whole
        words = whole.split(" ")
        runs = ((first, many) for first in (0, 1) for many in range(_MOST_WORDS, 0, -1))
        tried = (" ".join(words[first : first + many]).rstrip(_AFTER) for first, many in runs)
        return next((name for name in tried if name in self.known), "")


def _goals(rig: Rig, known: set[str], there: set[str]) -> Mapping[str, str]:
    """Where each part of the schematic leads."""
    loads = rig.by_name.loads
    goals = {}
    for name in known:
        load = loads.get(name.removeprefix(_LOAD))
        at = (load.circuit if load else "") or name
        ways = (
            f"{_LABEL}{name}",
            f"{_TAG}{name}-a",
            f"calculation:{at}",
            f"{_SLOTS}:{at}",
            f"{_LABEL}{at}",
            f"colour_legend:{at}",
        )
        goal = next((way for way in ways if way in there), "")
        if goal:
            goals[name] = goal
    return goals


def _sent(page: Page, goals: Mapping[str, str]) -> Page:
    """A page of the schematic whose parts lead on."""

    def send(mark: Mark) -> Mark:
        if not isinstance(mark, Group):
            return mark
        marks = tuple(send(part) for part in mark.marks)
        return replace(mark, marks=marks, goes_to=goals.get(mark.ident, mark.goes_to))

    return replace(page, marks=tuple(send(mark) for mark in page.marks))
