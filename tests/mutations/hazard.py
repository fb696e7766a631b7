"""A kind of hazard: its name, the rules that may name it, and every place it can be put."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from mutations.edits import Example, Mutant

Places = Callable[[Example], Iterator[Mutant]]


@dataclass(frozen=True, slots=True)
class Hazard:
    """One kind; `rules` are those that name it, one of which must find it at the place.

    Of a kind that can be put almost everywhere only each `every`th place is tried, to keep the
    tests short; `score.py --all` tries them all.
    """

    name: str
    rules: frozenset[str]
    places: Places
    every: int = 1


HAZARDS: dict[str, Hazard] = {}


def hazard(name: str, *rules: str, every: int = 1) -> Callable[[Places], Places]:
    """Enter a generator of mutants among the kinds of hazard."""

    def enter(places: Places) -> Places:
        # pytest reads each file once more under another name.
        known = HAZARDS.get(name)
        assert known is None or known.places.__name__ == places.__name__, name
        HAZARDS[name] = Hazard(name, frozenset(rules), places, every)
        return places

    return enter
