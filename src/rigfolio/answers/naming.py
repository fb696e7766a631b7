"""Names written into the text of a rig for the wires that have none there.

A text that was never through this gets the numbers that its wires once had by their turn, `W3` and
`P1.6/2`, for those are on the tags that were printed; an older version of it, where it is given,
tells which number each wire had there. Whatever is new gets W and a number above every one that was
ever used: in the text, in the older version, in the log, in `tags used to W57` of the head, which
is written there so that the number of a wire that is gone never comes again.
"""

import re
from collections.abc import Iterator, Mapping

from rigfolio.answers.logbook import log_lines, log_path
from rigfolio.compare import same_wires
from rigfolio.findings import Edit, Span
from rigfolio.judgement import Result, differences
from rigfolio.model import Rig, wire_number
from rigfolio.record import record
from rigfolio.reports import clean

_MENTIONED = re.compile(r"\bW[1-9][0-9]{0,5}\b", re.IGNORECASE | re.ASCII)
_HEAD = re.compile(r"rig\b", re.IGNORECASE)
_INDENT = re.compile(r"[ \t]+(?=\S)")
_PLAIN = re.compile(r"[^\W\d]\w*", re.ASCII)


@record
class Naming:
    """The edits that write names into the texts of a rig, by file, and which names.

    `names` are what wires are called and what they are called then; `used_to` the greatest number
    in use; `has_head` whether there is a `rig` line that keeps it.
    """

    edits: Mapping[str, tuple[Edit, ...]]
    names: tuple[tuple[str, str], ...]
    used_to: int
    has_head: bool


def naming_of(
    result: Result, rig: Rig, older: Rig | None = None, *, as_called: bool = False
) -> Naming:
    """Which names go into the text, and where.

    Parameters
    ----------
    result : Result
        The texts as they were read.
    rig : Rig
        What they say.
    older : Rig, optional
        An older version of it: a wire that is in both gets the name that it had there.
    as_called : bool
        Write what the wires are called by now, in the place of numbers.
    """
    most = max(_used(rig, older, result), default=0)
    numbers = _Numbers(rig, most)
    names: list[tuple[str, str]] = []
    edits: dict[str, list[Edit]] = {}
    glued = _glued(rig, older)
    # A circuit that starts at no slot is told by its label: a number there would tell nothing.
    loose = [circuit for circuit in rig.circuits if not circuit.slot and circuit.label]
    of_labels = {name for circuit in loose for name in (*circuit.wires, *circuit.returns)}
    for one in rig.nameless:
        if one.name == one.turn:
            # By the slot that it lands in: it stays what it is, whatever is written above it.
            continue
        is_kept = as_called or (older is None and one.name in of_labels)
        name = one.name if is_kept else numbers.free(glued.get(one.name, ""))
        names.append((one.name, name))
        end = Span(one.span.file, one.span.end, one.span.end)
        edits.setdefault(end.file, []).append(Edit(end, f", tag {_written(name)}"))
    head = _head(result, rig, numbers.most)
    if head is not None:
        edits.setdefault(head.span.file, []).append(head)
    has_head = _has_head(result, rig)
    return Naming({f: tuple(e) for f, e in edits.items()}, tuple(names), numbers.most, has_head)


def naming_told(result: Result, found: Naming, *, is_written: bool) -> str:
    """The difference that the names make in the texts, and what is to be known of it."""
    lines = [] if is_written else list(differences(result.texts, found.edits, "named"))
    count = len(found.names)
    wires = "1 wire gets its name" if count == 1 else f"{count} wires get their names"
    said = wires if count else "every wire has its name in the text or by the slot it lands in"
    lines.append(f"{clean(result.file)}: {said}")
    renamed = [f"{was} is {now}" for was, now in found.names if was != now]
    if is_written and renamed:
        lines.append(f"renamed, print their tags again: {clean(', '.join(renamed))}")
    if found.used_to and not found.has_head:
        lines.append(
            f"W{found.used_to} is the greatest number in use, and there is no `rig` line that "
            "keeps it: write one, or a number may come twice"
        )
    if found.edits and not is_written:
        lines.append("nothing was written; `--write` puts it into the text")
    return "\n".join(lines) + "\n"


class _Numbers:
    """Names that are free; the numbers above every one that was ever used."""

    def __init__(self, rig: Rig, most: int) -> None:
        self.most = most
        own = {one.name for one in rig.nameless}
        self.taken = {wire.name.casefold() for wire in rig.conductors if wire.name not in own}
        self.taken |= {device.about.name.casefold() for device in rig.devices}
        self.taken |= {name.casefold() for name in rig.where}

    def free(self, wished: str) -> str:
        """The name that is wished for, or the next number where that is taken or none is."""
        name = wished
        while not name or name.casefold() in self.taken:
            self.most += 1
            name = f"W{self.most}"
        self.most = max(self.most, wire_number(name))
        self.taken.add(name.casefold())
        return name


def _glued(rig: Rig, older: Rig | None) -> Mapping[str, str]:
    """What the tags on nameless wires say, as far as that can be known, by their names."""
    if older is None:
        return {} if rig.used_to else {one.name: one.turn for one in rig.nameless}
    turns = {one.name: one.turn for one in older.nameless} if not older.used_to else {}
    return {now: turns.get(was, was) for now, was in same_wires(older, rig).items()}


def _used(rig: Rig, older: Rig | None, result: Result) -> Iterator[int]:
    """Every W number that is known to have been given to a wire."""
    for version in (rig,) if older is None else (rig, older):
        yield version.used_to
        yield from (wire_number(wire.name) for wire in version.conductors)
        if not version.used_to:
            yield from (wire_number(one.turn) for one in version.nameless)
    path = log_path(result.file)
    if path.is_file():
        for line in log_lines(path):
            yield from (wire_number(found) for found in _MENTIONED.findall(line))


def _written(name: str) -> str:
    """A name as the language takes it."""
    return name if _PLAIN.fullmatch(name) else f'"{name}"'


def _has_head(result: Result, rig: Rig) -> bool:
    text = result.texts.get(rig.span.file, "")
    return _HEAD.match(text, rig.span.start) is not None


def _head(result: Result, rig: Rig, most: int) -> Edit | None:
    """The greatest number, written into the head of the rig."""
    if most <= rig.used_to or not _has_head(result, rig):
        return None
    words = f"tags used to W{most}"
    if rig.used_at is not None:
        return Edit(rig.used_at, words)
    file, text = rig.span.file, result.texts[rig.span.file]
    end = text.find("\n", rig.span.end)
    end = len(text) if end < 0 else end
    below = _INDENT.match(text, end + 1)
    line = "\r\n" if text[:end].endswith("\r") or (end == len(text) and "\r\n" in text) else "\n"
    end -= text[:end].endswith("\r")
    indent = below[0] if below is not None else "    "
    return Edit(Span(file, end, end), f"{line}{indent}{words}")
