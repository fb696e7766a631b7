"""Text cut into lines and items, each with its true place."""

import pytest
from hypothesis import given, strategies as st

from rigfolio.lang.lines import blocks, is_deeper
from rigfolio.lang.parser import LONGEST_LINE, MOST_ERRORS, parse
from rigfolio.reading.files import read_rig

LINE = 'wire B1+ to F1.line, 16 AWG red/black 2 ft 6 in  "in #1"  # note'


def items(text):
    lines, found = parse(text, "x.rig")
    assert found == ()
    return [(item.kind, item.text, item.unit) for line in lines for item in line.items]


def rules(text):
    return [finding.rule for finding in parse(text, "x.rig")[1]]


def test_items_of_every_kind():
    assert items(LINE) == [
        ("word", "wire", ""), ("place", "B1+", ""), ("word", "to", ""), ("place", "F1.line", ""),
        ("quantity", "16", "AWG"), ("word", "red", ""), ("slash", "/", ""), ("word", "black", ""),
        ("quantity", "2", "ft"), ("quantity", "6", "in"), ("label", "in #1", ""),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("7.5 A", ("quantity", "7.5", "A")),
        ("14AWG", ("quantity", "14", "AWG")),
        ("1/0 AWG", ("quantity", "1/0", "AWG")),
        ("4 h/day", ("quantity", "4", "h/day")),
        ("3 %", ("quantity", "3", "%")),
        ("4 mm²", ("quantity", "4", "mm²")),
        ("40 °C", ("quantity", "40", "°C")),
        ("10 mΩ", ("quantity", "10", "mΩ")),
        ("12", ("number", "12", "")),
        ("2026-03-14", ("date", "2026-03-14", "")),
        ("B1-", ("place", "B1-", "")),
        ("J1.4.load", ("place", "J1.4.load", "")),
        ("dc-dc", ("word", "dc-dc", "")),
        ("Küche_1", ("word", "Küche_1", "")),
        ("?", ("unknown", "?", "")),
    ],
)
def test_one_item(text, expected):
    assert items(text) == [expected]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("indent", ["    ", "\t", "  \t"])
def test_spans_hold_with_every_line_end_and_indent(end, indent):
    text = end.join(["", "# a rig", 'rig "Ä Ω"', f"{indent}system 12 V  # volts", ""])
    lines, found = parse(text, "x.rig")
    assert found == ()
    assert [text[line.span.start : line.span.end] for line in lines] == [
        'rig "Ä Ω"',
        "system 12 V",
    ]
    cut = [text[item.span.start : item.span.end] for line in lines for item in line.items]
    assert cut == ["rig", '"Ä Ω"', "system", "12 V"]
    assert [line.indent for line in lines] == ["", indent]


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"])
def test_byte_order_mark_and_old_line_ends_are_read(tmp_path, start, end):
    file = tmp_path / "x.rig"
    file.write_bytes(start + end.join([b'rig "X"', b"    system 12 V", b""]))
    reading = read_rig(str(file))
    assert reading.found == []
    assert [block.header.head for block in reading.blocks] == ["rig"]
    assert len(reading.blocks[0].body) == 1


def test_blocks_take_the_lines_below_their_header():
    lines, _ = parse("a1\n  b\n\n  # c\n    d\ne1\n", "x.rig")
    made, found = blocks(lines)
    assert found == ()
    assert [(block.header.head, [line.head for line in block.body]) for block in made] == [
        ("a1", ["b", "d"]),
        ("e1", []),
    ]
    assert is_deeper(made[0].body[1], made[0].body[0])
    assert not is_deeper(made[0].body[0], made[0].body[1])


def test_tabs_and_blanks_are_not_compared():
    lines, _ = parse("a1\n    b\n\tc\n", "x.rig")
    assert not is_deeper(lines[2], lines[1])
    assert not is_deeper(lines[1], lines[2])


