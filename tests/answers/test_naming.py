"""Names written into a text: nothing else of it changes, and no number comes twice."""

import io
import re
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import EXAMPLES, RIGS
from helpers.named_rigs import PARTS, statements, text_of, wires
from rigfolio.answers.naming import Naming, naming_of
from rigfolio.cli.entry import main
from rigfolio.judgement.mending import written_files
from rigfolio.judgement.result import Result, check
from rigfolio.model.graph import Conductor, Rig

ADDED = re.compile(rb', tag (\w+|"[^"]*")(?=\s)|\r?\n[ \t]*tags used to W\d+')
NAMED = {"name", "a", "b", "span", "size_span"}


def found_of(result: Result, older: Rig | None = None, *, as_called: bool = False) -> Naming:
    assert result.study is not None, result.findings
    return naming_of(result, result.study.rig, older, as_called=as_called)


def written(file: Path) -> tuple[Result, Result]:
    """A file as it was and as it is with the names written in."""
    before = check(str(file))
    assert before.study is not None, before.findings
    for path, content in written_files(before, found_of(before).edits).items():
        path.write_bytes(content)
    after = check(str(file))
    assert after.study is not None, after.findings
    return before, after


def assert_same_but_names(before: Result, after: Result) -> None:
    assert before.study is not None
    assert after.study is not None
    old, new = before.study.rig, after.study.rig
    assert len(old.conductors) == len(new.conductors)
    called = {was.name: now.name for was, now in zip(old.conductors, new.conductors, strict=True)}
    assert [_facts(wire) for wire in old.conductors] == [_facts(wire) for wire in new.conductors]
    assert [_ends(wire, called) for wire in old.conductors] == [
        (wire.a, wire.b) for wire in new.conductors
    ]
    assert [(d.kind, d.rating_a, called.get(d.on_wire, "")) for d in old.devices] == [
        (d.kind, d.rating_a, d.on_wire) for d in new.devices
    ]
    assert [c.place for c in old.circuits] == [c.place for c in new.circuits]
    assert _found(before) == _found(after)


def _facts(wire: Conductor) -> list[object]:
    return [getattr(wire, name) for name in Conductor.__match_args__ if name not in NAMED]


def _ends(wire: Conductor, called: dict[str, str]) -> tuple[str, ...]:
    def end(terminal: str) -> str:
        for was in sorted(called, key=len, reverse=True):
            if terminal.startswith((f"{was}.fuse.", f"{was}~")):
                return called[was] + terminal.removeprefix(was)
        return terminal

    return end(wire.a), end(wire.b)


def _found(result: Result) -> list[tuple[str, str]]:
    return sorted((one.rule, one.severity.value) for one in result.findings)


def names_of(rig: Rig) -> list[str]:
    return [wire.name for wire in rig.conductors if not wire.assumed]


@settings(max_examples=25)
@given(statements(), st.sampled_from(["\n", "\r\n"]), st.booleans())
def test_the_rig_is_the_same_but_for_names(
    tmp_path_factory: pytest.TempPathFactory, said: list[str], end: str, parted: bool
) -> None:
    folder = tmp_path_factory.mktemp("rig")
    file = folder / "made.rig"
    if parted:
        (folder / "more.rig").write_bytes((end.join(said[1:]) + end).encode())
        said = [said[0], *(['include "more.rig"'] if said[1:] else [])]
    file.write_bytes(text_of(said, end).encode())
    texts = {path: path.read_bytes() for path in folder.iterdir()}
    before, after = written(file)
    assert_same_but_names(before, after)
    for path, was in texts.items():
        assert ADDED.sub(b"", path.read_bytes()) == was
    assert after.study is not None
    rig = after.study.rig
    # What is left without a name is called by the slot that it lands in.
    assert all(one.name == one.turn for one in rig.nameless)
    assert found_of(after).edits == {}


@settings(max_examples=25)
@given(statements(), st.lists(wires(), min_size=1, max_size=3), st.data())
def test_a_number_that_was_used_is_never_given_again(
    tmp_path_factory: pytest.TempPathFactory, said: list[str], new: list[str], data: st.DataObject
) -> None:
    file = tmp_path_factory.mktemp("rig") / "made.rig"
    file.write_text(text_of(said), encoding="utf-8")
    _, first = written(file)
    assert first.study is not None
    given_out = set(names_of(first.study.rig))
    lines = file.read_text("utf-8").split("\n")
    at = [number for number, line in enumerate(lines) if line.startswith("wire ")]
    for number in sorted(data.draw(st.sets(st.sampled_from(at))) if at else (), reverse=True):
        del lines[number]
    lines[PARTS.count("\n") + 1 : PARTS.count("\n") + 1] = new
    file.write_text("\n".join(lines), encoding="utf-8")
    result = check(str(file))
    names = [now for _, now in found_of(result).names]
    assert len(names) == len(set(names)) >= len(new)
    assert not set(names) & given_out


@pytest.mark.parametrize("path", RIGS, ids=lambda path: path.stem)
def test_the_examples_have_their_names(path: Path) -> None:
    assert found_of(check(str(path))).edits == {}


