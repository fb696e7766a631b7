"""What is found as SARIF 2.1.0, held to the published schema and to what it is told from.

`sarif-2.1.0.json` is the schema of the standard, final version, as the npm package
`@microsoft/sarif-multitool-linux` 5.7.0 (MIT) carries it, to the byte.
"""

import json
import re
from pathlib import Path
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

import pytest
from hypothesis import given, strategies as st
from jsonschema import Draft202012Validator

from helpers.forgotten import cache
from helpers.home import FAULTY, HOME, RIGS
from helpers.plover import PLOVER
from rigfolio.cli.entry import main
from rigfolio.findings import Severity
from rigfolio.judgement.messages.sarif import as_sarif
from rigfolio.judgement.result import check
from rigfolio.judgement.trial import tried
from rigfolio.judgement.whole import whole_of
from rigfolio.lang.edits import apply
from rigfolio.manual.topics import explain

THIN = PLOVER.replace('"Fan" fuse', '"LABEL" fuse')
KINDS = {"error": "fail", "danger": "fail", "fault": "fail", "advice": "fail", "unknown": "open"}


@cache
def schema():
    held = json.loads(Path(__file__).with_name("sarif-2.1.0.json").read_text("utf-8"))
    Draft202012Validator.check_schema(held)
    return Draft202012Validator(held)


def log_of(*results):
    """The log of results, which keeps to the schema."""
    log = json.loads(as_sarif(results, explain))
    assert [problem.message for problem in schema().iter_errors(log)] == []
    return log


def run_of(*results):
    (run,) = log_of(*results)["runs"]
    return run


def offset(text, line, column):
    """The character at a line and column, by the rules of the standard."""
    starts = [0, *(found.end() for found in re.finditer("\r\n|\n|\r", text))]
    return starts[line - 1] + column - 1


def piece(text, region):
    start = offset(text, region["startLine"], region["startColumn"])
    return start, offset(text, region["endLine"], region["endColumn"])


def said_of(result):
    """All that the log has to tell of one rig whose ways out were tried."""
    whole = whole_of(result) if result.study is None else None
    rest = tried(whole).findings if whole is not None else ()
    return [*result.findings, *rest]


@cache
def example(name):
    """What is found in an example, named from the folder of the project, and its log."""
    result = tried(check(name))
    return result, run_of(result)


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda file: file.stem)
def test_every_example_is_told_as_it_was_found(file, monkeypatch):
    monkeypatch.chdir(HOME)
    result, run = example(str(file.relative_to(HOME)))
    rules = run["tool"]["driver"]["rules"]
    found = said_of(result)
    assert len(run["results"]) == len(found)
    for told, finding in zip(run["results"], found, strict=True):
        assert rules[told["ruleIndex"]]["id"] == told["ruleId"] == finding.rule
        assert finding.headline in told["message"]["text"]
        assert told["kind"] == KINDS[finding.severity.value]
        # The standard: what is neither passed nor failed has no level.
        assert (told["level"] == "none") == (told["kind"] != "fail")
        assert told["properties"]["severity"] == finding.severity.value
        place = told["locations"][0]["physicalLocation"]
        name = place["artifactLocation"]["uri"]
        text = result.texts[name]
        assert piece(text, place["region"]) == (finding.at.span.start, finding.at.span.end)
        assert len(told.get("relatedLocations", [])) == len(finding.others)
    assert {one["id"] for one in rules} == {finding.rule for finding in found}
    assert all(explain(one["id"]).split("\n")[0] in one["help"]["text"] for one in rules)
    files = [HOME / one["location"]["uri"] for one in run["artifacts"]]
    assert [str(path.relative_to(HOME)) for path in files] == list(result.texts)
    assert all(path.is_file() for path in files)
    assert run["invocations"][0]["executionSuccessful"] == (result.study is not None)


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda file: file.stem)
def test_a_fix_makes_the_text_that_was_tried(file, monkeypatch):
    monkeypatch.chdir(HOME)
    result, run = example(str(file.relative_to(HOME)))
    offered = [one for one in result.findings if one.fix and one.fix.is_tried and one.fix.edits]
    told = [one for one in run["results"] if "fixes" in one]
    assert len(told) == len(offered)
    for finding, one in zip(offered, told, strict=True):
        (fix,) = one["fixes"]
        for change in fix["artifactChanges"]:
            name = change["artifactLocation"]["uri"]
            text = result.texts[name]
            assert written(text, change["replacements"]) == apply(
                text, [edit for edit in finding.fix.edits if edit.span.file == name]
            )


