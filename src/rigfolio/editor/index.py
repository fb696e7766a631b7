"""Every name of a rig: where the text defines it and where it uses it."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import pairwise

from rigfolio.findings import Span
from rigfolio.lang import Block, TextLine, blocks, parse
from rigfolio.reading import Said, own_name, statement
from rigfolio.record import record
from rigfolio.values import Place


@record
class Mention:
    """A place of a text that bears a name.

    `kind` is the word that defines it there, `label` what it is called; both are empty where it is
    only used.
    """

    name: str
    span: Span
    kind: str = ""
    label: str = ""

    @property
    def is_definition(self) -> bool:
        """Whether this is the place that defines it."""
        return bool(self.kind)


class NameIndex:
    """The names of some texts; capitals never matter."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self.mentions = tuple(one for file, text in texts.items() for one in _mentions(text, file))

    @cached_property
    def _by_name(self) -> Mapping[str, tuple[Mention, ...]]:
        held: dict[str, list[Mention]] = {}
        for one in self.mentions:
            held.setdefault(one.name.casefold(), []).append(one)
        return {name: tuple(each) for name, each in held.items()}

    @property
    def defined(self) -> tuple[Mention, ...]:
        """Every place that defines a name."""
        return tuple(one for one in self.mentions if one.is_definition)

    def at(self, file: str, offset: int) -> Mention | None:
        """The name at a character, or at the character before it."""
        held = [one for one in self.mentions if one.span.file == file
                and one.span.start <= offset <= one.span.end]  # fmt: skip
        return min(held, key=lambda one: one.span.end - one.span.start, default=None)

    def of(self, name: str) -> tuple[Mention, ...]:
        """Every place that bears a name."""
        return self._by_name.get(name.casefold(), ())

    def definitions(self, name: str) -> tuple[Mention, ...]:
        """The places that define a name."""
        return tuple(one for one in self.of(name) if one.is_definition)


def _mentions(text: str, file: str) -> Iterator[Mention]:
    lines, _ = parse(text, file)
    for block in blocks(lines)[0]:
        yield from _of_block(block)


def _of_block(block: Block) -> Iterator[Mention]:
    said = statement(block, [])
    for line in (block.header, *block.body):
        yield from _defined(line)
    for one in (said, *said.inside) if said is not None else ():
        yield from _used(one)


def _defined(line: TextLine) -> Iterator[Mention]:
    """The name that a line gives behind its word, and the one behind `tag`."""
    items = line.items
    if len(items) > 1 and items[1].kind == "word" and own_name(line):
        label = next((item.text for item in items[2:] if item.kind == "label"), "")
        yield Mention(items[1].text, items[1].span, line.head, label)
    for before, item in pairwise(items):
        is_name = item.kind in ("word", "quantity", "label")
        if before.kind == "word" and before.plain == "tag" and is_name:
            yield Mention(item.text + item.unit, item.span, "wire")


def _used(said: Said) -> Iterator[Mention]:
    values: list[object] = [*said.opening]
    for every in said.facts.given.values():
        for given in every:
            values += given.value if isinstance(given.value, tuple) else (given.value,)
    for value in values:
        if isinstance(value, Place) and value.start >= 0:
            end = value.start + len(value.name)
            yield Mention(value.name, Span(said.span.file, value.start, end))
