"""What may stand at a place of a text that is being written: parts of facts, words, units.

It reads what stands before the place as a statement is read, and asks the facts of its word how
they go on. What is wrong elsewhere in the text, or further on in the line, changes nothing.
"""

import re
from collections.abc import Iterator, Sequence

from rigfolio.lang import BLANKS, Block, Fact, Reader, TextLine, Token, blocks, match, parse, parted
from rigfolio.reading import Word, context, known_word
from rigfolio.record import record

_TYPED = re.compile(r"[^\W\d][\w.]*(-[\w.]*)*[+-]?$|\d+(\.\d*)?$|\?$")


@record
class NextPart:
    """A part of the pattern of a fact, `<current>` or `open|closed`, and the key of that fact."""

    fact: str
    pattern: str


@record
class NextParts:
    """What may stand at a place.

    `typed` is what of it stands there, from the character `start` on; `number` is the figure before
    it, whose unit is looked for; `after` is the item before it. `word` opens the line, and `inner`
    tells whether that stands in a block.
    """

    parts: tuple[NextPart, ...]
    typed: str
    start: int
    number: str = ""
    after: str = ""
    word: str = ""
    inner: bool = False


def expected(text: str, at: int) -> NextParts | None:
    """What may stand at a character of a text; None inside a comment or a label."""
    start = text.rfind("\n", 0, at) + 1
    before = text[start:at]
    if before.count('"') % 2 or "#" in re.sub('"[^"]*"', "", before):
        return None
    found = _TYPED.search(before)
    typed = found.group() if found else ""
    first = at - len(typed)
    lines, _ = parse(text[start:first], "")
    items = lines[0].items if lines and lines[0].items[0].text else ()
    indent = before[: len(before) - len(before.lstrip(BLANKS))]
    number = items[-1].text if items and items[-1].kind == "number" else ""
    items = items[:-1] if number else items
    after = items[-1].text if items else ""
    end = text.find("\n", at)
    rest = text[at : end if end >= 0 else len(text)]
    header = _header(text, start) if indent else None
    place = _OpenPlace(items, header, rest)
    parts = tuple(dict.fromkeys(place.parts(is_header=not indent)))
    head = items[0].plain if items and items[0].kind == "word" else ""
    return NextParts(parts, typed, first, number, after, head, bool(indent))


def _header(text: str, start: int) -> Block | None:
    """The block that a line belongs to that starts at a character, as far as it stands above."""
    # No further up than the last line that begins in the first column.
    top = start
    while top > 0:
        top = text.rfind("\n", 0, top - 1) + 1
        if text[top : top + 1] not in ("", "\n", "\r", "#", *BLANKS):
            break
    whole, _ = blocks(parse(text[top:start], "")[0])
    return whole[0] if whole else None


class _OpenPlace:
    """A place behind some items of a line: the words that are open there."""

    def __init__(self, items: tuple[Token, ...], above: Block | None, rest: str) -> None:
        self.items = items
        self.above = above
        self.rest = rest

    def parts(self, *, is_header: bool) -> Iterator[NextPart]:
        """Every part of a fact that may stand there."""
        if is_header:
            yield from self._of_header()
            return
        if self.above is None or self.above.header.head not in context().keywords:
            return
        kind = known_word(self.above.header.head)[0]
        if not self.items:
            yield from (NextPart("", name) for name in kind.inside)
            yield from self._facts(kind, (), self._given(kind, self._own_lines(kind)))
        elif self.items[0].plain in kind.inside:
            yield from self._inside(kind)
        else:
            given = self._given(kind, self._own_lines(kind))
            yield from self._facts(kind, self.items, given)

    def _of_header(self) -> Iterator[NextPart]:
        if not self.items:
            yield from (NextPart("", name) for name in sorted(context().keywords))
        elif self.items[0].plain in context().keywords:
            yield from self._statement(known_word(self.items[0].plain)[0])

    def _inside(self, outer: Word) -> Iterator[NextPart]:
        yield from self._statement(known_word(self.items[0].plain)[0].within(outer))

    def _statement(self, kind: Word) -> Iterator[NextPart]:
        items = _parted(kind, self.items)
        at = 1
        for part in kind.opening:
            plain = part.rstrip("?")
            got = match((plain,), items, at, context())
            if got is not None:
                at = got.end
            elif at >= len(items):
                yield NextPart("", plain)
                if not part.endswith("?"):
                    return
        yield from self._facts(kind, items[at:], self._given(kind, [_items(self.rest)]))

    def _own_lines(self, kind: Word) -> list[Sequence[Token]]:
        """The items of the lines of a block that say facts of its header."""
        if self.above is None:
            return []
        lines = [line for line in self.above.body if line.head not in kind.inside]
        opening = 1 + len(kind.opening)
        return [self.above.header.items[opening:], *(line.items for line in lines)]

    def _given(self, kind: Word, lines: Sequence[Sequence[Token]]) -> frozenset[str]:
        held = [_parted(kind, items) for items in lines]
        return frozenset(Reader(kind.takes, context()).read(held)[0].given)

    def _facts(
        self, kind: Word, items: Sequence[Token], given: frozenset[str]
    ) -> Iterator[NextPart]:
        """How the facts of a word go on behind some items of it."""
        held = _parted(kind, items)
        said, half_said = Reader(kind.takes, context()).read([held])
        given |= frozenset(said.given)
        every = (
            list(self._begun(kind.takes, held, start)) for start in _beginnings(kind.takes, held)
        )
        begun = next((found for found in every if found), [])
        yield from begun
        if begun and half_said:
            return
        for fact in kind.takes:
            if fact.many or fact.key not in given:
                yield NextPart(fact.key, fact.parts[0])

    def _begun(
        self, takes: Sequence[Fact], items: Sequence[Token], start: int
    ) -> Iterator[NextPart]:
        """The next parts of facts that begin at an item and go on behind the last one."""
        for fact in takes:
            for count in range(1, len(fact.parts)):
                got = match(fact.parts[:count], items, start, context())
                if got is not None and got.end == len(items):
                    yield NextPart(fact.key, fact.parts[count])
        if items[-1].kind == "slash" and len(items) > 1 and start == len(items) - 2:
            yield NextPart("colour", "<colour>")


def _parted(kind: Word, items: Sequence[Token]) -> Sequence[Token]:
    """The items of a line as the reader of its word takes them."""
    return parted(items, kind.takes, context(), tuple(context().keywords))


def _beginnings(takes: Sequence[Fact], items: Sequence[Token]) -> Iterator[int]:
    """The items that facts begin with; what belongs to none is passed over one by one."""
    at = 0
    while at < len(items):
        yield at
        ends = [got.end for fact in takes if (got := match(fact.parts, items, at, context()))]
        at = max(ends, default=at + 1)


def _items(text: str) -> tuple[Token, ...]:
    lines: tuple[TextLine, ...] = parse(text, "")[0]
    return lines[0].items if lines else ()
