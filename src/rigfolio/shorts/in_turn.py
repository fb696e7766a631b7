"""Faults of a rig in each setting of its switches that make one of several ways at a time."""

import math
from collections.abc import Collection

from rigfolio.isolation import CLOSED, Open
from rigfolio.model import Device
from rigfolio.network import in_turn
from rigfolio.record import replace
from rigfolio.shorts.cases import Case, Fault, Interrupt
from rigfolio.shorts.faults import Faults
from rigfolio.study import Study, once


class FaultsInTurn(Faults):
    """All faults of a rig, each in the settings that make it worst.

    What has to break it is held against the setting in which most flows, what has to open on it
    against that in which least does.
    """

    def __init__(self, study: Study, opened: Open = CLOSED) -> None:
        super().__init__(study, opened)
        self._each = [
            Faults(study, Open(opened.edges | edges, opened.sources))
            for edges in in_turn(study.rig)
        ]

    def without(self, sources: frozenset[str]) -> "FaultsInTurn":
        """The faults of the rig with further sources off."""
        return FaultsInTurn(self.study, Open(self.opened.edges, self.opened.sources | sources))

    def at(self, terminal: str, to: str | None = None) -> Fault | None:
        """A fault at a terminal of the plus side, as in `Faults`."""
        found = [one for each in self._each if (one := each.at(terminal, to)) is not None]
        if not found:
            return None
        most = max(found, key=lambda fault: _flows(fault.coldest))
        least = min(found, key=lambda fault: _flows(fault.hottest))
        unknown = tuple({wire.name: wire for one in found for wire in one.unknown}.values())
        return replace(most, hottest=least.hottest, assumed=least.assumed, unknown=unknown)

    def coldest_at(self, terminal: str, to: str | None = None) -> Case | None:
        """As `at`, of the coldest case alone."""
        cases = [one for each in self._each if (one := each.coldest_at(terminal, to)) is not None]
        return max(cases, key=_flows, default=None)

    def interrupt(
        self, device: Device, at: Collection[str] = (), to: str | None = None
    ) -> Interrupt | None:
        """Whether a device may break a fault right beside it, as switches stand when most flows."""
        found = [each.interrupt(device, at, to) for each in self._each]
        known = [one for one in found if one is not None]
        return max(known, key=lambda one: (one.may is False, one.flows_a or math.inf), default=None)


def _flows(case: Case) -> float:
    """What flows, without bound where nobody can tell [A]."""
    known = (a for a in (case.current_a, case.bound_a) if a is not None)
    return next(known, math.inf)


@once
def faults_of(study: Study) -> Faults:
    """Short circuits at every place, everything closed that can be at one time."""
    return FaultsInTurn(study) if study.net.turning else Faults(study)
