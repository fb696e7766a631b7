"""What goes dark when something opens, relays with their coils: by hand, and beside a reckoning."""

from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.label_rigs import job_of, words
from helpers.studies import checked, study_from
from rigfolio.answers.isolate import isolate_report
from rigfolio.answers.short import short_report
from rigfolio.isolation import (
    bank_joins,
    in_use,
    isolate,
    meanings,
    opened_alone,
    source_reach,
)
from rigfolio.labels.by_coils import coil_words
from rigfolio.labels.devices import device_rows
from rigfolio.model import Device, Rig
from rigfolio.network import coils_of, edge_name, edges_of_device
from rigfolio.reports.terminal import as_text
from rigfolio.sheets import panel_directory, panel_face
from rigfolio.study import Study

TEXT = """rig "T"
    system 12 V
battery B1 "House" 105 Ah, agm, internal 8 mohm
disconnect S1 "Main" 100 A
panel P1 "Helm" 6 slots of 30 A
busbar N1 100 A
busbar A1 100 A
wire B1+ to A1 6 AWG red 1 ft, fuse 100 A, class-t at B1+
wire A1 to S1 6 AWG red 3 ft
wire S1 to P1 6 AWG red 3 ft, fuse 50 A at S1.load
wire N1 to B1- 6 AWG black 3 ft
wire P1- to N1 6 AWG black 3 ft
relay K1 "Heater relay" 40 A, rests open
load H1 "Heater" 20 A
wire A1 to K1 10 AWG red 3 ft, fuse 40 A at A1
wire K1 to H1+ 10 AWG red 3 ft
wire H1- to N1 10 AWG black 3 ft
circuit P1.1 "Heater control" fuse 5 A
    wire 16 AWG red 9 ft
    switch SW1 "Heater switch" 10 A, rests open
    wire 16 AWG red 3 ft
    load "Heater relay coil" 0.2 A
"""
# A coil that hangs behind another contact, and goes dark with it.
CHAIN = f"""{TEXT}relay K2 "Fan relay" 40 A, rests open
load H2 "Fan" 5 A
wire A1 to K2 14 AWG red 3 ft, fuse 15 A at A1
wire K2 to H2+ 14 AWG red 3 ft
wire H2- to N1 14 AWG black 3 ft
load L2 "Fan relay coil" 0.2 A
wire K1.load to L2+ 16 AWG red 3 ft, fuse 5 A at K1.load
wire L2- to N1 16 AWG black 3 ft
"""
# The contact rests closed: its coil opens it.
RESTS_CLOSED = f"""{TEXT}relay K3 "Anchor relay" 40 A, rests closed
load H3 "Anchor lamp" 2 A
wire A1 to K3 14 AWG red 3 ft, fuse 15 A at A1
wire K3 to H3+ 14 AWG red 3 ft
wire H3- to N1 14 AWG black 3 ft
circuit P1.2 "Steaming" fuse 5 A
    wire 16 AWG red 9 ft
    switch SW2 "Steaming switch" 10 A
    wire 16 AWG red 3 ft
    load "Anchor relay coil" 0.2 A
    load "Steaming lamp" 1 A
"""
# A button on the way back.
BACK = f"""{TEXT}switch SW9 "Horn button" 10 A, rests open
load L9 "Horn" 3 A
wire P1 to L9+ 14 AWG red 3 ft, fuse 10 A at P1
wire L9- to SW9.line 14 AWG black 3 ft
wire SW9.load to N1 14 AWG black 3 ft
"""


def rows(text: str) -> dict[str, str]:
    return {one.name: one.dark_words for one in device_rows(study_from(text))}


@pytest.mark.parametrize("name", ["SW1", "P1/S1 fuse", "S1"])
def test_what_the_contact_feeds_goes_dark_with_its_coil(name: str) -> None:
    """By hand: H1 hangs on A1 by K1 alone, whose coil hangs on P1.1 by SW1."""
    own = "P1.1 Heater control" if name == "SW1" else "P1 Helm"
    assert rows(TEXT)[name] == f"{own}; H1 Heater"
    row = next(one for one in device_rows(study_from(TEXT)) if one.name == name)
    assert "H1" in row.short_effect
    # It is no fuse of H1, and not called one.
    assert row.purpose == own


def test_a_coil_behind_the_contact_takes_its_own_contact_with_it() -> None:
    assert rows(CHAIN)["SW1"] == "P1.1 Heater control; H1 Heater; H2 Fan; L2 Fan relay coil"
    assert rows(CHAIN)["K1"] == "H1 Heater; H2 Fan; L2 Fan relay coil"


