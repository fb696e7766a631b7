"""Hostile texts, drawings, kills, full disks, two at once, edits while a file is read; for hours.

    python tests/benchmarks/long_fuzz.py [PART ...] [--count N] [--seed FIRST] [--long]
                                         [--seconds S] [--record FILE]

A part tries N seeds from FIRST on, or as many as S seconds of processor time allow. What fails is
told with its seed; `PART --seed SEED --count 1` does it again, but for kills at a time of the
clock. Seeds of grown rigs that are mended belong into `tests/fuzz/seeds.txt`. `--record` adds a
line for each part to a file: how many, from which seed, processor time with that of all processes
made, how many failed and which. Who runs it as root may write into protected folders: a file that
is protected is left alone even so, but a protected folder is then written to, whole.
"""

import argparse
import itertools
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import lru_cache
from pathlib import Path
from random import Random
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.hostile_texts import hostile
from fuzz.moments import (
    INTO_TEXT,
    MARK,
    RIG,
    WRITERS,
    Before,
    Ended,
    before,
    ended,
    held,
    lay,
    unsaid,
    words,
)  # fmt: skip
from fuzz.trial import COMMANDS, failures, inside, understood
from helpers.home import environment

DRAWN = tuple(
    words for words in COMMANDS
    if words[0] in ("draw", "labels", "folio", "tags", "legend", "directory", "face", "page")
)  # fmt: skip
"""Commands whose sheets hold a drawing."""
LAST = ("os.rename", "os.chmod", "os.chown")
"""Moments between the last look at a file and the new one in its place; no file system parts them
from each other for a program that takes no lock."""
SLOWEST_S = 5.0
"""Processor time of one text or drawing that is told as if it had failed [s]."""


def texts(seed: int) -> Iterator[str]:
    """A hostile text through `check`."""
    yield from failures(hostile(seed), (("check",),))


@lru_cache(maxsize=1)
def _rig(seed: int) -> str:
    return understood(seed)


def drawings(seed: int) -> Iterator[str]:
    """A grown rig through one of the commands that draw; each rig comes to all of them in turn."""
    rig, command = divmod(seed, len(DRAWN))
    for each in failures(_rig(rig), (DRAWN[command],)):
        yield f"rig {rig}, {each}"


def kills(seed: int) -> Iterator[str]:
    """A command that writes is ended by a signal: the old set or the new one, and nothing else."""
    chance = Random(seed)
    name, start = _folder(chance)
    number = chance.choice((signal.SIGKILL, signal.SIGKILL, signal.SIGINT, signal.SIGTERM))
    with tempfile.TemporaryDirectory() as folder:
        lay(folder, start.files)
        if chance.random() < 0.3:
            how, done = _ended_by_clock(chance, words(name), folder, number)
        else:
            whom, at = _moment(chance, start)
            how = f"moment {at} of {whom}"
            done = ended(words(name, int(number), at, whom), folder)
        for each in _killed(name, start, number, done, folder):
            yield f"{name}, {number.name} at {how}: {each}"


def _folder(chance: Random) -> tuple[str, Before]:
    """A command that writes, and a folder for it."""
    name = chance.choice((*WRITERS, "folio", "folio", "log"))
    return name, before(name, is_first=chance.random() < 0.5)


def _moment(chance: Random, start: Before) -> tuple[str, int]:
    """Any moment of a command, of its last ones, in which it writes, or of the process it makes."""
    if len(start.after) > len(start.files) + 1 and chance.random() < 0.3:
        return "child", chance.randrange(1, 40)
    since = 1 if chance.random() < 0.5 else max(1, start.moments - 60)
    return "own", chance.randrange(since, start.moments + 1)


