"""What an editor asks of a rig that is being written, in characters of its texts."""

import re
from collections.abc import Iterable, Mapping

from rigfolio.editor.desk import Desk
from rigfolio.editor.index import Mention, NameIndex
from rigfolio.editor.next_parts import expected
from rigfolio.editor.numbers import numbers_of
from rigfolio.editor.renaming import renamed
from rigfolio.editor.words import Offer, WordList
from rigfolio.findings import Edit, Finding, Span, in_order
from rigfolio.judgement import INCLUDE, Result, included_path, proved
from rigfolio.layout import layout_edits
from rigfolio.record import record
from rigfolio.refusal import RefusalError

MOST_WAYS_OUT = 4
"""Ways out that are tried for one place: each takes as long as to judge the rig once more."""


@record
class Offers:
    """What may be typed at a place: it takes the place of what stands in `span`."""

    span: Span
    offers: tuple[Offer, ...]


class Session:
    """All questions of an editor, each answered for the texts as they stand in it."""

    def __init__(self) -> None:
        self.desk = Desk()
        self._index: tuple[Result, NameIndex] | None = None

    def findings(self, path: str) -> Mapping[str, tuple[Finding, ...]]:
        """What is found in the rig that a text belongs to, by file; files without are there too.

        Of a text that is not understood the errors, and what is found in what is whole of it.
        """
        result, whole = self.desk.result(path), self.desk.whole(path)
        found = [*result.findings, *(whole.findings if whole is not result else ())]
        held: dict[str, list[Finding]] = {file: [] for file in result.texts}
        for one in in_order(found):
            held.setdefault(one.at.span.file or result.file, []).append(one)
        return {file: tuple(each) for file, each in held.items()}

    def index(self, path: str) -> NameIndex:
        """The names of the rig that a text belongs to."""
        result = self.desk.result(path)
        if self._index is None or self._index[0] is not result:
            self._index = result, NameIndex(result.texts)
        return self._index[1]

    def numbers(self, path: str, at: int) -> tuple[Span, tuple[str, ...]] | None:
        """The numbers of the part at a character, and the characters that they are about."""
        study = self.desk.whole(path).study
        if study is None:
            return None
        named = self.index(path).at(path, at)
        text = self.desk.text(path)
        if named is not None:
            lines = numbers_of(study, named.span, _known_as(text, named))
            if lines:
                return named.span, lines
        start = text.rfind("\n", 0, at) + 1
        end = text.find("\n", at)
        line = text[start : end if end >= 0 else len(text)]
        first = start + len(line) - len(line.lstrip())
        whole = Span(path, first, start + len(line.rstrip()))
        lines = numbers_of(study, Span(path, first, first))
        for one in self.index(path).defined if not lines else ():
            if one.span.file == path and first <= one.span.start < whole.end:
                lines += numbers_of(study, one.span, one.name)
        return (whole, lines) if lines else None

    def definitions(self, path: str, at: int) -> tuple[Span, ...]:
        """Where the name at a character is defined; the file that an `include` names.

        What the rig does not take over of a type is given only where nothing else is so called.
        """
        named = self.index(path).at(path, at)
        if named is not None:
            spans = tuple(one.span for one in self.index(path).definitions(named.name))
            types = self.desk.result(path).types
            taken = tuple(one for one in spans if not _is_within(one, types.get(one.file, ())))
            return taken or spans
        text = self.desk.text(path)
        start = text.rfind("\n", 0, at) + 1
        found = INCLUDE.match(text, start)
        if found is None or not found.start(1) <= at <= found.end(1):
            return ()
        return (Span(included_path(path, found[1]), 0, 0),)

    def uses(self, path: str, at: int) -> tuple[Mention, ...]:
        """Every place that bears the name at a character, its definition among them."""
        named = self.index(path).at(path, at)
        return () if named is None else self.index(path).of(named.name)

    def renamed(self, path: str, at: int, new: str) -> Mapping[str, tuple[Edit, ...]]:
        """The edits that give the part at a character another name, by file.

        Raises
        ------
        RefusalError
            It cannot be called so, or another rig is read from one of the files as well.
        """
        named = self.index(path).at(path, at)
        if named is None:
            return {}
        result = self.desk.result(path)
        edits = renamed(result, self.index(path), named.name, new)
        for file in edits:
            other = self.desk.sharer(file, result.file)
            if other:
                raise RefusalError(
                    "rename-shared",
                    f"`{file}` is a part of `{other}` as well, which would not follow",
                    "change the name in each of the files",
                )
        return edits

    def offers(self, path: str, at: int) -> Offers | None:
        """What may be typed at a character; None in a comment and in a label."""
        wanted = expected(self.desk.text(path), at)
        if wanted is None:
            return None
        study = self.desk.whole(path).study
        words = WordList(study.rig if study is not None else None, self.index(path))
        return Offers(Span(path, wanted.start, at), words.offers(wanted))

    def ways_out(self, path: str, place: Span) -> tuple[Finding, ...]:
        """The findings at a place whose way out has been tried and serves.

        None that writes into a type: it was tried on one of its units alone.
        """
        result, whole = self.desk.result(path), self.desk.whole(path)
        results = [result] if whole is result else [result, whole]
        made: list[Finding] = []
        for result in results:
            near = [one for one in result.findings if one.fix is not None and one.fix.is_edit
                    and _meets(one.at.span, place)]  # fmt: skip
            tried = [proved(result, one) for one in near[:MOST_WAYS_OUT]]
            made += [one for one in tried if _is_for_one_rig(result, one)]
        return tuple(made)

    def layout(self, path: str) -> tuple[Edit, ...]:
        """The edits that lay a text out."""
        return layout_edits(self.desk.text(path), path)


def _known_as(text: str, named: Mention) -> str:
    """The name of a part as the graph has it: a slot is called by its panel and number."""
    slot = re.match(r"\w+\.\d+(?![\w.])", text[named.span.start :])
    return slot.group() if slot else named.name


def _is_for_one_rig(result: Result, tried: Finding) -> bool:
    """Whether the way out serves, and changes no file that other units are read from."""
    fix = tried.fix
    if fix is None or not fix.is_tried:
        return False
    return not any(edit.span.file in result.types for edit in fix.edits)


def _is_within(one: Span, places: Iterable[Span]) -> bool:
    return any(place.start <= one.start < place.end for place in places)


def _meets(one: Span, two: Span) -> bool:
    return one.file == two.file and one.start <= two.end and two.start <= one.end