def test_indented_first_line_belongs_to_nothing():
    made, found = blocks(parse("  a1\nb1\n", "x.rig")[0])
    assert [finding.rule for finding in found] == ["indent-without-header"]
    assert [block.header.head for block in made] == ["b1"]


def test_all_mistakes_of_a_file_come_out_in_one_run():
    text = 'a 7,5 A\nb\nc "open\nd @\ne 1,200 W\n'
    lines, found = parse(text, "x.rig")
    assert [line.head for line in lines if not line.is_cut] == ["b"]
    assert [line.head for line in lines] == ["a", "b", "c", "d", "e"]
    assert [(one.rule, text[one.at.span.start : one.at.span.end]) for one in found] == [
        ("decimal-comma", "7,5 A"),
        ("label-not-closed", '"open'),
        ("character-not-read", "@"),
        ("decimal-comma", "1,200 W"),
    ]
    fixes = [one.fix.text for one in found if one.fix]
    assert fixes[0] == "`7.5 A`"
    assert fixes[3] == "`1.200 W` or `1200 W`"


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ('a "' + "x" * 121 + '"', "label-too-long"),
        ('a "x\x07"', "control-character"),
        ("a " + "1" * 13 + " A", "number-too-long"),
        ("x" * 61, "word-too-long"),
        ("x " * 1001, "line-too-long"),
        ("a 8 W/", "character-not-read"),
        ("a 9**9**9 ft", "character-not-read"),
        ("a 1e400 A\x00", "character-not-read"),
    ],
)
def test_out_of_bounds(text, rule):
    assert rules(text) == [rule]


def test_noise_is_answered_in_bounded_time_and_length():
    noise = "\n".join("@" * 50 for _ in range(5000))
    assert len(rules(noise)) == MOST_ERRORS + 1
    assert rules("x" * 200_000) == ["line-too-long"]
    assert rules("(" * LONGEST_LINE) == ["character-not-read"]
    assert rules('"' * LONGEST_LINE) == []


@pytest.mark.parametrize("text", ["a #14 AWG", "a #1/0", "a #6"])
def test_gauge_after_the_mark_of_a_comment(text):
    assert rules(text) == ["gauge-in-comment"]


@pytest.mark.parametrize("text", ["a # 14 AWG", "#14 wires in all", "a #comment", "a #114"])
def test_comments_are_left_alone(text):
    assert rules(text) == []


@pytest.mark.parametrize(
    ("text", "kept", "indent"),
    [
        ('fuse F1 "Main', ["fuse", "F1"], ""),
        ("  wire 6 AWG 7,5 A", ["wire", "6"], "  "),
        ("fuse F1 #14", ["fuse", "F1"], ""),
        ("    @wire", [""], "    "),
        ('"open', [""], ""),
        (f"fuse {'9' * 2000}", [""], ""),
    ],
)
def test_what_stands_before_the_place_that_cannot_be_read_is_kept(text, kept, indent):
    (line,), found = parse(text, "x.rig")
    assert line.is_cut
    assert [item.text for item in line.items] == kept
    assert line.indent == indent
    assert found


@given(
    st.integers(0, 99), st.integers(0, 11), st.sampled_from(["", "1/2", "3/8"]),
    st.sampled_from(["'", "’", "′"]), st.booleans(),
)  # fmt: skip
def test_a_length_off_a_tape_is_the_length_in_words(
    feet: int, inches: int, part: str, mark: str, is_apart: bool
) -> None:
    """12 in to the foot; what follows on the line, a comment and a label, is what it was."""
    tape = f'{feet}{mark}{" " * is_apart}{inches}{f" {part}" if part else ""}"'
    words = f"{feet} ft {inches}{f' {part}' if part else ''} in"
    read = []
    for length in (tape, words):
        lines, found = parse(f'wire B1+ to F1 {length}, tag "a # b"  # c "d', "t.rig")
        assert found == ()
        read.append([(item.kind, item.text, item.unit) for item in lines[0].items])
    assert read[0] == read[1]
