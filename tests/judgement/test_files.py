"""Files as they lie on a disk: bytes, line ends, sizes, and things that are no rig file at all."""

import os
import re
import sys
from pathlib import Path

import pytest

from rigfolio.findings import Severity
from rigfolio.judgement.messages.objects import as_json
from rigfolio.judgement.messages.report import as_text
from rigfolio.judgement.messages.short import as_lines, as_summary
from rigfolio.judgement.result import check, digest, load

GOOD = 'rig "Plover"\n    system 12 V\nbattery B1 "House" 105 Ah, internal 10 mohm\n'
BAD = 'rig "Plover"\n    system 12 vlots\nbattery B1 105 Ahr\n'
MOST_CALLS = 3_000_000
"""Functions that may be called to answer the worst of files: a clock would tell of the machine."""


@pytest.fixture(autouse=True)
def _inside(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def write(content, name="x.rig"):
    Path(name).parent.mkdir(parents=True, exist_ok=True)
    Path(name).write_bytes(content.encode() if isinstance(content, str) else content)
    return name


def rules(result):
    return [finding.rule for finding in result.findings]


def places(text):
    return [line.strip() for line in text.splitlines() if "-->" in line]


@pytest.mark.parametrize(
    "encode",
    [
        lambda text: text.encode("utf-8-sig"),
        lambda text: text.replace("\n", "\r\n").encode(),
        lambda text: text.replace("\n", "\r").encode(),
        lambda text: text.replace("\n", "\r", 1).encode(),
        lambda text: text.replace("    ", "\t").encode(),
        lambda text: text.rstrip("\n").encode(),
        lambda text: text.replace("\n", "\r\n").encode("utf-8-sig"),
    ],
    ids=["bom", "crlf", "cr", "mixed", "tabs", "no last line end", "bom and crlf"],
)
def test_is_simply_read(encode):
    assert check(write(encode(GOOD))).findings == check(write(GOOD)).findings
    assert check(write(encode(GOOD))).exit_code == 0
    broken = check(write(encode(BAD)))
    assert rules(broken) == ["unknown-unit", "unknown-unit"]
    text = as_text([broken])
    lines = [place.split(":")[1] for place in places(text)]
    assert lines == ["2", "3"]
    assert "\r" not in text


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends_change_no_digest(end):
    first = check(write(GOOD)).digest
    assert check(write(GOOD.replace("\n", end))).digest == first
    assert check(write(GOOD + "# a word more\n")).digest != first


def test_digest_tells_texts_apart():
    one = {"a": "x\n", "b": "y\n"}
    assert len({digest(one), digest({"a": "x\ny\n"}), digest({"a": "x\n"}), digest({})}) == 4


@pytest.mark.parametrize(
    ("content", "rule", "place"),
    [
        (b"", "file-empty", "x.rig"),
        (b"\n\n  # a comment\n", "file-empty", "x.rig:1:1"),
        (b"\xef\xbb\xbf", "file-empty", "x.rig"),
        ('# grün\nrig "Grün"\n'.encode("latin-1"), "not-utf-8", "x.rig:1:5"),
        (b'rig "x"\nbattery B\xff 1 Ah\n', "not-utf-8", "x.rig:2:10"),
        (b'\xef\xbb\xbfrig "\xff"\n', "not-utf-8", "x.rig:1:6"),
        ('rig "x"\n'.encode("utf-16"), "not-utf-8", "x.rig:1:1"),
        (b"rig \0\n", "character-not-read", "x.rig:1:5"),
    ],
)
def test_no_rig_file(content, rule, place):
    result = check(write(content))
    assert rules(result) == [rule]
    assert result.exit_code == 2
    assert places(as_text([result])) == [f"--> {place}"]


def test_things_that_are_no_files():
    Path("folder").mkdir()
    os.mkfifo("pipe")
    Path("loop.rig").symlink_to("loop.rig")
    names = ["folder", "pipe", "gone.rig", "/dev/zero", "loop.rig", "a\0b", "x" * 5000, ""]
    for name in names:
        result = check(name)
        assert rules(result) == ["file-not-read"], name


def counted(work):
    """What a piece of work gives, and how many functions were called for it."""
    calls = 0

    def note(_frame, event, _what):
        nonlocal calls
        calls += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        given = work()
    finally:
        sys.setprofile(before)
    return given, calls


def test_missing_file_names_the_nearest():
    write(GOOD, "plover.rig")
    (finding,) = check("plovr.rig").findings
    assert finding.fix.text == "the nearest file there is `plover.rig`"


def test_no_permission(open_folder, without_privileges):
    shut = open_folder / "shut.rig"
    shut.write_text(GOOD, encoding="utf-8")
    shut.chmod(0)
    with without_privileges():
        assert rules(check("shut.rig")) == ["file-not-read"]
    assert rules(check("shut.rig")) == []


@pytest.mark.parametrize(
    "content",
    [
        bytes(range(256)) * 40_000,
        b'abc 12"3#%/?,.\n' * 30_000,
        b"wire B1+ to F1 " * 30_000,
        b"wire B1+ to F1 #" * 350_000,
        b"foo\n" * 200_000,
        b"x\n" * 4_900,
        b'rig "x"\n' + b" foo bar\n" * 3_000,
        b"#\n" * 200_000,
        b'"\n' * 200_000,
    ],
    ids=["noise", "letters", "one line", "one commented line", "many lines", "bad statements",
         "one block", "comments", "quotes"],
)  # fmt: skip
def test_hostile_content_is_answered_soon(content):
    write(content)
    result, calls = counted(lambda: check("x.rig"))
    text, more = counted(lambda: as_text([result]))
    assert result.exit_code == 2
    assert calls + more < MOST_CALLS
    assert len(text) < 200_000


class TestInclude:
    def test_is_found_beside_the_file_that_names_it(self):
        write('rig "Plover"\ninclude "sub/one.rig"\n', "a/main.rig")
        write('include "two.rig"\n', "a/sub/one.rig")
        write("battery B1 105 Ah, internal 10 mohm\n", "a/sub/two.rig")
        texts, rig, errors = load("a/main.rig")
        assert errors == ()
        assert [source.about.name for source in rig.sources] == ["B1"]
        assert list(texts) == ["a/main.rig", "a/sub/one.rig", "a/sub/two.rig"]

    @pytest.mark.parametrize("start", ["main.rig", "./main.rig", "../{here}/main.rig"])
    def test_loop_is_one_error(self, start, tmp_path):
        write('rig "Plover"\ninclude "one.rig"\n', "main.rig")
        write('include "main.rig"\n', "one.rig")
        assert rules(check(start.format(here=tmp_path.name))) == ["include-twice"]

    def test_itself(self):
        assert rules(check(write('rig "Plover"\ninclude "x.rig"\n'))) == ["include-twice"]

    @pytest.mark.parametrize(
        "name", ["../y.rig", "sub/../../y.rig", "/etc/passwd", " ", "a\\b.rig"]
    )
    def test_outside(self, name):
        result = check(write(f'rig "Plover"\ninclude "{name}"\n'))
        assert rules(result) == ["include-outside"]
        assert result.findings[0].at.span.start == len('rig "Plover"\ninclude ')

    def test_missing_file_is_told_where_it_is_named(self):
        result = check(write('rig "Plover"\ninclude "gone.rig"\n'))
        assert rules(result) == ["file-not-read"]
        assert places(as_text([result])) == ["--> x.rig:2:9"]

    def test_error_inside_names_the_inner_file(self):
        write('rig "Plover"\ninclude "sub/y.rig"\n')
        write("battery B1 105 Ahr\n", "sub/y.rig")
        assert places(as_text([check("x.rig")])) == ["--> sub/y.rig:1:12"]

    def test_many(self):
        write('rig "Plover"\n' + "".join(f'include "p{n}.rig"\n' for n in range(60)))
        for number in range(60):
            write(f"busbar N{number}\n", f"p{number}.rig")
        assert set(rules(check("x.rig"))) == {"include-many"}

    def test_chain(self):
        write('rig "Plover"\ninclude "p0.rig"\n')
        for number in range(60):
            write(f'include "p{number + 1}.rig"\n', f"p{number}.rig")
        assert rules(check("x.rig")) == ["include-many"]


GRAVE_LAST = """\
rig "Plover" system 12 V, rules rv
battery B1 "House" flooded, 105 Ah, internal 10 mohm
fuse F1 "Main" 50 A
panel P1 "Panel" 6 slots of 20 A
wire W1 B1+ to F1 6 AWG ? 1 ft
wire W2 F1 to P1 6 AWG red 2 ft
wire W3 P1- to B1- 6 AWG black 2 ft
circuit P1.1 "Heater" fuse 15 A, scorched
    wire 14 AWG blue 4 ft
    load "Heater" 6 A
circuit P1.2 "Lamp" fuse 20 A
    wire 16 AWG white 4 ft
    load "Lamp" 1 A
"""
"""Advice and a blank at the head of the text, a fault below, a danger at its end."""


@pytest.mark.parametrize("form", [as_text, as_summary, as_lines, as_json])
def test_the_gravest_comes_first_however_it_is_told(form):
    result = check("x.rig", text=GRAVE_LAST)
    words = [one.value for one in Severity]
    told = re.findall(rf'(?:^|": "|\d: )({"|".join(words)})\b(?=[\[ :"])', form([result]), re.M)
    assert {"danger", "fault", "unknown", "advice"} == set(told)
    assert told == sorted(told, key=words.index)
    spans = [one.at.span.start for one in result.findings if one.severity is Severity.UNKNOWN]
    assert spans == sorted(spans)
