"""Batteries one after the other, of which a rig says nothing that could be judged.

Every answer asks what volts there are between a terminal and the minus of its bank. Of batteries in
series each would have another minus, so a chain of them is written as the one battery it is.
"""

from collections import Counter

from rigfolio.findings import Finding, Label
from rigfolio.lang import error
from rigfolio.model import Conductor, Source
from rigfolio.network import path
from rigfolio.record import replace
from rigfolio.study import Study
from rigfolio.units import show

_SHOWN = 3


def in_series(study: Study) -> Finding | None:
    """An error at the first battery whose minus is joined to the plus of another one.

    None where there are none; where plus and minus of one battery meet, or each is joined to the
    other the wrong way round: what is wrong there is told by a rule.
    """
    batteries = [one for one in study.rig.sources if one.stores]
    if len(batteries) < 2 or not any(one.plus in study.shorted for one in batteries):
        return None
    joined = _joined(study, batteries)
    if any(joined[one.plus] == joined[one.minus] for one in batteries):
        return None
    by_minus = {joined[one.minus]: one for one in reversed(batteries)}
    ends = {joined[one.plus] for one in batteries}
    for first in batteries:
        if joined[first.minus] not in ends and joined[first.plus] in by_minus:
            chain = [first]
            while joined[chain[-1].plus] in by_minus:
                chain.append(by_minus[joined[chain[-1].plus]])
            nets = Counter(
                net for one in batteries for net in (joined[one.plus], joined[one.minus])
            )
            inner = [joined[one.plus] for one in chain[:-1]]
            is_plain = all(nets[net] == 2 for net in inner)
            return _told(study, chain, is_plain=is_plain)
    return None


def _joined(study: Study, batteries: list[Source]) -> dict[str, int]:
    """Every terminal that wires join to a post, with the number of its net."""
    joined: dict[str, int] = {}
    for at, post in enumerate(post for one in batteries for post in (one.plus, one.minus)):
        if post not in joined:
            joined |= dict.fromkeys(study.net.walk([post]), at)
    return joined


def _told(study: Study, chain: list[Source], *, is_plain: bool) -> Finding:
    first, second = chain[0], chain[1]
    way = path(study.net.walk([second.minus]), first.plus)
    wires = [edge for edge in way if isinstance(edge, Conductor)]
    names = " and ".join(f"`{one.about.name}`" for one in chain[:2])
    whole = _as_one(chain) if is_plain else "the volts of all"
    wrong = f"which end of `{wires[0].name}`" if len(wires) == 1 else "which end of their wires"
    found = error(
        "batteries-in-series",
        second.about.span,
        f"{names} stand one after the other, plus to minus: batteries in series are written as one",
        here="its minus is joined to the plus of the other",
        fix=f"one `battery` of {whole}, from `{first.minus}` to `{chain[-1].plus}`; where "
        f"they are meant side by side, see {wrong} is written wrong",
    )
    return replace(found, others=tuple(Label(wire.span, "joins them") for wire in wires[:_SHOWN]))


def _as_one(chain: list[Source]) -> str:
    """What the chain is as one battery: the volts and ohms of all, the charge of the least."""
    words = [show(sum(one.voltage_v for one in chain), "V")]
    charges = [one.capacity_c for one in chain]
    known = [each for each in charges if isinstance(each, float)]
    if len(known) == len(charges):
        words.append(show(min(known), "Ah"))
    ohms = [one.internal_ohm for one in chain]
    inside = [each for each in ohms if isinstance(each, float)]
    if len(inside) == len(ohms):
        words.append(f"internal {show(sum(inside), 'mohm')}")
    return ", ".join(words)
