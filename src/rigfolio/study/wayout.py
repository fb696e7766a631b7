"""Ways out that serve the wire and the load."""

from collections.abc import Iterable, Sequence

from rigfolio.books.loader import Limit
from rigfolio.findings import Fix
from rigfolio.model.graph import Conductor, Device
from rigfolio.study.study import Study
from rigfolio.units import show


def fuse_or_copper(
    study: Study, wire: Conductor, limit: Limit, devices: Sequence[Device]
) -> Fix | None:
    """A smaller fuse where the loads allow it; copper where they do not."""
    needed_a = max((study.flows.demand(d.about.name).current_a for d in devices), default=0.0)
    needed_a = max(needed_a, study.flows.demand(wire.name).current_a)
    one = devices[0] if len(devices) == 1 else None
    if one is not None:
        rating = study.fuse_for(limit.value, one.family)
        if rating is not None and rating >= needed_a:
            return Fix(f"`{one.kind} {show(rating, 'A')}`", "ask")
    total_a = sum(d.rating_a for d in devices if isinstance(d.rating_a, float))
    size = study.size_for(wire, total_a)
    if one is not None:
        above = study.fuse_above(needed_a, one.family)
        if above is not None and above < total_a:
            size = study.size_for(wire, above)
            if size is not None:
                return Fix(
                    f"`{size.text}` for {name_of(wire)} and `{one.kind} {show(above, 'A')}`: its "
                    f"loads need {show(needed_a, 'A')}"
                )
    if size is None:
        return Fix(f"no stock gauge serves {show(total_a, 'A')}: divide the loads")
    return Fix(f"`{size.text}` for {name_of(wire)}: its loads need {show(needed_a, 'A')}")


def copper(study: Study, wire: Conductor, current_a: float) -> Fix:
    """A thicker wire for a current."""
    size = study.size_for(wire, current_a)
    if size is None:
        return Fix(f"no stock gauge carries {show(current_a, 'A')}: divide the loads")
    return Fix(f"`{size.text}` for {name_of(wire)}", "ask")


def name_of(wire: Conductor) -> str:
    """A conductor as a message calls it."""
    return f"the leads of `{wire.circuit}`" if wire.lead else f"`{wire.name}`"


def listed(names: Iterable[str]) -> str:
    """Names in backticks, `a`, `b` and `c`."""
    quoted = [f"`{name}`" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"
