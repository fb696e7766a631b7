"""Files that are written over: by several at once, with what the system keeps of them, or not."""

import os
import resource
import struct
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from fuzz.moments import INTO_TEXT, RIG, TEXT, WRITERS
from helpers.home import environment
from rigfolio.answers import log_with
from rigfolio.cli.entry import main
from rigfolio.cli.registry import parser
from rigfolio.folio import turns, writing
from rigfolio.refusal import RefusalError

POSIX = pytest.mark.skipif(os.name != "posix", reason="rights, limits and locks of POSIX")
ATTRIBUTES = pytest.mark.skipif(
    not hasattr(os, "setxattr"), reason="no attributes of files on this system"
)


@pytest.fixture(autouse=True)
def _folder(tmp_path, monkeypatch):
    place = tmp_path / "rigs"
    place.mkdir()
    monkeypatch.chdir(place)
    Path(RIG).write_text(TEXT, encoding="utf-8")


def log_of() -> Path:
    return Path(f"{Path(RIG).stem}-log.txt")


def kept() -> list[str]:
    return log_of().read_text(encoding="utf-8").splitlines()[1:]


def elsewhere(folder: Path, *words: str) -> int:
    """A command with another place for temporary files, as another user or a container has it."""
    folder.mkdir(exist_ok=True)
    done = subprocess.run(
        [sys.executable, "-m", "rigfolio", *words], capture_output=True, check=False,
        env={**environment(), "TMPDIR": str(folder), "TEMP": str(folder), "TMP": str(folder)},
    )  # fmt: skip
    return done.returncode


@pytest.mark.parametrize("is_new", [True, False])
def test_what_another_log_wrote_meanwhile_stays(is_new, tmp_path, monkeypatch):
    if not is_new:
        log_of().write_bytes(b"# Readings\r\n2026-03-01 # cold\r\n")
    before = [] if is_new else ["2026-03-01 # cold"]
    others: list[str] = []

    def meanwhile(*told):
        made = log_with(*told)
        if len(others) < 3:
            others.append(f"# other {len(others)}")
            assert elsewhere(tmp_path / "other", "log", RIG, others[-1]) == 0
        return made

    monkeypatch.setattr("rigfolio.answers.log_with", meanwhile)
    assert main(["log", RIG, "# mine"]) == 0
    assert kept() == [*before, *others, "# mine"]
    assert {one.name for one in Path().iterdir()} == {RIG, log_of().name}


def test_a_log_that_never_rests_is_left(monkeypatch, capsys):
    write = writing._write
    monkeypatch.setattr("rigfolio.cli.parts._MOST_TURNS", 3)

    def meanwhile(part, content):
        write(part, content)
        with log_of().open("a", encoding="utf-8") as file:
            file.write("# other\n")

    monkeypatch.setattr(writing, "_write", meanwhile)
    assert main(["log", RIG, "# mine"]) == 2
    assert "was changed by somebody else while it was read" in capsys.readouterr().err
    assert log_of().read_text(encoding="utf-8") == "# other\n" * 3


@POSIX
@pytest.mark.parametrize("name", [*INTO_TEXT, "log"])
def test_nobody_comes_between_the_look_and_the_new_file(name, monkeypatch):
    """Whoever writes a file that it has read holds it until the new one is in its place."""
    holds, asked = writing.still_holds, []
    monkeypatch.setattr(turns, "LONGEST_S", 0.0)

    def compared(raw, text):
        asked.append(text)
        file = log_of() if name == "log" else Path(RIG)
        with pytest.raises(RefusalError, match="another command"), turns.turn_of([file.resolve()]):
            pass
        return holds(raw, text)

    monkeypatch.setattr(writing, "still_holds", compared)
    assert main([name, RIG, *WRITERS[name]]) in (0, 1)
    assert asked


@POSIX
def test_a_command_that_was_killed_holds_nothing():
    held = (
        "import os, signal\n"
        "from pathlib import Path\n"
        "from rigfolio.folio.turns import turn_of\n"
        f"with turn_of([Path({str(log_of().resolve())!r})]): os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    done = subprocess.run([sys.executable, "-c", held], env=environment(), check=False)
    assert done.returncode < 0
    assert main(["log", RIG, "# mine"]) == 0


@pytest.mark.parametrize("has_locks", [True, False])
@pytest.mark.parametrize("what", ["nothing", "folders", "links"])
def test_what_lies_among_the_temporary_files_changes_nothing(
    what, has_locks, tmp_path, monkeypatch
):
    """Somebody else may have put anything there, and a lock that cannot be had is done without."""
    place = tmp_path / "temporary"
    place.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(place))
    monkeypatch.setattr(turns, "_HAS_LOCKS", False)
    assert main(["log", RIG, "# first"]) == 0
    for lock in list(place.iterdir()):
        lock.unlink()
        if what == "folders":
            lock.mkdir()
        elif what == "links":
            lock.symlink_to("nowhere/at/all")
    before = sorted(place.iterdir())
    monkeypatch.setattr(turns, "_HAS_LOCKS", has_locks)
    assert main(["log", RIG, "# mine"]) == 0
    assert [one.split("  ")[-1] for one in kept()] == ["# first", "# mine"]
    if has_locks:
        assert sorted(place.iterdir()) == before


