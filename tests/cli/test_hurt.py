"""What must never hurt: files of others, protected files, streams that are gone, pipes, links.

Where streams, signals or the interpreter itself have a part in it, the command runs in a process of
its own.
"""

import contextlib
import csv
import io
import os
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from helpers.home import environment
from helpers.plover import PLOVER
from helpers.short_wren import SHORT_WREN
from rigfolio.cli.entry import main

POSIX = pytest.mark.skipif(os.name != "posix", reason="rights, links and pipes are those of POSIX")


@pytest.fixture(autouse=True)
def rig(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("wren.rig").write_text(SHORT_WREN, encoding="utf-8")
    return tmp_path


def rigfolio(*words: str) -> subprocess.CompletedProcess[str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return subprocess.CompletedProcess(words, code, out.getvalue(), err.getvalue())


def process(*words: str, python: tuple[str, ...] = ()) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *python, "-m", "rigfolio", *words], check=False, env=environment(),
        text=True, stdin=subprocess.DEVNULL, capture_output=True,
    )  # fmt: skip


def in_shell(line: str) -> subprocess.CompletedProcess[str]:
    command = line.replace("rigfolio", f"{sys.executable} -m rigfolio")
    return subprocess.run(
        ["sh", "-c", command], env=environment(), text=True, capture_output=True,
        check=False,
    )  # fmt: skip


@pytest.fixture(scope="module")
def sets(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """Two sheets with their tables, of the rig and of a rig with another wire."""
    folder = tmp_path_factory.mktemp("sets")
    rig = folder / "wren.rig"
    for name, text in (("old", SHORT_WREN), ("new", SHORT_WREN.replace("18 ft", "19 ft"))):
        rig.write_text(text, encoding="utf-8")
        done = rigfolio(
            "folio", f"{rig}", "--sheets", "survey,test-sheet", "-o", f"{folder / name}"
        )
        assert done.returncode == 0
    old, new = (
        {path.name: path.read_bytes() for path in (folder / name).iterdir()}
        for name in ("old", "new")
    )
    return old, new


def stopped(module: str, how: str) -> subprocess.CompletedProcess[str]:
    """`check` in a process of its own that is stopped when it looks for a module."""
    code = (
        "import sys\n"
        "class Made:\n"
        "    def __set_name__(self, owner, name): raise KeyboardInterrupt\n"
        "class Stop:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        f"        if name == {module!r}: {how}\n"
        "sys.argv = ['rigfolio', 'check', 'wren.rig']\n"
        "from rigfolio.__main__ import run\n"
        "sys.meta_path.insert(0, Stop())\n"
        "run()\n"
    )
    return subprocess.run(
        [sys.executable, "-c", code], env=environment(), text=True, capture_output=True,
        check=False,
    )  # fmt: skip


class TestFilesOfOthers:
    def test_a_table_that_was_filled_in_stays(self) -> None:
        assert rigfolio("survey", "wren.rig").returncode == 0
        table = Path("out/wren/survey.csv")
        before = table.read_bytes()
        assert rigfolio("survey", "wren.rig").stdout.split() == [
            "out/wren/survey.pdf", "out/wren/survey.csv",
        ]  # fmt: skip
        filled = before.replace(b",,", b",typed,", 1)
        assert filled != before
        table.write_bytes(filled)
        for _ in range(2):
            done = rigfolio("folio", "wren.rig", "--sheets", "survey")
            assert done.returncode == 0
            assert "out/wren/survey-new.csv" in done.stdout.split()
            assert "`out/wren/survey-new.csv`" in done.stderr
            assert table.read_bytes() == filled
        assert Path("out/wren/survey-new.csv").read_bytes() == before
        assert not Path("out/wren/survey-new-2.csv").exists()

    def test_a_table_that_a_spreadsheet_stored_untouched_gives_way(self) -> None:
        rigfolio("testsheet", "wren.rig")
        table = Path("out/wren/test-sheet.csv")
        rows = list(csv.reader(table.read_text(encoding="utf-8-sig").splitlines()))
        with table.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file, delimiter=";", quoting=csv.QUOTE_ALL).writerows(rows)
        done = rigfolio("testsheet", "wren.rig")
        assert "new" not in done.stdout + done.stderr
        assert table.read_bytes().startswith(b"\xef\xbb\xbf")

    def test_what_is_typed_is_read_with_the_mark_in_its_headings(self) -> None:
        rigfolio("survey", "wren.rig")
        done = rigfolio("survey", "wren.rig", "--from", "out/wren/survey.csv")
        assert done.returncode == 0, done.stdout
        assert "not read" not in done.stdout

    def test_a_rig_that_changed_has_its_documents_made_anew(self) -> None:
        rigfolio("survey", "wren.rig")
        text = Path("wren.rig").read_text(encoding="utf-8")
        Path("wren.rig").write_text(text.replace("18 ft", "19 ft"), encoding="utf-8")
        done = rigfolio("survey", "wren.rig")
        assert "new" not in done.stdout + done.stderr

    @pytest.mark.parametrize(
        ("words", "place"),
        [("draw", "before.png"), ("directory", "before.pdf"), ("survey", "before.csv"),
         ("draw", "before.svg"), ("draw", "before.dot")],
    )  # fmt: skip
    def test_a_file_of_somebody_else_stays(self, words: str, place: str) -> None:
        Path("wren.rig").write_text(PLOVER, encoding="utf-8")
        Path(place).write_bytes(b"\xff\xd8 a photograph")
        done = rigfolio(words, "wren.rig", "-o", place)
        assert done.returncode == 0
        new = place.replace(".", "-new.")
        assert f"`{new}`" in done.stderr
        assert Path(place).read_bytes() == b"\xff\xd8 a photograph"
        assert Path(new).stat().st_size > 100
        assert f"`{new}`" in rigfolio(words, "wren.rig", "-o", place).stderr

    def test_notes_in_a_drawing_stay(self) -> None:
        Path("wren.rig").write_text(PLOVER, encoding="utf-8")
        rigfolio("draw", "wren.rig", "-o", "d.svg")
        drawn = Path("d.svg").read_text(encoding="utf-8")
        noted = drawn.replace("</svg>", "<text>mine</text></svg>")
        Path("d.svg").write_text(noted, encoding="utf-8")
        assert "d-new.svg" in rigfolio("draw", "wren.rig", "-o", "d.svg").stderr
        assert Path("d.svg").read_text(encoding="utf-8") == noted

    def test_notes_in_a_pdf_stay(self) -> None:
        rigfolio("directory", "wren.rig", "-o", "d.pdf")
        with pikepdf.open("d.pdf", allow_overwriting_input=True) as pdf:
            pdf.pages[0].Annots = pdf.make_indirect(pikepdf.Array())
            pdf.save("d.pdf")
        assert "d-new.pdf" in rigfolio("directory", "wren.rig", "-o", "d.pdf").stderr

    def test_own_documents_give_way(self) -> None:
        Path("wren.rig").write_text(PLOVER, encoding="utf-8")
        for _ in range(2):
            for form in ("svg", "png", "pdf", "dot"):
                done = rigfolio("draw", "wren.rig", "-o", f"d.{form}")
                assert "new" not in done.stdout + done.stderr

    def test_no_file_without_an_end(self) -> None:
        assert rigfolio("directory", "wren.rig", "-o", "mine").stdout == "mine.pdf\n"
        assert rigfolio("directory", "wren.rig", "-o", "v1.2").stdout == "v1.2.pdf\n"
        assert not Path("mine").exists()