def _ended_by_clock(
    chance: Random, line: list[str], folder: str, number: signal.Signals
) -> tuple[str, Ended]:
    """Send a signal after a while, which is as long as a command takes."""
    wait_s = chance.uniform(0.0, 1.6)
    with subprocess.Popen(
        line, cwd=folder, env=environment(), text=True, stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        time.sleep(wait_s)
        process.send_signal(number)
        told = "".join(process.communicate())
    is_ours = "/rigfolio/" in told or "Traceback" not in told
    # Ctrl-C in the interpreter itself, before it has read a line of the program, is the system's.
    done = Ended(process.returncode, told) if is_ours else Ended(-number, "")
    return f"{wait_s:.2f} s", done


def _killed(
    name: str, start: Before, number: signal.Signals, done: Ended, folder: str
) -> Iterator[str]:
    """What is wrong in a folder and in what was said after a signal."""
    yield from unsaid(done)
    now = held(folder)
    parts = sorted(place for place in now if place.endswith(".part"))
    if {place: now[place] for place in now if place not in parts} not in (start.files, start.after):
        yield f"neither the old set nor the new one: {sorted(now)}"
    # A signal that comes before the interpreter listens ends it as the system does.
    by_system = 1 if name == "log" and number == signal.SIGINT else -number
    if done.code not in (start.code, 128 + number, -number, by_system):
        yield f"ended with {done.code}: {done.told[-200:]}"
    if not parts:
        return
    if number != signal.SIGKILL:
        yield f"left {parts}"
    ended(words(name), folder)
    now = held(folder)
    if any(place.endswith(".part") for place in now):
        yield f"the next command left {parts}"
    if name != "log" and now != start.after:
        yield f"the next command did not make the set whole: {sorted(now)}"


def disk(seed: int) -> Iterator[str]:
    """A full disk behind the answer or the files, protected files, a protected folder."""
    chance = Random(seed)
    name, start = _folder(chance)
    how = chance.choice(("full answer", "filling", "filling", "files", "folder"))
    largest = max(len(start.after[place]) for place in start.after)
    limit = chance.randrange(largest + 2)
    with tempfile.TemporaryDirectory() as folder:
        lay(folder, start.files)
        changed = [place for place in start.files if start.files[place] != start.after[place]]
        if how == "files":
            for place in changed:
                Path(folder, place).chmod(0o444)
        elif how == "folder":
            for place in (folder, *(each for each in Path(folder).iterdir() if each.is_dir())):
                Path(place).chmod(0o555)
        with Path("/dev/full").open("wb") as full:
            done = ended(
                words(name), folder, full.fileno() if how == "full answer" else subprocess.PIPE,
                (lambda: _only(limit)) if how == "filling" else None,
            )  # fmt: skip
        for place in (folder, *Path(folder).rglob("*")):
            Path(place).chmod(0o700)
        now = held(folder)
    told = f"{name}, {how} {limit if how == 'filling' else ''}"
    yield from (f"{told}: {each}" for each in unsaid(done))
    yield from (f"{told}: {each}" for each in _refused(how, start, changed, done, now))


def _only(limit: int) -> None:
    """No file of this process may hold more bytes."""
    import resource

    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))


def _refused(
    how: str, start: Before, changed: list[str], done: Ended, now: dict[str, bytes]
) -> Iterator[str]:
    """What is wrong with the end of a command that could not do all."""
    may_write = how == "full answer" or (how == "folder" and os.geteuid() == 0)
    if done.code not in (start.code, 2):
        yield f"ended with {done.code}: {done.told[-200:]}"
    if how == "full answer" and done.code != 2:
        yield f"ended with {done.code} though nobody could read the answer"
    if how == "files" and changed and done.code != 2:
        yield f"ended with {done.code} though `{changed[0]}` is protected"
    if done.code == 2 and not done.told.strip():
        yield "ended with 2 and said nothing"
    whole = [start.after] if done.code != 2 else [start.files]
    if may_write:
        whole = [start.after, start.files]
    if now not in whole:
        yield f"ended with {done.code}, and the set is torn: {sorted(now)}: {done.told[-200:]}"


def two(seed: int) -> Iterator[str]:
    """Several logs at once, of which none is lost."""
    chance = Random(seed)
    start = before("log", is_first=chance.random() < 0.5)
    asked = [
        [f"P1.{slot} = {chance.randrange(6, 14)}.{number} V" for slot in (1, 2, 3)]
        for number in range(chance.choice((2, 2, 3, 5)))
    ]
    with tempfile.TemporaryDirectory() as folder:
        lay(folder, start.files)
        running = [
            subprocess.Popen(
                [sys.executable, "-m", "rigfolio", "log", RIG, *each], cwd=folder,
                env=environment(), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
            )
            for each in asked
        ]  # fmt: skip
        for one in running:
            told = one.communicate()[1]
            if one.returncode:
                yield f"ended with {one.returncode}: {told[-200:]}"
        now = held(folder)
    log = now.pop("x-log.txt", b"").decode().splitlines()
    kept = sorted(line.split("  ", 1)[1] for line in log if line.endswith(" V"))
    before_it = [line for line in start.files.get("x-log.txt", b"").decode().splitlines()
                 if line.endswith(" V")]  # fmt: skip
    expected = [*(line.split("  ", 1)[1] for line in before_it), *itertools.chain(*asked)]
    if kept != sorted(expected):
        yield f"asked {sorted(expected)}, kept {kept}"
    if set(now) != {RIG}:
        yield f"left {sorted(now)}"


