"""What the lines of what charges lose in the least copper that bears their current."""

from collections.abc import Iterable, Iterator

from rigfolio.demand import drops_of
from rigfolio.sizing.least import NO_DROP_LIMIT
from rigfolio.sizing.proposals import Proposal
from rigfolio.study import Study
from rigfolio.units import show_load


def unlimited_words(study: Study, found: Iterable[Proposal]) -> Iterator[str]:
    """That no book has a limit for what these lose, and what that is; nothing without any."""
    lost = []
    for wire in (wire for one in found for wire in one.wires if wire.decisive == NO_DROP_LIMIT):
        ohm = drops_of(study).ohm(study.rig.conductor(wire.name), wire.needed_a, wire.least)
        if ohm is not None and wire.needed_a:
            lost.append(f"`{wire.name}` {show_load(ohm * wire.needed_a, 'V')}")
    if lost:
        yield (
            "`no limit`: the line of what charges. No rule book here has a limit for the volts "
            "that it loses, which make charging slower. In the least that is listed each wire "
            f"would lose, its return aside: {', '.join(lost)}. Ask the maker of what charges "
            "before thinner wire goes in."
        )
