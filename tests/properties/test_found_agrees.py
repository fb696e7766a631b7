"""What was found or is marked and agrees with the text changes nothing of what is offered."""

from collections.abc import Callable
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, FAULTY
from rigfolio.findings import Edit, Span
from rigfolio.judgement.result import Result, check
from rigfolio.judgement.trial import tried
from rigfolio.lang import apply
from rigfolio.model import Rig
from rigfolio.sizing import sizes
from rigfolio.units import Size

Added = Callable[[Rig], list[tuple[Span, str]]]

FAN = """rig "Fan"
    system 24 V
    rules rv
battery B1 gel, 24 V, 110 Ah, internal 12 mohm
panel P1 4 slots of 20 A, interrupts 2 kA
busbar N1 100 A
wire W1 N1 to B1- 10 mm2 black 1 m
wire W2 B1+ to P1 10 mm2 red 2 m, fuse 40 A at B1+, mega, interrupts 5 kA
circuit P1.3 "Fan" fuse 20 A
    wire 1.0 mm2 red 3 m
    load "Fan" 2 A
circuit P1.1 "Strip" fuse 3 A
    wire 1.0 mm2 yellow 40 m
    load "Strip" 48 W, led
"""


def _fuses_found(rig: Rig) -> list[tuple[Span, str]]:
    return _at_circuits(rig, "found")


def _marks(rig: Rig) -> list[tuple[Span, str]]:
    return _at_circuits(rig, "marked")


def _at_circuits(rig: Rig, word: str) -> list[tuple[Span, str]]:
    devices = rig.by_name.devices
    held = [(one, devices[one.device].rating_a) for one in rig.circuits if one.device in devices]
    return [
        (one.span, f"{word} {rated:g} A")
        for one, rated in held
        if isinstance(rated, float) and one.found_a is None and one.marked_a is None
    ]


def _devices_found(rig: Rig) -> list[tuple[Span, str]]:
    """Fuses and breakers that stand by themselves."""
    begun = {one.device for one in rig.circuits}
    return [
        (one.about.span, f"found {one.rating_a:g} A")
        for name, one in rig.by_name.devices.items()
        if one.protects and isinstance(one.rating_a, float) and one.found_a is None
        and not one.on_wire and name not in begun
    ]  # fmt: skip


def _wires_found(rig: Rig) -> list[tuple[Span, str]]:
    return [
        (span, f"found {text}")
        for span, text in {
            wire.span: wire.size.text
            for wire in rig.conductors
            if isinstance(wire.size, Size) and wire.found is None and not wire.assumed
        }.items()
    ]


def _with(result: Result, added: Added) -> str:
    assert result.study is not None
    text = result.texts[result.file]
    ends = [(span.end, words) for span, words in added(result.study.rig)]
    return apply(
        text, [Edit(Span(result.file, end, end), f", {words}") for end, words in dict(ends).items()]
    )


def _offered(result: Result) -> set[tuple[str, tuple[str, ...]]]:
    """The rule and what is written by each way out that was tried."""
    return {
        (one.rule, tuple(edit.text for edit in one.fix.edits))
        for one in tried(result).findings
        if one.fix is not None and one.fix.is_tried
    }


def _changes(result: Result) -> dict[str, tuple[str, ...]]:
    assert result.study is not None
    return {
        one.place: (
            *(f"{wire.name} {wire.fit}" for wire in one.wires if wire.verdict == "change"),
            *(f"{fuse.name} {fuse.fit_a}" for fuse in one.fuses if fuse.verdict == "change"),
        )
        for one in sizes(result.study)
        if one.changes
    }


@pytest.mark.parametrize("added", [_fuses_found, _marks, _devices_found, _wires_found])
def test_what_agrees_takes_no_way_out_of_a_fan_away(added: Added) -> None:
    plain = check("fan.rig", text=FAN)
    read = check("fan.rig", text=_with(plain, added))
    # 2 A through copper that may carry 6 A; 2 A over 80 m of 1 mm2 lose a sixth of 24 V.
    assert {rule for rule, _ in _offered(plain)} == {"fuse-over-wire", "voltage-drop"}
    assert _offered(read) == _offered(plain)
    assert _changes(read) == _changes(plain)
    assert set(_changes(plain)) == {"P1.1", "P1.3"}


@pytest.mark.parametrize("added", [_fuses_found, _marks, _devices_found, _wires_found])
@pytest.mark.parametrize(
    "file", [*FAULTY, EXAMPLES / "marsh-wren-17.rig"], ids=lambda one: one.stem
)
def test_what_agrees_changes_nothing_that_is_offered(file: Path, added: Added) -> None:
    text = file.read_text(encoding="utf-8")
    plain = check(file.name, text=text)
    if plain.study is None:
        return
    read = check(file.name, text=_with(plain, added))
    assert read.study is not None
    assert _offered(read) == _offered(plain)
    assert _changes(read) == _changes(plain)
