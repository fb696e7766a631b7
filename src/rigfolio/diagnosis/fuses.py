"""How likely a fuse or breaker is to have opened with something wrong behind it."""

from collections.abc import Collection, Iterable, Mapping

from rigfolio.books import figure
from rigfolio.demand import flows_of
from rigfolio.diagnosis.suspects import Suspect, guards_before
from rigfolio.model import Device, Load, Reading
from rigfolio.network import edge_name
from rigfolio.operating import Wrong, drawn_at
from rigfolio.record import replace
from rigfolio.shorts import StartCurrent, blow, hardest_start, is_sure_to_open, may_open
from rigfolio.study import Study
from rigfolio.units import is_over


class Fuses:
    """The fuses and breakers of a rig, in a panel or outside, as people find them opened."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self._begun: dict[frozenset[str], tuple[tuple[Device, StartCurrent], ...]] = {}
        self._starts: dict[frozenset[str], tuple[tuple[Device, StartCurrent, bool], ...]] = {}
        self._full: dict[frozenset[str], tuple[tuple[Device, float, float], ...]] = {}

    def chance(
        self, reading: Reading, loads: Iterable[Load], suspect: Suspect, wrong: Wrong
    ) -> float:
        """The chance that a fuse is found opened, or opens again and again [-]."""
        sure, chance = figure("seen", "sure"), figure("seen", "imagined")
        loads = tuple(loads)
        meant = self._meant(reading, loads)
        full = self._carrying_more(meant)
        if any(demand_a > figure("opens", "share") * rated_a for _, demand_a, rated_a in full):
            return sure
        if any(is_sure for *_, is_sure in self._starting(meant)):
            return sure
        if {suspect.name, suspect.fuse} & meant:
            if suspect.kind in ("short", "chafed", "stuck load"):
                return sure
            if suspect.kind == "contact":
                return 5.0 * chance
            if suspect.kind == "open device":
                # A fuse grows old and opens once; one that opens again has its reason.
                return figure("seen", "aged") if reading.symptom == "tripped" else chance
        heavy = {name: share for name, share in wrong.draws if share > 1.0}
        over = (self._over(fuse, heavy) for name in heavy for fuse in meant & self._before(name))
        if any(ratio > figure("opens", "share") for ratio in over):
            return sure
        at_start = {name: heavy[name] for name in reading.starting if name in heavy}
        return sure if at_start and self._opens_at_start(meant, at_start) else chance

    def told_of(self, reading: Reading, loads: Iterable[Load]) -> frozenset[str]:
        """The edges of the fuses that are said to open; none where nothing of the kind is said."""
        if reading.symptom not in ("blows", "tripped"):
            return frozenset()
        return self._meant(reading, tuple(loads))

    def overloaded(
        self, reading: Reading, loads: Iterable[Load]
    ) -> tuple[tuple[Device, float, float], ...]:
        """The fuses that a place speaks of which carry more than they may, with nothing wrong.

        Each with what runs through it at one time, and its rating [A].
        """
        return self._carrying_more(self._meant(reading, tuple(loads)))

    def opened_by_start(
        self, reading: Reading, loads: Iterable[Load]
    ) -> tuple[tuple[Device, StartCurrent, bool], ...]:
        """The fuses that a place speaks of which the start of a load may open, with nothing wrong.

        Each with that start, and whether it is sure to open while it lasts.
        """
        return self._starting(self._meant(reading, tuple(loads)))

    def _starting(self, fuses: frozenset[str]) -> tuple[tuple[Device, StartCurrent, bool], ...]:
        if fuses not in self._starts:
            self._starts[fuses] = tuple(
                (one, start, _is_sure(one, start))
                for one, start in self._starts_behind(fuses) if may_open(one, start)
            )  # fmt: skip
        return self._starts[fuses]

    def _starts_behind(self, fuses: frozenset[str]) -> tuple[tuple[Device, StartCurrent], ...]:
        """Some fuses, each with the hardest start behind it."""
        if fuses not in self._begun:
            named = (one for one in self.study.rig.devices if edge_name(one) in fuses)
            starts = ((one, hardest_start(self.study, one)) for one in named if one.protects)
            self._begun[fuses] = tuple((one, start) for one, start in starts if start is not None)
        return self._begun[fuses]

    def _opens_at_start(self, fuses: frozenset[str], heavy: Mapping[str, float]) -> bool:
        """Whether the start of a load that draws a share too much may open one of some fuses."""
        return any(
            may_open(fuse, replace(start, current_a=start.current_a * share))
            for fuse, start in self._starts_behind(fuses)
            for share in [heavy.get(start.load.about.name, 0.0)] if share
        )  # fmt: skip

    def _carrying_more(self, fuses: frozenset[str]) -> tuple[tuple[Device, float, float], ...]:
        # The same fuses are asked for with every suspect.
        if fuses not in self._full:
            named = [one for one in self.study.rig.devices if edge_name(one) in fuses]
            self._full[fuses] = tuple(
                (one, demand_a, one.rating_a)
                for one in named if isinstance(one.rating_a, float)
                for demand_a in [flows_of(self.study).demand(one.about.name).current_a]
                if is_over(demand_a, one.rating_a)
            )  # fmt: skip
        return self._full[fuses]

    def _meant(self, reading: Reading, loads: Collection[Load]) -> frozenset[str]:
        """The edges of the fuses that a place speaks of: its own, of its loads or before it."""
        device = self.study.device(reading.part)
        circuit = self.study.circuit(reading.part)
        if circuit is not None:
            device = self.study.device(circuit.device)
        if device is not None and device.protects:
            return frozenset({edge_name(device)})
        if loads:
            return frozenset().union(*(self._before(one.about.name) for one in loads))
        places = [end for end in (reading.a, reading.b) if end]
        return frozenset().union(*(guards_before(self.study, end) for end in places))

    def _before(self, name: str) -> frozenset[str]:
        """The edges of the fuses next before a load, without which nothing feeds it."""
        return guards_before(self.study, self.study.rig.by_name.loads[name].plus)

    def _over(self, fuse: str, heavy: dict[str, float]) -> float:
        """Current over rating of a fuse while some loads draw a share of what they should [-]."""
        device = next(one for one in self.study.rig.devices if edge_name(one) == fuse)
        if not isinstance(device.rating_a, float):
            return 0.0
        total = 0.0
        for one in self.study.rig.loads:
            if fuse in self._before(one.about.name):
                volts = self.study.nominal_v(one.plus)
                total += drawn_at(one, volts) * heavy.get(one.about.name, 1.0)
        return total / device.rating_a


def _is_sure(fuse: Device, start: StartCurrent) -> bool:
    """Whether a fuse that a start may open is sure to open while it lasts."""
    window = blow(fuse, start.current_a).window
    return window is not None and is_sure_to_open(window, start)
