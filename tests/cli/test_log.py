"""The log beside a rig file, and a diagnosis from what it holds, as a user runs them."""

import json
from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from rigfolio.cli.entry import main

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    file = tmp_path / "wren.rig"
    file.write_text(WREN, encoding="utf-8")
    return file


def log_of(rig: Path) -> Path:
    return rig.with_name("wren-log.txt")


def test_entries_are_kept_one_below_the_other(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["log", str(rig), "--on", "2026-03-14", "P1.3 = 11.2 V", "Radio flickers"]) == 0
    assert main(["log", str(rig), '2026-03-15 done "terminal made again"']) == 0
    assert log_of(rig).read_text(encoding="utf-8").splitlines() == [
        "# Readings and work: wren.rig",
        "2026-03-14  P1.3 = 11.2 V",
        "2026-03-14  Radio flickers",
        '2026-03-15 done "terminal made again"',
    ]
    capsys.readouterr()
    assert main(["log", str(rig)]) == 0
    assert "Radio flickers" in capsys.readouterr().out


def test_what_a_person_wrote_by_hand_stays(rig: Path) -> None:
    log_of(rig).write_text("# mine\n\n2026-03-01 B1 = 12.6 V # cold\nno line end", encoding="utf-8")
    assert main(["log", str(rig), "--on", "2026-03-14", "B1 = 12.5 V"]) == 0
    assert log_of(rig).read_text(encoding="utf-8") == (
        "# mine\n\n2026-03-01 B1 = 12.6 V # cold\nno line end\n2026-03-14  B1 = 12.5 V\n"
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["P1.33 = 11.2 V"], "the nearest name is `P1.3`"),
        (["P1.3 = 11,2 V"], "a decimal comma"),
        (["P1.3 = 11.2 V", "--on", "2026-02-30"], "`2026-02-30` is in no calendar"),
        (["--from", "nowhere.txt"], "`nowhere.txt` cannot be read"),
    ],
)
def test_nothing_is_kept_of_what_is_not_understood(
    rig: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["log", str(rig), "B1 = 12.6 V", *words]) == 2
    assert said in capsys.readouterr().err
    assert not log_of(rig).exists()


def test_a_diagnosis_reads_the_log_of_a_day(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["log", str(rig), "--on", "2026-03-14", "Porch lamp = 3.1 V", "P1.11 = 12.4 V"])
    main(["log", str(rig), "--on", "2026-03-15", "B1 = 9 V"])
    capsys.readouterr()
    assert main(["diagnose", str(rig), "--logged", "2026-03-14", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["readings"] == ["Porch lamp = 3.1 V", "P1.11 = 12.4 V"]
    parts = {fault["part"] for one in found["verdicts"] for fault in one["faults"]}
    assert parts == {"P1.11/1", "P1.11/1R"}
    assert {found["next"]["from"], found["next"]["to"]} == {
        "P1.11",
        '"Porch lamp; Step lamp +"',
    }


def test_readings_come_from_a_text_too(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = rig.with_name("readings.txt")
    text.write_text("# taken at noon\nPorch lamp = 3.1 V\nP1.11 = 12,4 V\n", encoding="utf-8")
    assert main(["diagnose", str(rig), "--from", str(text)]) == 2
    assert f"{text}:3:9" in capsys.readouterr().err
    text.write_text("Porch lamp = 3.1 V\nP1.11 = 12.4 V\n", encoding="utf-8")
    assert main(["diagnose", str(rig), "--from", str(text)]) == 0
    said = capsys.readouterr().out
    assert "a bad joint at either end of `P1.11/1R`" in said
    assert "local code and licensed practice come first" in said.replace("\n", " ")


def test_a_diagnosis_needs_a_reading(rig: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", str(rig)]) == 2
    assert "no reading was given" in capsys.readouterr().err
