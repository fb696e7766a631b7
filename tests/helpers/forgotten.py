"""What was worked out of a study goes with the test that made it.

Most answers know the study that keeps them, so that none of it goes by itself: to find it by a
search for garbage costs a tenth of the suite.
"""

import functools
from collections.abc import Callable, Iterator
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
        for one in _MADE:
            study = one()
            if study is not None:
                forget(study)
        _MADE.clear()
