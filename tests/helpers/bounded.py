"""A command in a process of its own, which the system ends where it takes far too much."""

import resource
import subprocess
import sys
from pathlib import Path

from helpers.home import environment

_TOLD = (
    "import sys\n"
    "from pathlib import Path\n"
    "from rigfolio.cli.entry import main\n"
    "code = main(sys.argv[1:])\n"
    # The peak of this program alone: what `getrusage` tells begins with that of the process which
    # was copied to start it.
    "told = Path('/proc/self/status').read_text().split('VmHWM:')[1].split()[0]\n"
    "print(code, told, file=sys.stderr)\n"
)


def bounded(
    *words: str, folder: Path, most_s: int = 60, most_bytes: int = 4_000_000_000
) -> tuple[int, int, str]:
    """The exit code of a command, its peak [kB], and what it said of what went wrong.

    Parameters
    ----------
    words : str
        The command and what it is given.
    folder : Path
        Where it runs.
    most_s : int
        Seconds of the processor, beyond which it is ended [s].
    most_bytes : int
        Memory that it is not given more of [B].
    """

    def limits() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (most_s, most_s))
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))

    done = subprocess.run(
        [sys.executable, "-c", _TOLD, *words], cwd=folder, env=environment(), text=True,
        capture_output=True, check=True, preexec_fn=limits,
    )  # fmt: skip
    said, _, told = done.stderr.rstrip("\n").rpartition("\n")
    code, peak_kb = told.split()
    return int(code), int(peak_kb), said
