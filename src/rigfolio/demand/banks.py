"""Batteries side by side: what each gives of what they give together, by its leads and inside."""

from collections.abc import Iterator, Mapping

from rigfolio.demand.flows import flows_of
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Load, Source
from rigfolio.network import Way, parallel_banks
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class SharedBank:
    """Batteries side by side, and the part of each of what their heaviest load draws [-].

    `parts` is empty where a resistance on the way is not known. They are taken to be all in.
    """

    batteries: tuple[Source, ...]
    load: Load
    parts: Mapping[str, float]


@once
def shared_banks(study: Study) -> tuple[SharedBank, ...]:
    """All banks of batteries side by side that serve a load."""
    return tuple(_found(study))


@once
def bank_leads(study: Study) -> tuple[tuple[Conductor, ...], ...]:
    """The wires that batteries side by side share by, those of one side of one bank together."""
    ways = (way for ways in flows_of(study).ways.values() for way in ways)
    meshes = {way.banked.mesh.names: way.banked.mesh for way in ways if way.banked is not None}
    sides: dict[tuple[frozenset[str], str], list[Conductor]] = {}
    for names, mesh in meshes.items():
        for edge in mesh.edges:
            if isinstance(edge, Conductor):
                sides.setdefault((names, study.polarity(edge)), []).append(edge)
    return tuple(map(tuple, sides.values()))


def _found(study: Study) -> Iterator[SharedBank]:
    flows, seen = flows_of(study), set[str]()
    for bank in parallel_banks(study.rig, study.net).values():
        first = bank[0].about.name
        if first in seen:
            continue
        seen.add(first)
        served = [pair for load in study.rig.loads for pair in _ways(study, load, bank)]
        if not served:
            continue
        load, way = max(served, key=lambda pair: (_drawn_a(pair[0], bank), pair[0].about.name))
        yield SharedBank(bank, load, flows.counts.parts(way))


def _ways(study: Study, load: Load, bank: tuple[Source, ...]) -> Iterator[tuple[Load, Way]]:
    """The way from the first battery of a bank to a load, where all of them serve it."""
    for way in flows_of(study).ways.get(load.about.name, ()):
        if way.banked is not None and way.source.about.name == bank[0].about.name:
            yield load, way


def _drawn_a(load: Load, bank: tuple[Source, ...]) -> float:
    drawn = load.current_a(bank[0].voltage_v)
    return 0.0 if isinstance(drawn, Unknown) else drawn
