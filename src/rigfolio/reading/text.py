"""From the blocks of a text to a draft, one statement at a time."""

from collections.abc import Collection, Hashable, Mapping, Sequence
from functools import cache
from importlib import import_module
from pathlib import Path

from rigfolio.books import colour_book
from rigfolio.findings import UNKNOWN, Finding, Span
from rigfolio.kinds import guards
from rigfolio.lang import (
    Block,
    Context,
    Given,
    One,
    Reader,
    TextLine,
    Token,
    is_deeper,
    match,
    parted,
)
from rigfolio.model import Broken, Draft
from rigfolio.reading.word import CALLED, Add, Said, Word, gaps_of
from rigfolio.record import replace

MOST_KEPT = 10_000
"""Statements that are kept."""

# A way out that is tried and a key stroke in an editor change one statement of a text: all the
# others were read a moment ago, and the same words mean the same at every place.
_KEPT: dict[Hashable, tuple[Span, Said]] = {}
_FOLDER = Path(__file__).resolve().parents[1] / "statements"


@cache
def words() -> tuple[str, ...]:
    """Every word that has a file in the folder of statements, by the alphabet."""
    stems = sorted(file.stem for file in _FOLDER.glob("*.py") if file.stem != "__init__")
    return tuple(stem.rstrip("_").replace("_", "-") for stem in stems)


@cache
def known_word(name: str) -> tuple[Word, Add]:
    """A word and what it does, loaded when a text first uses it."""
    stem = name.replace("-", "_")
    # A word that Python keeps for itself has a trailing underscore in its file name.
    stem = stem if (_FOLDER / f"{stem}.py").is_file() else f"{stem}_"
    module = import_module(f"rigfolio.statements.{stem}")
    found: Word = module.WORD
    add: Add = module.add
    return found, add


def reference() -> Mapping[str, Word]:
    """Every word of the language with what it takes."""
    return {name: known_word(name)[0] for name in words()}


def own_name(line: TextLine) -> str:
    """The name that a line gives right behind its word; empty where it gives none."""
    if line.head not in context().keywords:
        return ""
    kind = known_word(line.head)[0]
    for part in (*kind.opening, *(kind.inner or ())):
        value = part.rstrip("?")
        if value in ("<name>", "<called>"):
            got = match((value,), line.items, 1, context())
            return str(got.values[0]) if got is not None else ""
    return ""


@cache
def context() -> Context:
    """The words of the trade that the language must know."""
    book = colour_book()
    colours = {key.casefold(): colour.word for key, colour in book.by_word.items()}
    colours |= {code.casefold(): colour.word for code, colour in book.by_code.items()}
    ambiguous = {
        letters.casefold(): " or ".join(meant) for letters, meant in book.ambiguous.items()
    }
    return Context(colours, ambiguous, frozenset(words()))


def read_blocks(blocks: Sequence[Block], draft: Draft) -> None:
    """Add to a draft what blocks say; errors of the text are noted in it.

    A statement with an error in it is added as far as it is understood, and noted as broken: what
    others say of it keeps its meaning.
    """
    for block in blocks:
        found: list[Finding] = []
        said = statement(block, found)
        draft.found += _causes(block, found)
        before = len(draft.found)
        is_broken = bool(found) or any(line.is_cut for line in (block.header, *block.body))
        if said is not None:
            draft.gaps += gaps_of(said)
            known_word(said.word)[1](said, draft)
        if is_broken:
            # One mistake would draw others behind it.
            del draft.found[before:]
        if is_broken or len(draft.found) > before:
            draft.broken.append(Broken(whole_span(block), block.header.head, said is None))


def whole_span(block: Block) -> Span:
    """From the first to the last character of a block."""
    last = block.body[-1] if block.body else block.header
    return replace(block.header.span, end=last.span.end)


def _causes(block: Block, found: list[Finding]) -> list[Finding]:
    """Without the errors that follow from a sign that means nothing on the same line."""
    signs = [one for one in found if one.rule == "mark-not-read"]
    lines = [line.span for line in (block.header, *block.body)]
    broken = [
        span for span in lines if any(span.start <= one.at.span.start < span.end for one in signs)
    ]
    return [
        one
        for one in found
        if one in signs or not any(span.start <= one.at.span.start < span.end for span in broken)
    ]


def statement(block: Block, found: list[Finding]) -> Said | None:
    """What one block says; errors of the text are added to `found`.

    Of a line that cannot be read to its end nothing is told here: that has been told.
    """
    words, here = _words_of(block), block.header.span
    if words in _KEPT:
        place, kept = _KEPT[words]
        stayed = (here.file, here.start) == (place.file, place.start)
        return kept if stayed else kept.moved(here.file, here.start - place.start)
    told: list[Finding] = []
    said = _statement(block, told)
    if said is not None and not told:
        if len(_KEPT) >= MOST_KEPT:
            del _KEPT[next(iter(_KEPT))]
        _KEPT[words] = here, said
    cut = [line.span for line in (block.header, *block.body) if line.is_cut]
    found += [one for one in told if not any(at.start <= one.at.span.start <= at.end for at in cut)]
    return said