def test_what_a_relay_closes_at_rest_comes_on_and_is_not_told_dark() -> None:
    told = rows(RESTS_CLOSED)
    assert told["SW2"] == "P1.2 Steaming; COMES ON: H3 Anchor lamp"
    # With the battery fuse out there is nothing that could come on.
    assert "COMES ON" not in told["A1/B1+ fuse"]
    (row,) = [one for one in device_rows(study_from(RESTS_CLOSED)) if one.name == "SW2"]
    assert row.short_effect == "COMES ON: H3; goes dark: P1.2"


def test_a_button_on_the_way_back_darkens_its_load() -> None:
    assert rows(BACK)["SW9"] == "L9 Horn"


def test_a_charger_that_holds_the_coil_keeps_on_what_a_battery_feeds() -> None:
    text = TEXT + "charger C1 20 A\nwire C1+ to P1 10 AWG red 3 ft, fuse 30 A at P1\n" \
        "wire C1- to N1 10 AWG black 3 ft\n"  # fmt: skip
    assert rows(text)["S1"] == "P1 Helm; H1 Heater (unless C1 runs)"
    (off,) = [
        one.words
        for one in meanings(study_from(text))
        if (one.switch, one.position) == ("S1", "OFF")
    ]
    assert off.startswith("Helm P1, Heater dead, unless C1 is ")


def test_a_position_tells_the_same() -> None:
    told = {one.position: one.words for one in meanings(study_from(TEXT)) if one.switch == "S1"}
    assert "Heater" in told["ON"]
    assert told["OFF"].startswith("Helm P1, Heater dead. These stay live: the wires")


def test_a_short_names_it_and_what_comes_on() -> None:
    said = " ".join(as_text(short_report(study_from(TEXT), "P1.1")).split())
    assert "Goes dark with it: H1 Heater Heater control" in said
    said = " ".join(as_text(short_report(study_from(RESTS_CLOSED), "P1.2")).split())
    assert "COMES ON with it: H3 Anchor lamp" in said


def test_what_must_stay_on_behind_a_contact_is_told_by_the_plan_of_the_coil() -> None:
    text = TEXT.replace('load H1 "Heater" 20 A', 'load H1 "Heater" 20 A, always on')
    assert isolate(study_from(text), "P1.1").goes_dark == ("H1 Heater",)
    assert "Must stay on and goes dark with this:\n  H1 Heater" in as_text(
        isolate_report(study_from(text), "P1.1")
    )


# The reckoning beside it: networkx, from nothing but the wires, the devices and the coils.


def wired(rig: Rig, opened: frozenset[str]) -> networkx.Graph:
    """The wires and devices of a rig, some of these open."""
    net = networkx.Graph()
    net.add_nodes_from(end for one in (*rig.loads, *rig.sources) for end in (one.plus, one.minus))
    net.add_edges_from((one.a, one.b) for one in rig.conductors)
    net.add_edges_from((d.line, d.load) for d in rig.devices if edge_name(d) not in opened)
    return net


def reckoned(study: Study, opened: frozenset[str], off: frozenset[str]) -> frozenset[str]:
    """The loads with current: the greatest set in which each closed relay has its coil on.

    Converters count as sources of their own while their input is on. A way back that the text does
    not tell is taken to be there.
    """
    rig, whole = study.rig, wired(study.rig, frozenset())
    returning = source_reach(study).returning
    untold = {
        load.about.name for load in rig.loads
        if not any(networkx.has_path(whole, load.minus, one.minus) for one in rig.sources)
    }  # fmt: skip
    coils, fallen = coils_of(rig), frozenset[str]()
    loads = {one.about.name: one for one in rig.loads}
    while True:
        net = wired(rig, opened | fallen)
        on = {one.about.name for one in rig.sources if one.about.name not in off and not one.inlet}

        def fed(name: str, net=net, on=on) -> bool:
            load = loads[name]
            return any(
                networkx.has_path(net, load.plus, one.plus) and (
                    one.about.name not in returning or name in untold
                    or networkx.has_path(net, load.minus, one.minus)
                )
                for one in rig.sources if one.about.name in on
            )  # fmt: skip

        while more := {s.about.name for s in rig.sources if s.inlet and fed(s.inlet)} - on - off:
            on |= more
        dropped = {edge for edge, coil in coils.items() if not fed(coil.about.name)}
        if dropped <= opened | fallen:
            return frozenset(name for name in loads if fed(name))
        fallen |= dropped


