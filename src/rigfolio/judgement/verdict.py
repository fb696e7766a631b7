"""What is said of one rig file, as text: small, for travel between processes and to be kept."""

from collections.abc import Iterable, Mapping
from typing import Literal

from rigfolio.findings import Severity
from rigfolio.judgement.many import FIRST, check_tried
from rigfolio.judgement.messages import (
    as_lines,
    as_text,
    closing_lines,
    messages,
    number_words,
    summary_lines,
)
from rigfolio.judgement.result import Result
from rigfolio.record import record, replace

VerdictForm = Literal["text", "lines", "summary", "json"]


@record
class Asking:
    """How rig files are judged, and how it is told: all that a verdict follows from but the texts.

    `colours` tells whether what is said, and what is not understood, is painted. `every` is as for
    `as_text`.
    """

    book: str = ""
    form: VerdictForm = "text"
    fail_on: Severity = Severity.UNKNOWN
    every: bool = False
    colours: tuple[bool, bool] = (False, False)


@record
class RigVerdict:
    """What is said of one rig file.

    `said` are the findings as they are printed, `errors` why the text was not understood, `closing`
    the lines that stand below the findings of all files. `counts` are the findings by severity,
    then those of them that are accepted. `is_judged` tells whether anything was judged, `of` are
    the name of the rig and its rule book then.
    """

    file: str
    said: str
    errors: str
    closing: tuple[str, ...]
    exit_code: int
    counts: tuple[int, ...]
    is_judged: bool
    of: tuple[str, str] | None = None

    @property
    def is_clean(self) -> bool:
        """Whether nothing at all was found."""
        return not any(self.counts)


def verdict_of(file: str, asking: Asking) -> tuple[RigVerdict, Mapping[str, bytes]]:
    """Judge a rig file, and the bytes of the files that were read for it; none for a pipe."""
    most = {"text": FIRST, "json": None}.get(asking.form, 0)
    result = check_tried(file, asking.book, most)
    said, errors, closing, is_judged = _told(result, asking)
    counts = [sum(one.severity is each for one in result.findings) for each in Severity]
    counts.append(sum(one.accepted is not None for one in result.findings))
    made = RigVerdict(
        file, said, errors, closing, result.ends_with(asking.fail_on), tuple(counts), is_judged,
        result.rig_and_book,
    )  # fmt: skip
    return made, result.raw


def _told(result: Result, asking: Asking) -> tuple[str, str, tuple[str, ...], bool]:
    """The findings, the errors, the lines below all, and whether anything was judged."""
    is_judged = result.study is not None
    match asking.form:
        case "json":
            from rigfolio.judgement.messages import json_of_file

            return json_of_file(result, asking.fail_on), "", (), is_judged
        case "lines":
            return as_lines([result]), "", (), is_judged
        case "summary":
            lines = summary_lines(result, every=asking.every)
            return "".join(f"{line}\n" for line in lines), "", (), is_judged
        case _:
            return _as_text(result, asking)


def _as_text(result: Result, asking: Asking) -> tuple[str, str, tuple[str, ...], bool]:
    """Of a text that is not understood the errors, and apart from them what is whole in it."""
    errors = ""
    if result.study is None:
        from rigfolio.judgement.trial import tried
        from rigfolio.judgement.whole import whole_of

        whole = whole_of(result)
        left_out = whole.left_out if whole is not None else 0
        broken = tried(replace(result, left_out=left_out), FIRST)
        errors = as_text([broken], colour=asking.colours[1])
        if whole is None:
            return "", errors, (), False
        result = tried(whole, FIRST)
    said = messages(result, colour=asking.colours[0], every=asking.every)
    return said, errors, tuple(closing_lines(result)), True


def total(verdicts: Iterable[RigVerdict]) -> str:
    """One line on many rigs: how many there are, what was found in them, in how many.

    Examples
    --------
    >>> one = RigVerdict("a.rig", "", "", (), 1, (0, 2, 1, 0, 0, 1), True)
    >>> total([one, one, replace(one, counts=(0,) * 6)])
    '3 rigs: 4 dangers, 2 faults (2 of them accepted) in 2 of them'
    """
    rigs = found = broken = 0
    sums = [0] * (len(Severity) + 1)
    for one in verdicts:
        rigs += 1
        found += not one.is_clean
        broken += not one.is_judged or one.counts[0] > 0
        sums = [before + more for before, more in zip(sums, one.counts, strict=True)]
    numbers = dict(zip(Severity, sums, strict=False))
    words = number_words(numbers, sums[-1])
    told = f"{'1 rig' if rigs == 1 else f'{rigs} rigs'}: "
    told += f"{words} in {found} of them" if words else "no findings"
    return f"{told}; {broken} not understood" if broken else told
