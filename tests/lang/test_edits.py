"""Edits change their places and nothing else, whatever the line ends and marks of the file."""

import re

import pytest
from hypothesis import given, strategies as st

from helpers.home import HOME
from rigfolio.findings import Edit, Span
from rigfolio.judgement.result import check, load
from rigfolio.lang.edits import apply, edited
from rigfolio.sizing.edits import edits_for
from rigfolio.sizing.settled import sizes


def edit(start, end, text, file="a.rig"):
    return Edit(Span(file, start, end), text)


def test_places_are_replaced_in_any_order():
    text = "fuse 20 A\twire 16 AWG\r\n"
    edits = [edit(15, 21, "14 AWG"), edit(5, 7, "7.5"), edit(21, 21, " red")]
    assert apply(text, edits) == "fuse 7.5 A\twire 14 AWG red\r\n"


@pytest.mark.parametrize(
    "edits",
    [
        [edit(0, 5, ""), edit(4, 6, "")],
        [edit(3, 2, "")],
        [edit(0, 99, "")],
        [edit(-1, 2, "")],
        [edit(0, 1, ""), edit(2, 3, "", file="b.rig")],
    ],
)
def test_places_that_cannot_be_are_refused(edits):
    with pytest.raises(ValueError, match="edit"):
        apply("0123456789", edits)


@given(text=st.text(max_size=60), data=st.data())
def test_every_other_character_stays(text, data):
    cuts = sorted(data.draw(st.lists(st.integers(0, len(text)), max_size=6)))
    spans = list(zip(cuts[::2], cuts[1::2], strict=False))
    news = [data.draw(st.text(max_size=5)) for _ in spans]
    done = apply(text, [edit(a, b, new) for (a, b), new in zip(spans, news, strict=True)])
    at, out = 0, ""
    for (a, b), new in zip(spans, news, strict=True):
        out += text[at:a] + new
        at = b
    assert done == out + text[at:]


RIG = (
    'rig "Mended"\n\tsystem 12 V\n\trules rv\nbattery B1 flooded, 100 Ah   # 16 AWG in a comment\n'
    "fuse F1 40 A on B1+\npanel P1 6 slots of 20 A\nbusbar N1 100 A\n\n"
    "wires 10 AWG\n\twire F1.load to P1  red  6 ft, tag FEED   # 10 AWG\n"
    "\twire N1 to B1-  white\t3 ft\n"
    'circuit P1.1 "Küche Ω"   fuse 20 A , note "fuse 20 A"\n'
    "\twire  16 AWG\tred/black   5 ft  # twenty on sixteen\n"
    '\tload "Lamp" 2 A\n'
)


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_a_file_keeps_its_mark_its_line_ends_and_its_layout(tmp_path, mark, ends):
    file = tmp_path / "mended.rig"
    raw = mark + RIG.replace("\n", ends).encode()
    file.write_bytes(raw)
    result = check(str(file))
    edits = edits_for(result.study, result.texts, sizes(result.study)).edits[str(file)]
    done = edited(raw, result.texts[str(file)], edits)
    # 16 AWG bears 8 A and 10 AWG 30 A under `rv`, and the lamp needs 2.5 A.
    wanted = RIG.replace('Ω"   fuse 20 A', 'Ω"   fuse 7.5 A').replace("F1 40 A", "F1 30 A")
    assert done == mark + wanted.replace("\n", ends).encode()
    file.write_bytes(done)
    again = check(str(file))
    assert edits_for(again.study, again.texts, sizes(again.study)).edits == {}


def test_a_file_that_has_changed_since_is_refused():
    with pytest.raises(ValueError, match="changed"):
        edited(b"fuse 10 A", "fuse 20 A", [edit(5, 7, "15")])
    with pytest.raises(ValueError, match="changed"):
        edited(b"\xff\xfe", "fuse 20 A", [])


BLOCK = (
    'rig "Block"\n    system 12 V\n    rules rv\nbattery B1 flooded, 100 Ah\n'
    "fuse F1 60 A on B1+\npanel P1 6 slots of 20 A\nbusbar N1 100 A\n"
    "wires 8 AWG ends ring M8\n"
    "    wire F1.load to P1 red 6 ft   # feed\n"
    '    wire N1 to B1- white {feet} ft, note "joint"  # back\n'
    'circuit P1.1 "Heater" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "A" {each} A, intermittent'
    '\ncircuit P1.2 "Heater" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "B" {each} A\n'
    'circuit P1.3 "Heater" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "C" {each} A\n'
    'circuit P1.4 "Heater" fuse 20 A\n    wire 10 AWG red 4 ft\n    load "D" {each} A\n'
)