def _words_of(block: Block) -> Hashable:
    """All that a statement is read from: its words, and where they stand from its first one."""
    start = block.header.span.start
    return tuple(
        [
            (line.indent, line.is_cut)
            if item is None
            else (item.kind, item.text, item.unit, item.span.start - start, item.span.end - start)
            for line in (block.header, *block.body)
            for item in (None, *line.items)
        ]
    )


def _statement(block: Block, found: list[Finding]) -> Said | None:
    name = block.header.head
    if name not in context().keywords:
        from rigfolio.reading.hints import unknown_word

        found.append(unknown_word(block.header, reference()))
        return None
    kind = known_word(name)[0]
    own: list[TextLine] = []
    inside: list[TextLine] = []
    for line in _joined(block.body):
        if _is_own_fuse(line, block.header, inside):
            own.append(line)
        elif line.head in kind.inside:
            inside.append(line)
        elif line.head in context().keywords and not _is_fact(line, kind):
            from rigfolio.reading.hints import misplaced

            found.append(misplaced(line, kind))
        elif not _is_slip(line, kind, found):
            own.append(line)
    said = _read(kind, block.header, [line.items for line in own], found)
    shared = said.facts.given.keys() if said is not None and kind.inside_alone else ()
    children = [_inner(line, kind, shared, found) for line in inside]
    if said is None:
        return None
    kept = tuple(child for child in children if child is not None)
    return replace(said, inside=kept)


def _joined(body: Sequence[TextLine]) -> list[TextLine]:
    """The lines of a block; a line that is indented further goes on with the line above it."""
    made: list[TextLine] = []
    last: TextLine | None = None
    for line in body:
        if last is not None and goes_on(line, last):
            above = made[-1]
            made[-1] = replace(above, items=above.items + line.items)
        else:
            made.append(line)
            last = line
    return made


def goes_on(line: TextLine, last: TextLine) -> bool:
    """Whether a line of a block goes on with the line above it that last said something anew."""
    return is_deeper(line, last) and line.head not in context().keywords


def _is_own_fuse(line: TextLine, header: TextLine, inside: Sequence[TextLine]) -> bool:
    """Whether a `fuse` without a name, above all wires, is the one of the circuit's own slot."""
    heads = guards()
    if header.head != "circuit" or line.head not in heads:
        return False
    said = any(item.plain in heads for item in header.items)
    has_name = len(line.items) > 1 and line.items[1].kind == "word"
    return not (said or has_name or inside)


def _is_slip(line: TextLine, kind: Word, found: list[Finding]) -> bool:
    """Whether a line opens with a misspelt statement; noted as an error."""
    if not kind.inside or not line.head or line.head in context().colours or _is_fact(line, kind):
        return False
    from rigfolio.reading.hints import slip

    problem = slip(line, kind, reference())
    found += [problem] if problem else []
    return problem is not None


def _is_fact(line: TextLine, kind: Word) -> bool:
    """Whether a line that starts with a word of the language is a fact of its header."""
    return any(line.head in fact.opens for fact in kind.takes)


def _inner(
    line: TextLine, outer: Word, shared: Collection[str], found: list[Finding]
) -> Said | None:
    return _read(known_word(line.head)[0].within(outer), line, [], found, shared)


def _read(
    kind: Word,
    line: TextLine,
    more: Sequence[Sequence[Token]],
    found: list[Finding],
    shared: Collection[str] = (),
) -> Said | None:
    rows = [
        parted(items, kind.takes, context(), tuple(context().keywords))
        for items in (line.items, *more)
    ]
    values, at, problem = _opening(kind, rows[0])
    reader = Reader(kind.takes, context(), shared)
    if kind.opening == CALLED and values:
        # A name right behind the word is the same as `tag` and the name.
        reader.given["tag"] = [Given(values[0], rows[0][1].span)]
        values = ()
    facts, problems = reader.read([rows[0][at:], *rows[1:]])
    if problem is not None or problems:
        from rigfolio.reading.hints import called_before, trade_name

        other = trade_name(line, reference()) or called_before(line, kind)
        if other is not None:
            found.append(other)
            return None
    if problem is not None:
        found.append(problem)
        problems = tuple(p for p in problems if p.at.span.start != problem.at.span.start)
    found += problems
    return None if problem is not None else Said(kind.name, values, facts, line.span)


def _opening(kind: Word, items: Sequence[Token]) -> tuple[tuple[One, ...], int, Finding | None]:
    values: list[One] = []
    at = 1
    for part in kind.opening:
        got = match((part.rstrip("?"),), items, at, context())
        if got is not None and UNKNOWN not in got.values:
            values += got.values
            at = got.end
        elif not part.endswith("?"):
            from rigfolio.reading.hints import no_opening

            problem, at = no_opening(kind, part, items, at, context())
            return (), at, problem
    return tuple(values), at, None