def written(text, replacements):
    """A text with replacements made from its end on, as a program that reads the log does it."""
    places = [(*piece(text, one["deletedRegion"]), one["insertedContent"]) for one in replacements]
    for start, end, content in sorted(places, key=lambda one: one[:2], reverse=True):
        text = text[:start] + content["text"] + text[end:]
    return text


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["lf", "crlf", "cr"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "marked"])
def test_places_are_those_of_the_file(end, mark, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = THIN.replace("LABEL", "\N{FISH CAKE WITH SWIRL DESIGN} fan").replace("\n", end)
    Path("x.rig").write_bytes(mark + text.encode())
    (told,) = (
        one for one in run_of(tried(check("x.rig")))["results"] if one["ruleId"] == "fuse-over-wire"
    )
    region = told["locations"][0]["physicalLocation"]["region"]
    start, stop = piece(text, region)
    assert text[start:stop] == "fuse 20 A"
    (change,) = told["fixes"][0]["artifactChanges"]
    Path("x.rig").write_bytes(mark + written(text, change["replacements"]).encode())
    assert "fuse-over-wire" not in {one.rule for one in check("x.rig").findings}


def test_an_included_file_is_named_beside_the_rig(tmp_path, monkeypatch):
    (tmp_path / "rigs" / "parts of it").mkdir(parents=True)
    head, _, circuit = THIN.partition("circuit P1.2")
    (tmp_path / "rigs" / "a b#.rig").write_text(f'{head}include "parts of it/bay 1.rig"\n')
    (tmp_path / "rigs" / "parts of it" / "bay 1.rig").write_text(f"circuit P1.2{circuit}")
    monkeypatch.chdir(tmp_path)
    run = run_of(tried(check("rigs/a b#.rig")))
    uris = [one["location"]["uri"] for one in run["artifacts"]]
    assert uris == ["rigs/a%20b%23.rig", "rigs/parts%20of%20it/bay%201.rig"]
    assert {one["location"]["uriBaseId"] for one in run["artifacts"]} == {"SRCROOT"}
    assert [one["roles"] for one in run["artifacts"]] == [
        ["analysisTarget", "referencedOnCommandLine"],
        ["analysisTarget"],
    ]
    (told,) = (one for one in run["results"] if one["ruleId"] == "fuse-over-wire")
    place = told["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == uris[1]
    assert place["artifactLocation"]["index"] == 1
    assert place["region"]["startLine"] == 1


def test_a_file_elsewhere_is_named_in_full(tmp_path, monkeypatch):
    file = tmp_path / "x.rig"
    file.write_text(THIN)
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    for name in (str(file), "../x.rig"):
        (one,) = run_of(tried(check(name)))["artifacts"]
        uri = urlsplit(one["location"]["uri"])
        assert uri.scheme == "file"
        assert Path(url2pathname(uri.path)) == file
        assert "uriBaseId" not in one["location"]
    monkeypatch.chdir(tmp_path)
    (one,) = run_of(tried(check(str(file))))["artifacts"]
    assert one["location"]["uri"] == "x.rig"


def test_what_the_text_accepts_is_suppressed_where_it_says_so(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    line = 'accept fuse-over-wire at P1.2 "5 A fuse is on order" 2026-03-14'
    Path("x.rig").write_text(f"{THIN}{line}\n")
    told = {one["ruleId"]: one for one in run_of(tried(check("x.rig")))["results"]}
    (left,) = told.pop("fuse-over-wire")["suppressions"]
    assert (left["kind"], left["status"]) == ("inSource", "accepted")
    assert left["justification"] == "5 A fuse is on order (2026-03-14)"
    assert left["location"]["physicalLocation"]["region"]["startLine"] == THIN.count("\n") + 1
    assert not any("suppressions" in one for one in told.values())


def test_a_text_that_is_not_understood_has_no_verdict(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("x.rig").write_text(THIN.replace("2 A", "2 lamps"))
    run = run_of(tried(check("x.rig")))
    (call,) = run["invocations"]
    assert not call["executionSuccessful"]
    assert call["exitCode"] == 2
    assert "not understood" in call["toolExecutionNotifications"][0]["message"]["text"]
    severities = {one["properties"]["severity"] for one in run["results"]}
    assert "error" in severities
    rest = [one for one in run["results"] if one["properties"]["severity"] != "error"]
    assert all(one["properties"]["left_out"] >= 1 for one in rest)


def test_a_file_that_is_not_there_has_no_region(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (told,) = run_of(check("nowhere.rig"))["results"]
    assert told["locations"][0]["physicalLocation"] == {
        "artifactLocation": {"uri": "nowhere.rig", "uriBaseId": "SRCROOT", "index": 0}
    }


def test_several_rigs_share_their_rules_and_files(monkeypatch):
    monkeypatch.chdir(HOME)
    names = [str(file.relative_to(HOME)) for file in FAULTY]
    results = [example(name)[0] for name in names]
    run = run_of(*results)
    ids = [one["id"] for one in run["tool"]["driver"]["rules"]]
    assert len(ids) == len(set(ids))
    assert [unquote(one["location"]["uri"]) for one in run["artifacts"]] == names
    assert len(run["results"]) == sum(len(said_of(result)) for result in results)
    for told in run["results"]:
        assert ids[told["ruleIndex"]] == told["ruleId"]


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"], exclude_characters='"'), max_size=30))
def test_no_label_is_taken_for_a_place_of_its_own(label):
    text = THIN.replace("LABEL", f"{label}]({{0}}) [x](0)")
    log = log_of(tried(check("x.rig", text=text)))
    for told in log["runs"][0]["results"]:
        words = told["message"]["text"]
        # From memory of the standard: `{0}` stands for an argument, `[x](0)` for a link.
        assert re.search(r"(?<!\{)(?:\{\{)*\{\d+\}(?!\})", words) is None
        assert re.search(r"(?<!\\)\[[^\[\]]*\]\(", words) is None


def test_the_command_prints_it_and_ends_as_ever(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    Path("x.rig").write_text(THIN)
    assert main(["check", "x.rig", "--format", "sarif"]) == 1
    log = json.loads(capsys.readouterr().out)
    assert list(schema().iter_errors(log)) == []
    assert log["runs"][0]["invocations"][0]["exitCode"] == 1
    assert "licensed practice" in " ".join(log["runs"][0]["properties"]["caution"])
    code = main(["check", "x.rig", "--format", "sarif", "--fix", "--write"])
    told = capsys.readouterr()
    log = json.loads(told.out)
    assert log["runs"][0]["invocations"][0]["exitCode"] == code
    assert "fuse-over-wire" not in {one["ruleId"] for one in log["runs"][0]["results"]}
    assert "written: x.rig" in told.err
    Path("x.rig").write_text(PLOVER.replace("7.5 A", "5 A, scorched").replace("20 A\n", "7.5 A\n"))
    assert main(["check", "x.rig", "--format", "sarif"]) == 1
    assert main(["check", "x.rig", "--format", "sarif", "--fail-on", "danger"]) == 0
    capsys.readouterr()


def test_every_severity_has_its_level():
    assert set(KINDS) == {severity.value for severity in Severity}
