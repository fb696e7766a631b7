"""A lead taken off a source is told as that, at that source, and as nothing else."""

from pathlib import Path

import pytest

from corpus.cases import RIGS
from helpers.forgotten import cache
from helpers.home import HOME
from helpers.studies import checked, studied
from rigfolio.judgement.result import check
from rigfolio.network import net_of, open_poles
from rigfolio.record import replace

_SOUND = [*RIGS, *sorted((HOME / "examples").glob("*.rig"))]


_FOLLOWS = {
    "missing-return", "load-without-path", "always-on-behind-disconnect", "voltage-drop",
    "voltage-collapse", "source-overloaded", "plus-joined-to-minus",
}  # fmt: skip


@cache
def _leads(path: Path) -> list[tuple[str, str]]:
    """The minus posts of sources that one wire alone lands on, each with the line of that wire."""
    text = path.read_text(encoding="utf-8")
    study = studied(path)
    found = []
    for source in study.rig.sources:
        steps = study.net.steps(source.minus)
        own = [edge for edge, _ in steps if getattr(edge, "circuit", "x") == ""]
        if len(steps) == len(own) == 1 and not source.traits.own_frame and not source.inlet:
            start = text.rfind("\n", 0, own[0].span.start) + 1
            end = text.find("\n", start)
            if text[start:end].startswith("wire ") and own[0].span.file == str(path):
                found.append((source.minus, text[start:end]))
    return found


def test_there_are_places() -> None:
    assert sum(len(_leads(path)) for path in _SOUND) >= 10


@pytest.mark.parametrize("path", _SOUND, ids=lambda path: path.stem)
def test_a_minus_that_is_taken_off_is_told_and_not_what_follows(path) -> None:
    text = path.read_text(encoding="utf-8")
    known = {(one.rule, one.headline) for one in checked(path).findings}
    for post, line in _leads(path):
        after = check(str(path), text=text.replace(line, "", 1)).findings
        told = [one for one in after if one.rule == "source-not-joined"]
        assert [f"`{post}`" in one.headline for one in told] == [True], post
        more = [
            one.rule
            for one in after
            if one.severity.value in ("danger", "fault") and (one.rule, one.headline) not in known
        ]
        # Which bar it was on nobody can know for sure, so that another wire may have to carry it.
        assert len(more) <= 2, post
        assert not _FOLLOWS & set(more), post


@pytest.mark.parametrize("path", _SOUND, ids=lambda path: path.stem)
def test_without_any_wire_at_a_post_it_is_open(path) -> None:
    rig = studied(path).rig
    sources = [one for one in rig.sources if not one.traits.own_frame]
    assert sources
    for source in sources:
        bare = replace(
            rig,
            conductors=tuple(w for w in rig.conductors if source.minus not in (w.a, w.b)),
            devices=tuple(d for d in rig.devices if source.minus not in (d.line, d.load)),
        )
        posts = [pole.end for pole in open_poles(bare, net_of(bare))]
        assert source.minus in posts
    assert [pole.end for pole in open_poles(rig, net_of(rig))] == []


_BASE = """rig "Case"
    system 12 V
    rules vehicle
battery B1 lithium, 200 Ah, delivers 900 A, gives 100 A for hours
fuse F1 70 A, class T, interrupts 20 kA on B1+
panel P1 8 slots of 30 A, 100 A in all, negative N1
busbar N1 150 A
wire F1 to P1 25 mm2 red 0.6 m
wire B1- to N1 25 mm2 black 0.8 m
"""
_OUTPUT = """wire D1.out to P2 6 mm2 red 1 m
circuit P2.1 "Lamp" fuse 5 A
    wire 2.5 mm2 red 1 m
    load "Lamp" 2 A
"""
_CONVERTER = f"""dc-dc D1 10 A, efficiency 90 %
panel P2 4 slots of 20 A, negative N1
wire D1- to N1 6 mm2 black 1 m
{_OUTPUT}"""
_ISOLATED = f"""dc-dc D1 10 A, efficiency 90 %, isolated
panel P2 4 slots of 20 A, negative N2
busbar N2 50 A
wire D1.in- to N1 6 mm2 black 1 m
wire D1.out- to N2 6 mm2 black 1 m
{_OUTPUT}"""
_INTO = "wire P1 to D1.in 6 mm2 red 1 m, fuse 20 A at P1\n"
_IN_A_SLOT = """circuit P1.1 "Feed" fuse 20 A
    wire 6 mm2 red 1 m to D1.in
"""
_KINDS = {
    "battery": """battery B2 lithium, 100 Ah, delivers 900 A
wire B2+ to P1 16 mm2 red 1 m, fuse 60 A interrupts 20 kA at B2+
wire B2- to N1 16 mm2 black 1 m
""",
    "charger": """charger C1 10 A
wire C1+ to P1 6 mm2 red 1 m, fuse 15 A at P1
wire C1- to N1 6 mm2 black 1 m
""",
    "charger in a slot": """charger C1 10 A
wire C1- to N1 6 mm2 black 1 m
circuit P1.1 "Charger" fuse 15 A
    wire 6 mm2 red 1 m to C1+
""",
    "converter": _CONVERTER + _INTO,
    "converter in a slot": _CONVERTER + _IN_A_SLOT,
    "isolated converter": _ISOLATED + _INTO,
    "isolated converter in a slot": _ISOLATED + _IN_A_SLOT,
    "solar": """array Y1 open circuit 22.4 V, short circuit 6.1 A
solar U1 20 A, input 60 V
wire Y1+ to U1.in 4 mm2 red 4 m
wire Y1- to U1.in- 4 mm2 black 4 m
wire U1+ to P1 6 mm2 red 1 m, fuse 30 A at P1
wire U1- to N1 6 mm2 black 1 m
""",
    "turbine": """turbine T1 20 A
wire T1+ to P1 6 mm2 red 1 m, fuse 30 A at P1
wire T1- to N1 6 mm2 black 1 m
""",
    "alternator": """alternator A1 40 A
wire A1+ to P1 16 mm2 red 1 m, fuse 60 A at P1
wire A1- to N1 16 mm2 black 1 m
""",
}
_TELLS = {"source-not-joined", "load-without-path", "missing-return"}


@pytest.mark.parametrize("kind", _KINDS)
def test_the_only_wire_of_a_terminal_that_is_taken_off_is_told(kind) -> None:
    text = _BASE + _KINDS[kind]
    assert not _TELLS & {one.rule for one in check("case.rig", text=text).findings}
    wires = [line for line in _KINDS[kind].splitlines() if line.startswith("wire ")]
    assert wires
    for line in wires:
        found = check("case.rig", text=text.replace(f"{line}\n", "", 1)).findings
        words = " ".join(one.headline for one in found if one.rule in _TELLS)
        start, end = line.split()[1:4:2]
        post = end if start == "P1" else start
        # The input of a converter is told of as what it is fed by, whichever end is off.
        assert f"`{post}`" in words or f"`{post.rstrip('-')} input`" in words, line
