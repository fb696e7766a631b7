"""What may be typed at a place, out of the rig and the books: names, words, colours, ratings."""

import re
from collections.abc import Iterator
from functools import cached_property

from rigfolio.books import awg_sizes, colour_book, fuse_families, fuse_series, metric_sizes
from rigfolio.editor.index import NameIndex
from rigfolio.editor.next_parts import NextPart, NextParts
from rigfolio.kinds import guards
from rigfolio.lang import SIZE_UNITS, STUDS, TERMINALS
from rigfolio.model import Rig
from rigfolio.reading import context, known_word
from rigfolio.record import record
from rigfolio.units import UNITS, show

_PLACE = re.compile(r"[^\W\d]\w*((\.\w+)+[+-]?|[+-])?")
_RATED = frozenset({"rating", "main", *guards()})
"""Facts whose current is the rating of a fuse or breaker where the line is about one."""
_WRITTEN = frozenset({"<label>", "<name>", "<called>", "<title>", "<tag>", "<date>"})
"""What is made up by whoever writes, and may not be `?`."""
_PROTECTS = frozenset(guards())


@record
class Offer:
    """Something to type: the text, what kind of thing it is, and a word about it."""

    text: str
    kind: str
    about: str = ""


class WordList:
    """All that may be typed into a rig, as it stands."""

    def __init__(self, rig: Rig | None, index: NameIndex) -> None:
        self.rig = rig
        self.index = index

    def offers(self, wanted: NextParts) -> tuple[Offer, ...]:
        """What may be typed at a place, each once, what begins as it is typed there."""
        made: dict[str, Offer] = {}
        for part in wanted.parts:
            for one in self._of(part, wanted):
                made.setdefault(one.text, one)
        typed = wanted.typed.casefold()
        return tuple(one for one in made.values() if one.text.casefold().startswith(typed))

    def _of(self, part: NextPart, wanted: NextParts) -> Iterator[Offer]:
        pattern = part.pattern
        if wanted.number:
            yield from _units(pattern)
        elif not pattern.startswith("<"):
            kind = "word" if part.fact else "statement"
            yield from (Offer(word, kind, _about(part, wanted)) for word in pattern.split("|"))
        elif pattern in ("<place>", "<thing>"):
            yield from self._places(wanted)
        elif pattern == "<name>" and not part.fact:
            yield Offer(self._free(wanted.word), "name", "a name that is free")
        else:
            yield from _values(part, wanted)

    def _places(self, wanted: NextParts) -> Iterator[Offer]:
        if wanted.word in ("circuit", "slot"):
            yield from self._free_slots()
        about = {
            one.name.casefold(): f"{one.kind} {one.label}".rstrip() for one in self.index.defined
        }
        for text in self._terminals:
            name = re.split(r"[.+-]", text)[0]
            yield Offer(text, "place", about.get(name.casefold(), ""))

    @cached_property
    def _terminals(self) -> tuple[str, ...]:
        """Every terminal as it is typed, and every name that a place may be without an end."""
        names = {one.name.casefold() for one in self.index.defined if one.kind != "wire"}
        found = dict.fromkeys(self.rig.where if self.rig is not None else ())
        found |= dict.fromkeys(one.name for one in self.index.defined if one.kind != "wire")
        return tuple(
            text
            for text in found
            if _PLACE.fullmatch(text) and re.split(r"[.+-]", text)[0].casefold() in names
        )

    def _free_slots(self) -> Iterator[Offer]:
        """The slots in which nothing is said to be, and those that are kept spare."""
        rig = self.rig
        if rig is None:
            return
        taken = {(one.panel, one.slot) for one in rig.circuits if one.panel}
        kept = {(one.panel, one.number): one.use for one in rig.slots}
        for panel in rig.panels:
            for number in range(1, panel.slots + 1):
                key = (panel.about.name, number)
                if key not in taken:
                    yield Offer(f"{key[0]}.{number}", "place", kept.get(key, "free slot"))

    def _free(self, word: str) -> str:
        """The next name of the letters that parts of this kind have, else of the word's own."""
        same = [one.name for one in self.index.defined if one.kind == word]
        stems = [name.rstrip("0123456789") for name in same]
        stem = stems[-1] if stems and stems[-1] else word[:1].upper()
        number = 1
        while self.index.of(f"{stem}{number}"):
            number += 1
        return f"{stem}{number}"


def _about(part: NextPart, wanted: NextParts) -> str:
    """The whole fact that a word belongs to, as it may be written."""
    if not part.fact or wanted.word not in context().keywords:
        return ""
    kind = known_word(wanted.word)[0]
    facts = (*kind.takes, *(kind.inner_takes or ()))
    found = [fact for fact in facts if fact.key == part.fact]
    return found[0].example() if found else ""


def _units(pattern: str) -> Iterator[Offer]:
    """The units that a figure may have; the nouns of what is counted."""
    kind = pattern.strip("<>")
    if kind.startswith("n "):
        yield Offer(kind[2:], "unit", "a number of them")
    elif kind == "size":
        yield from (Offer(unit, "unit", "size of a conductor") for unit in SIZE_UNITS[:2])
    for symbol, unit in UNITS.items():
        if unit.kind == kind and symbol.isascii():
            yield Offer(symbol, "unit", kind)


def _values(part: NextPart, wanted: NextParts) -> Iterator[Offer]:
    """Values that there is a list of; of all others only that they may be unknown."""
    pattern = part.pattern
    if pattern == "<colour>":
        yield from _colours(after_slash=wanted.after == "/")
    elif pattern == "<size>":
        yield from (Offer(size.text, "value", "size") for size in (*awg_sizes(), *metric_sizes()))
    elif pattern == "<terminal>":
        yield from (Offer(word, "value", "what is crimped on") for word in TERMINALS)
    elif pattern == "<stud>":
        yield from (Offer(stud, "value", "size of a stud") for stud in STUDS)
    elif pattern == "<label>":
        yield Offer('""', "label", "what it is called in plain words")
    elif pattern == "<current>" and _is_rating(part, wanted):
        yield from _ratings()
    if wanted.after != "/" and pattern not in _WRITTEN:
        yield Offer("?", "value", "not surveyed yet")


def _is_rating(part: NextPart, wanted: NextParts) -> bool:
    """Whether a current is the rating of a fuse or breaker, of which only some are made."""
    return part.fact in _RATED and (wanted.word in _PROTECTS or part.fact != "rating")


def _ratings() -> Iterator[Offer]:
    made: dict[float, list[str]] = {}
    for family in fuse_families():
        for rating_a in fuse_series(family):
            made.setdefault(rating_a, []).append(family)
    for rating_a in sorted(made):
        yield Offer(show(rating_a, "A", 6), "value", f"made as {', '.join(made[rating_a])}")


def _colours(*, after_slash: bool) -> Iterator[Offer]:
    for word, colour in colour_book().by_word.items():
        code = f"{colour.code}, IEC 60757" if colour.code else ""
        yield Offer(word, "colour", "stripe" if after_slash else code)
