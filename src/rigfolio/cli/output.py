"""What the printing commands share: judged, rendered, written, and what was lost is said."""

import sys
from argparse import Namespace
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from rigfolio.cli.parts import ends_soon, judged, not_understood, put, spared
from rigfolio.cli.terminal import say
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.sheet import sheet_facts, sheet_of

if TYPE_CHECKING:
    from rigfolio.job import Again, Job, Wish
    from rigfolio.judgement import Result

    Render = Callable[[Job], Mapping[str, bytes]]
    Widen = Callable[[Wish, Result], Wish]

_WITH_FINDINGS = frozenset({"at_the_panel", "findings", "work_plan"})
"""The sheets that print what was found; ways out are tried before."""


def print_sheet(given: Namespace, widen: "Widen | None" = None) -> int:
    """Print the sheet of a command, as PDF and as a table where it is one."""
    from rigfolio.folio import form_of, sheet

    end = suffix_of(given.out, ".pdf", ".csv")
    if end != ".csv":
        form_of(given.out, "pdf")
    name = sheet_of(given.command, getattr(given, "form", ""))
    return print_documents(
        given, (name,), lambda job: ending_in(end, sheet(job, name), given), widen
    )


def suffix_of(out: str | None, *known: str) -> str:
    """How a named file ends, if it is one of these ends; empty for all that there is."""
    end = (out or "").lower()[-4:]
    return end if end in known else ""


def ending_in(suffix: str, documents: Mapping[str, bytes], given: Namespace) -> dict[str, bytes]:
    """The documents whose names end in a suffix; all of them where it is empty.

    Raises
    ------
    RefusalError
        There is none.
    """
    kept = {name: content for name, content in documents.items() if name.endswith(suffix)}
    if not kept:
        headline = f"`{given.command}` has no table to write into `{given.out}`"
        raise RefusalError("format-not-plain", headline, "`.pdf`")
    return kept


def print_documents(
    given: Namespace, sheets: Sequence[str], render: "Render", widen: "Widen | None" = None
) -> int:
    """Render all documents, then write them; nothing is written if the text is not understood.

    Parameters
    ----------
    given : Namespace
        The arguments of the command.
    sheets : sequence of str
        The modules of the sheets that are printed.
    render : callable
        Gives the documents by file name; none where nothing of what it prints changed since the
        version that was named.
    widen : callable, optional
        Adds what this command alone may be asked for to what every sheet may.
    """
    from rigfolio.folio import beyond, placed
    from rigfolio.judgement import CAUTION, summary, tried_for_print
    from rigfolio.reports import clean

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    ends_soon(given)
    if _WITH_FINDINGS & set(sheets):
        result = tried_for_print(result)
    job = job_for(given, sheets, result, widen)
    if job is None:
        return 2
    since = job.wish.since
    is_same = since is not None and not (
        since.labels or since.tags or since.sheets or since.tags_off
    )
    documents = {} if is_same else render(job)
    if not documents:
        say(sys.stdout, f"nothing of this changed since `{clean(given.since)}`: nothing written\n")
        return 0
    spared(given.out, result.texts)
    put(placed(documents, given.file, given.command, given.out), result.texts)
    for line in beyond(job, sheets):
        say(sys.stderr, f"{clean(line)} once it is made up for, and lost there\n")
    say(sys.stderr, f"{summary(result)}\n{CAUTION}\n")
    return 0


def job_for(
    given: Namespace, sheets: Sequence[str], result: "Result", widen: "Widen | None" = None
) -> "Job | None":
    """What the sheets are given; None where a log beside the rig was not understood."""
    from rigfolio.judgement import job_of

    facts = [sheet_facts(name) for name in sheets]
    job = job_of(result)
    if any(each.shows_the_log for each in facts) and given.file != "-":
        from rigfolio.answers import logged
        from rigfolio.reports import clean

        heard = logged(result)
        if heard.found:
            not_understood(heard.as_result)
            return None
        say(sys.stderr, "".join(f"{clean(each)}\n" for each in heard.told))
        job = replace(job, log=heard.log)
    wish = _wish(given, result)
    job = replace(job, wish=widen(wish, result) if widen is not None else wish)
    if any(each.shows_pictures for each in facts) and job.rig.photos:
        from rigfolio.folio import taken

        job = replace(job, pictures=taken(result))
    return job


def _wish(given: Namespace, result: "Result") -> "Wish":
    """What may be asked of every sheet, beside what the text says."""
    from rigfolio.cli.wishes import chosen, correction, paper_of
    from rigfolio.job import Wish

    paper = paper_of(given.paper).name if given.paper else ""
    at_parts = getattr(given, "at_parts", False)
    only = asked = chosen(result, getattr(given, "only", None) or "", at_parts=at_parts)
    since = _since(given, result)
    if since is not None:
        only |= frozenset((*since.labels, *since.wires, *since.tags))
    return Wish(paper, only, since, correction(given.measured), asked=asked)


def _since(given: Namespace, result: "Result") -> "Again | None":
    """What has to be printed again since an earlier version; None where none was named."""
    named = getattr(given, "since", None)
    if not named:
        return None
    from rigfolio.folio import compared, understood

    _, again = compared(understood(named, given.rules or ""), result)
    return again
