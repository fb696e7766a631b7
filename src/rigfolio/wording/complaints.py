"""What people say of a part that does not do as it should, in whatever order they say it.

The place stands before what is wrong with it or behind: `Pump runs slow`, `fuse blows P1.2`, `no
power at P1`. A label may hold words that are symptoms of others: what is called so decides.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from itertools import chain
from typing import get_args

from rigfolio.books import symptom_of, symptom_words
from rigfolio.lang import Passage, hidden
from rigfolio.model import Symptom
from rigfolio.record import record

_SYMPTOMS: Mapping[str, Symptom] = {one: one for one in get_args(Symptom)}
_LINK = re.compile(
    r"(?:\s*:|\s+(?:is|are|was|were|gets|get|got|runs|run|turns|has|have|looks|goes|went|seems|"
    r"stays|very|too|always|all|just|still|now|often|so|really|again|suddenly))*\s*$",
    re.IGNORECASE,
)
"""What stands between a place and what is said of it."""
_ITS_FUSE = re.compile(r"(?:\s+(?:its|the|a|their))?\s+(?:fuse|breaker)s?\b", re.IGNORECASE)
_NOUN = r"(?:fuse|breaker|lights?|lamp|power|voltage|volts|current)s?"
_SUBJECT = re.compile(
    rf"(?:the\s+|a\s+|my\s+)?(?:{_NOUN})?(?:\s+(?:is|are|has|gets))?", re.IGNORECASE
)
"""What may stand before a symptom without being its place."""
_OF = re.compile(
    rf"(?:\s*:|(?:\s+(?:its|the|a))?(?:\s+{_NOUN})?"
    r"(?:\s+(?:of|at|on|in|for|to|from|with|by|behind|near|around|inside|under))?)\s+",
    re.IGNORECASE,
)
_ARTICLE = re.compile(r"(?:the|my|our|all(?:\s+(?:the|of\s+the))?)\s+", re.IGNORECASE)
_FUSE_OF = re.compile(r"(?:fuse|breaker)s?\s+(?:(?:of|for|at|in|on|to)\s+)?", re.IGNORECASE)
_S_FUSE = re.compile(r"(?:'s)?\s+(?:fuse|breaker)s?$", re.IGNORECASE)


@record
class Complaint:
    """A symptom, the place that it is said of, and what stands behind both."""

    symptom: Symptom
    place: Passage
    rest: Passage


def complaint(
    body: Passage, is_place: Callable[[str], bool], is_rest: Callable[[Passage], bool]
) -> Complaint | None:
    """What is said of a part; None where a line holds no symptom.

    Of several ways to take a line the first counts whose place is called so; where there is none,
    the first, so that what is wrong with it can be said.

    Parameters
    ----------
    body : Passage
        The line without its day.
    is_place, is_rest : Callable
        Whether something is called so, and whether what stands behind is understood.
    """
    every = list(_every(body))
    for one in every:
        for place in _names(one.place):
            if is_place(place.text) and is_rest(one.rest):
                return Complaint(one.symptom, place, one.rest)
    named = [one for one in every if not _SUBJECT.fullmatch(one.place.text)]
    # Where the rest is understood, it is the place that is not.
    read = [one for one in every if is_rest(one.rest)]
    return next(iter((*read, *named, *every)), None)


def _every(body: Passage) -> Iterator[Complaint]:
    """All ways to part a line in place and symptom: the place before it first, then behind it."""
    text = hidden(body.text.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"))
    words = list(symptom_words().finditer(text))
    return chain(
        (one for word in words for one in _before(body, text, word)),
        (one for word in words for one in _behind(body, text, word)),
    )


def _before(body: Passage, text: str, word: re.Match[str]) -> Iterator[Complaint]:
    """`Water pump keeps blowing its fuse, in shore`."""
    link = _LINK.search(text, 0, word.start())
    end = link.start() if link is not None else word.start()
    if text[:end].strip():
        its = _ITS_FUSE.match(text, word.end())
        rest = body.part(its.end() if its else word.end())
        yield Complaint(_symptom(word), body.part(0, end), rest)


def _behind(body: Passage, text: str, word: re.Match[str]) -> Iterator[Complaint]:
    """`fuse blows P1.2`, `no power at P1, in shore`."""
    of = _OF.match(text, word.end())
    if of is None or not _SUBJECT.fullmatch(text[: word.start()].strip()):
        return
    comma = text.find(",", of.end())
    for end in dict.fromkeys((len(text), comma if comma >= 0 else len(text))):
        if text[of.end() : end].strip():
            yield Complaint(_symptom(word), body.part(of.end(), end), body.part(end))


def _symptom(word: re.Match[str]) -> Symptom:
    return _SYMPTOMS[symptom_of(word.group())]


def _names(place: Passage) -> Iterator[Passage]:
    """A place as it stands, without its article, and without the fuse that is meant to be its."""
    yield place
    article = _ARTICLE.match(place.text)
    bared = place.part(article.end()) if article else place
    if article:
        yield bared
    fuse = _FUSE_OF.match(bared.text)
    if fuse:
        yield from _names(bared.part(fuse.end()))
    tail = _S_FUSE.search(bared.text)
    if tail and tail.start() > 0:
        yield bared.part(0, tail.start())
