"""A rig for programs: read once, then asked."""

import os
from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal, cast

from rigfolio.books import known_book
from rigfolio.judgement import Result, as_text, check, object_of_file
from rigfolio.reports import Plain, object_of, plain
from rigfolio.study import Study

if TYPE_CHECKING:
    from rigfolio.programs.facts import FindingFacts

DrawingForm = Literal["svg", "pdf", "png", "dot"]


class NotUnderstoodError(ValueError):
    """A text that is not understood; its message is what `rigfolio check` says of it.

    Attributes
    ----------
    findings : list of FindingFacts
        The errors of the text, in its order.
    """

    def __init__(self, result: Result) -> None:
        super().__init__(as_text([result]))
        self.findings = _findings(result)


class Answers:
    """The questions to a rig, each answered by the object that the command prints as JSON.

    Amounts are in SI units, None is unknown, and `cautions` are meant to be shown beside the rest.
    `format` is the version of the format: 2.
    """

    def __init__(self, result: Result, study: Study) -> None:
        self._result = result
        self._study = study

    def live(self) -> Mapping[str, Plain]:
        """What is alive in which state of the rig, and from which source."""
        return self._of("live")

    def isolate(self, place: str) -> Mapping[str, Plain]:
        """What to open to make a panel or part dead, in order, and what stays live.

        Raises
        ------
        RefusalError
            There is no such place, or several parts have its name.
        """
        return self._of("isolate", place)

    def demand(self) -> Mapping[str, Plain]:
        """What every source, fuse, panel and circuit must carry [A, Ah, h]."""
        return self._of("demand")

    def short(self, place: str) -> Mapping[str, Plain]:
        """What a dead short at some place does.

        Raises
        ------
        RefusalError
            There is no such place, or several parts have its name.
        """
        return self._of("short", place)

    def size(self) -> Mapping[str, Plain]:
        """The least gauge and the right fuse for every circuit and feed."""
        return self._of("size")

    def diagnose(self, readings: Iterable[str]) -> Mapping[str, Plain]:
        """Which part is at fault, from readings and symptoms as they are typed behind the command.

        Raises
        ------
        NotUnderstoodError
            One of them is not understood.
        RefusalError
            There are none.
        """
        from rigfolio.answers import diagnosis, hear

        heard = hear(self._result, list(readings))
        if heard.found:
            raise NotUnderstoodError(heard.as_result)
        return object_of(diagnosis(self._study, heard.log.readings))

    def _of(self, command: str, *place: str) -> Mapping[str, Plain]:
        from rigfolio.answers import report_of

        return object_of(report_of(command, self._study, *place))


class LoadedRig:
    """A rig that was read and judged; its text is not looked at again."""

    def __init__(self, result: Result, study: Study) -> None:
        self._result = result
        self._study = study

    @property
    def name(self) -> str:
        """What the text calls the rig."""
        return self._study.rig.name

    @property
    def book(self) -> str:
        """The rule book that judged it."""
        return self._result.book

    @property
    def digest(self) -> str:
        """Twelve letters that stand for the text; every printed page bears them."""
        return self._result.digest

    @property
    def files(self) -> tuple[str, ...]:
        """The files that were read, the rig file first."""
        return tuple(self._result.texts)

    def check(self) -> "list[FindingFacts]":
        """What is wrong in the rig, the gravest first, with every way out tried.

        An empty list does not call the rig safe: nothing was found under the rule book.
        """
        return _findings(self._result)

    @cached_property
    def answers(self) -> Answers:
        """The questions that may be put to the rig."""
        return Answers(self._result, self._study)

    def draw(self, form: DrawingForm = "svg") -> Mapping[str, bytes]:
        """The circuit diagram, by file name; a file a page unless it is a PDF."""
        from rigfolio.folio import drawing
        from rigfolio.judgement import job_of
        from rigfolio.sheet import sheet_of

        return drawing(job_of(self._result), sheet_of("draw"), form)


def load(
    path: str | os.PathLike[str], *, text: str | None = None, rules: str | None = None
) -> LoadedRig:
    """Read and judge a rig file with all that it includes.

    Parameters
    ----------
    path : str or path
        The rig file.
    text : str, optional
        What the file says, where it has been read already; `path` is only its name then.
    rules : str, optional
        A rule book instead of the one that the text names.

    Raises
    ------
    NotUnderstoodError
        A file cannot be read, or its text is not understood.
    RefusalError
        There is no such rule book.

    Examples
    --------
    >>> hut = '''
    ... rig "Dunlin hut"  system 12 V, rules rv
    ... battery B1  105 Ah, internal 10 mohm
    ... fuse    F1  20 A on B1+, interrupts 10 kA
    ... load    L1 "Fan"  2 A
    ... wire F1 to L1+  16 AWG red 9 ft
    ... wire L1- to B1-  12 AWG black 9 ft
    ... '''
    >>> rig = load("hut.rig", text=hut)
    >>> rig.name, rig.book, rig.files
    ('Dunlin hut', 'rv', ('hut.rig',))
    >>> [(one["rule"], one["line"], one["fix"]["text"]) for one in rig.check()]
    [('fuse-over-wire', 4, '`fuse 7.5 A`')]
    >>> list(rig.draw())
    ['schematic.svg']
    >>> try:
    ...     load("hut.rig", text=hut.replace("20 A", "20 Amper"))
    ... except NotUnderstoodError as problem:
    ...     [(one["rule"], one["line"], one["column"]) for one in problem.findings]
    [('unknown-unit', 4, 13)]
    """
    known_book(rules)
    result = check(os.fspath(path), rules or "", text=text)
    if result.study is None:
        raise NotUnderstoodError(result)
    return LoadedRig(result, result.study)


def _findings(result: Result) -> "list[FindingFacts]":
    """What was found, in the words and by the keys of the JSON."""
    told = object_of_file(result)["findings"]
    return cast("list[FindingFacts]", plain(told))
