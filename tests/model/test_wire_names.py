"""A wire that the text gives no name keeps what it is called, whatever is written in above it."""

from collections import Counter

from hypothesis import given, settings, strategies as st

from helpers.named_rigs import statements, text_of, wires
from rigfolio.judgement.result import load
from rigfolio.model.graph import Conductor, Rig


def read(said: list[str]) -> Rig:
    _, rig, found = load("made.rig", text_of(said))
    assert rig is not None, found
    return rig


def by_statement(said: list[str], rig: Rig) -> dict[tuple[int, int, int], Conductor]:
    """The wires by the statement, the line in it, and which of those it makes."""
    text = text_of(said)
    found: dict[tuple[int, int, int], Conductor] = {}
    at = text.index(said[0])
    for number, one in enumerate(said):
        for wire in rig.conductors:
            if at <= wire.span.start < at + len(one) + 1:
                place = wire.span.start - at
                count = sum(key[:2] == (number, place) for key in found)
                found[number, place, count] = wire
        at += len(one) + 1
    assert len(found) == len(rig.conductors)
    return found


def looks(wire: Conductor) -> tuple[object, ...]:
    return frozenset((wire.a, wire.b)), wire.size, str(wire.colour), wire.assumed


@settings(max_examples=60)
@given(statements())
def test_every_wire_has_a_name_of_its_own_that_is_no_part(said: list[str]) -> None:
    rig = read(said)
    names = Counter(wire.name.casefold() for wire in rig.conductors)
    assert max(names.values()) == 1
    parts = {one.about.name for one in (*rig.devices, *rig.sources, *rig.panels, *rig.junctions)}
    assert not {wire.name for wire in rig.conductors} & (parts | set(rig.where))
    assert [one for one in rig.problems if one.kind == "used-twice"] == []


@settings(max_examples=80)
@given(statements(), wires(), st.data())
def test_no_name_passes_to_another_wire_that_is_not_its_twin(
    said: list[str], new: str, data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(said)))
    later = [*said[:at], new, *said[at:]]
    before = by_statement(said, read(said))
    after = by_statement(later, read(later))
    was = {wire.name: wire for wire in before.values()}
    for (number, *rest), wire in after.items():
        known = before.get((number - (number > at), *rest)) if number != at else None
        other = was.get(wire.name)
        if other is not None and other is not known:
            # Alike in ends, size and colour: only their turn tells them apart.
            assert wire.name[-1].isdigit()
            assert looks(other)[1:] == looks(wire)[1:]


@settings(max_examples=40)
@given(statements(), st.randoms(use_true_random=False))
def test_the_order_of_statements_and_of_ends_changes_no_name(said: list[str], random) -> None:
    turned = [_turned(one) if random.random() < 0.5 else one for one in said]
    random.shuffle(turned)
    assert Counter(_named(read(said))) == Counter(_named(read(turned)))


def _turned(one: str) -> str:
    words = one.split(" ")
    if words[0] == "wire":
        words[1], words[3] = words[3], words[1]
    return " ".join(words)


def _named(rig: Rig) -> list[str]:
    # The piece before a fuse lies at the other end of a wire that is turned round.
    return sorted(one.name for one in rig.nameless)
