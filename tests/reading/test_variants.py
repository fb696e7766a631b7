"""A unit that is read through its type is the rig that is written out in one text."""

import re
from collections import Counter

import pytest
from hypothesis import assume, given, settings, strategies as st

from fuzz.trial import understood
from helpers.home import EXAMPLES
from rigfolio.judgement.result import check, understood as read
from rigfolio.record import fields_of

PLACES = re.compile(r"Span\([^)]*\)|\b(start|end)=-?\d+")
HEADER = re.compile(r"^(?=[^\s#])", re.MULTILINE)
NAMED = re.compile(
    r"^(?:battery|charger|solar|array|alternator|vehicle|dc-dc|fuse|breaker|disconnect|selector|"
    r"combiner|relay|switch|shunt|connector|panel|busbar|splice|chassis|load|inverter|state) "
    r"+(\w+)(?= |,|$)|^(?:circuit|slot) +(P\d+\.\d+)(?= )",
    re.MULTILINE,
)
TAGGED = re.compile(r"^wire .*\btag +(W\w+)|^wire +(W\w+) (?!to )")
JOINING = re.compile(
    r"^wire +([A-Z][\w.]*[+-]?) to ([A-Z][\w.]*[+-]?)(?= |,|$)(?!.*\btag\b)", re.MULTILINE
)
REMARKS = ("note", "accept")

TYPE = """\
rig "Finch" system 12 V, rules rv
battery B1 "House" 105 Ah, internal 10 mohm
fuse F1 40 A, class T
panel P1 6 slots
busbar J1
wires 6 AWG
    wire W1 B1+ to F1 red 6 in
    wire F1 to P1 red
        6 ft
wire P1- to B1- 6 AWG black 4 ft
wire P1.6 to J1 10 AWG red 3 ft
circuit P1.2 "Pump" fuse 10 A
    wire W12 14 AWG yellow 11 ft
    load "Pump" 7 A
circuit J1 "Lamps" fuse 5 A
    wire 14 AWG blue 9 ft
    load "Lamps" 2 A
circuit J1 "Fan" fuse 5 A
    wire 14 AWG grey 9 ft
    load "Fan" 2 A
note P1.2 "drips"
note W12 "rubs on the frame"
note B1+ loose
accept not-surveyed at P1.2 "to come" 2026-03-14
accept voltage-drop at W12 "to come" 2026-03-14
accept voltage-drop at F1.load "to come" 2026-03-14
accept voltage-drop at P1.2/1R "to come" 2026-03-14
accept voltage-drop at P1/P1.6 "to come" 2026-03-14
note P1.6/J1 scorched
state stored F1 open
ac "Main" 30 A
photo "panel.jpg"
    mark P1.2 at 10 % 20 %
"""
PUMP = TYPE[TYPE.index("circuit P1.2") : TYPE.index('circuit J1 "Lamps"')]
FUSE = ["fuse F1 40 A, class T\n", 'accept voltage-drop at F1.load "to come" 2026-03-14\n']
FAN = TYPE[TYPE.index('circuit J1 "Fan"') : TYPE.index("note P1.2")]
OF_PUMP = [
    one for one in TYPE.splitlines(keepends=True)
    if one.startswith(REMARKS) and ("P1.2" in one or "W12" in one)
]  # fmt: skip


def _model(rig):
    # Of a name that was excepted the unit knows where that is said.
    found = (PLACES.sub("", repr(value)) for value in fields_of(rig))
    return [value.replace("other=None", "other=") for value in found]


def _findings(result):
    return [(one.rule, one.headline, one.accepted) for one in result.findings]


def _unit(*excepted, text=TYPE, below=""):
    """What comes of a unit, and the errors."""
    head = 'rig "Unit" system 12 V, rules rv\n'
    lines = "".join(f"    except {one}\n" for one in ("rig", *excepted))
    unit = f'{head}include "type.rig"\n{lines}{below}'
    result = read("unit.rig", text=unit, instead={"type.rig": text})
    return result.study and result.study.rig, result.findings