@POSIX
class TestWriting:
    def test_rights_and_names_of_a_file_stay(self) -> None:
        def log(reading: str) -> Path:
            return Path(rigfolio("log", "wren.rig", reading).stdout.strip())

        kept = log("P1.3 = 12.4 V")
        kept.chmod(0o640)
        assert log("P1.3 = 12.5 V") == kept
        assert stat.S_IMODE(kept.stat().st_mode) == 0o640
        Path("twin.txt").hardlink_to(kept)
        assert log("P1.3 = 12.6 V").samefile("twin.txt")
        assert stat.S_IMODE(kept.stat().st_mode) == 0o640
        assert kept.read_text(encoding="utf-8").count("P1.3 = 12.") == 3

    def test_a_protected_file_is_left_alone(self) -> None:
        rigfolio("directory", "wren.rig", "-o", "d.pdf")
        before = Path("d.pdf").read_bytes()
        Path("d.pdf").chmod(0o444)
        text = Path("wren.rig").read_text(encoding="utf-8")
        Path("wren.rig").write_text(text.replace("18 ft", "19 ft"), encoding="utf-8")
        done = rigfolio("directory", "wren.rig", "-o", "d.pdf")
        assert done.returncode == 2
        assert "`d.pdf` cannot be written: it is write-protected" in done.stderr.replace(
            os.fspath(Path.cwd()) + "/", ""
        )
        assert Path("d.pdf").read_bytes() == before

    def test_what_a_killed_process_left_is_taken_away(self) -> None:
        gone = subprocess.Popen([sys.executable, "-c", ""])
        gone.wait()
        left = Path(f".d.pdf.{gone.pid}.part")
        left.write_bytes(b"half")
        mine = Path(f".d.pdf.{os.getpid()}.part")
        mine.write_bytes(b"another one at work")
        assert process("directory", "wren.rig", "-o", "d.pdf").returncode == 0
        assert not left.exists()
        assert mine.exists()

    @pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
    def test_a_process_that_is_told_to_end_leaves_nothing(self, name: str) -> None:
        slow = (
            "import os, signal, rigfolio.folio.writing as writing\n"
            f"def told(parts, read): os.kill(os.getpid(), signal.{name})\n"
            "writing._swap = told\n"
            # Whoever runs the tests without a terminal may have it ignored.
            f"signal.signal(signal.{name}, signal.SIG_DFL)\n"
            "import sys\n"
            "sys.argv = ['rigfolio', 'directory', 'wren.rig', '-o', 'd.pdf']\n"
            "from rigfolio.__main__ import run\n"
            "run()\n"
        )
        done = subprocess.run([sys.executable, "-c", slow], env=environment(), check=False)
        assert done.returncode == 128 + signal.Signals[name]
        assert [path.name for path in Path().iterdir()] == ["wren.rig"]

    @pytest.mark.parametrize("whom", ["os.getpid()", "writer"])
    @pytest.mark.parametrize("after", [1, 3])
    def test_killed_between_two_files_it_is_one_set(
        self, whom: str, after: int, sets: tuple[dict[str, bytes], dict[str, bytes]]
    ) -> None:
        """The process that puts them there is killed, or the one that asked it to."""
        old, whole = sets
        Path("set").mkdir()
        for name, content in old.items():
            Path("set", name).write_bytes(content)
        Path("wren.rig").write_text(SHORT_WREN.replace("18 ft", "19 ft"), encoding="utf-8")
        killed = (
            "import os, signal, sys, rigfolio.folio.writing as writing\n"
            "writer, put, count = os.getpid(), writing._put, 0\n"
            "def one(part, target):\n"
            "    global count\n"
            "    count += 1\n"
            "    put(part, target)\n"
            f"    if count == {after} and os.getpid() != writer: os.kill({whom}, signal.SIGKILL)\n"
            "writing._put = one\n"
            "sys.argv = ['rigfolio', 'folio', 'wren.rig', '--sheets', 'survey,test-sheet']\n"
            "sys.argv += ['-o', 'set']\n"
            "from rigfolio.__main__ import run\n"
            "run()\n"
        )
        with subprocess.Popen(
            [sys.executable, "-c", killed], env=environment(), stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        ) as process:  # fmt: skip
            # The other end of the streams is held by the one that goes on.
            process.communicate()
        now = {path.name: path.read_bytes() for path in Path("set").iterdir()}
        assert not [name for name in now if name.endswith(".part")]
        assert {name: now.get(name) for name in whole} == whole
        assert len(old) >= 4
        assert all(old[name] != content for name, content in whole.items() if ".pdf" in name)

    def test_one_file_that_cannot_be_put_there_leaves_the_old_set(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from rigfolio.folio import writing

        old = {Path("a.pdf"): b"old", Path("b.csv"): b"old"}
        writing.write_all(old)
        put, count = writing._put, []

        def fails(part: Path, target: Path) -> None:
            count.append(target)
            if len(count) > 1:
                raise OSError(28, "No space left on device", str(target))
            put(part, target)

        monkeypatch.setattr(writing, "_put", fails)
        with pytest.raises(OSError, match="No space left"):
            writing.write_all(dict.fromkeys(old, b"new"))
        assert {path: path.read_bytes() for path in old} == old
        assert sorted(path.name for path in Path().iterdir()) == ["a.pdf", "b.csv", "wren.rig"]


@POSIX
class TestStreams:
    def test_a_full_disk_behind_the_answer_says_so(self) -> None:
        if not Path("/dev/full").exists():
            pytest.skip("no /dev/full here")
        done = in_shell("rigfolio directory wren.rig -o d.pdf > /dev/full")
        assert done.returncode == 2
        assert "the answer cannot be written to standard output" in done.stderr
        assert "nothing was changed" not in done.stderr
        assert Path("d.pdf").exists()

    @pytest.mark.parametrize("closed", [">&- </dev/zero", "<&-"])
    def test_an_editor_that_cannot_be_answered_is_refused(self, closed: str) -> None:
        done = in_shell(f"rigfolio editor {closed}")
        assert done.returncode == 2
        assert "error[no-editor]" in done.stderr

    @pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
    def test_closed_streams_change_nothing_of_what_is_found(self, closed: str) -> None:
        done = in_shell(f"rigfolio check wren.rig {closed}")
        assert done.returncode == 0
        assert "Traceback" not in done.stderr + done.stdout
        assert "bug" not in done.stderr

    def test_no_input(self) -> None:
        done = in_shell("rigfolio check - <&-")
        assert done.returncode == 2
        assert "`<stdin>` cannot be read: it is closed" in done.stderr

    @pytest.mark.parametrize(
        "module", ["rigfolio.cli", "rigfolio.cli.entry", "rigfolio.judgement", "lark"]
    )
    def test_stopped_by_the_user_at_any_point(self, module: str) -> None:
        done = stopped(module, "raise KeyboardInterrupt")
        assert done.returncode == 130
        assert done.stderr in ("stopped\n", "")

    def test_stopped_while_a_class_of_the_first_modules_is_made(self) -> None:
        done = stopped("rigfolio.cli", "type('Stopped', (), {'kept': Made()})")
        assert (done.returncode, done.stderr) == (130, "")

    def test_errors_are_on_the_error_stream(self) -> None:
        Path("bad.rig").write_text("foo bar\n", encoding="utf-8")
        done = process("check", "bad.rig", "wren.rig")
        assert done.returncode == 2
        assert "unknown-word" in done.stderr
        assert "unknown-word" not in done.stdout
        assert "colour-not-surveyed" in done.stdout
        assert process("check", "bad.rig").stdout == ""
        assert '"unknown-word"' in process("check", "bad.rig", "--format", "json").stdout


@POSIX
class TestReading:
    def test_no_link_leads_out_of_the_folder(self) -> None:
        Path("secret.txt").write_text("secret 123\n", encoding="utf-8")
        Path("here").mkdir()
        Path("here/out.rig").symlink_to("../secret.txt")
        Path("here/part.rig").write_text("# a part\n", encoding="utf-8")
        Path("here/alias.rig").symlink_to("part.rig")
        text = Path("wren.rig").read_text(encoding="utf-8")
        Path("here/wren.rig").write_text(f'{text}\ninclude "out.rig"\n', encoding="utf-8")
        done = rigfolio("check", "here/wren.rig")
        assert done.returncode == 2
        assert "`out.rig` is a link out of the folder" in done.stderr
        assert "secret 123" not in done.stderr + done.stdout
        Path("here/wren.rig").write_text(f'{text}\ninclude "alias.rig"\n', encoding="utf-8")
        assert rigfolio("check", "here/wren.rig").returncode == 0

    def test_pipes_are_refused_and_not_waited_for(self) -> None:
        os.mkfifo("pipe")
        text = Path("wren.rig").read_text(encoding="utf-8")
        Path("seen.rig").write_text(f'{text}\nphoto "pipe"\n', encoding="utf-8")
        for words in (
            ("survey", "wren.rig", "--from", "pipe"),
            ("diagnose", "wren.rig", "--from", "pipe"),
            ("photo", "seen.rig"),
            ("extract", "pipe"),
        ):
            done = rigfolio(*words)
            assert done.returncode == 2, words
            assert "not a plain file" in done.stderr, words

    def test_a_folio_whose_text_was_changed_is_not_taken_apart(self) -> None:
        rigfolio("folio", "wren.rig", "-o", "f.pdf")
        whole = Path("f.pdf").read_bytes()
        assert rigfolio("extract", "f.pdf", "-o", "back").returncode == 0
        assert Path("back/wren.rig").read_bytes() == Path("wren.rig").read_bytes()
        Path("g.pdf").write_bytes(whole.replace(b"18 ft", b"81 ft"))
        done = rigfolio("extract", "g.pdf", "-o", "other")
        assert done.returncode == 2
        assert "folio-changed" in done.stderr
        with pikepdf.open("f.pdf") as pdf:
            text = Path("wren.rig").read_bytes().replace(b"18 ft", b"81 ft")
            pdf.attachments["wren.rig"] = pikepdf.AttachedFileSpec(pdf, text, filename="wren.rig")
            pdf.Root.AF = pikepdf.Array([pdf.attachments["wren.rig"].obj])
            pdf.save("h.pdf")
        done = rigfolio("extract", "h.pdf", "-o", "other")
        assert done.returncode == 2
        assert "is printed on its pages" in done.stderr
        assert not Path("other").exists()


def test_pages_of_the_manual_without_docstrings() -> None:
    plain, stripped = (
        process("explain", "fuse-over-wire", python=how).stdout for how in ((), ("-OO",))
    )
    assert plain == stripped
    assert "weakest part" in plain


@pytest.mark.parametrize(
    "command",
    [
        ("check", "--fix", "--write"),
        ("size", "--write"),
        ("name", "--write"),
        ("arrange", "--write"),
    ],
    ids=lambda command: command[0],
)
def test_the_name_of_a_file_that_was_written_says_nothing_to_the_terminal(
    tmp_path, command, capsys
):
    """A name may hold what clears a screen or paints a lie upon it."""
    text = SHORT_WREN.replace("16 AWG pink 10 ft", "18 AWG pink 10 ft").replace(", tag W9", "")
    file = tmp_path / "wren\x1b[2J\nwritten: other.rig"
    file.write_text(text, encoding="utf-8")
    name, *options = command
    main([name, str(file), *options])
    told = capsys.readouterr()
    for line in (told.out + told.err).splitlines():
        assert "\x1b" not in line
        assert line != "written: other.rig"