def test_a_shared_gauge_is_edited_only_where_all_of_its_wires_change():
    text = BLOCK.format(feet=3, each=15)
    result = check("b.rig", text=text)
    found = sizes(result.study)
    done = apply(text, edits_for(result.study, result.texts, found).edits["b.rig"])
    fits = {wire.name: wire.fit.text for one in found for wire in one.wires}
    out, back = "F1.load/P1", "B1-/N1"
    if fits[out] == fits[back]:
        assert f"wires {fits[out]} ends ring M8\n" in done
    own = [name for name in (out, back) if fits[name] != "8 AWG"]
    assert own
    assert not [one for one in sizes(check("b.rig", text=done).study) if one.changes]


def test_a_wire_that_changes_alone_gets_a_gauge_of_its_own():
    text = (
        'rig "Alone"\n    system 12 V\n    rules rv\nbattery B1 flooded, 100 Ah\n'
        "fuse F1 30 A on B1+\npanel P1 6 slots of 20 A\nbusbar N1 100 A\n"
        "wire F1.load to P1 10 AWG red 6 ft\nwires 16 AWG\n"
        '    wire N1 to B1- white 3 ft, note "joint" , # back, 16 AWG\n'
        "    wire U1- to N1 white 3 ft  # thin is right here\n"
        "solar U1 5 A\nwire U1+ to P1 10 AWG red 2 ft, fuse 7.5 A at P1\n"
        'circuit P1.1 "Pad" fuse 15 A\n    wire 14 AWG red 4 ft\n    load "Pad" 9 A\n'
    )
    result = check("b.rig", text=text)
    found = sizes(result.study)
    done = apply(text, edits_for(result.study, result.texts, found).edits["b.rig"])
    assert 'white 3 ft, note "joint" 14 AWG , # back, 16 AWG\n' in done
    assert "wires 16 AWG\n" in done
    assert "    wire U1- to N1 white 3 ft  # thin is right here\n" in done
    assert not [one for one in sizes(check("b.rig", text=done).study) if one.changes]


def test_an_included_file_is_edited_in_its_own_text(tmp_path):
    main = tmp_path / "main.rig"
    main.write_text(
        'rig "Two"\n    system 12 V\n    rules rv\nbattery B1 flooded, 100 Ah\n'
        "fuse F1 40 A on B1+\npanel P1 6 slots of 20 A\nbusbar N1 100 A\n"
        'wire F1.load to P1 8 AWG red 6 ft\nwire N1 to B1- 8 AWG white 3 ft\ninclude "part.rig"\n'
    )
    (tmp_path / "part.rig").write_text(
        'circuit P1.1 "Lamp" fuse 20 A\n    wire 16 AWG red 4 ft\n    load "Lamp" 2 A\n'
    )
    result = check(str(main))
    edits = edits_for(result.study, result.texts, sizes(result.study)).edits
    assert list(edits) == [str(tmp_path / "part.rig")]
    assert apply(result.texts[str(tmp_path / "part.rig")], edits[str(tmp_path / "part.rig")]) == (
        'circuit P1.1 "Lamp" fuse 7.5 A\n    wire 16 AWG red 4 ft\n    load "Lamp" 2 A\n'
    )


WORDS = tuple(
    dict.fromkeys(re.findall(r"[a-z]+", (HOME / "grammar" / "REFERENCE.md").read_text("utf-8")))
)
HOSTS = ("load L1 {} 3 A", "wire B1+ to D1 {} 2 AWG", "battery B1 {} agm", "busbar D1 {} 200 A")


@pytest.mark.parametrize("host", HOSTS)
def test_no_edit_writes_what_stands_there_already(host):
    # Every word of the language, where it mostly has no place.
    for word in WORDS:
        text = f'rig "Bench"\n    system 12 V\n{host.format(word)}\n'
        _, _, findings = load("a.rig", text)
        edits = [each for one in findings if one.fix for each in one.fix.edits]
        assert not [e for e in edits if text[e.span.start : e.span.end] == e.text], word
