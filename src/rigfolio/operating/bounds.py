"""From where to where a reading may lie: state of the battery, spread of the loads, the meter."""

from collections.abc import Iterable, Iterator, Sequence
from math import hypot

from rigfolio.books import figure, meter_volt
from rigfolio.isolation import Open
from rigfolio.operating.meter import Scene
from rigfolio.study import Study


class Bounds:
    """From where to where readings may lie with some loads on, in any of several settings."""

    def __init__(self, study: Study, on: frozenset[str], settings: Iterable[Open]) -> None:
        self._shown = [
            scene.solve(emf=emf, load=load)
            for scene in (Scene(study, opened, on) for opened in settings)
            for emf, load in _corners(scene)
        ]

    def volts(self, a: str, b: str) -> tuple[float, float]:
        """The least and the most that may be read from one terminal to another [V]."""
        held = [shown.between_v(a, b) for shown in self._shown]
        most = max(map(abs, held))
        wide = meter_volt(most, fine=most < 1.0)
        return min(held) - wide, max(held) + wide

    def amps(self, edge: str) -> tuple[float, float]:
        """The least and the most current in an edge [A]."""
        return _wide([shown.current_a(edge) for shown in self._shown])

    def drawn(self, load: str) -> tuple[float, float]:
        """The least and the most that a load may draw [A]."""
        return _wide([shown.drawn_a(load) for shown in self._shown])


def _wide(held: Sequence[float]) -> tuple[float, float]:
    """Currents with what the meter leaves open [A]."""
    wide = hypot(figure("meter", "share") * max(held), figure("meter", "ampere"))
    return max(min(held) - wide, 0.0), max(held) + wide


def _corners(scene: Scene) -> Iterator[tuple[float, float]]:
    """What sources and loads may be, as shares of what is stated: as stated, then the extremes."""
    spread = max((scene.rest_share(s)[1] for s in scene.sources), default=0.0)
    share = figure("spread", "load_share")
    yield 1.0, 1.0
    for emf in (-spread, spread):
        for load in (-share, share):
            yield 1.0 + emf, 1.0 + load
