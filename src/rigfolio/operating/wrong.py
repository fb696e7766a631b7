"""What is wrong in a rig, and which contacts drop out with the coil that should hold them."""

from collections.abc import Collection, Mapping
from typing import Protocol

from rigfolio.books import figure
from rigfolio.findings import Unknown
from rigfolio.model import Load
from rigfolio.network import coils_of, contacts_of, hangs_behind
from rigfolio.record import record
from rigfolio.study import Study


@record
class Wrong:
    """What is wrong, as far as the network knows it.

    `ohm` is resistance added in series to an edge, by name [ohm]; `shunt_ohm` a way from a
    terminal to another beside all others; `draws` is what a load draws as a share of what it
    should, `emf` what a source has of its voltage, `inner_ohm` what it has of resistance more;
    batteries in `no_charge` give, and take nothing.
    """

    ohm: tuple[tuple[str, float], ...] = ()
    shunt_ohm: tuple[tuple[str, str, float], ...] = ()
    draws: tuple[tuple[str, float], ...] = ()
    emf: tuple[tuple[str, float], ...] = ()
    inner_ohm: tuple[tuple[str, float], ...] = ()
    reversed_loads: tuple[str, ...] = ()
    no_charge: tuple[str, ...] = ()

    def plus(self, other: "Wrong") -> "Wrong":
        """Both at once."""
        return Wrong(
            self.ohm + other.ohm,
            self.shunt_ohm + other.shunt_ohm,
            self.draws + other.draws,
            self.emf + other.emf,
            self.inner_ohm + other.inner_ohm,
            self.reversed_loads + other.reversed_loads,
            self.no_charge + other.no_charge,
        )


NOTHING_WRONG = Wrong()


def coils_in(study: Study, closed: Collection[str]) -> Mapping[str, Load]:
    """The coil of each relay whose contact is closed, by the name of the contact."""
    return {edge: coil for edge, coil in coils_of(study.rig).items() if edge in closed}


def drawing(
    study: Study, coils: Mapping[str, Load], on: Collection[str], *, is_stated: bool
) -> frozenset[str]:
    """The names of the coils that draw: something runs through their contact.

    Whoever states that a contact is closed says that its coil holds it.
    """
    if not coils:
        return frozenset()
    contacts = contacts_of(study.rig)
    loads = [one for one in study.rig.loads if one.about.name in on]
    return frozenset(
        coil.about.name
        for edge, coil in coils.items()
        if is_stated or any(hangs_behind(study.rig, contacts[edge][0], load) for load in loads)
    )


class Volts(Protocol):
    """What can be asked for the voltage of a terminal against another [V]."""

    def between_v(self, a: str, b: str) -> float:
        """The volts of `a` against `b` [V]."""
        ...


class Contacts:
    """The closed contacts of relays with their coils; the text may close one whose coil is dead.

    `sound` is what stands where while nothing is wrong.
    """

    def __init__(self, study: Study, coils: Mapping[str, Load], sound: Volts) -> None:
        self.study = study
        loose = self._loose(coils, sound, {})
        self.held = {edge: coil for edge, coil in coils.items() if edge not in loose}

    def open_in(self, shown: Volts, wrong: Wrong) -> frozenset[str]:
        """Those that do not close: too few volts at their coil, or a coil that takes nothing."""
        return self._loose(self.held, shown, dict(wrong.draws))

    def _loose(
        self, coils: Mapping[str, Load], shown: Volts, draws: Mapping[str, float]
    ) -> frozenset[str]:
        least = figure("coil", "pulls_in_share")
        return frozenset(
            edge
            for edge, coil in coils.items()
            if draws.get(coil.about.name, 1.0) <= 0.0
            or abs(shown.between_v(coil.plus, coil.minus)) < least * self.study.nominal_v(coil.plus)
        )


def drawn_at(load: Load, volts: float) -> float:
    """What a load draws at a voltage [A]; 0 where it is not known."""
    current = load.current_a(volts)
    return 0.0 if isinstance(current, Unknown) else current


def summed(more: tuple[tuple[str, float], ...]) -> Mapping[str, float]:
    """What is added to each thing, all of it together."""
    whole: dict[str, float] = {}
    for name, ohm in more:
        whole[name] = whole.get(name, 0.0) + ohm
    return whole
