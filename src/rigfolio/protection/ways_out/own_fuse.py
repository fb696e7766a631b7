"""A fuse of its own where a wire begins."""

from collections.abc import Sequence
from functools import partial

from rigfolio.demand import flows_of, least_rated_a
from rigfolio.findings import Fix, Refit
from rigfolio.model import Conductor, Device
from rigfolio.protection.limits import limit_in, limit_of, sure_a
from rigfolio.protection.ways_out.left import copper_left, fuse_left
from rigfolio.protection.ways_out.rating import written
from rigfolio.protection.ways_out.thicker import need_of, thicker_wire
from rigfolio.record import replace
from rigfolio.standard_sizes import rating_above, rating_below
from rigfolio.study import Study
from rigfolio.units import is_over, show_added, show_limit
from rigfolio.wording import listed_wires, name_of, place


def own_fuse_words(wires: Sequence[Conductor], most_a: float) -> str:
    """A fuse where some wires begin, of what they bear at the most [A]."""
    begin = "begins" if len(wires) == 1 else "begin"
    most = show_limit(most_a, "A")
    return f"a fuse of its own, {most} at most, where {listed_wires(wires)} {begin}"


def _copper_and_own_fuse(wire: Conductor, need_a: float) -> str:
    """A wire that bears what it is asked for [A], which is more than the one there bears."""
    need = show_added(need_a, "A")
    return f"wire that may carry {need}, and a fuse of its own where {name_of(wire)} begins"


def fuse_of_its_own(study: Study, wires: Sequence[Conductor], device: Device) -> Fix | None:
    """A fuse where wires begin that carry little themselves: thicker copper would serve nobody.

    Where the device before them needs no more either, only its kind has no rating so small.
    """
    limits = [limit_of(study, wire) for wire in wires]
    least_a = min((limit.value for limit in limits if limit is not None), default=0.0)
    most_a = rating_below(least_a)
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    if most_a is None or needed_a > most_a:
        return None
    if flows_of(study).demand(device.about.name).current_a <= most_a:
        most = show_limit(most_a, "A")
        return Fix(f"another kind in place of `{device.about.name}`, {most} at most")
    return Fix(own_fuse_words(wires, most_a))


def several_supplies(study: Study, wires: Sequence[Conductor], devices: Sequence[Device]) -> Fix:
    """A fuse of its own where each wire begins that more than one supply drives into."""
    own = fuses_of_their_own(study, wires, devices, is_alone=False)
    if own is not None:
        return own
    needed_a = flows_of(study).most(wire.name for wire in wires).current_a
    fitting = rating_above(needed_a)
    if fitting is None or thicker_wire(study, wires, fitting) is None:
        need, left = show_added(needed_a, "A"), fuse_left(study, devices[0], needed_a)
        if fitting is not None:
            own_words = f"a fuse of its own where {name_of(wires[0])} begins"
            left = copper_left(study, wires, fitting, partial(limit_in, study), own_words)
        return Fix(f"no fuse and no stock size serve {need}: {left}")
    return Fix(_copper_and_own_fuse(wires[0], needed_a))


def fuses_of_their_own(
    study: Study, wires: Sequence[Conductor], devices: Sequence[Device], *, is_alone: bool = True
) -> Fix | None:
    """A fuse where each wire begins that bears what it serves, and copper for those that do not.

    None where there is no such wire. One that ends at the device has its fuse already: it is that
    one, and has to bear what that lets through.
    """
    posts = {end for device in devices if is_alone for end in (device.line, device.load)}
    parts, rest = list[str](), list[str]()
    all_a = least_rated_a(study, devices[0].about.name)
    its_own = [one for one in wires if posts & {one.a, one.b} or _runs_all(study, one, all_a)]
    if its_own:
        rest.append(_of_device_itself(study, its_own, devices[0]))
    for wire in wires:
        bears, need_a = limit_of(study, wire), least_rated_a(study, wire.name)
        most_a = None if bears is None else rating_below(sure_a(bears))
        if wire in its_own:
            continue
        if most_a is not None and not is_over(need_a, most_a):
            parts.append(own_fuse_words([wire], most_a))
        else:
            rest.append(_copper_and_own_fuse(wire, need_a))
    return Fix("; ".join((*parts, *rest))) if parts else None