OLD = """rig "Old"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
fuse F1 50 A
panel P1 6 slots of 20 A
busbar N1 100 A
wire B1+ to F1 6 AWG red 1 ft
wire F1 to P1 6 AWG red 4 ft
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 4 ft
    splice Z1
    wire 16 AWG red 4 ft
    load "Lamp" 1 A
"""
LATER = OLD.replace("wire B1+ to F1", "wire N1 to B1- 8 AWG blue 4 ft\nwire B1+ to F1")


def test_an_old_text_gets_the_numbers_that_are_on_its_tags() -> None:
    found = found_of(check("old.rig", text=OLD))
    assert found.names == (("B1+/F1", "W1"), ("F1/P1", "W2"), ("B1-/N1", "W3"),
                           ("P1.1/Lamp", "P1.1/2"))  # fmt: skip
    assert found.used_to == 3


def test_an_older_version_tells_which_number_a_wire_had() -> None:
    # W4 may be on a tag that was printed of the later version, which has four wires.
    older = check("old.rig", text=OLD).study
    assert older is not None
    found = found_of(check("old.rig", text=LATER), older.rig)
    assert dict(found.names) == {
        "B1-/N1 8 AWG blue": "W5", "B1+/F1": "W1", "F1/P1": "W2", "B1-/N1 6 AWG black": "W3",
        "P1.1/Lamp": "P1.1/2",
    }  # fmt: skip


def test_the_names_of_today_need_no_new_tags() -> None:
    found = found_of(check("old.rig", text=LATER), as_called=True)
    assert all(was == now for was, now in found.names)
    assert found.used_to == 4, "the numbers of its turns are kept from use, too"


def test_the_log_keeps_a_number_from_use(tmp_path: Path) -> None:
    file = tmp_path / "old.rig"
    file.write_text(OLD.replace("rules vehicle", "rules vehicle\n    tags used to W9"), "utf-8")
    (tmp_path / "old-log.txt").write_text("2026-03-14  W41 done taken out\n", encoding="utf-8")
    found = found_of(check(str(file)))
    assert [now for _, now in found.names] == ["W42", "W43", "W44", "W45"]
    assert found.used_to == 45


def test_the_command_shows_a_difference_and_writes_it_when_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "old.rig"
    file.write_bytes(OLD.replace("\n", "\r\n").encode())
    file.chmod(0o640)
    assert main(["name", str(file)]) == 0
    shown = capsys.readouterr().out
    assert "+wire B1+ to F1 6 AWG red 1 ft, tag W1\n" in shown
    assert "+    tags used to W3\n" in shown
    assert "--write" in shown
    assert file.read_bytes() == OLD.replace("\n", "\r\n").encode()
    assert main(["name", str(file), "--write"]) == 0
    told = capsys.readouterr()
    assert "F1/P1 is W2" in told.out
    assert told.err == f"written: {file}\n"
    assert file.stat().st_mode & 0o777 == 0o640
    text = file.read_bytes()
    assert b"\r\n    tags used to W3\r\n" in text
    assert text.count(b"\r\n") == text.count(b"\n")
    assert main(["name", str(file), "--write"]) == 0
    assert file.read_bytes() == text


def test_a_text_without_a_head_cannot_keep_count(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "old.rig"
    file.write_text(OLD[OLD.index("battery") :], encoding="utf-8")
    assert main(["name", str(file)]) == 0
    assert "there is no `rig` line that keeps it" in capsys.readouterr().out


def test_a_text_from_a_pipe_is_shown_and_not_written(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for words, code in ((["name", "-"], 0), (["name", "-", "--write"], 2)):
        pipe = io.TextIOWrapper(io.BytesIO(OLD.encode()), encoding="utf-8")
        monkeypatch.setattr(sys, "stdin", pipe)
        assert main(words) == code
    assert "Traceback" not in capsys.readouterr().err


def test_names_survive_a_circuit_that_is_moved(tmp_path: Path) -> None:
    wren = (EXAMPLES / "marsh-wren-17.rig").read_text("utf-8")
    moved = wren.replace("slot P1.12 spare\n", "").replace("circuit P1.6 ", "circuit P1.12 ")
    file = tmp_path / "wren.rig"
    file.write_text(moved, encoding="utf-8")
    study = check(str(file)).study
    assert study is not None
    names = {wire.name for wire in study.rig.conductors}
    assert {"P1.12/1", "P1.6/2", "P1.6/3"} <= names


def test_a_circuit_that_starts_at_no_slot_keeps_the_name_that_tells_it() -> None:
    text = """\
rig "Tern" system 12 V, rules vehicle
battery B1 agm, 90 Ah
wire B1+ to M1+ 4 AWG red 3 ft
load M1 "Winch" 90 A
circuit B1+ "Gas alarm" fuse 3 A
    wire 16 AWG red 3 ft
    load "Gas alarm" 0.1 A
"""
    names = dict(found_of(check("tern.rig", text=text)).names)
    assert names["B1+/Gas alarm"] == "B1+/Gas alarm"
    assert names["B1+/M1+"] == "W1"
