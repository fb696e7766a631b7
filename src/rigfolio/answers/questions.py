"""Answers to what a person asks of a rig at the panel, as text or JSON; prints nothing."""

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from pathlib import Path

from rigfolio.judgement import Result, see_weighed
from rigfolio.lang import edited
from rigfolio.model import Reading
from rigfolio.refusal import RefusalError
from rigfolio.reports import Report, clean_lines, printed, written_words
from rigfolio.sizing import edits_for, keeping_found, sizes
from rigfolio.study import Study


def report_of(command: str, study: Study, *place: str) -> Report:
    """What a command answers: `short_report` of the file `short`, and so on.

    Raises
    ------
    RefusalError
        There is no such place, or several parts have its name; or too many sources for this.
    """
    found: Callable[..., Report] = getattr(
        import_module(f"{__package__}.{command}"), f"{command}_report"
    )
    return found(study, *place)


def answer(command: str, study: Study, *place: str, as_json: bool = False) -> str:
    """What a command answers: lines for people, or JSON.

    Raises
    ------
    RefusalError
        There is no such place, or several parts have its name.
    """
    return printed(report_of(command, study, *place), is_json=as_json)


def diagnosis(study: Study, readings: Sequence[Reading], told: Sequence[str] = ()) -> Report:
    """What readings say of the faults of a rig.

    `told` is what is to be known of the readings.

    Raises
    ------
    RefusalError
        There are no readings, or too many sources for a search.
    """
    from rigfolio.answers.diagnose import diagnosis_report

    if not readings:
        raise RefusalError("reading-not-understood", "no reading was given", "`'P1.3 = 11.2 V'`")
    see_weighed(study.rig, "diagnose")
    return diagnosis_report(study, readings, told)


def arranging(result: Result, *, as_json: bool = False) -> tuple[str, Mapping[Path, bytes]]:
    """A proposed slot order as lines or JSON, and the texts with the slots renumbered.

    Raises
    ------
    ValueError
        The text was not understood, or has changed since it was read.
    OSError
        A text cannot be read again.
    UnprovedError
        The optimum was not proved within the steps that a search may take.
    """
    from rigfolio.answers.arrange import arrangements, arranging_report, slot_edits

    study = result.study
    if study is None:
        raise ValueError(result.file)
    found = arrangements(study)
    contents: dict[Path, bytes] = {}
    for file, edits in slot_edits(study.rig, result.texts, found).items():
        path = Path(file)
        contents[path] = edited(path.read_bytes(), result.texts[file], edits)
    return printed(arranging_report(study, found), is_json=as_json), contents


def sized(result: Result) -> tuple[Mapping[Path, bytes], str]:
    """The texts of a rig with what `size` proposes written in, and what is left to be done by hand.

    Raises
    ------
    OSError
        A text cannot be read again; a text that came through a pipe never can.
    ValueError
        A text has changed since it was read, or was not understood.
    """
    study = result.study
    if study is None:
        raise ValueError(result.file)
    writing = edits_for(study, result.texts, sizes(study))
    contents: dict[Path, bytes] = {}
    for file, edits in keeping_found(study.rig, writing.edits).items():
        if edits:
            path = Path(file)
            contents[path] = edited(path.read_bytes(), result.texts[file], edits)
    told = written_words(contents) or clean_lines(["nothing had to be written"])
    told += clean_lines(f"left to be written by hand: {line}" for line in writing.by_hand)
    return contents, told
