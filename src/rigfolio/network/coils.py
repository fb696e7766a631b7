"""The coils that work relays: loads, found by what the two are called."""

import re
from collections.abc import Collection, Iterator, Mapping
from typing import TypeAlias

from rigfolio.kinds import DEVICES
from rigfolio.model import Device, Load, Rig
from rigfolio.network.graph import edge_name, net_of
from rigfolio.record import once

_Pairs: TypeAlias = Iterator[tuple[Device, Load]]

# What a relay or its coil may be called without a word of what it is for.
_KINDS = (word for word, row in DEVICES.items() if row.has_coil)
_PLAIN = frozenset({*_KINDS, "contactor", "solenoid", "contact", "coil"})


@once
def coils_of(rig: Rig) -> Mapping[str, Load]:
    """The coil of each relay that something has to work to close it, by the name of its contact.

    It is the load called coil that bears the name of the relay or the words of its label, in its
    own label or that of its circuit. The only relay and the only load called just coil belong
    together. What hangs behind a contact does not work it.
    """
    return _worked(rig, [one for one in _relays(rig) if one.rests != "closed"], ())


@once
def coil_names(rig: Rig) -> frozenset[str]:
    """The loads that are the coil of `coils_of` for some contact, by name."""
    return frozenset(coil.about.name for coil in coils_of(rig).values())


@once
def contacts_of(rig: Rig) -> Mapping[str, tuple[Device, Load]]:
    """Each contact of `coils_of` with its coil, by the name of the contact."""
    coils = coils_of(rig)
    return {
        name: (one, coils[name])
        for one in rig.devices if one.traits.has_coil and (name := edge_name(one)) in coils
    }  # fmt: skip


@once
def openers_of(rig: Rig) -> Mapping[str, Load]:
    """The coil of each relay that rests closed, found in the same way: it opens that.

    A coil may work both, as that of a relay which changes over.
    """
    plain_taken = [coil.about.name for coil in coils_of(rig).values()]
    return _worked(rig, [one for one in _relays(rig) if one.rests == "closed"], plain_taken)


def _relays(rig: Rig) -> list[Device]:
    return [one for one in rig.devices if one.traits.has_coil]


def _worked(rig: Rig, relays: list[Device], plain_taken: Collection[str]) -> Mapping[str, Load]:
    coils = [one for one in rig.loads if "coil" in _words(_called(one))]
    found = {edge_name(relay): coil for relay, coil in _by_words(rig, relays, coils)}
    left = [one for one in relays if edge_name(one) not in found]
    held = {coil.about.name for coil in found.values()} | {*plain_taken}
    plain = [one for one in coils if one.about.name not in held and _words(_called(one)) <= _PLAIN]
    if len(left) == len(plain) == 1 and not hangs_behind(rig, left[0], plain[0]):
        found[edge_name(left[0])] = plain[0]
    return found


def _by_words(rig: Rig, relays: list[Device], coils: list[Load]) -> _Pairs:
    for relay in relays:
        label = _words(relay.about.label) - _PLAIN
        named = [
            coil
            for coil in coils
            if relay.about.name.casefold() in (words := _words(_said(rig, coil)))
            or (label and label <= words)
        ]
        if len(named) == 1 and not hangs_behind(rig, relay, named[0]):
            yield relay, named[0]


def _called(load: Load) -> str:
    return load.about.label or load.about.name


def _said(rig: Rig, load: Load) -> str:
    circuit = rig.by_name.circuits.get(load.circuit)
    return f"{load.about.name} {load.about.label} {circuit.label if circuit else ''}"


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"\w+", text.casefold()))


def hangs_behind(rig: Rig, relay: Device, load: Load) -> bool:
    """Whether no source reaches a load with a contact open."""
    reached = net_of(rig).walk([load.plus], lambda edge: edge is relay)
    return all(source.plus not in reached for source in rig.sources)
