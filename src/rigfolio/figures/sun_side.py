"""Between solar modules and their controllers: volts, currents and drops, to be repeated."""

from collections.abc import Iterator

from rigfolio.books import Limit
from rigfolio.demand import SunDrop, sun_drops
from rigfolio.findings import Unknown
from rigfolio.model import Source
from rigfolio.protection import coldest_v, open_circuit_v, sun_sides
from rigfolio.record import record
from rigfolio.study import Study


@record
class SunLine:
    """One array at the input of its controller.

    `open_v` are its volts with nothing on it at 25 °C, `cold` those on the coldest morning with
    their source, `most_v` what the input bears [V]; None where the text does not tell. `drop` is
    that at greatest power; None where a figure for it is not known.
    """

    array: Source
    controller: Source
    open_v: float | None
    cold: Limit | None
    most_v: float | None
    drop: SunDrop | None


def sun_lines(study: Study) -> Iterator[SunLine]:
    """Every array that is joined to the input of a controller."""
    drops = {(one.array.about.name, one.controller.about.name): one for one in sun_drops(study)}
    for side in sun_sides(study):
        most_v = side.controller.input_most_v
        for array in side.arrays:
            yield SunLine(
                array,
                side.controller,
                open_circuit_v(array),
                coldest_v(study, array),
                None if isinstance(most_v, Unknown) else most_v,
                drops.get((array.about.name, side.controller.about.name)),
            )