def told_dark(study: Study, name: str) -> frozenset[str]:
    """The loads that are told to go dark: by themselves, by their circuit or their panel."""
    rig, found = study.rig, set[str]()
    for part in opened_alone(study, name).dark:
        if part.kind == "load":
            found.add(part.name)
        for circuit in rig.circuits:
            if (part.kind, part.name) in (("panel", circuit.panel), ("circuit", circuit.place)):
                found.update(circuit.loads)
    return frozenset(found)


def misfits(study: Study, device: Device) -> Iterator[str]:
    """What is told of a device otherwise than it is reckoned."""
    rig, name = study.rig, device.about.name
    found = opened_alone(study, name)
    if found.when or found.beside:
        return
    inlets = {source.inlet for source in rig.sources}
    base = in_use(rig, but=name).edges
    # What charges is off while it rests, a converter that charges a bank with it.
    resting = {s.about.name for s in rig.sources if not s.stores} - source_reach(study).passes_on
    own = edges_of_device(rig, name)
    lost = frozenset[str]()
    for off, apart in ((frozenset(), base), (frozenset(resting), base | bank_joins(rig))):
        lost |= reckoned(study, apart, off) - reckoned(study, apart | own, off)
    told = told_dark(study, name)
    yield from (f"{name}: {one} is not told" for one in lost - told - inlets)
    yield from (f"{name}: {one} is told" for one in told - lost - inlets)


SIDES = st.sampled_from(["plus", "minus"])
PARTS = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 9), SIDES, st.booleans()), min_size=1, max_size=5
)


def made(parts: list[tuple[int, int, str, bool]]) -> str:
    """Relays by chance: each contact and each coil on a bar or behind an earlier contact."""
    lines = [
        'rig "T"', "    system 12 V", "battery B1 105 Ah, agm, internal 8 mohm", "busbar N1 100 A",
        "busbar A0 100 A", "wire B1+ to A0 6 AWG red 1 ft, fuse 100 A, class-t at B1+",
        "wire N1 to B1- 6 AWG black 3 ft",
    ]  # fmt: skip
    for place, (contact, coil, side, is_fused) in enumerate(parts, 1):
        on, worked = f"A{contact % place}", f"A{coil % place}"
        fuse = f", fuse 10 A at {worked}" if is_fused else ""
        lines += [
            f"relay K{place} 40 A, rests open", f"busbar A{place} 100 A",
            f"wire {on} to K{place}.line 10 AWG red 1 ft",
            f"wire K{place}.load to A{place} 10 AWG red 1 ft",
            f'load L{place} "K{place} coil" 0.2 A', f"switch SW{place} 5 A",
            f'load M{place} "Lamp" 2 A', f"wire A{place} to M{place}+ 14 AWG red 2 ft",
            f"wire M{place}- to N1 14 AWG black 2 ft",
        ]  # fmt: skip
        if side == "plus":
            lines += [
                f"wire {worked} to SW{place}.line 16 AWG red 2 ft{fuse}",
                f"wire SW{place}.load to L{place}+ 16 AWG red 2 ft",
                f"wire L{place}- to N1 16 AWG black 2 ft",
            ]
        else:
            lines += [
                f"wire {worked} to L{place}+ 16 AWG red 2 ft{fuse}",
                f"wire L{place}- to SW{place}.line 16 AWG black 2 ft",
                f"wire SW{place}.load to N1 16 AWG black 2 ft",
            ]
    return "\n".join(lines) + "\n"


@settings(max_examples=40, deadline=None)
@given(PARTS)
def test_what_is_told_dark_is_what_loses_its_feed_in_rigs_of_relays(parts) -> None:
    study = study_from(made(parts))
    assert [one for device in study.rig.devices for one in misfits(study, device)] == []


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_what_is_told_dark_is_what_loses_its_feed(file: Path) -> None:
    study = checked(file).study
    if study is None:
        return
    names = {row.name for row in device_rows(study)}
    devices = {one.about.name: one for one in study.rig.devices if one.about.name in names}
    assert [one for device in devices.values() for one in misfits(study, device)] == []


def test_the_slot_of_a_coil_names_what_its_contact_feeds() -> None:
    study = study_from(RESTS_CLOSED)
    circuits = {one.place: one for one in study.rig.circuits}
    assert coil_words(study, (circuits["P1.1"],)) == "opened, also dark: H1 Heater"
    assert coil_words(study, (circuits["P1.2"],)) == "opened, COMES ON: H3 Anchor lamp"
    job = job_of(RESTS_CLOSED)
    for sheet in (panel_directory, panel_face):
        said = words(sheet.pages(job))
        assert "opened, also dark: H1 Heater" in said, sheet.__name__
        assert "COMES ON: H3 Anchor lamp" in said, sheet.__name__
