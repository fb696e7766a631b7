"""The statements of a rig's texts by where they stand."""

from collections.abc import Iterator, Mapping

from rigfolio.findings import Finding, Span
from rigfolio.lang import Facts, blocks, parse
from rigfolio.reading import Said, one_spelling, statement


class StatementIndex:
    """Every statement of some texts; its texts by the names of their files."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self.texts = texts
        self._by_span: dict[Span, Said] = {}
        self._shared: dict[Span, Facts] = {}
        for said in _statements(texts):
            self._by_span[said.span] = said
            for inner in said.inside:
                self._by_span.setdefault(inner.span, inner)
                if said.word == "wires":
                    self._shared[inner.span] = said.facts

    def at(self, span: Span) -> Said | None:
        """The statement that stands there."""
        return self._by_span.get(span)

    def around(self, span: Span) -> Said | None:
        """The innermost statement on whose line a fact stands."""
        held = (
            said
            for said in self._by_span.values()
            if said.span.file == span.file
            and said.span.start <= span.start
            and span.end <= said.span.end
        )
        return min(held, key=lambda said: said.span.end - said.span.start, default=None)

    def shared(self, said: Said) -> Facts:
        """What the block of wires that a statement stands in says of each; else its own facts."""
        return self._shared.get(said.span, said.facts)

    def words(self, span: Span) -> str:
        """What stands there."""
        return self.texts[span.file][span.start : span.end]

    def line_end(self, span: Span) -> Span:
        """Where the line ends on which a stretch ends, its line break left aside."""
        text = self.texts[span.file]
        end = text.find("\n", span.end)
        end = len(text) if end < 0 else end
        end -= 1 if end > span.end and text[end - 1] == "\r" else 0
        return Span(span.file, end, end)


def read_statement(text: str) -> Said | None:
    """The one statement of a line; None where it is not understood."""
    held = one_spelling(blocks(parse(text, "")[0])[0])
    found: list[Finding] = []
    said = statement(held[0], found) if len(held) == 1 else None
    return None if found else said


def _statements(texts: Mapping[str, str]) -> Iterator[Said]:
    for file, text in texts.items():
        for block in one_spelling(blocks(parse(text, file)[0])[0]):
            said = statement(block, [])
            if said is not None:
                yield said
