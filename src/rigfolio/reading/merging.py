"""What version control leaves in a text that two people changed in the same place."""

import re

from rigfolio.findings import Finding, Label, Span
from rigfolio.lang import error
from rigfolio.record import replace

_FIRST = re.compile(r"^<{7}(?: [^\r\n]*)?\r?$", re.MULTILINE)
_MIDDLE = re.compile(r"^={7}\r?$", re.MULTILINE)
_LAST = re.compile(r"^>{7}(?: [^\r\n]*)?\r?$", re.MULTILINE)


def merge_mark(text: str, file: str) -> Finding | None:
    """An answer to the first place where two versions stand in one text; None where there is none.

    All else that would be said of such a text follows from that, so it is said alone.
    """
    first = _FIRST.search(text)
    if first is None:
        return None
    middle = _MIDDLE.search(text, first.end())
    last = _LAST.search(text, middle.end() if middle else first.end())
    count = len(_FIRST.findall(text))
    places = "1 more place" if count == 2 else f"{count - 1} more places"
    more = f", here and in {places}" if count > 1 else ""
    found = error(
        "merge-not-finished",
        Span(file, first.start(), first.start() + 7),
        f"two versions stand in this text, a merge was not finished{more}",
        here="the first version begins below",
        fix="keep of each place the lines that are true at the panel, and take out the lines that "
        "begin with `<<<<<<<`, `=======` and `>>>>>>>`",
    )
    marks = [(middle, "the second one begins below"), (last, "it ends above")]
    others = [Label(Span(file, one.start(), one.start() + 7), words) for one, words in marks if one]
    return replace(found, others=tuple(others))
