"""The statements of a text as a tree: what an editor lists beside it."""

from collections.abc import Iterator
from itertools import pairwise

from rigfolio.findings import Span
from rigfolio.lang import Block, TextLine, blocks, parse
from rigfolio.record import record, replace
from rigfolio.wording import called


@record
class OutlineItem:
    """A statement: its word, its name and label, its place, and the statements inside it."""

    word: str
    name: str
    span: Span
    chosen: Span
    inside: tuple["OutlineItem", ...] = ()


def outline(text: str, file: str) -> tuple[OutlineItem, ...]:
    """The statements of a text; of lines that cannot be read what can be."""
    whole, _ = blocks(parse(text, file)[0])
    return tuple(one for block in whole for one in _block(block))


def _block(block: Block) -> Iterator[OutlineItem]:
    header = _line(block.header)
    if header is None:
        return
    inside = [_line(line) for line in block.body]
    end = block.body[-1].span.end if block.body else block.header.span.end
    yield replace(
        header, span=replace(header.span, end=end),
        inside=tuple(one for one in inside if one is not None),
    )  # fmt: skip


def _line(line: TextLine) -> OutlineItem | None:
    """A line by its word and what follows: a name, a place, two places, a label."""
    head, rest = line.head, line.items[1:]
    if not head:
        return None
    label = next((item.text for item in rest if item.kind == "label"), "")
    first = rest[0].text if rest and rest[0].kind in ("word", "place") else ""
    ways = [
        f"{one.text} to {three.text}"
        for (one, two), (_, three) in pairwise(pairwise(rest))
        if two.plain == "to"
    ]
    name = ways[0] if head == "wire" and ways else called(first, label) if first else label
    return OutlineItem(head, name or head, line.span, line.items[min(1, len(rest))].span)
