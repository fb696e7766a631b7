"""Rigs under version control: what a machine reads, what is accepted, what stops a change."""

import json
import re
import shlex
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, HOME
from rigfolio.cli.entry import main
from rigfolio.cli.registry import command_names
from rigfolio.findings import RANK, Severity
from rigfolio.judgement.result import check

DANGER = """
rig "Bench" system 12 V, rules rv
battery B1 flooded, 100 Ah, delivers 900 A
fuse F1 50 A on B1+
panel P1 12 slots of 20 A, 75 A in all
busbar N1 100 A
wire F1.load to P1 6 AWG red 4 ft
wire N1 to B1- 6 AWG white 4 ft
circuit P1.1 "Lamp" fuse 20 A
    wire 16 AWG blue 4 ft
    load "Lamp" 1 A
"""
ACCEPTED = DANGER + 'accept fuse-over-wire at P1.1 "a 5 A fuse is on order" 2026-03-14\n'
FAULT = DANGER.replace("fuse 20 A", "fuse 5 A, scorched")
UNKNOWN = DANGER.replace("fuse 20 A", "fuse 5 A").replace("16 AWG blue", "? AWG blue")


@pytest.fixture
def rig(tmp_path: Path):
    def written(text: str, name: str = "bench.rig") -> str:
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        return str(file)

    return written


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        (DANGER, {"danger": 1, "fault": 1, "unknown": 1}),
        (FAULT, {"danger": 0, "fault": 1, "unknown": 1}),
        (UNKNOWN, {"danger": 0, "fault": 0, "unknown": 1}),
        (ACCEPTED, {"danger": 0, "fault": 0, "unknown": 0}),
    ],
    ids=["danger", "fault", "unknown", "accepted danger"],
)
def test_what_ends_with_1_is_chosen(text, ends, rig, capsys):
    file = rig(text)
    for least, code in ends.items():
        assert main(["check", file, "--fail-on", least]) == code
        capsys.readouterr()
        assert main(["check", file, "--fail-on", least, "--format", "json"]) == code
        answer = json.loads(capsys.readouterr().out)
        assert (answer["exit"], answer["files"][0]["exit"]) == (code, code)
    assert main(["check", file]) == ends["unknown"]


def test_a_text_that_is_not_understood_always_ends_with_2(rig):
    assert main(["check", rig("rig\nnonsense\n"), "--fail-on", "danger"]) == 2


def test_what_is_accepted_stays_in_sight(rig, capsys):
    file = rig(ACCEPTED)
    assert main(["check", file]) == 0
    said = capsys.readouterr().out
    assert "danger[fuse-over-wire]: P1.1 Lamp: 20 A fuse, 16 AWG may carry 8 A" in said
    assert "= accepted: a 5 A fuse is on order (2026-03-14)" in said
    assert "1 danger (1 of them accepted)" in said
    main(["check", file, "--summary"])
    assert "(accepted: a 5 A fuse is on order (2026-03-14))" in capsys.readouterr().out
    main(["check", file, "--format", "json"])
    (found,) = json.loads(capsys.readouterr().out)["files"][0]["findings"]
    assert found["accepted"] == {"reason": "a 5 A fuse is on order", "date": "2026-03-14"}


def test_what_is_accepted_is_not_written_over(rig, capsys):
    file = rig(ACCEPTED)
    main(["check", file, "--fix", "--write"])
    capsys.readouterr()
    assert Path(file).read_text(encoding="utf-8") == ACCEPTED


def test_one_that_is_mended_is_told_and_another_danger_still_fails(rig, capsys):
    mended = ACCEPTED.replace("fuse 20 A", "fuse 5 A")
    assert main(["check", rig(mended)]) == 0
    assert "advice[accepted-not-found]" in capsys.readouterr().out
    other = ACCEPTED + DANGER[DANGER.index("circuit") :].replace("P1.1", "P1.2")
    assert main(["check", rig(other)]) == 1


@pytest.mark.parametrize("text", [DANGER, FAULT, UNKNOWN, ACCEPTED])
def test_one_line_form_has_true_places(text, rig, capsys):
    file = rig(text)
    main(["check", file, "--format", "lines"])
    lines = capsys.readouterr().out.splitlines()
    found = check(file).findings
    assert len(lines) == len(found) > 0
    for line, finding in zip(lines, found, strict=True):
        read = re.fullmatch(r"(.*):(\d+):(\d+): (\w+): (.*) \[([a-z-]+)\].*", line)
        assert read is not None
        start = finding.at.span.start
        above = text[:start]
        column = start - (above.rfind("\n") + 1) + 1
        assert read.group(1) == file
        assert (int(read.group(2)), int(read.group(3))) == (above.count("\n") + 1, column)
        assert (read.group(4), read.group(6)) == (finding.severity.value, finding.rule)
        assert finding.headline in read.group(5)


def test_errors_of_the_text_come_as_lines_too(rig, capsys):
    file = rig('rig "A"\nfuse F1 20\n')
    assert main(["check", file, "--format", "lines"]) == 2
    assert capsys.readouterr().out.startswith(f"{file}:2:9: error: ")


def test_the_summary_is_a_line_a_finding_the_gravest_first(capsys):
    file = str(EXAMPLES / "marsh-wren-17.rig")
    main(["check", file, "--summary"])
    lines = capsys.readouterr().out.split("\n\n")[0].splitlines()[:-1]
    ranks = [RANK[Severity(line.split()[0])] for line in lines]
    assert ranks == sorted(ranks)
    assert any("P1.5" in line or "S1.line" in line or "circuit" in line for line in lines)


def test_a_danger_gained_stops_a_change(rig, capsys):
    safe = DANGER.replace("fuse 20 A", "fuse 5 A")
    old, new = rig(safe, "old.rig"), rig(DANGER, "new.rig")
    assert main(["compare", old, new]) == 1
    assert main(["compare", new, old]) == 0
    assert main(["compare", old, rig(ACCEPTED, "accepted.rig")]) == 0
    assert main(["compare", new, new]) == 0
    capsys.readouterr()


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_merge_that_was_not_finished_is_one_message(ends, rig, capsys):
    line = 'circuit P1.1 "Lamp" fuse 20 A'
    parts = ["<<<<<<< HEAD", line, "=======", line.replace("20", "5"), ">>>>>>> mend"]
    file = rig(DANGER.replace(line, "\n".join(parts)).replace("\n", ends))
    assert main(["check", file]) == 2
    said = capsys.readouterr().err
    assert said.count("error[") == 1
    assert "two versions stand in this text, a merge was not finished" in said


def test_hooks_and_workflow_run_commands_that_there_are(rig, capsys):
    hooks = (HOME / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
    flow = (EXAMPLES / "judge-rigs.yml").read_text(encoding="utf-8")
    entries = re.findall(r"^  entry: (.*)$", hooks, re.MULTILINE)
    assert len(entries) == 2
    for entry in entries:
        program, *words = shlex.split(entry)
        assert program == "rigfolio"
        assert main([*words, rig(DANGER)]) == 1
        assert main([*words, rig(ACCEPTED)]) == 0
    named = {word for word in re.findall(r"rigfolio (\w+)", flow) if word in command_names()}
    assert named == {"check", "compare"}
    pattern = re.search(r"^  files: (.*)$", hooks, re.MULTILINE)
    assert pattern is not None
    assert re.search(pattern.group(1), "rigs/wren.rig")
    assert not re.search(pattern.group(1), "rigs/wren.rig.txt")
    capsys.readouterr()
