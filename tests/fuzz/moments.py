"""Commands that write, and what becomes of their files when something happens at one moment."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

from helpers.forgotten import cache
from helpers.home import EXAMPLES, environment

RIG = "x.rig"
TEXT = (
    (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    .replace("16 AWG pink 10 ft", "16 AWG  pink 10 ft").replace(", tag W9", "")
    .replace('"Bath fan and lamp"      fuse 5 A', '"Bath fan and lamp"      fuse 20 A')
)  # fmt: skip
"""A rig with something to mend, to name, to size and to lay out."""
OLDER = TEXT.replace("18 ft", "19 ft")
WRITERS = {
    "directory": ("-o", "d.pdf"), "draw": ("-o", "d.svg"), "survey": ("-o", "set"),
    "folio": ("--sheets", "survey,test-sheet", "-o", "set"),
    "log": ("--on", "2026-03-14", "P1.3 = 12.4 V"), "check": ("--fix", "--write"),
    "name": ("--write",), "size": ("--write",), "format": (),
}  # fmt: skip
"""What each of them is told behind the rig."""
INTO_TEXT = ("check", "name", "size", "format")
"""Those that write into the rig itself."""
MARK = b"# edited\n"

# Whatever the interpreter tells of is a moment: a file opened, moved or taken away, a module read,
# a process made. It is counted from where the program begins, in the process that was started
# (`own`) or in those that it makes.
_MOMENT = f"""
import os, runpy, signal, sys
doing, at, whom = sys.argv[1], int(sys.argv[2]), sys.argv[3]
del sys.argv[1:4]
own, count, begun, end = os.getpid(), 0, False, os._exit
def edit(how):
    with open({RIG!r}, "rb") as file:
        content = file.read() + {MARK!r}
    if how == "half":
        content = content[: len(content) // 2]
    place = ".edited" if how == "moved" else {RIG!r}
    with open(place, "wb") as file:
        file.write(content)
    if how == "moved":
        os.replace(place, {RIG!r})
def hook(event, given):
    global count, begun
    begun = begun or (event == "import" and given[0] == "rigfolio.cli")
    if not begun or (os.getpid() == own) != (whom == "own"):
        return
    count += 1
    if count == at and doing in ("half", "moved", "there"):
        edit(doing)
        os.write(2, b"\\nedited before %s\\n" % event.encode())
    elif count == at and doing != "nothing":
        os.kill(os.getpid(), int(doing))
def ended(code):
    if doing == "nothing" and os.getpid() == own:
        os.write(2, b"\\nmoments %d" % count)
    end(code)
os._exit = ended
sys.addaudithook(hook)
runpy.run_module("rigfolio", run_name="__main__")
"""


class Ended(NamedTuple):
    """How a command ended and what it said."""

    code: int
    told: str


class Before(NamedTuple):
    """A folder before a command, and after it where nothing happens to it."""

    files: Mapping[str, bytes]
    after: Mapping[str, bytes]
    code: int
    moments: int


def words(name: str, doing: object = None, at: int = 0, whom: str = "own") -> list[str]:
    """The command line of a writer; where it says what is done, at a moment, that happens."""
    how = ["-m", "rigfolio"] if doing is None else ["-c", _MOMENT, str(doing), str(at), whom]
    return [sys.executable, *how, name, RIG, *WRITERS[name]]


def ended(
    line: list[str], folder: str, stdout: int = subprocess.PIPE,
    first: Callable[[], None] | None = None,
) -> Ended:  # fmt: skip
    """Run a command line to its end, and to that of all processes that it has made."""
    done = subprocess.run(
        line, cwd=folder, env=environment(), stdout=stdout, stderr=subprocess.PIPE, text=True,
        stdin=subprocess.DEVNULL, check=False, errors="replace", preexec_fn=first,
    )  # fmt: skip
    return Ended(done.returncode, (done.stdout or "") + done.stderr)


def held(folder: str) -> dict[str, bytes]:
    """What the files of a folder hold, by their places in it."""
    return {
        os.path.relpath(path, folder): path.read_bytes()
        for path in sorted(Path(folder).rglob("*"))
        if path.is_file()
    }


def lay(folder: str, files: Mapping[str, bytes]) -> None:
    """Put files into a folder."""
    for place, content in files.items():
        path = Path(folder, place)
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)


@cache
def before(name: str, *, is_first: bool) -> Before:
    """A folder for a writer: with the rig alone, or with what it made of an older version, too."""
    with tempfile.TemporaryDirectory() as folder:
        if not is_first and name not in INTO_TEXT:
            lay(folder, {RIG: OLDER.encode()})
            ended(words(name), folder)
        lay(folder, {RIG: TEXT.encode()})
        files = held(folder)
        done = ended(words(name, "nothing"), folder)
        moments = int(done.told.rpartition("moments ")[2])
        after = held(folder)
    if after == files or done.code not in (0, 1):
        raise ValueError(f"{name} wrote nothing: {done}")
    return Before(files, after, done.code, moments)


def unsaid(done: Ended) -> list[str]:
    """What no command may say or do, whatever happens to it."""
    bad = [word for word in ("Traceback", "rigfolio has a bug") if word in done.told]
    return [f"{word}: {done.told[-600:]}" for word in bad]
