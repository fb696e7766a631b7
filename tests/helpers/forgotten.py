"""What was worked out of a study goes with the test that made it.

Most answers know the study that keeps them, so that none of it goes by itself: to find it by a
search for garbage costs a tenth of the suite.
"""

import functools
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import contextmanager
from typing import ParamSpec, TypeVar
from weakref import ReferenceType, ref

from rigfolio.model import Rig
from rigfolio.study import Study

Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")

_MADE: list[ReferenceType[Study]] = []
"""The studies that the test which runs has made and that nobody keeps."""
_RUNNING: list[bool] = []
_begin = Study.__init__


@functools.wraps(_begin)
def _noted(study: Study, rig: Rig, book: str) -> None:
    _begin(study, rig, book)
    if _RUNNING:
        _MADE.append(ref(study))


Study.__init__ = _noted  # type: ignore[method-assign]


def keeping(work: Callable[Asked, Answer]) -> Callable[Asked, Answer]:
    """A function of which others keep the answer: studies that it makes keep theirs as well."""

    @functools.wraps(work)
    def worked(*given: Asked.args, **named: Asked.kwargs) -> Answer:
        before = len(_MADE)
        answer = work(*given, **named)
        del _MADE[before:]
        return answer

    return worked


def cache(work: Callable[Asked, Answer]) -> Callable[Asked, Answer]:
    """As that of Python, for functions of which some make studies."""
    return functools.cache(keeping(work))


def lately(
    most: int,
) -> Callable[[Callable[Asked, Answer]], Callable[Asked, Answer]]:
    """A function of which the last few answers are kept; with an answer its studies forget theirs.

    `functools.lru_cache` would drop an answer, and leave what it knows to a search for garbage.
    """

    def kept_of(work: Callable[Asked, Answer]) -> Callable[Asked, Answer]:
        kept: OrderedDict[Hashable, tuple[Answer, list[ReferenceType[Study]]]] = OrderedDict()

        @functools.wraps(work)
        def worked(*given: Asked.args, **named: Asked.kwargs) -> Answer:
            key = (given, tuple(sorted(named.items())))
            if key not in kept:
                before = len(_MADE)
                kept[key] = (work(*given, **named), _MADE[before:])
                del _MADE[before:]
                if len(kept) > most:
                    _, made = kept.popitem(last=False)[1]
                    _forget_all(made)
            kept.move_to_end(key)
            return kept[key][0]

        return worked

    return kept_of


def _forget_all(made: Iterable[ReferenceType[Study]]) -> None:
    for one in made:
        study = one()
        if study is not None:
            forget(study)


def forget(study: Study) -> None:
    """Drop what was worked out of a study; who asks again has it worked out again."""
    study.answers.clear()
    study.rig.answers.clear()


@contextmanager
def forgotten() -> Iterator[None]:
    """Forget what is worked out of the studies that are made inside, but of what is kept."""
    _RUNNING.append(True)
    try:
        yield
    finally:
        _RUNNING.pop()
        _forget_all(_MADE)
        _MADE.clear()
