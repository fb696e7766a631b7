"""How likely a symptom is to be seen with something wrong."""

from collections.abc import Iterable

from rigfolio.books import figure
from rigfolio.diagnosis.fuses import Fuses
from rigfolio.diagnosis.suspects import OF_BATTERIES, Suspect, guards_before
from rigfolio.model import Load, Reading, Symptom
from rigfolio.network import Edge, edge_name, ends as edge_ends
from rigfolio.operating import Shown, Wrong
from rigfolio.study import Study

_WEAK = OF_BATTERIES | {"drain"}


class Symptoms:
    """What a person at the panel sees of the parts of a rig."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.loads = study.rig.by_name.loads
        self.fuses = Fuses(study)

    def chance(
        self, reading: Reading, suspect: Suspect, wrong: Wrong, here: Shown, sound: Shown
    ) -> float:
        """The chance that a symptom is seen with something wrong [-]."""
        sure, chance = figure("seen", "sure"), figure("seen", "chance")
        if reading.symptom == "hot":
            return (
                sure if self._heat_w(reading, wrong, here) >= figure("heat", "felt_w") else chance
            )
        if reading.symptom in ("blows", "tripped"):
            return self.fuses.chance(reading, self.loads_at(reading), suspect, wrong)
        if reading.kind == "source":
            return self._of_source(reading, suspect, here, sound)
        loads = self.loads_at(reading)
        if reading.symptom == "backwards":
            return sure if any(one.about.name in wrong.reversed_loads for one in loads) else chance
        if reading.symptom == "flickers":
            return self._flickers(loads, suspect, here, sound)
        heavy = {name for name, share in wrong.draws if share > 1.0}
        if reading.symptom == "slow" and any(one.about.name in heavy for one in loads):
            # A motor that labours draws more: it need not get fewer volts.
            return figure("seen", "labours")
        is_whole = reading.kind == "rig"
        # What hangs on an outlet does not charge where the outlet is dead.
        symptom = "dead" if reading.symptom == "uncharged" else reading.symptom
        return self._as_seen(symptom, loads, wrong, here, is_whole=is_whole)

    def _as_seen(
        self,
        symptom: Symptom,
        loads: tuple[Load, ...],
        wrong: Wrong,
        here: Shown,
        *,
        is_whole: bool,
    ) -> float:
        """The chance that loads are dead, dim, slow or well; of several the best one is meant.

        Whoever says that lights are dead means all of them; those of which one is dead, work. Who
        says it of the whole rig has not been round to every load: a quarter may be as it should.
        """
        draws = dict(wrong.draws)
        off = {one.about.name for one in loads if draws.get(one.about.name) == 0.0}
        off |= set(wrong.reversed_loads)
        shares = sorted((self._share(one, here) for one in loads if one.about.name not in off),
                        reverse=True)  # fmt: skip
        at = len(loads) // 4 if is_whole else 0
        is_off = bool(loads) and at >= len(shares)
        return _by_share(symptom, shares[at] if at < len(shares) else 1.0, is_off=is_off)

    def _of_source(self, reading: Reading, suspect: Suspect, here: Shown, sound: Shown) -> float:
        """The chance of what is said of a battery, or of what charges it."""
        sure, chance = figure("seen", "sure"), figure("seen", "chance")
        name, symptom = reading.part, reading.symptom
        if not self._stores(name):
            is_well = _kept(here.given_a(name), sound.given_a(name)) >= _charging()
            return sure if is_well == (symptom == "works") else chance
        if symptom == "uncharged":
            return _uncharged(here.given_a(name), sound.given_a(name))
        if symptom not in ("dead", "dim", "slow", "works"):
            return chance
        is_weak = (suspect.bank or suspect.name) == name and suspect.kind in _WEAK
        if symptom == "works":
            return chance if is_weak else sure
        loads = tuple(self.loads[each] for each in steady(self.study.rig.loads))
        best = max((self._share(each, here) for each in loads), default=1.0)
        is_dark = best < figure("seen", "dim_share")
        # Nobody imagines a battery that is dead.
        imagined = figure("seen", "imagined") if symptom == "dead" else chance
        return sure if is_weak else figure("seen", "mistaken") if is_dark else imagined

    def _stores(self, source: str) -> bool:
        return self.study.rig.by_name.sources[source].stores

    def _flickers(
        self, loads: tuple[Load, ...], suspect: Suspect, here: Shown, sound: Shown
    ) -> float:
        """The chance that loads come and go: by what is loose on their way, or chafed."""
        if suspect.kind == "chafed":
            is_behind = any(suspect.name in guards_before(self.study, one.plus) for one in loads)
            return figure("seen", "chafes" if is_behind else "chance")
        share = min((self._share(load, here) for load in loads), default=1.0)
        was = min((self._share(load, sound) for load in loads), default=1.0)
        loose = suspect.kind in ("joint", "contact", "open wire", "open device")
        return figure("seen", "loose" if loose and share < 0.9 * was else "chance")

    def _share(self, load: Load, shown: Shown) -> float:
        """What a load gets of its nominal voltage [-]."""
        volts = self.study.nominal_v(load.plus)
        return shown.between_v(load.plus, load.minus) / volts

    def _heat_w(self, reading: Reading, wrong: Wrong, shown: Shown) -> float:
        """Heat that what is wrong makes at a part [W]."""
        near = self._near(reading)
        return sum(shown.current_a(edge) ** 2 * ohm for edge, ohm in wrong.ohm if edge in near)

    def _near(self, reading: Reading) -> frozenset[str]:
        """The edges whose heat is felt at a part: its own, and those that land on it."""
        circuit = self.study.circuit(reading.part) if reading.kind == "circuit" else None
        if circuit is not None:
            return frozenset({circuit.device, *circuit.wires, *circuit.returns})
        ends = {end for end in (reading.a, reading.b) if end}
        if reading.kind == "panel":
            ends |= {each.start for each in self.study.rig.circuits if each.panel == reading.part}
        if reading.kind in ("device", "wire"):
            return frozenset({edge_of(self.study, reading)})
        every: tuple[Edge, ...] = (*self.study.rig.conductors, *self.study.rig.devices)
        return frozenset(edge_name(one) for one in every if ends.intersection(edge_ends(one)))

    def loads_at(self, reading: Reading) -> tuple[Load, ...]:
        """The loads that a reading speaks of."""
        if reading.kind == "rig":
            return tuple(self.loads[name] for name in reading.on or steady(self.study.rig.loads))
        if reading.kind == "load":
            return (self.loads[reading.part],)
        circuit = self.study.circuit(reading.part)
        if circuit is not None:
            return tuple(self.loads[name] for name in circuit.loads)
        edges = {edge for edge in (reading.a, reading.b) if edge}
        at = [load for load in self.study.rig.loads if {load.plus, load.minus} & edges]
        if at or reading.kind not in ("panel", "device", "wire", "terminal", "source"):
            return tuple(at)
        places = {c.place for c in self.study.rig.circuits if c.panel == reading.part}
        return tuple(load for load in self.study.rig.loads if load.circuit in places)


def _uncharged(here_a: float, sound_a: float) -> float:
    """The chance that a bank is said not to charge: all of its charge is gone, or a part of it."""
    if sound_a >= 0.0:
        # Nothing charges it in the text, whatever is wrong.
        return figure("seen", "chance")
    left = _kept(here_a, sound_a)
    if left < _charging():
        return figure("seen", "sure")
    return figure("seen", "part" if left < figure("seen", "whole_share") else "chance")


def _kept(here_a: float, sound_a: float) -> float:
    """How much of what it is in the sound rig a charge still is [-]."""
    return here_a / sound_a if sound_a else 0.0


def _charging() -> float:
    return figure("seen", "charging_share")


def steady(loads: Iterable[Load]) -> tuple[str, ...]:
    """The names of the loads that run for hours; of all where none does."""
    loads = tuple(loads)
    found = [one for one in loads if one.traits.for_hours]
    return tuple(one.about.name for one in found or loads)


def edge_of(study: Study, reading: Reading) -> str:
    """The edge that a reading of a part is about."""
    circuit = study.circuit(reading.part)
    if circuit is not None:
        return circuit.device or circuit.wires[0]
    device = study.device(reading.part)
    return edge_name(device) if device is not None else reading.part


def _by_share(symptom: Symptom, share: float, *, is_off: bool) -> float:
    """The chance that a load is seen to be dead, dim or working at a share of its voltage [-]."""
    sure, chance = figure("seen", "sure"), figure("seen", "chance")
    between = (1.0 - sure) / 2.0 + chance
    is_dead = is_off or share < figure("seen", "dead_share")
    is_dim = not is_dead and share < figure("seen", "dim_share")
    chances = {
        "dead": sure if is_dead else between if is_dim else chance,
        "dim": sure if is_dim else between if is_dead else chance,
        "slow": sure if is_dim else between if is_dead else chance,
        "works": chance if is_dead else between if is_dim else sure,
    }
    return chances.get(symptom, chance)