def test_without_locks_of_folders_one_waits_for_the_other(tmp_path, monkeypatch):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(turns, "_HAS_LOCKS", False)
    monkeypatch.setattr(turns, "LONGEST_S", 0.0)
    one = log_of().resolve()
    with turns.turn_of([one]), pytest.raises(RefusalError, match="another command"):  # noqa: SIM117
        with turns.turn_of([one]):
            pass


def written_over(name: str) -> Path:
    """A file that a command will write over, with an attribute of the user's own."""
    if name == "log":
        assert main(["log", RIG, "# first"]) == 0
    file = log_of() if name == "log" else Path(RIG)
    os.setxattr(file, "user.note", b"mine")
    return file


@ATTRIBUTES
@pytest.mark.parametrize("name", ["log", *INTO_TEXT])
@pytest.mark.parametrize("can_be_given", [True, False])
def test_attributes_of_a_file_stay(name, can_be_given, monkeypatch):
    try:
        file = written_over(name)
    except OSError:
        pytest.skip("no attributes on this disk")
    before = file.read_bytes(), file.stat().st_ino
    if not can_be_given:

        def refused(*_: object) -> None:
            raise PermissionError

        monkeypatch.setattr(os, "setxattr", refused)
    assert main([name, RIG, *WRITERS[name]]) in (0, 1)
    assert file.read_bytes() != before[0]
    assert os.getxattr(file, "user.note") == b"mine"
    # What cannot have the attributes is written over, in its place.
    assert (file.stat().st_ino == before[1]) is not can_be_given


@ATTRIBUTES
def test_what_a_folder_gives_to_new_files_is_not_given_to_old_ones():
    """A list of who may do what, as Linux stores it: version 2, then tag, rights, number (from
    memory of `linux/posix_acl_xattr.h`); the folder lets user 1234 write whatever is made in it."""
    nobody = 2**32 - 1
    entries = [(1, 7, nobody), (2, 6, 1234), (4, 5, nobody), (16, 7, nobody), (32, 5, nobody)]
    stored = struct.pack("<I", 2) + b"".join(struct.pack("<HHI", *one) for one in entries)
    try:
        os.setxattr(".", "system.posix_acl_default", stored)
    except OSError:
        pytest.skip("no lists of rights on this disk")
    Path("made").write_text("", encoding="utf-8")
    assert "system.posix_acl_access" in os.listxattr("made")
    before, number = os.listxattr(RIG), Path(RIG).stat().st_ino
    assert main(["format", RIG]) == 0
    assert Path(RIG).stat().st_ino != number
    assert os.listxattr(RIG) == before == []


@POSIX
@pytest.mark.parametrize("name", WRITERS)
def test_the_way_out_is_one_that_the_command_has(name, capsys):
    """No command says `-o` that has none."""
    takes_place = "-o" in parser(name).format_help().split()
    words = [name, RIG, *WRITERS[name]]
    written = [one for one in Path().rglob("*") if one.is_file()]
    if name not in INTO_TEXT:
        assert main(words) in (0, 1)
        written = [one for one in Path().rglob("*") if one.is_file() and one.name != RIG]
        Path(RIG).write_text(TEXT.replace("18 ft", "19 ft"), encoding="utf-8")
    for one in written:
        one.chmod(0o444)
    capsys.readouterr()
    assert main(words) == 2
    told = capsys.readouterr().err
    assert "cannot be written: it is write-protected; nothing was changed" in told
    assert ("`-o`" in told) is takes_place
    assert "= fix: " in told


@POSIX
@pytest.mark.parametrize("name", ["log", "format", "directory"])
def test_a_file_that_the_disk_does_not_take_is_named(name):
    before = Path(RIG).read_bytes()
    words = WRITERS[name] if name == "log" else ()

    def small() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (10, 10))

    done = subprocess.run(
        [sys.executable, "-B", "-m", "rigfolio", name, RIG, *words],
        env=environment(), text=True, capture_output=True, check=False, preexec_fn=small,
    )  # fmt: skip
    assert done.returncode == 2
    place = {"log": log_of(), "format": Path(RIG), "directory": Path("out/x/panel-directory.pdf")}[
        name
    ]
    assert f"`{place.resolve()}` cannot be written: file too large" in done.stderr
    assert Path(RIG).read_bytes() == before
    assert [one.name for one in Path().iterdir()] == [RIG]
