"""A log that was written of a rig as it was, beside the text of the rig as it is now."""

import re
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from rigfolio.answers import logged
from rigfolio.cli.entry import main
from rigfolio.judgement.result import Result, understood
from rigfolio.operating import numbered_points
from rigfolio.swap import sheet_stages

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
MOVED = WREN.replace("circuit P1.3 ", "circuit P1.12 ").replace("slot P1.12 ", "slot P1.3 ")
DAY = "2026-03-14"


def test_what_was_read_before_a_circuit_moved_stops_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    rig = tmp_path / "wren.rig"
    rig.write_text(WREN, encoding="utf-8")
    kept = ["B1 = 12.6 V", "Radio = 12.1 V, with P1.3 on", 'done "moved to P1.12"']
    assert main(["log", str(rig), "--on", DAY, *kept[:2]]) == 0
    rig.write_text(MOVED, encoding="utf-8")
    commands = (
        ["folio", "--sheets", "test-sheet"], ["testsheet"], ["page"], ["diagnose", "--logged", DAY],
        ["log"],
    )  # fmt: skip
    for name, *more in commands:
        capsys.readouterr()
        assert main([name, str(rig), *more]) in (0, 1), name
        said = "".join(capsys.readouterr())
        told = " ".join(said.split())
        assert told.count("wren-log.txt:3: `2026-03-14 Radio = 12.1 V, with P1.3 on`") == 1, name
        assert "`P1.3` is no load" in told, name
    assert main(["log", str(rig), "--on", DAY, kept[2], "Radio = 12.3 V, with P1.12 on"]) == 0
    heard = logged(understood(str(rig)), DAY)
    assert [one.value for one in heard.log.readings] == [12.3]


def test_where_no_reading_of_a_day_has_a_place_any_more_that_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "wren.rig"
    rig.write_text(MOVED, encoding="utf-8")
    (tmp_path / "wren-log.txt").write_text(f"{DAY} Radio = 12.1 V, with P1.3 on\n", "utf-8")
    assert main(["diagnose", str(rig), "--logged", DAY]) == 2
    said = capsys.readouterr().err
    assert "left aside" in said
    assert "no reading was given" in said


@pytest.mark.parametrize(
    "line",
    ["nothing of the kind", "Radio = lots", "2026-02-30 B1 = 12 V", "done", "B1 = 12,6 V"],
)
def test_what_no_rig_would_make_a_reading_is_an_error_still(line: str, tmp_path: Path) -> None:
    rig = tmp_path / "wren.rig"
    rig.write_text(WREN, encoding="utf-8")
    (tmp_path / "wren-log.txt").write_text(f"{line}\n", encoding="utf-8")
    heard = logged(understood(str(rig)))
    assert len(heard.found) == 1
    assert heard.log.unplaced == ()


def _edits(text: str) -> Iterator[str]:
    """A rig without each part, with each label another, with circuits moved, a panel replaced."""
    blocks = re.split(r"(?m)^(?=\S)", text)
    for at in range(1, len(blocks)):
        yield "".join((*blocks[:at], *blocks[at + 1 :]))
    for found in re.finditer(r'"([^"\n]+)"', text):
        yield text.replace(found[0], '"Another thing altogether"')
    for found in re.finditer(r"(?m)^slot (\w+)(\.\d+) spare", text):
        for circuit in re.finditer(rf"(?m)^circuit ({found[1]}\.\d+)", text):
            yield (
                re.sub(rf"\b{re.escape(circuit[1])}\b", "@", text)
                .replace(f"{found[1]}{found[2]}", circuit[1])
                .replace("@", f"{found[1]}{found[2]}")
            )
    for found in re.finditer(r"(?m)^panel (\w+)", text):
        yield re.sub(rf"\b{found[1]}\b", "PX9", text)


@pytest.mark.parametrize("name", ["marsh-wren-17", "kittiwake-30"])
def test_every_entry_by_the_words_of_the_sheet_is_read_or_left_aside_after_any_edit(
    name: str, tmp_path: Path
) -> None:
    file = EXAMPLES / f"{name}.rig"
    rig = tmp_path / file.name
    text = file.read_text(encoding="utf-8")
    rig.write_text(text, encoding="utf-8")
    entries = _entries(understood(str(file)))
    lines = "".join(f"{DAY}  {entry}\n" for entry in entries)
    (tmp_path / f"{file.stem}-log.txt").write_text(lines, encoding="utf-8")
    tried = aside = 0
    for edit in islice(_edits(text), 0, None, 3):
        rig.write_text(edit, encoding="utf-8")
        result = understood(str(rig))
        if result.study is None:
            continue
        heard = logged(result)
        assert heard.found == ()
        assert len(heard.log.readings) + len(heard.log.unplaced) == len(entries)
        assert bool(heard.told) == bool(heard.log.unplaced)
        tried += 1
        aside += bool(heard.log.unplaced)
    assert tried > 20
    assert aside > 5


def _entries(result: Result) -> tuple[str, ...]:
    """What stands in a log of which every line was written by the words of the test sheet."""
    assert result.study is not None
    points = (point for *_, point in numbered_points(sheet_stages(result.study)))
    return tuple(point.written("1.5") for point in islice(points, 0, None, 3))
