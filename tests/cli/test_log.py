"""The log beside a rig file, and a diagnosis from what it holds, as a user runs them."""

import csv
import io
import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import example, given, settings, strategies as st

from helpers.home import CORPUS, EXAMPLES, RIGS
from helpers.studies import heard, studied
from rigfolio.answers import doubts
from rigfolio.answers.logbook import _of_one_state, hear, log_with, logged
from rigfolio.cli.entry import main
from rigfolio.findings import Span
from rigfolio.folio import turns
from rigfolio.judgement.result import check, understood
from rigfolio.model import Reading
from rigfolio.reading import read_log
from rigfolio.record import replace
from rigfolio.refusal import RefusalError
from rigfolio.render.csv_text import read_csv
from rigfolio.study import Study

NOWHERE = Span("", 0, 0)

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
STUDY = check("wren.rig", text=WREN).study
assert STUDY is not None


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


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
@pytest.mark.parametrize("form", ["short", "full"])
def test_the_filled_test_sheet_is_kept_whole(file: Path, form: str, tmp_path: Path) -> None:
    rig, printed = tmp_path / file.name, tmp_path / "test-sheet.csv"
    shutil.copytree(EXAMPLES, tmp_path, dirs_exist_ok=True)
    assert main(["testsheet", str(rig), "--form", form, "-o", str(printed)]) == 0
    rows = read_csv(printed.read_text(encoding="utf-8-sig"))
    heads, expected = rows[0][1], [cells for _, cells in rows[1:]]
    assert len(expected) > 30
    at = {name: heads.index(name) for name in ("read", "least", "most", "unit")}
    filled = []
    for number, cells in enumerate(expected):
        value = float(cells[at["least"]]) if cells[at["unit"]] == "V" else 3.5
        # Every fifth as a person in a hurry would write it, with a comma and its unit.
        said = f"{value:.2f}".replace(".", ",") + (f" {cells[at['unit']]}" if number % 5 else "")
        if cells[at["unit"]] == "ohm" and number % 7 == 0:
            said = "OL"
        filled.append((*cells[: at["read"]], said, *cells[at["read"] + 1 :]))
    text = io.StringIO()
    csv.writer(text, delimiter=";").writerows((heads, *filled))
    printed.write_text(text.getvalue(), encoding="utf-8")
    assert main(["log", str(rig), "--from", str(printed), "--on", "2026-03-14"]) == 0
    heard = logged(understood(str(rig)))
    assert heard.found == ()
    assert len(heard.log.readings) == len(filled)
    for reading, cells in zip(heard.log.readings, expected, strict=True):
        unit = cells[at["unit"]]
        assert reading.measure == {"V": "voltage", "A": "current", "ohm": "resistance"}[unit]
        assert reading.date == "2026-03-14"
        if unit == "V":
            assert reading.value == pytest.approx(float(cells[at["least"]]), abs=0.006)


def test_a_table_without_readings_adds_nothing(rig: Path) -> None:
    printed = rig.with_name("test-sheet.csv")
    assert main(["testsheet", str(rig), "-o", str(printed)]) == 0
    assert main(["log", str(rig), "--from", str(printed)]) == 0
    assert not log_of(rig).exists()


def _filled(rig: Path, *read: str, mark: str = ";") -> Path:
    """A table of a test sheet with some cells filled in, one row each."""
    rows = [("unit", "read", "write down as"), *(("V", f'"{one}"', "P1 = ___ V") for one in read)]
    table = rig.with_name("filled.csv")
    table.write_text("".join(f"{mark.join(row)}\n" for row in rows), encoding="utf-8")
    return table


@pytest.mark.parametrize("mark", [";", "\t"])
def test_a_comma_parts_decimals_where_it_parts_no_cells(rig: Path, mark: str) -> None:
    table = _filled(rig, "10,1", "12.4", mark=mark)
    assert main(["log", str(rig), "--on", "2026-03-14", "--from", str(table)]) == 0
    assert log_of(rig).read_text(encoding="utf-8").splitlines()[1:] == [
        "2026-03-14  P1 = 10.1 V", "2026-03-14  P1 = 12.4 V",
    ]  # fmt: skip