def _runs_all(study: Study, wire: Conductor, all_a: float) -> bool:
    """Whether all runs through a wire that a device before it carries, more than it bears [A]."""
    bears, need_a = limit_of(study, wire), least_rated_a(study, wire.name)
    return bears is not None and need_a >= all_a and is_over(need_a, sure_a(bears))


def _of_device_itself(study: Study, wires: Sequence[Conductor], device: Device) -> str:
    """What serves the wires at a device once those further on have fuses of their own."""
    limits = [limit_of(study, wire) for wire in wires]
    most_a = rating_below(min(0.0 if one is None else sure_a(one) for one in limits), device)
    needed_a = least_rated_a(study, device.about.name)
    if most_a is not None and not is_over(needed_a, most_a):
        return (
            f"{device.kind} of {show_limit(most_a, 'A')} at most in place of `{device.about.name}`"
        )
    return f"wire that may carry {show_added(needed_a, 'A')} for {listed_wires(wires)}"


def near_a(study: Study, wires: Sequence[Conductor], limit_a: float) -> float | None:
    """Rating of the fuse for wires that have none; None where no wire in stock may lie behind it.

    The largest that the thinnest bears [A], or what the loads need, with thicker wire to match it.
    """
    needed_a = max(least_rated_a(study, wire.name) for wire in wires)
    most_a = rating_below(limit_a)
    if most_a is not None and most_a >= needed_a:
        return most_a
    fitting = rating_above(needed_a)
    is_made = fitting is not None and thicker_wire(study, wires, fitting) is not None
    return fitting if is_made else None


def fuse_near(
    study: Study,
    wires: Sequence[Conductor],
    limit_a: float,
    where: str,
    more: str = "",
    *,
    end: str = "",
) -> Fix:
    """A fuse for wires that have none, and thicker wire where the loads need more than they bear.

    Parameters
    ----------
    study : Study
        The rig.
    wires : Sequence[Conductor]
        The wires that nothing protects.
    limit_a : float
        What the thinnest of them may carry [A].
    where : str
        Where the fuse belongs, in words.
    more : str
        What else is to be said.
    end : str
        The terminal at which it may be written onto a single wire; none is written without it.
    """
    rating_a, most_a = near_a(study, wires, limit_a), rating_below(limit_a)
    if rating_a is not None and rating_a == most_a:
        by_hand = f"a fuse of no more than {show_limit(rating_a, 'A')} {where}{more}"
        return _fuse_on_wire(study, wires, rating_a, end, by_hand) if end else Fix(by_hand)
    need = need_of(study, (wire.name for wire in wires))
    by_hand = f"a fuse {where} and wire to match it: {need}{more}"
    thicker = None if rating_a is None else thicker_wire(study, wires, rating_a)
    if rating_a is None or thicker is None:
        return Fix(by_hand)
    text = f"{thicker.text}, and a fuse of {show_limit(rating_a, 'A')} {where}: {need}{more}"
    fix = _fuse_on_wire(study, wires, rating_a, end, text) if end else Fix("")
    if not fix.changes:
        return Fix(by_hand)
    return replace(fix, changes=(*thicker.changes, *fix.changes), otherwise=by_hand)


def _fuse_on_wire(
    study: Study, wires: Sequence[Conductor], rating_a: float, end: str, by_hand: str
) -> Fix:
    """A fuse at the end of one wire that has none, to be tried; else only said."""
    wire = wires[0]
    held = study.device(f"{wire.name} fuse")
    is_plain = len(wires) == 1 and not wire.circuit and not wire.assumed and held is None
    if not is_plain or end not in (wire.a, wire.b):
        return Fix(by_hand)
    at = place(study.rig, end).strip("`")
    change = Refit("guard", wire.name, written(rating_a), at)
    return Fix(f"{by_hand}: `fuse {change.to} at {at}`", "ask", (change,), otherwise=by_hand)
