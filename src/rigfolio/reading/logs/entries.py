"""What makes a line an entry of a log, whatever the rig looks like in which it was written."""

import datetime
import re

from rigfolio.lang import NotReadError, Passage, bare_readings, outside, reading_amount
from rigfolio.wording import complaint

_DATE = re.compile(r"(\d{4}-\d{2}-\d{2})(?=\s|$)\s*")
_DONE = re.compile(r"done\b")


def date_of(line: str) -> str:
    """The day that an entry begins with; empty where it begins with none."""
    found = _DATE.match(line)
    return found.group(1) if found else ""


def dated(said: Passage) -> tuple[str, Passage]:
    """The day of an entry, and the rest of it.

    Raises
    ------
    NotReadError
        There is no such day.
    """
    date = date_of(said.text)
    if date:
        try:
            datetime.date.fromisoformat(date)
        except ValueError:
            broken = said.part(0, len(date))
            raise broken.wrong(f"`{date}` is in no calendar", "`2026-03-14`") from None
    return date, said.part(len(date))


def work_done(body: Passage) -> str | None:
    """What an entry says was done; None where it says something else.

    Raises
    ------
    NotReadError
        It says that something was done, and not what.
    """
    if not _DONE.match(body.text):
        return None
    work = body.part(4).text.strip('"').strip()
    if not work:
        raise body.wrong("`done` and nothing that was done", '`done "what was done"`')
    return work


def is_entry(said: Passage) -> bool:
    """Whether a line is written as a reading or a symptom, of whatever part.

    What is at fault with one that is not understood is then what it names: the rig has no such
    part, or not any more.
    """
    try:
        _, body = dated(said)
        equals = outside(body.text, "=")
        if equals is not None:
            reading_amount(body.part(equals + 1))
            return True
    except NotReadError:
        return False
    is_seen = complaint(body, bool, lambda _: True) is not None
    return is_seen or any(left.text for left, _ in bare_readings(body))
