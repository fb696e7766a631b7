"""The command as people and programs meet it: exit codes, what goes where, hostile surroundings."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from helpers.home import HOME, environment
from rigfolio.books.loader import book_names
from rigfolio.cli.entry import main
from rigfolio.manual.topics import ERRORS
from rigfolio.rule import rule_names

ENVIRONMENT = environment()

QUIET = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 "House" 105 Ah, internal 10 mohm
"""
DANGER = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 "House" 105 Ah, internal 10 mohm
fuse    F1 50 A, on B1+, interrupts 10 kA
panel   P1 "Galley" 6 slots
busbar  N1
wire F1 to P1  6 AWG red 4 ft
wire B1- to N1 6 AWG black 4 ft
circuit P1.4 "Fan"   fuse 20 A
    wire  16 AWG red/black 14 ft
    load  "Fan" 2 A
"""
BROKEN = 'rig "Plover"\n    system 12 vlots\n'


@pytest.fixture
def rig(tmp_path, monkeypatch):
    """Writes a rig file into an empty working folder."""
    monkeypatch.chdir(tmp_path)

    def write(text, name="plover.rig"):
        Path(name).write_bytes(text.encode() if isinstance(text, str) else text)
        return name

    return write


def run(*arguments, **options):
    """The command in a process of its own."""
    settings = {"capture_output": True, "text": True, "env": ENVIRONMENT} | options
    return subprocess.run([sys.executable, "-m", "rigfolio", *arguments], check=False, **settings)


class TestCheck:
    @pytest.mark.parametrize(("text", "code"), [(QUIET, 0), (DANGER, 1), (BROKEN, 2)])
    def test_exit_code(self, rig, text, code, capsys):
        assert main(["check", rig(text)]) == code
        out, err = capsys.readouterr()
        # What cannot be read is an error; what was found in a text that can be is the answer.
        assert (bool(out), bool(err)) == (code != 2, code == 2)

    def test_worst_of_several_files(self, rig, capsys):
        files = [rig(QUIET, "a.rig"), rig(BROKEN, "b.rig"), rig(DANGER, "c.rig")]
        assert main(["check", *files]) == 2
        said, errors = capsys.readouterr()
        assert "a.rig: no findings under rule book rv" in said
        assert "b.rig: 1 error; the text was not understood, nothing was judged" in errors
        assert "c.rig: 1 danger under rule book rv" in said

    def test_message_names_book_source_and_way_out(self, rig, capsys):
        main(["check", rig(DANGER)])
        said = capsys.readouterr().out
        assert "danger[fuse-over-wire]: P1.4 Fan: 20 A fuse, 16 AWG may carry 8 A\n" in said
        assert "  --> plover.rig:10:22\n" in said
        assert "   = book: rv\n" in said
        assert "   = source: NFPA 70 Table 552.10(E)(1)" in said
        assert "   = fix: `fuse 7.5 A`\n" in said

    def test_verdict_is_never_more_than_no_findings(self, rig, capsys):
        main(["check", rig(QUIET)])
        said = capsys.readouterr().out
        assert said.startswith("plover.rig: no findings under rule book rv\n")
        assert "licensed practice" in said
        assert not re.search(r"\b(safe|OK|passed)\b", said)

    @pytest.mark.parametrize("book", book_names())
    def test_another_rule_book(self, rig, book, capsys):
        main(["check", rig(QUIET), "--rules", book])
        assert f"no findings under rule book {book}\n" in capsys.readouterr().out

    def test_unknown_rule_book(self, rig, capsys):
        assert main(["check", rig(QUIET), "--rules", "sea"]) == 2
        assert "`boat`" in capsys.readouterr().err

    def test_standard_input(self):
        done = run("check", "-", input=BROKEN)
        assert done.returncode == 2
        assert "--> <stdin>:2:12\n" in done.stderr

    @pytest.mark.parametrize("forced", [{"NO_COLOR": "1"}, {}])
    def test_no_colour_where_nobody_looks(self, rig, forced):
        done = run("check", rig(DANGER), env=ENVIRONMENT | forced)
        assert "\x1b" not in done.stdout

    def test_colour_on_a_terminal(self, rig, monkeypatch, capsys):
        monkeypatch.delenv("NO_COLOR", raising=False)
        monkeypatch.setenv("TERM", "xterm")
        monkeypatch.setattr("sys.stdout.isatty", lambda: True)
        main(["check", rig(DANGER)])
        said = capsys.readouterr().out
        assert "\x1b[31mdanger[fuse-over-wire]\x1b[0m" in said
        plain = re.sub(r"\x1b\[\d+m", "", said)
        monkeypatch.setenv("NO_COLOR", "1")
        main(["check", "plover.rig"])
        assert capsys.readouterr().out == plain

    def test_heavy_packages_stay_outside(self, rig):
        code = (
            "import sys; from rigfolio.cli import main; main(['check', sys.argv[1]]);"
            "heavy = {'pint', 'reportlab', 'PIL', 'graphviz', 'numpy', 'json', 'rigfolio.draw'};"
            "print('heavy:', sorted(heavy & set(sys.modules)))"
        )
        done = subprocess.run(
            [sys.executable, "-c", code, rig(DANGER)],
            capture_output=True, text=True, env=ENVIRONMENT, check=True,
        )  # fmt: skip
        assert done.stdout.endswith("heavy: []\n")


class TestJson:
    def test_fields(self, rig, capsys):
        assert main(["check", "--format", "json", rig(DANGER)]) == 1
        whole = json.loads(capsys.readouterr().out)
        assert (whole["format"], whole["exit"]) == (2, 1)
        (file,) = whole["files"]
        assert (file["file"], file["rig"], file["book"]) == ("plover.rig", "Plover", "rv")
        assert re.fullmatch("[0-9a-f]{12}", file["digest"])
        (finding,) = file["findings"]
        assert finding["rule"] == "fuse-over-wire"
        assert finding["severity"] == "danger"
        place = [finding[key] for key in ("line", "column", "end_line", "end_column")]
        assert place == [10, 22, 10, 31]
        assert DANGER.splitlines()[9][21:30] == "fuse 20 A"
        assert finding["others"][0]["line"] == 11
        assert finding["fix"]["text"] == "`fuse 7.5 A`"
        assert finding["citation"]["status"] in ("seen", "memory", "computed", "common practice")
        # 16 AWG in NFPA 70 Table 552.10(E)(1): 8 A (from memory).
        assert finding["numbers"]["limit_a"] == 8.0

    def test_text_that_is_not_understood(self, rig, capsys):
        assert main(["check", "--format", "json", rig(BROKEN), "gone.rig"]) == 2
        one, two = json.loads(capsys.readouterr().out)["files"]
        assert (one["rig"], one["digest"], one["exit"]) == (None, None, 2)
        assert one["findings"][0]["rule"] == "unknown-unit"
        assert (two["findings"][0]["rule"], two["findings"][0]["line"]) == ("file-not-read", None)


class TestExplain:
    @pytest.mark.parametrize("name", rule_names())
    def test_rule(self, name, capsys):
        assert main(["explain", name]) == 0
        said = capsys.readouterr().out
        for part in (f"{name}\n", "\nseverity  ", "\nbooks     ", "\nsource    ", "\nstatus    "):
            assert part in said
        assert "Why:" in said

    @pytest.mark.parametrize("name", sorted(ERRORS))
    def test_error(self, name, capsys):
        assert main(["explain", name]) == 0
        assert ERRORS[name] in capsys.readouterr().out

    def test_every_error_of_the_text_is_explained(self):
        used = set()
        for file in (HOME / "src").rglob("*.py"):
            if file.name != "cli.py":
                text = file.read_text(encoding="utf-8")
                used |= set(re.findall(r'\b(?:error|problem)\(\s*"([a-z0-9-]+)"', text))
        assert used == set(ERRORS)

    def test_overview_lists_every_rule_once(self, capsys):
        assert main(["explain"]) == 0
        lines = capsys.readouterr().out.splitlines()
        listed = [line.split()[0] for line in lines if line.startswith("  ")]
        assert sorted(name for name in listed if name in rule_names()) == sorted(rule_names())

    def test_nearest_name(self, capsys):
        assert main(["explain", "fuse-ovr-wire"]) == 2
        assert "the nearest is `fuse-over-wire`" in capsys.readouterr().err


class TestCommandLine:
    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            ((), "usage: rigfolio COMMAND"),
            (("chek", "x.rig"), "the nearest command is `check`"),
            (("x.rig",), "`rigfolio check x.rig`"),
            (("check",), "required: FILE"),
            (("check", "--fromat", "json", "x.rig"), "--fromat"),
            (("check", "--format", "xml", "x.rig"), "found 'xml'"),
            (("draw",), "required: FILE"),
            (("\x1b[31m",), "`\\x1b[31m` is not a command"),
        ],
    )
    def test_not_understood(self, arguments, said, capsys):
        assert main(arguments) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert said in err
        assert "\x1b" not in err

    @pytest.mark.parametrize("arguments", [("--help",), ("check", "--help"), ("folio", "--help")])
    def test_help(self, arguments, capsys):
        assert main(arguments) == 0
        assert "licensed practice" in capsys.readouterr().out

    def test_version(self, capsys):
        assert main(["--version"]) == 0
        assert capsys.readouterr().out.startswith("rigfolio ")

    def test_module(self):
        assert run("--version").stdout.startswith("rigfolio ")


class TestSurroundings:
    def test_reader_that_goes_away(self, rig):
        rig(DANGER)
        command = f'"{sys.executable}" -m rigfolio check plover.rig | true; exit ${{PIPESTATUS[0]}}'
        done = subprocess.run(
            ["bash", "-c", command], capture_output=True, text=True, env=ENVIRONMENT, check=False
        )
        assert (done.returncode, done.stderr) == (1, "")

    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is full")
    def test_full_disk_behind_standard_output(self, rig):
        with Path("/dev/full").open("w") as full:
            done = run("check", rig(QUIET), capture_output=False, stdout=full,
                       stderr=subprocess.PIPE)  # fmt: skip
        assert done.returncode == 2
        assert "standard output" in done.stderr
        assert "Traceback" not in done.stderr

    def test_terminal_without_unicode(self, rig):
        text = QUIET.replace("Plover", "Кулик").replace("105 Ah", "105 Ahr")
        done = run("check", rig(text), env=ENVIRONMENT | {"PYTHONIOENCODING": "ascii"})
        assert done.returncode == 2
        assert "Traceback" not in done.stderr

    def test_name_with_commands_for_the_terminal(self, rig, capsys):
        assert main(["check", rig(BROKEN, "a\x1b[31mb.rig")]) == 2
        said = capsys.readouterr().err
        assert "\x1b" not in said
        assert "a\\x1b[31mb.rig:2:12" in said

    def test_name_that_is_not_text(self, rig):
        name = os.fsdecode(b"pl\xffver.rig")
        done = run("check", rig(QUIET, name))
        assert (done.returncode, done.stderr) == (0, "")
        assert "pl\\xffver.rig" in done.stdout

    def test_bug_is_told_in_one_paragraph(self, rig, monkeypatch, capsys):
        def fail(file, book):
            raise LookupError("boom")

        monkeypatch.delenv("RIGFOLIO_DEBUG", raising=False)
        monkeypatch.setattr("rigfolio.judgement.many.check", fail)
        assert main(["check", rig(QUIET)]) == 3
        said = capsys.readouterr().err
        assert "LookupError" in said
        assert "boom" in said
        assert said.count("\n") == 1
        monkeypatch.setenv("RIGFOLIO_DEBUG", "1")
        assert main(["check", "plover.rig"]) == 3
        assert "Traceback" in capsys.readouterr().err

    def test_stopped_by_the_user(self, rig, monkeypatch, capsys):
        def stop(file, book):
            raise KeyboardInterrupt

        monkeypatch.setattr("rigfolio.judgement.many.check", stop)
        assert main(["check", rig(QUIET)]) == 130
        assert capsys.readouterr().err == "stopped\n"


def test_little_is_read_before_ctrl_c_is_heard():
    """What Python reads before it runs the program can be stopped with a traceback only."""
    code = "import sys, rigfolio, rigfolio.__main__; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True,
        env=environment(),
    )  # fmt: skip
    own = {name for name in done.stdout.split() if name.startswith("rigfolio")}
    assert own == {"rigfolio", "rigfolio.faces", "rigfolio.__main__"}
    assert not {"typing", "pathlib", "re", "collections", "enum"} & {*done.stdout.split()}


@pytest.mark.parametrize(
    ("stopped", "code"), [(KeyboardInterrupt(), 130), (SystemExit(143), 143)], ids=["INT", "TERM"]
)
def test_stopped_while_a_class_is_made_it_is_no_bug(stopped, code, monkeypatch, capsys):
    class Stopping:
        def __set_name__(self, owner, name):
            raise stopped

    def run(given):
        return type("Made", (), {"kept": Stopping()})

    monkeypatch.setattr("rigfolio.cli.entry.run", run)
    assert main(["check", "x.rig"]) == code
    assert "bug" not in capsys.readouterr().err
