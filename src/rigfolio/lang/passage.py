"""A stretch of a line that a person wrote, and what is wrong with one."""

import re
from collections.abc import Iterator

from rigfolio.record import record

READING_FORMS = "`P1.3 = 11.2 V`, `P1 to P1.3 = 40 mV` or `Porch lamp dead`"
"""How a reading or a symptom is written."""


class NotReadError(Exception):
    """Part of a line that cannot be read: from where to where, and what to say."""

    def __init__(self, start: int, end: int, headline: str, fix: str) -> None:
        super().__init__(headline)
        self.start, self.end, self.headline, self.fix = start, end, headline, fix


@record
class Passage:
    """A stretch of a line: its text and where that starts in the file."""

    text: str
    start: int

    def part(self, start: int, end: int | None = None) -> "Passage":
        """Some of it, without the blanks around."""
        piece = self.text[start:end]
        lead = len(piece) - len(piece.lstrip())
        return Passage(piece.strip(), self.start + start + lead)

    def wrong(self, headline: str, fix: str) -> NotReadError:
        """What is to be said of it, to be raised."""
        return NotReadError(self.start, self.start + max(1, len(self.text)), headline, fix)


def bare(text: str) -> str:
    """A name without its quotes."""
    return text.strip().strip('"').strip()


def outside(text: str, letter: str) -> int | None:
    """Where a letter stands outside of quotes first."""
    at = hidden(text).find(letter)
    return None if at < 0 else at


def hidden(text: str) -> str:
    """The text with what stands in quotes blotted out, as long as before."""
    return re.sub(r'"[^"]*"?', lambda quoted: "_" * len(quoted.group()), text)


def entry_lines(text: str) -> Iterator[Passage]:
    """The lines of a text that say something, without what stands behind `#`."""
    at = 0
    for line in text.split("\n"):
        said = Passage(line[: _comment(line)], at).part(0)
        if said.text:
            yield said
        at += len(line) + 1


def _comment(line: str) -> int:
    quoted = False
    for at, letter in enumerate(line):
        if letter == '"':
            quoted = not quoted
        elif letter == "#" and not quoted:
            return at
    return len(line)