def test_a_cell_that_says_that_nothing_was_read_is_left_out(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = _filled(rig, "12.4", "n/a", "", "12.3", "-")
    assert main(["log", str(rig), "--on", "2026-03-14", "--from", str(table)]) == 0
    assert len(log_of(rig).read_text(encoding="utf-8").splitlines()) == 3
    assert "marked as not read, and left out: line 3, 6" in capsys.readouterr().err


def test_of_a_table_with_a_cell_that_is_no_reading_nothing_is_taken(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = _filled(rig, "12.4", "lots", "12.3", "1,234")
    assert main(["log", str(rig), "--from", str(table)]) == 2
    said = capsys.readouterr().err
    assert f"{table}:3: column `read`: `lots` is no reading" in said
    assert "line 5: `1,234` is no reading" in said
    assert not log_of(rig).exists()
    assert main(["log", str(rig), "--from", str(_filled(rig, "10,1", mark=","))]) == 2
    assert "`10,1` has a comma, which parts cells here: write `10.1`" in capsys.readouterr().err


def test_a_state_that_is_supplied_may_be_named(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bare = rig.with_name("bare.rig")
    text = "".join(line for line in WREN.splitlines(True) if not line.startswith("state"))
    bare.write_text(text, encoding="utf-8")
    assert main(["log", str(bare), "--on", "2026-03-14", "P1 = 0 V, in stored"]) == 0
    assert main(["log", str(bare), "P1 = 0 V, in Atlantis"]) == 2
    assert "there are `" in (said := capsys.readouterr().err)
    assert "`stored`" in said


def test_what_cannot_be_read_in_a_table_is_told_with_its_line(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = rig.with_name("filled.csv")
    table.write_text(
        "write down as,unit,read\nP1.3 = ___ V,V,12.4\nP1.4 = ___ V,V,fine\n", encoding="utf-8"
    )
    assert main(["log", str(rig), "--from", str(table)]) == 2
    assert f"{table}:3:" in capsys.readouterr().err
    assert not log_of(rig).exists()


def test_a_remark_stands_between_the_entries(rig: Path) -> None:
    assert main(["log", str(rig), "--on", "2026-03-14", "# day one", "B1 = 12.6 V # cold"]) == 0
    assert log_of(rig).read_text(encoding="utf-8").splitlines()[1:] == [
        "# day one",
        "2026-03-14  B1 = 12.6 V # cold",
    ]
    heard = logged(check(str(rig)))
    assert heard.found == ()
    assert [one.value for one in heard.log.readings] == [12.6]


DAYS = ("", "", "2026-03-14 ", "2026-02-30 ", "20260314 ", "2026-W11-6 ", "# ", "done ")
PLACES = ("P1.3", "B1", "Porch lamp", "Radio", "P1.11 to N1", '"Radio"', "Galley", "")
SAID = (" = 11.2 V", " = 0.2 ohm", " dead", " blows", "", "#", '"')
MORE = ("", "", ", with Pump on", ", in shore", " # cold", ", S1 open")
NOISE = (
    "",
    "",
    "",
    '"',
    "\\",
    "\r",
    "\n",
    "\x0b",
    "\x85",
    "\u2028",
    "\ufeff",
    "\udcff",
    "\x00",
    "é",
)
ENTRIES = st.tuples(
    *(st.sampled_from(each) for each in (NOISE, DAYS, PLACES, SAID, NOISE, MORE, NOISE))
).map("".join)
"""What people type, and what comes along when they paste."""


def test_a_log_is_never_written_so_that_it_cannot_be_read(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    folder = tmp_path_factory.mktemp("any")
    rig = folder / "wren.rig"
    rig.write_text(WREN, encoding="utf-8")
    result = check(str(rig))
    kept: list[str] = []

    @settings(max_examples=150)
    @given(st.lists(ENTRIES | st.text(max_size=9), max_size=2))
    @example(["2026-02-30 P1.3 = 11.2 V"])
    @example(["# day one", "P1.3 = 11.2 V"])
    @example(["Radio dead\u2028"])
    @example(["2026-03-14 Radio dead", "Radio = 11.2 V"])
    def holds(typed: list[str]) -> None:
        log_of(rig).unlink(missing_ok=True)
        try:
            said = hear(result, typed)
            if said.found:
                return
            path, content, _ = log_with(result, typed, "2026-03-01")
        except RefusalError:
            return
        path.write_bytes(content)
        again = logged(result)
        assert again.found == ()
        bare = [replace(one, date="", span=NOWHERE) for one in said.log.readings]
        assert [replace(one, date="", span=NOWHERE) for one in again.log.readings] == bare
        assert [one.text for one in again.log.done] == [one.text for one in said.log.done]
        assert all(one.date for one in (*again.log.readings, *again.log.done))
        kept.extend(one.part for one in again.log.readings)

    holds()
    assert {"P1.3", "Radio"} <= set(kept)


def test_two_logs_at_once_lose_nothing(rig: Path) -> None:
    words = [[f"P1.{slot} = {volts}.5 V" for slot in (1, 2, 3)] for volts in range(6, 14)]
    running = [
        subprocess.Popen([sys.executable, "-m", "rigfolio", "log", str(rig), *each])
        for each in words
    ]
    assert [one.wait() for one in running] == [0] * len(words)
    kept = log_of(rig).read_text(encoding="utf-8").splitlines()[1:]
    assert sorted(line.split("  ", 1)[1] for line in kept) == sorted(
        one for each in words for one in each
    )


def test_a_log_is_not_written_while_another_writes_it(
    rig: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(turns, "LONGEST_S", 0.0)
    with turns.turn_of([log_of(rig)]):
        assert main(["log", str(rig), "B1 = 12.5 V"]) == 2
        assert "another command is writing" in capsys.readouterr().err
        assert not log_of(rig).exists()
    assert main(["log", str(rig), "B1 = 12.5 V"]) == 0
    assert {one.name for one in rig.parent.iterdir()} == {rig.name, log_of(rig).name}


def test_what_was_done_parts_the_readings_of_a_day(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A joint that was mended at noon is not looked for in the afternoon."""
    bad = ["P1.3 to N1 = 9.1 V, with P1.3 on", "P1 to N1 = 12.5 V, with P1.3 on"]
    good = ["P1.3 to N1 = 12.4 V, with P1.3 on"]
    assert main(["log", str(rig), "--on", "2026-03-15", *bad, 'done "slot P1.3 cleaned"']) == 0
    assert main(["log", str(rig), "--on", "2026-03-15", *good]) == 0
    result = check(str(rig))
    assert [one.value for one in logged(result, "2026-03-15").log.readings] == [12.4]
    capsys.readouterr()
    assert main(["diagnose", str(rig), "--logged", "2026-03-15"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert '2 readings of that day before `done "slot P1.3 cleaned"`' in told
    # Before the afternoon, what was read in the morning is all that there is.
    log_of(rig).write_text("".join(f"2026-03-15 {line}\n" for line in [*bad, "done \"x\""]),
                           encoding="utf-8")  # fmt: skip
    assert [one.value for one in logged(result, "2026-03-15").log.readings] == [9.1, 12.5]


@given(st.lists(st.sampled_from(["read", "done"]), min_size=1, max_size=9))
def test_the_readings_of_a_day_are_those_after_the_last_work(turns: list[str]) -> None:
    last: list[int] = []
    lines, fresh = [], True
    for number, turn_ in enumerate(turns, start=1):
        if turn_ == "done":
            lines.append(f'2026-03-15 done "work {number}"')
            fresh = True
            continue
        last = [number] if fresh else [*last, number]
        fresh = False
        lines.append(f"2026-03-15 B1 = {number} V")
    log, problems = read_log("\n".join(lines), "log", STUDY.rig)
    assert problems == ()
    assert [one.value for one in _of_one_state(log.readings, log.done)] == last


def test_volts_that_nothing_in_the_rig_gives_are_kept_and_asked_about(
    rig: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # By hand: 1.5 x 12 V of one battery are 18 V.
    assert main(["log", str(rig), "B1 = 99 V", "B1 = -12.6 V", "B1 = 14.4 V", "# cold"]) == 0
    told = capsys.readouterr().err
    assert "`B1 = 99 V`: no source of this rig gives more than 18 V" in told
    # Its two leads are swapped; 14.4 V are what a charger holds.
    assert "`B1 = -12.6 V`: expected 12" in told
    assert "no source" not in told.split("B1 = -12.6 V")[1]
    assert "14.4" not in told
    assert "99 V" in log_of(rig).read_text(encoding="utf-8")


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_no_volts_that_a_rig_shows_are_doubted(file: Path) -> None:
    study = studied(file)
    shown = [
        replace(_reading(study), value=volts)
        for volts in (*study.most_volts.values(), *(1.2 * one for one in study.volts.values()))
    ]
    assert doubts(study, shown) == ()


def _reading(study: Study) -> Reading:
    post = next(one.about.name for one in study.rig.sources if one.stores)
    (reading,) = heard(study.rig, f"{post} = 12 V")
    return reading
