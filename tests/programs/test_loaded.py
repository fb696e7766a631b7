"""A rig for programs: what it gives is what the commands print as JSON."""

import json
import subprocess
import sys

import pytest

import rigfolio
from helpers.goldens import kept, printed as said
from helpers.home import EXAMPLES, FAULTY, HOME, RIGS, environment
from helpers.plover import PLOVER
from rigfolio.cli.entry import main


@pytest.mark.parametrize("stem", [file.stem for file in RIGS])
def test_answers_are_those_of_the_commands(stem, monkeypatch):
    # As the goldens call it.
    monkeypatch.chdir(HOME)
    rig = rigfolio.load(f"examples/{stem}.rig")
    asked = {
        "live": rig.answers.live,
        "demand": rig.answers.demand,
        "size": rig.answers.size,
        "isolate": rig.answers.isolate,
        "short": rig.answers.short,
        "diagnose": lambda *heard: rig.answers.diagnose(list(heard)),
    }
    for words, shown in kept(stem, *(f"{name}-json" for name in asked)):
        command, _, *rest = words[: words.index("--format")]
        assert json.loads(json.dumps(asked[command](*rest))) == said(shown), command


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda file: file.stem)
def test_findings_are_those_of_check(file, monkeypatch):
    # As the goldens call it.
    monkeypatch.chdir(HOME)
    name = file.relative_to(EXAMPLES).with_suffix("").as_posix()
    ((_, shown),) = kept(name, "check-json")
    (told,) = said(shown)["files"]
    if told["rig"] is None:
        with pytest.raises(rigfolio.NotUnderstoodError) as caught:
            rigfolio.load(f"examples/{name}.rig")
        assert caught.value.findings == told["findings"]
        return
    rig = rigfolio.load(f"examples/{name}.rig")
    assert json.loads(json.dumps(rig.check())) == told["findings"]
    assert (rig.name, rig.book, rig.digest) == (told["rig"], told["book"], told["digest"])
    assert rig.files[0] == told["file"]


def test_the_drawing_is_that_of_the_command(tmp_path, capsys):
    file = RIGS[0]
    for form in ("svg", "pdf", "dot"):
        made = rigfolio.load(file).draw(form)
        folder = tmp_path / form
        assert main(["draw", str(file), "--format", form, "-o", f"{folder}/"]) == 0
        assert {path.name: path.read_bytes() for path in folder.iterdir()} == made
    capsys.readouterr()


def test_a_text_that_is_not_understood_says_where(tmp_path):
    with pytest.raises(rigfolio.NotUnderstoodError, match=r"error\[unknown-unit\]") as caught:
        rigfolio.load("x.rig", text=PLOVER.replace("20 A", "20 Amper"))
    assert {(one["file"], one["line"]) for one in caught.value.findings} >= {("x.rig", 14)}
    with pytest.raises(rigfolio.NotUnderstoodError, match="cannot be read") as caught:
        rigfolio.load(tmp_path / "nowhere.rig")
    (one,) = caught.value.findings
    assert (one["rule"], one["line"]) == ("file-not-read", None)


def test_what_cannot_be_done_is_refused():
    rig = rigfolio.load("x.rig", text=PLOVER)
    for ask in (
        lambda: rigfolio.load("x.rig", text=PLOVER, rules="barge"),
        lambda: rig.answers.isolate("P11"),
        lambda: rig.answers.short("nowhere at all"),
        lambda: rig.answers.diagnose([]),
    ):
        with pytest.raises(rigfolio.RefusalError) as caught:
            ask()
        assert caught.value.rule
        assert caught.value.fix
    with pytest.raises(rigfolio.NotUnderstoodError):
        rig.answers.diagnose(["P1.1 = 11 furlongs"])


def test_another_book_judges():
    assert rigfolio.load("x.rig", text=PLOVER, rules="boat").book == "boat"


def test_importing_it_imports_nothing_else():
    code = (
        "import sys; before = set(sys.modules); import rigfolio;"
        "print(sorted(name for name in set(sys.modules) - before if name.startswith('rigfolio')));"
        "print('lark' in sys.modules, 'reportlab' in sys.modules, 'pint' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=HOME,
        env=environment(),
    )  # fmt: skip
    first, second = done.stdout.splitlines()
    assert first == "['rigfolio', 'rigfolio.faces']"
    assert second == "False False False"


def test_every_name_that_the_manual_promises_is_there():
    text = (HOME / "grammar" / "PROGRAMS.md").read_text("utf-8")
    assert [name for name in rigfolio.__all__ if f"rigfolio.{name}" not in text] == []
    rig = rigfolio.load("x.rig", text=PLOVER)
    for one in (rig, rig.answers):
        for name in vars(type(one)):
            if not name.startswith("_"):
                assert f".{name}" in text, name
