"""Every command and sheet tried on a grown rig: an answer, or a refusal in words."""

import contextlib
import io
import os
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

from fuzz.grown_rigs import grown, whole
from rigfolio.cli.entry import main
from rigfolio.job import Job
from rigfolio.judgement import check
from rigfolio.schematic import sheet as schematic

COMMANDS = (
    ("check",), ("check", "--format", "json"), ("check", "--fix"), ("size",), ("demand",),
    ("live",), ("arrange",), ("isolate", "P1"), ("short", "P1"), ("diagnose", "P1 = 11.2 V"),
    ("name",), ("format",), ("compare", "x.rig"), ("folio", "--sheets", "all"), ("folio",),
    ("draw", "-o", "d.dot"), ("draw", "-o", "d.png"), ("page",), ("labels",), ("tags",),
    ("survey",), ("testsheet",), ("workplan",), ("picklist",), ("wirelist",), ("legend",),
    ("directory",), ("face",),
)  # fmt: skip
"""As they are typed; the rig file follows the name of the command."""


def understood(seed: int) -> str:
    """A grown rig without the lines that were not understood, so that the rest is tried, too."""
    text = grown(seed)
    for _ in range(8):
        result = check("x.rig", text=text)
        if result.study is not None:
            break
        errors = {text.count("\n", 0, one.at.span.start) + 1 for one in result.findings}
        text = whole(text, errors)
    return text


def failures(text: str | bytes, commands: tuple[tuple[str, ...], ...] = COMMANDS) -> Iterator[str]:
    """What the commands did to a text that they never should; it is run in the folder of today."""
    Path("x.rig").write_bytes(text if isinstance(text, bytes) else text.encode())
    with laid_out_once():
        yield from _failures(commands)


def _failures(commands: tuple[tuple[str, ...], ...]) -> Iterator[str]:
    for name, *rest in commands:
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = main([name, "x.rig", *rest])
        told = out.getvalue() + err.getvalue()
        words = " ".join((name, *rest))
        if code not in (0, 1, 2):
            yield f"{words}: ended with {code}: {told[-300:]}"
        if "Traceback" in told or "cannot judge: rule `" in told:
            at = max(told.find("Traceback"), told.find("cannot judge: rule `"))
            yield f"{words}: {told[at : at + 300]}"


@contextlib.contextmanager
def laid_out_once() -> Iterator[None]:
    """Lay a diagram out once, whichever commands draw it; each makes pages of it by itself.

    It is the most of what four of them do, for the same rig on the same paper.
    """
    new, lay = schematic.Composer, schematic._laid
    composers: dict[object, schematic.Composer] = {}
    laid: dict[int, object] = {}

    def composer(job: Job, graph: object, room: object, notes: object) -> schematic.Composer:
        key = (job.rig.digest, room)
        if key not in composers:
            composers[key] = new(job, graph, room, notes)
        return composers[key]

    def layout(composer: schematic.Composer, graph: object) -> object:
        if id(composer) not in laid:
            laid[id(composer)] = lay(composer, graph)
        return laid[id(composer)]

    with mock.patch.multiple(schematic, Composer=composer, _laid=layout):
        yield


@contextlib.contextmanager
def inside(folder: str) -> Iterator[None]:
    """Work in a folder for a while."""
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)
