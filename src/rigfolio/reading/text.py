"""From the blocks of a text to a draft, one statement at a time."""

from collections.abc import Mapping, Sequence
from functools import cache
from importlib import import_module
from pathlib import Path

from rigfolio.books.colours import colour_book
from rigfolio.findings import Finding, Span
from rigfolio.lang.facts import Context, Fact, One
from rigfolio.lang.lines import Block, Item, Line, error
from rigfolio.lang.match import match
from rigfolio.lang.reader import Reader, nearest
from rigfolio.model.draft import Draft
from rigfolio.reading.word import Add, Said, Word

_FOLDER = Path(__file__).resolve().parents[1] / "statements"


@cache
def words() -> tuple[str, ...]:
    """Every word that has a file in the folder of statements, by the alphabet."""
    stems = sorted(file.stem for file in _FOLDER.glob("*.py") if file.stem != "__init__")
    return tuple(stem.rstrip("_").replace("_", "-") for stem in stems)


@cache
def word(name: str) -> tuple[Word, Add]:
    """A word and what it does, loaded when a text first uses it."""
    stem = name.replace("-", "_")
    # A word that Python keeps for itself has a trailing underscore in its file name.
    stem = stem if (_FOLDER / f"{stem}.py").is_file() else f"{stem}_"
    module = import_module(f"rigfolio.statements.{stem}")
    found: Word = module.WORD
    add: Add = module.add
    return found, add


@cache
def context() -> Context:
    """The words of the trade that the language must know."""
    book = colour_book()
    colours = {key: colour.word for key, colour in book.by_word.items()}
    colours |= {code: colour.word for code, colour in book.by_code.items()}
    ambiguous = {letters: " or ".join(meant) for letters, meant in book.ambiguous.items()}
    return Context(colours, ambiguous, frozenset(words()))


def read_blocks(blocks: Sequence[Block], draft: Draft) -> None:
    """Add to a draft what blocks say; errors of the text are noted in it."""
    for block in blocks:
        said = _statement(block, draft.found)
        if said is not None:
            word(said.word)[1](said, draft)


def _statement(block: Block, found: list[Finding]) -> Said | None:
    name = block.header.head
    if name not in words():
        found.append(_unknown_word(block.header, words()))
        return None
    kind = word(name)[0]
    own = [line for line in block.body if line.head not in kind.inside]
    inside = [line for line in block.body if line.head in kind.inside]
    children = [_inner(line, found) for line in inside]
    stray = [line for line in own if line.head in words() and not _is_fact(line, kind)]
    found += [_misplaced(line, kind) for line in stray]
    facts = [line.items for line in own if line not in stray]
    said = _read(kind, block.header, facts, found, inner=False)
    if said is None:
        return None
    kept = tuple(child for child in children if child is not None)
    return Said(said.word, said.opening, said.facts, said.span, kept)


def _inner(line: Line, found: list[Finding]) -> Said | None:
    return _read(word(line.head)[0], line, [], found, inner=True)


def _is_fact(line: Line, kind: Word) -> bool:
    """Whether a line that starts with a word of the language is a fact of its header."""
    return any(fact.parts[0].split("|")[0] == line.head for fact in kind.takes)


def _read(
    kind: Word, line: Line, more: Sequence[Sequence[Item]], found: list[Finding], *, inner: bool
) -> Said | None:
    opening = kind.inner if inner and kind.inner is not None else kind.opening
    takes = kind.inner_takes if inner and kind.inner_takes is not None else kind.takes
    values, at, problem = _opening(kind, opening, line)
    if problem is not None:
        found.append(problem)
    facts, problems = Reader(takes, context()).read([line.items[at:], *more])
    found += problems
    return None if problem is not None else Said(kind.name, values, facts, line.span)


def _opening(
    kind: Word, opening: Sequence[str], line: Line
) -> tuple[tuple[One, ...], int, Finding | None]:
    values: list[One] = []
    at = 1
    for part in opening:
        got = match((part.rstrip("?"),), line.items, at, context())
        if got is not None:
            values += got.values
            at = got.end
        elif not part.endswith("?"):
            return (), at, _no_opening(kind, part, line, at)
    return tuple(values), at, None


def _no_opening(kind: Word, part: str, line: Line, at: int) -> Finding:
    example = Fact("", (part,)).example()
    item = line.items[at] if at < len(line.items) else None
    what = part.strip("<>")
    if item is not None and item.kind == "word" and what in ("name", "place"):
        why = "a word of the language" if item.text in words() else "a colour"
        return error(
            "name-taken",
            item.span,
            f"`{item.text}` is {why} and cannot be a name",
            fix=f"another name, such as `{item.text}1`",
        )
    end = line.items[0].span.end
    return error(
        "opening-missing",
        item.span if item else Span(line.span.file, line.span.start, end),
        f"`{kind.name}` is followed by a {what}",
        here=f"expected a {what}, such as `{example}`",
        fix=f"`{kind.name} {example} ...`",
    )


def _unknown_word(line: Line, known: Sequence[str]) -> Finding:
    first = line.items[0]
    near = nearest(first.text, known) if first.kind == "word" else ""
    listed = ", ".join(known)
    return error(
        "unknown-word",
        first.span,
        f"`{first.text}` opens no statement",
        here="" if near else f"a line opens with one of: {listed}",
        fix=f"the nearest word is `{near}`" if near else "",
    )


def _misplaced(line: Line, kind: Word) -> Finding:
    allowed = ", ".join(kind.inside) or "no other statement"
    return error(
        "not-inside",
        line.items[0].span,
        f"`{line.head}` does not stand inside `{kind.name}`",
        here=f"inside `{kind.name}` stand: {allowed}",
        fix="start the line in the first column",
    )


def reference() -> Mapping[str, Word]:
    """Every word of the language with what it takes."""
    return {name: word(name)[0] for name in words()}