def edited(seed: int) -> Iterator[str]:
    """A rig that is edited while a command reads it: an answer, and the edit is not lost."""
    chance = Random(seed)
    how = chance.choice(("moved", "there", "half"))
    name = chance.choice(tuple(WRITERS))
    start = before(name, is_first=chance.random() < 0.5)
    at = _moment(chance, start)[1]
    with tempfile.TemporaryDirectory() as folder:
        lay(folder, start.files)
        done = ended(words(name, how, at), folder)
        now = held(folder)
    told = f"{name}, {how} at moment {at}"
    yield from (f"{told}: {each}" for each in unsaid(done))
    if done.code not in (0, 1, 2):
        yield f"{told}: ended with {done.code}: {done.told[-200:]}"
    is_too_late = any(f"edited before {event}\n" in done.told for event in LAST)
    if how != "half" and MARK not in now[RIG] and "edited before" in done.told and not is_too_late:
        yield f"{told}: the edit is lost, ended with {done.code}: {done.told[-200:]}"
    if name not in INTO_TEXT and how != "half" and now[RIG].removesuffix(MARK) != start.files[RIG]:
        yield f"{told}: the rig is another"
    left = [place for place in now if place.endswith(".part")]
    if left:
        yield f"{told}: left {left}"


class Part(NamedTuple):
    """What is tried with a seed, how often, and how often in the long form."""

    tried: Callable[[int], Iterator[str]]
    few: int
    many: int


PARTS = {
    "texts": Part(texts, 500, 1_000_000), "drawings": Part(drawings, 60, 20_000),
    "kills": Part(kills, 20, 1_000), "disk": Part(disk, 20, 500), "two": Part(two, 3, 100),
    "edited": Part(edited, 20, 1_000),
}  # fmt: skip


def _spent_s() -> float:
    return sum(os.times()[:4])


def tried(name: str, part: Part, seeds: range, most_s: float) -> str:
    """Try seeds of a part and tell what fails; gives the line of the record."""
    started, count, slowest = _spent_s(), 0, (0.0, seeds.start)
    failed: list[int] = []
    for seed in seeds:
        begun = _spent_s()
        if begun - started > most_s:
            break
        try:
            with tempfile.TemporaryDirectory() as folder, inside(folder):
                found = list(part.tried(seed))
        except KeyboardInterrupt:
            # What was tried by then is worth its line.
            break
        took = _spent_s() - begun
        slowest = max(slowest, (took, seed))
        if took > SLOWEST_S and name in ("texts", "drawings"):
            found.append(f"{took:.1f} s of processor time")
        for each in found:
            sys.stdout.write(f"{name} --seed {seed}: {each}\n")
        sys.stdout.flush()
        failed += [seed] * bool(found)
        count += 1
    told = f": seeds {' '.join(map(str, failed))}" if failed else ""
    return (
        f"{name}: {count} from seed {seeds.start}, {_spent_s() - started:.0f} s of processor time, "
        f"slowest {slowest[0]:.2f} s (seed {slowest[1]}), {len(failed)} failed{told}\n"
    )


def main() -> int:
    """Try the parts that are asked for, all if none is; 1 if anything failed."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"some of {', '.join(PARTS)}")
    parser.add_argument("--count", type=int)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=float("inf"))
    parser.add_argument("--long", action="store_true")
    parser.add_argument("--record", type=Path)
    given = parser.parse_args()
    for name in set(given.parts) - set(PARTS):
        parser.error(f"no part {name}, expected some of {', '.join(PARTS)}")
    record = given.record and given.record.absolute()
    is_whole = True
    # A shell starts what runs in the background deaf to Ctrl-C, and so would be all it starts.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with tempfile.TemporaryDirectory() as own:
        # Killed processes leave nothing with the user who runs this.
        os.environ.update(XDG_CACHE_HOME=own, TMPDIR=own)
        tempfile.tempdir = None
        for name in given.parts or PARTS:
            part = PARTS[name]
            count = given.count or (part.many if given.long else part.few)
            line = tried(name, part, range(given.seed, given.seed + count), given.seconds)
            is_whole = is_whole and ", 0 failed" in line
            sys.stdout.write(line)
            if record:
                with record.open("a", encoding="utf-8") as file:
                    file.write(line)
    return not is_whole


if __name__ == "__main__":
    sys.exit(main())
