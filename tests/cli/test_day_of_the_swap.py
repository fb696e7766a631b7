"""The day of the swap, from a panel as it was found to one that works, with commands only."""

import json
from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from rigfolio.cli.entry import main
from rigfolio.isolation.energised import CLOSED
from rigfolio.judgement.result import check
from rigfolio.operating import Scene, Wrong
from rigfolio.wording.names import short_end

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")


def test_the_whole_day(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # As found: nobody knows the pump's wire, the radio has a fuse that is too large, one slot
    # is scorched.
    found = tmp_path / "wren.rig"
    found.write_text(WREN.replace("14 AWG yellow 11 ft", "? AWG ? 11 ft"), encoding="utf-8")
    assert main(["check", str(found)]) == 1

    # Survey: the table is printed, filled in and put in.
    folder = tmp_path / "papers"
    assert main(["survey", str(found), "-o", f"{folder}/"]) == 0
    filled = tmp_path / "filled.csv"
    filled.write_text(
        "place,colour,size,fuse found,tail,breakout,condition\n"
        "P1.2,yellow,14 AWG,10 A,12 in,20 mm,\n"
        "P1.7,,,20 A,5 in,80 mm,scorched\n"
        "P1.11,,,,10 in,140 mm,\n",
        encoding="utf-8",
    )
    assert main(["survey", str(found), "--from", str(filled), "--write"]) == 0
    capsys.readouterr()
    main(["check", str(found), "--format", "json"])
    rules = {f["rule"] for f in json.loads(capsys.readouterr().out)["files"][0]["findings"]}
    assert {"wrong-fuse-found", "part-damaged"} <= rules

    # The plan: a panel of eleven slots, and the order that its wires reach.
    built = tmp_path / "built.rig"
    text = found.read_text(encoding="utf-8").replace("12 slots of 20 A", "11 slots of 20 A")
    text = text.replace("slot P1.12 spare\n", "").replace(", found 20 A", "")
    text = text.replace(", found 10 A", "").replace(", scorched", "")
    text = text.replace("circuit P1.11 ", "circuit P1.12 ")
    built.write_text(text, encoding="utf-8")
    assert main(["arrange", str(built), "--write"]) == 0
    result = check(str(built))
    assert result.study is not None
    assert result.exit_code == 0
    assert all(1 <= circuit.slot <= 11 for circuit in result.study.rig.circuits if circuit.panel)

    # What changes, what is bought, what is done, what is read.
    capsys.readouterr()
    assert main(["compare", str(found), str(built)]) == 0
    told = capsys.readouterr().out
    assert "Findings cured" in told
    for command in ("workplan", "tags", "labels", "picklist"):
        since = ["--since", str(found)]
        assert main([command, str(built), *since, "-o", f"{folder}/"]) == 0
    assert main(["testsheet", str(built), "-o", f"{folder}/"]) == 0
    names = {file.name for file in folder.iterdir()}
    assert {"work-plan.pdf", "test-sheet.pdf", "test-sheet.csv"} <= names
    # Every circuit has its slot again: what the tags say is as true as before.
    assert "wire-tags.pdf" not in names

    # The first day: the pump is weak. A meter finds the holder, reading by reading.
    study = result.study
    pump = next(load for load in study.rig.loads if load.about.label == "Pump")
    circuit = study.circuit(pump.circuit)
    assert circuit is not None
    scene = Scene(study, CLOSED, frozenset({pump.about.name}))
    shown = scene.solve(Wrong(ohm=((circuit.device, 0.3),)))
    ends = study.net.at
    named = {short_end(study.rig, end): end for end in ends} | {end: end for end in ends}
    typed = [f"Pump = {shown.between_v(pump.plus, pump.minus):.2f} V", "Pump dim"]
    for _ in range(8):
        capsys.readouterr()
        assert main(["diagnose", str(built), *typed, "--format", "json"]) == 0
        answer = json.loads(capsys.readouterr().out)
        best = answer["verdicts"][0]
        ask = answer["next"]
        if best["share"] > 0.9 or ask is None:
            break
        volts = shown.between_v(named[ask["from"]], named[ask["to"]])
        typed.append(f"{ask['from']} to {ask['to']} = {volts:.3f} V")
    assert [fault["part"] for fault in best["faults"]] == [circuit.device]
    assert best["faults"][0]["kind"] == "contact"
    assert "melts what holds it" in best["words"]

    # Kept for the next person.
    assert main(["log", str(built), "--on", "2026-04-01", *typed, 'done "holder renewed"']) == 0
    assert "holder renewed" in (tmp_path / "built-log.txt").read_text(encoding="utf-8")
    assert main(["testsheet", str(built), "-o", f"{folder}/"]) == 0
