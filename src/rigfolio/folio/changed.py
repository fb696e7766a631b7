"""Which sheets of two versions of a rig say something else."""

from rigfolio.compare import is_same_but_for_places
from rigfolio.folio.documents import Documents, module_of, title_of
from rigfolio.job import Job
from rigfolio.record import keep_together, once, replace
from rigfolio.sheet import look_alike, sheets_bound


def changed_sheets(old: Job, new: Job) -> tuple[str, ...]:
    """Titles of the sheets that say something else now, the strip at their foot left aside.

    A sheet is compared by what it is made from, and laid out only where that does not decide.
    """
    if is_one_text(old, new):
        return ()
    was, now = bare(old), bare(new)
    if _others_of(was) == _others_of(now) and is_same_but_for_places(_of_text(was), _of_text(now)):
        return ()
    laid = Documents(was), Documents(now)
    names = [name for name in sheets_bound() if laid[0].has(name) and laid[1].has(name)]
    if (was.paper, was.strip) != (now.paper, now.strip):
        return tuple(title_of(name) for name in names)
    return tuple(title_of(name) for name in names if _looks_other(name, *laid))


def is_one_text(old: Job, new: Job) -> bool:
    """Whether two versions were read from the same text and judged by the same rule book."""
    return bool(old.texts) and (old.texts, old.study.book.name) == (new.texts, new.study.book.name)


@once
def bare(job: Job) -> Job:
    """The job without what stands in the strip alone, or is of the text and not of the rig."""
    rig = replace(job.rig, digest="", revised="", revision="")
    keep_together(job.rig, rig)
    return replace(job, rig=rig)


def _of_text(job: Job) -> object:
    """What a sheet may be made from wherever in the text it stands."""
    return job.rig, job.findings, job.log


def _others_of(job: Job) -> object:
    """All else that a sheet may be made from."""
    return job.study.book.name, job.pictures, job.wish


def _looks_other(name: str, was: Documents, now: Documents) -> bool:
    content = getattr(module_of(name), "content", None)
    if content is None:
        return was.pages(name) != now.pages(name)
    return not look_alike(content(was.job), content(now.job))
