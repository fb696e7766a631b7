"""Rigs that were written from the reference alone, with mistakes and sound variations by hand.

`NAME.rig` is a sound rig. `NAME.cases` holds blocks: a title, `-` lines of the rig and the `+`
lines that stand there instead, what is expected by hand, and the hand calculation. A line with
blanks of its own in front, or behind `+|`, stands as it is written; any other as deep as the line
that it replaces.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

HERE = Path(__file__).parent
_EXPECT = re.compile(r'expect (?:(nothing)|(danger|fault|unknown|advice) at "(.+)")$')


@dataclass
class CorpusCase:
    """One mistake or sound variation: where it is written, its edits, what is expected."""

    rig: Path
    title: str
    edits: list[tuple[str, list[str]]] = field(default_factory=list)
    severity: str = ""
    at: str = ""
    hand: str = ""

    @property
    def is_sound(self) -> bool:
        """Whether nothing above advice may be found."""
        return not self.severity

    def text(self) -> str:
        """The rig with the edits made.

        Raises
        ------
        ValueError
            A line is not in the rig, or more than once.
        """
        lines = self.rig.read_text(encoding="utf-8").split("\n")
        for old, new in self.edits:
            found = [at for at, line in enumerate(lines) if line.strip() == old]
            if len(found) != 1:
                raise ValueError(f"{self.rig.stem}, {self.title}: {len(found)} lines are `{old}`")
            (at,) = found
            indent = lines[at][: len(lines[at]) - len(lines[at].lstrip())]
            lines[at : at + 1] = [_laid(line, indent) for line in new]
        return "\n".join(lines)


def _laid(line: str, indent: str) -> str:
    return line.removeprefix("|") if line[:1] in ("|", " ") else indent + line


def cases_of(file: Path) -> Iterator[CorpusCase]:
    """The cases of one file.

    Raises
    ------
    ValueError
        A line says nothing that is known.
    """
    case: CorpusCase | None = None
    for number, line in enumerate(file.read_text(encoding="utf-8").split("\n"), start=1):
        if line.startswith("== "):
            if case is not None:
                yield case
            case = CorpusCase(file.with_suffix(".rig"), line[3:])
        elif case is None or not line.strip() or line.startswith("#"):
            continue
        elif line.startswith("-"):
            case.edits.append((line[1:].strip(), []))
        elif line.startswith("+"):
            case.edits[-1][1].append(line[1:].removeprefix(" "))
        elif expected := _EXPECT.match(line.strip()):
            case.severity, case.at = expected[2] or "", expected[3] or ""
        elif line.startswith("hand:") or case.hand:
            case.hand += line.removeprefix("hand:")
        else:
            raise ValueError(f"{file.name}:{number}: {line}")
    if case is not None:
        yield case


RIGS = tuple(sorted(HERE.glob("*.rig")))
CASES = tuple(case for file in sorted(HERE.glob("*.cases")) for case in cases_of(file))
