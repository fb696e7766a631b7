"""What can be bought: the rating or the copper next to a figure."""

from collections.abc import Callable

from rigfolio.books import (
    Book,
    Limit,
    awg_sizes,
    fuse_colour,
    fuse_families,
    metric_sizes,
    next_down,
    next_up,
)
from rigfolio.findings import Unknown
from rigfolio.model import Conductor, Device
from rigfolio.units import Size, is_over

_ANY = ("regular", "maxi", "midi", "terminal cube", "mega")
"""Families for a fuse of which nothing is said, smallest bodies first."""
_BLADES = ("mini", "regular", "maxi")


def families(like: Device | None) -> tuple[str, ...]:
    """The families that can stand in the place of a device."""
    if like is None:
        return _ANY
    if like.family in fuse_families():
        return (like.family,)
    if like.traits.families:
        return like.traits.families
    return (like.traits.slot_family,) if like.in_slot and like.traits.slot_family else _ANY


def rating_below(limit_a: float, like: Device | None = None) -> float | None:
    """The largest rating in stock that is not above a limit [A]; None if all are."""
    found = [rating for name in families(like) if (rating := next_down(limit_a, name)) is not None]
    return max(found, default=None)


def rating_above(current_a: float, like: Device | None = None) -> float | None:
    """The smallest rating in stock that is not below a current [A]; None if all are."""
    found = [rating for name in families(like) if (rating := next_up(current_a, name)) is not None]
    return min(found, default=None)


def unmade_in(device: Device) -> str:
    """The family of which no fuse of a rating is in stock; empty where there is one.

    A fuse in a slot that names no family is a blade of whichever body. Of one elsewhere, and of
    breakers, nobody knows in which ratings they all come.
    """
    family, rated_a = device.fitted_family, device.rating_a
    if device.traits.resets or not device.protects or family not in fuse_families():
        return ""
    if not isinstance(rated_a, float) or fuse_colour(rated_a, family) is not None:
        return ""
    bodies = (device.family,) if device.family else _BLADES
    made = (near_a for one in bodies if (near_a := next_down(rated_a, one)) is not None)
    return "" if any(not is_over(rated_a, near_a) for near_a in made) else family


def sizes_like(wire: Conductor, book: Book) -> tuple[Size, ...]:
    """The sizes in stock that a book allows for a wire, thinnest first, metric for a metric wire.

    The short leads of a fixture may be thinner than other wires.
    """
    is_metric = isinstance(wire.size, Size) and wire.size.awg is None
    stock = metric_sizes() if is_metric else awg_sizes()
    least = None if wire.lead else book.least_size_m2(sheathed=wire.sheathed)
    if least is None:
        return stock
    return tuple(size for size in stock if not is_over(least.value, size.area_m2))


def thinnest(
    wire: Conductor, current_a: float, book: Book,
    limit_of: Callable[[Conductor, Size], Limit | None],
) -> Size | None:  # fmt: skip
    """The thinnest stock size whose limit is not below a current; None if all are."""
    for size in sizes_like(wire, book):
        limit = limit_of(wire, size)
        if limit is not None and not limit.is_broken_by(current_a):
            return size
    return None


def is_thicker(size: Size, wire: Conductor) -> bool:
    """Whether a size holds more copper than a wire has."""
    return not isinstance(wire.size, Unknown) and is_over(size.area_m2, wire.size.area_m2)
