"""Every fact of a text left out, said otherwise, or said where it was not, one at a time."""

import re
from collections.abc import Iterator

from rigfolio.lang import Fact, blocks, parse
from rigfolio.reading import Said, known_word, statement

_FIGURE = re.compile(r"\d+(?:\.\d+)?(?!.*\d)")
_COLOURS = ("red", "black", "white")


def fact_edits(text: str) -> Iterator[tuple[str, str, str]]:
    """What was done, the line it was done to, and the text after it."""
    lines, _ = parse(text, "x.rig")
    for block in blocks(lines)[0]:
        said = statement(block, [])
        if said is None:
            continue
        kind = known_word(said.word)[0]
        yield from _of(text, said, {fact.key: fact for fact in kind.takes}, kind.takes)
        for one in said.inside:
            inner = known_word(one.word)[0].within(kind)
            yield from _of(text, one, {fact.key: fact for fact in inner.takes}, inner.takes)


def _of(
    text: str, said: Said, facts: dict[str, Fact], takes: tuple[Fact, ...]
) -> Iterator[tuple[str, str, str]]:
    line = text[said.span.start : text.find("\n", said.span.start)]
    for key, every in said.facts.given.items():
        for given in every:
            start, end = given.span.start, given.span.end
            here = text[start:end]
            yield f"without {key}", line, _bare(text[:start], text[end:])
            for other in _others(here, facts.get(key)):
                yield f"{key} {other}", line, text[:start] + other + text[end:]
    for fact in takes:
        if fact.key not in said.facts.given:
            at = said.span.end
            yield f"with {fact.key}", line, f"{text[:at]} {fact.example()}{text[at:]}"


def _bare(before: str, after: str) -> str:
    """Both halves, with one comma less where each had one."""
    return before.rstrip().removesuffix(",") + " " + after.lstrip(" ,")


def _others(here: str, fact: Fact | None) -> Iterator[str]:
    """Other values of the same kind, one far and one near."""
    label = re.fullmatch(r'(.*)"', here, re.DOTALL)
    if label:
        yield f'{label[1]} too"'
    elif fact is not None and "<colour>" in fact.parts:
        yield next(one for one in _COLOURS if one != here)
    found = _FIGURE.search(here)
    if found and not label:
        was = float(found[0])
        for now in (f"{was + 1:g}", f"{was * 1.0003:.8g}", f"{was * 2:g}"):
            yield here[: found.start()] + now + here[found.end() :]
    for part in fact.parts if fact is not None else ():
        words = part.split("|")
        if len(words) > 1:
            yield from (
                re.sub(rf"\b{re.escape(was)}\b", now, here)
                for was in words
                if re.search(rf"\b{re.escape(was)}\b", here)
                for now in words
                if now != was
            )