@pytest.fixture(autouse=True)
def _with_type(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def _chunks(text):
    return [one for one in HEADER.split(text) if one.strip()]


def _called(chunk):
    """What a statement is called, as a person sees it in the line."""
    named = NAMED.match(chunk) or TAGGED.match(chunk)
    if named is not None:
        return next(name for name in named.groups() if name)
    joining = JOINING.match(chunk)
    return "/".join(joining.groups()) if joining is not None else ""


def _otherwise(chunk):
    """Another statement under the same name, which a unit has no use for."""
    if chunk.startswith("circuit"):
        place = chunk.split()[1]
        other = (
            f'circuit {place} "Other" fuse 1 A\n    wire 18 AWG pink 1 ft\n    load "Other" 1 W\n'
        )
        remarks = f'note {place} scorched\naccept voltage-drop at {place} "no" 2026-03-14\n'
        return other + remarks
    return chunk


def _texts():
    examples = [file.read_text("utf-8") for file in sorted(EXAMPLES.glob("*.rig"))]
    return st.one_of(
        st.sampled_from([one for one in examples if "\ninclude " not in one]),
        st.integers(0, 60).map(understood),
    )


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_unit_is_the_rig_written_out(data):
    chunks = _chunks(data.draw(_texts()))
    heads = [one for one in chunks if one.startswith("rig ")]
    # What is remarked of a thing goes with it, so it is said of what stands in the unit.
    remarks = [one for one in chunks if one.startswith(REMARKS)]
    rest = [one for one in chunks if one not in heads and one not in remarks]
    names = Counter(_called(one).casefold() for one in rest)
    may = [one for one in rest if _called(one) and names[_called(one).casefold()] == 1]
    assume(heads and may)
    out = data.draw(st.lists(st.sampled_from(may), unique=True, max_size=6))
    anew = [one for one in out if data.draw(st.booleans())]
    below = "".join((*anew, *remarks))
    flat = heads[0] + "".join(one for one in rest if one not in out) + below
    shared = "".join([heads[0], *(_otherwise(one) if one in out else one for one in rest)])
    excepted = [data.draw(st.sampled_from([name, name.lower()])) for name in map(_called, out)]
    lines = "".join(f"    except {one}\n" for one in ("rig", *excepted))
    unit = f'{heads[0]}include "type.rig"\n{lines}{below}'
    one = check("flat.rig", text=flat)
    two = check("unit.rig", text=unit, instead={"type.rig": shared})
    assert (one.study is None) == (two.study is None)
    if one.study is None or two.study is None:
        assert [each.rule for each in one.findings] == [each.rule for each in two.findings]
        return
    assert _model(one.study.rig) == _model(two.study.rig)
    if not one.study.rig.problems:
        # What a slip in a name explains is told by the lines that stand near it.
        assert _findings(one) == _findings(two)


@pytest.mark.parametrize(
    ("name", "gone"),
    [
        (
            "F1",
            FUSE,
        ),
        (
            "f1",
            FUSE,
        ),
        ("B1", ['battery B1 "House" 105 Ah, internal 10 mohm\n', "note B1+ loose\n"]),
        ("P1", ["panel P1 6 slots\n"]),
        ("P1.2", [PUMP, *OF_PUMP]),
        ('"pump"', [PUMP, *OF_PUMP]),
        ('"Fan"', [FAN]),
        ("J1", ["busbar J1\n"]),
        ("W1", ["    wire W1 B1+ to F1 red 6 in\n"]),
        ("F1/P1", ["    wire F1 to P1 red\n        6 ft\n"]),
        ("P1/F1", ["    wire F1 to P1 red\n        6 ft\n"]),
        ("b1-/p1-", ["wire P1- to B1- 6 AWG black 4 ft\n"]),
        ("stored", ["state stored F1 open\n"]),
        ('"Main"', ['ac "Main" 30 A\n']),
        ('"panel.jpg"', ['photo "panel.jpg"\n    mark P1.2 at 10 % 20 %\n']),
    ],
)
def test_what_is_excepted_goes_whole_and_nothing_else_does(name, gone):
    flat = TYPE.replace('"Finch"', '"Unit"')
    for one in gone:
        assert flat.count(one) == 1
        flat = flat.replace(one, "")
    expected = read("flat.rig", text=flat).study.rig
    unit, found = _unit(name)
    assert found == ()
    assert _model(unit) == _model(expected)


def test_a_block_of_which_every_wire_is_excepted_is_gone():
    rig, found = _unit("W1", "F1/P1")
    assert found == ()
    assert not any("F1" in (wire.a, wire.b) for wire in rig.conductors)


def test_a_name_that_is_not_excepted_stays_used_twice():
    rig, found = _unit(below='fuse F1 60 A\ncircuit P1.2 "Fridge" fuse 10 A\n')
    assert found == ()
    assert [(one.kind, one.name) for one in rig.problems if one.kind.endswith("twice")] == [
        ("used-twice", "F1"), ("slot-twice", "P1.2"),
    ]  # fmt: skip


def test_what_was_accepted_of_the_type_is_not_accepted_of_what_takes_its_place():
    text = TYPE + 'accept fuse-over-wire at P1.2 "a new pump is to come" 2026-03-14\n'
    anew = 'circuit P1.2 "Pump" fuse 30 A\n    wire 18 AWG red 9 ft\n    load "Pump" 5 A\n'
    unit = f'rig "U" system 12 V, rules rv\ninclude "type.rig" except rig, except P1.2\n{anew}'
    found = check("unit.rig", text=unit, instead={"type.rig": text}).findings
    assert [one.accepted for one in found if one.rule == "fuse-over-wire"] == [None]


@pytest.mark.parametrize(
    ("name", "rule", "words", "fix"),
    [
        ("P1.3", "except-not-there", "nothing in the included file is called `P1.3`", "`P1.2`"),
        ('"Pumq"', "except-not-there", "is called `Pumq`", '`"Pump"`'),
        ("W12", "except-not-there", "stands in the block of `P1.2`", "`except P1.2`"),
        ("W99", "except-not-there", "is called `W99`", ""),
        ("J1", "except-several", "`J1` means 2 statements", '`except "Lamps"`'),
    ],
)
def test_what_is_not_one_thing_is_an_error_where_it_is_excepted(name, rule, words, fix):
    text = TYPE.replace("busbar J1\n", "")
    _, found = _unit(name, text=text)
    (error,) = found
    assert (error.rule, error.at.span.file) == (rule, "unit.rig")
    assert words in error.headline
    assert fix in (error.fix.text if error.fix else "")
    assert {one.span.file for one in error.others} <= {"type.rig"}


def test_a_type_of_a_type():
    unit = 'rig "U" system 12 V\ninclude "long.rig" except rig, except P1.2, except J2\n'
    longer = 'rig "L" system 12 V\ninclude "type.rig" except rig, except "Fan"\nbusbar J2\n'
    texts = {"long.rig": longer, "type.rig": TYPE}
    result = check("unit.rig", text=unit, instead=texts)
    rig = result.study.rig
    assert [one.label for one in rig.circuits] == ["Lamps"]
    assert [one.about.name for one in rig.junctions] == ["J1"]
    out = {
        file: [texts[file][one.start : one.end].split("\n")[0] for one in spans]
        for file, spans in result.types.items()
    }
    assert out == {
        "long.rig": ['rig "L" system 12 V', "busbar J2"],
        "type.rig": [
            'rig "Finch" system 12 V, rules rv',
            'circuit J1 "Fan" fuse 5 A',
            'circuit P1.2 "Pump" fuse 10 A',
        ],
    }


def test_of_a_type_that_was_not_read_nothing_is_missed():
    _, found = _unit("P1.2", text="fuse F1 40 A @\n")
    assert [one.rule for one in found] == ["character-not-read"]


def test_what_names_a_thing_that_is_excepted_says_where_that_is():
    """The state of the type opens `F1`, which this unit has not: no other name is meant by it."""
    unit = 'rig "Unit" system 12 V, rules rv\ninclude "type.rig"\n    except rig\n    except F1\n'
    result = check("unit.rig", text=unit, instead={"type.rig": TYPE})
    told = [one for one in result.findings if "nothing is called `F1`" in one.headline]
    assert any(TYPE[one.at.span.start :].startswith("F1 open") for one in told)
    for one in told:
        (other,) = one.others
        assert unit[other.span.start : other.span.end] == "F1"
        assert other.text == "excepted here"
        assert "except the statement that names `F1`, too" in one.fix.text
