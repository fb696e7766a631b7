"""Resistance of conductors as it is in use: hot from the current that they carry."""

from collections.abc import Callable, Mapping

from rigfolio.books import Limit
from rigfolio.calc import conductor_temperature_c
from rigfolio.findings import Unknown
from rigfolio.model import Conductor
from rigfolio.network import Mesh, Splits
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.units import Size

SizeOf = Callable[[Conductor], Size | Unknown]
"""The size of a conductor, stated or on trial; the same one whenever it is asked."""


def as_stated(wire: Conductor) -> Size | Unknown:
    """The size that the text gives."""
    return wire.size


@record
class Sized:
    """The sizes of the wires of a mesh by name; `key` is the same for the same sizes."""

    key: tuple[str, ...]
    sizes: Mapping[str, Size | Unknown]


class Hot:
    """The resistance of one conductor for any current.

    Resistance is linear in temperature, so that what it is in its ambient and at its limit gives
    every other. What a frame adds to a bond stays as it is.
    """

    __slots__ = ("cold_ohm", "count", "limit_a", "rise_ohm")

    def __init__(
        self, cold_ohm: float, hot_ohm: float, count: int, limit_a: float, frame_ohm: float = 0.0
    ) -> None:
        self.cold_ohm, self.rise_ohm = cold_ohm + frame_ohm, hot_ohm - cold_ohm
        self.count, self.limit_a = count, limit_a

    def ohm(self, current_a: float) -> float:
        """Resistance under a current through all conductors side by side [Ω].

        A conductor that carries more than its limit is as hot as at its limit; one whose limit is
        not known as its insulation may be.

        Source
        ------
        Heat balance, as in `rigfolio.calc.conductor_temperature_c` (memory).
        """
        share = 1.0
        if self.limit_a > 0.0:
            each_a = min(current_a / self.count, self.limit_a)
            share = conductor_temperature_c(0.0, 1.0, each_a, self.limit_a)
        return self.cold_ohm + self.rise_ohm * share


class Copper:
    """Resistance of conductors, hot from their current."""

    def __init__(
        self,
        carries: Callable[[Conductor, Size], Limit | None],
        ambient_c: Callable[[Conductor], float],
        at_limit_c: Callable[[Conductor, Limit | None], float],
        is_judged: Callable[[Conductor], bool],
        ohm_per_m: Callable[[Conductor, Size, float], float],
    ) -> None:
        self.carries, self.is_judged = carries, is_judged
        self.ambient_c, self.at_limit_c, self.ohm_per_m = ambient_c, at_limit_c, ohm_per_m
        self.splits = Splits()
        """How current splits in meshes of batteries under resistances that have been asked for."""
        self._hot: dict[tuple[str, str], Hot | None] = {}
        self._sized: dict[frozenset[str], tuple[SizeOf, Sized]] = {}

    def hot(self, wire: Conductor, size: Size) -> Hot | None:
        """A conductor in a size under any current; None where the length is not known."""
        key = (wire.name, size.text)
        if key not in self._hot:
            self._hot[key] = self._made(wire, size)
        return self._hot[key]

    def sized(self, mesh: Mesh, size_of: SizeOf) -> Sized:
        """The sizes of a mesh; the last are kept, since every source that feeds it asks."""
        last = self._sized.get(mesh.names)
        if last is not None and last[0] is size_of:
            return last[1]
        sizes = {edge.name: size_of(edge) for edge in mesh.edges if isinstance(edge, Conductor)}
        key = ("?" if isinstance(size, Unknown) else size.text for size in sizes.values())
        sized = Sized(tuple(key), sizes)
        self._sized[mesh.names] = size_of, sized
        return sized

    def _made(self, wire: Conductor, size: Size) -> Hot | None:
        if isinstance(wire.length_m, Unknown):
            return None
        limit = self.carries(wire, size)
        if limit is not None and limit.value <= 0.0:
            limit = None
        each_m = wire.length_m / wire.count
        return Hot(
            self.ohm_per_m(wire, size, self.ambient_c(wire)) * each_m,
            self.ohm_per_m(wire, size, self.at_limit_c(wire, limit)) * each_m,
            wire.count,
            0.0 if limit is None else limit.value,
            wire.frame_ohm,
        )

    def ohm(self, wire: Conductor, current_a: float, size: Size) -> float | None:
        """Resistance of a conductor, hot from its current [Ω]; None where the length is unknown."""
        hot = self.hot(wire, size)
        return None if hot is None else hot.ohm(current_a)

    def counted_ohm(self, wire: Conductor, current_a: float, size: Size | Unknown) -> float | None:
        """As `ohm`; a short lead of unknown size, left to its maker, counts as none."""
        if isinstance(size, Unknown):
            return None if self.is_judged(wire) else 0.0
        return self.ohm(wire, current_a, size)


@once
def copper_of(study: Study) -> Copper:
    """The conductors of a rig, hot from what they carry."""
    return Copper(
        study.carries_of, lambda wire: study.heat(wire)[0], study.at_limit_c,
        study.is_judged_lead, study.ohm_per_m,
    )  # fmt: skip
