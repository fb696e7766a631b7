"""Commands in processes of their own, without the time that each of them takes to start.

One process reads what every check needs, and waits; each command is run by a copy of it, which has
a memory, streams and a folder of its own and has seen no other command. Where the interpreter
itself has a part in what is tried (its options, its seed, how it starts), a test starts one.
"""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType

from helpers.home import environment

_WAITING = """
import json, os, sys, traceback

hidden = set(sys.argv[1].split())

class Hider:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in hidden:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)

sys.meta_path.insert(0, Hider())
from helpers.plover import PLOVER
from rigfolio.cli import main
from rigfolio.judgement import as_text, check
# Reads what every check needs.
as_text([check("plover.rig", text=PLOVER)])

def into(number, *place):
    file = os.open(os.path.join(*place), os.O_WRONLY | os.O_CREAT)
    os.dup2(file, number)
    os.close(file)

def answer(asked):
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    os.chdir(asked["folder"])
    for limit, most in asked["limits"].items():
        if most:
            import resource
            resource.setrlimit(getattr(resource, limit), (most, most))
    codes = []
    for number, words in enumerate(asked["commands"]):
        into(1, asked["streams"], f"{number}.out")
        into(2, asked["streams"], f"{number}.err")
        codes.append(main(words))
        sys.stdout.flush()
        sys.stderr.flush()
    loaded = hidden & {name.partition(".")[0] for name in sys.modules}
    assert not loaded, loaded
    peak_kb = 0
    if sys.platform == "linux":
        # The peak of this program alone: what `getrusage` tells begins with that of the process
        # which was copied to start it.
        with open("/proc/self/status") as file:
            peak_kb = int(file.read().split("VmHWM:")[1].split()[0])
    with open(os.path.join(asked["streams"], "told"), "w") as file:
        json.dump([codes, peak_kb], file)

for line in sys.stdin:
    copy = os.fork() if hasattr(os, "fork") else 0
    if not copy:
        try:
            answer(json.loads(line))
        except BaseException:
            traceback.print_exc()
            sys.stderr.flush()
        os._exit(0)
    os.waitpid(copy, 0)
    print("done", flush=True)
"""


@dataclass(frozen=True)
class Said:
    """What came of a command: its exit code and its streams, and the most memory so far [kB]."""

    code: int
    out: str
    err: str
    peak_kb: int


class Apart:
    """Runs commands in processes of their own; `hidden` libraries cannot be found by them."""

    def __init__(self, hidden: Sequence[str], surroundings: dict[str, str]) -> None:
        self._hidden = hidden
        self._surroundings = surroundings
        self._waiting: subprocess.Popen[str] | None = None

    def run(
        self, folder: Path, words: Sequence[str], *, most_s: int = 0, most_bytes: int = 0
    ) -> Said:
        """One command in a folder.

        It is ended when it has taken so many seconds of a processor, and is given no more memory
        than so much; 0 is no bound.
        """
        limits = {"RLIMIT_CPU": most_s, "RLIMIT_AS": most_bytes}
        (said,) = self.run_all(folder, [words], limits)
        return said

    def run_all(
        self,
        folder: Path,
        commands: Sequence[Sequence[str]],
        limits: Mapping[str, int] = MappingProxyType({}),
    ) -> tuple[Said, ...]:
        """Several commands one after another in the same process, within limits of the system."""
        with TemporaryDirectory() as streams:
            asked = {
                "folder": str(folder), "streams": streams, "limits": dict(limits),
                "commands": [list(words) for words in commands],
            }  # fmt: skip
            self._ask(json.dumps(asked))
            said = {file.name: file.read_text("utf-8") for file in Path(streams).iterdir()}
        assert "told" in said, f"{commands} came to no end: {said}"
        codes, peak_kb = json.loads(said["told"])
        return tuple(
            Said(code, said[f"{number}.out"], said[f"{number}.err"], peak_kb)
            for number, code in enumerate(codes)
        )

    def _ask(self, line: str) -> None:
        if self._waiting is None:
            self._waiting = subprocess.Popen(
                [sys.executable, "-c", _WAITING, " ".join(self._hidden)],
                env=self._surroundings, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            )  # fmt: skip
        assert self._waiting.stdin is not None
        assert self._waiting.stdout is not None
        self._waiting.stdin.write(f"{line}\n")
        self._waiting.stdin.flush()
        if not self._waiting.stdout.readline():
            # Where nothing can be copied it has run the command itself.
            self.close()

    def close(self) -> None:
        """End the process that waits."""
        if self._waiting is not None:
            self._waiting.communicate()
            self._waiting = None


@contextmanager
def apart(hidden: Sequence[str] = (), **more: str) -> Iterator[Apart]:
    """Commands in processes of their own, in surroundings with something more."""
    made = Apart(hidden, environment(PYTHONIOENCODING="utf-8", NO_COLOR="1", **more))
    try:
        yield made
    finally:
        made.close()
