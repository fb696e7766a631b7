"""How a rig stands while readings are taken that name no state of it.

Every switch is closed but one that joins banks in an emergency, and one that rests open and starts
nothing that is on. A selector is on the bank that it
is on in most of the states that the text names, and a combiner is open: what charges is off until
somebody says otherwise. A tow vehicle that a battery aboard can do without is away, its plug out.
"""

from collections import Counter

from rigfolio.isolation.energised import Open
from rigfolio.isolation.plugged import unplugged
from rigfolio.isolation.set_to import BANKS, Position, parked
from rigfolio.isolation.states import states_of
from rigfolio.network import (
    changeovers,
    closed_for_panels,
    edge_name,
    parallel_switches,
    resting_open,
)
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import listed


@record
class Unnamed:
    """What is open, and each thing that was taken for granted in words."""

    opened: Open
    words: tuple[str, ...]


def unnamed(study: Study) -> Unnamed:
    """How a rig stands where nobody said."""
    devices = study.rig.devices
    kinds = {each.about.name: each.kind for each in devices}
    selectors = dict.fromkeys(each.about.name for each in devices if each.traits.selects)
    usual = {name: _usual(study, name) for name in selectors}
    words = [
        f"{kinds[name]} `{name}` on {found[0]}, as in `{found[1]}`"
        if found
        else f"{kinds[name]} `{name}` on all of its banks"
        for name, found in usual.items()
    ]
    joining = dict.fromkeys(each.about.name for each in devices if each.traits.joins_banks)
    words += [f"{kinds[name]} `{name}` open, since nothing charges" for name in joining]
    words += [
        f"{kinds[name]} `{name}` open, as in use"
        for name in kinds
        if name in parallel_switches(study.rig)
    ]
    turned = changeovers(study.rig)
    if turned:
        words.append(f"turned to where what is on needs it, else as it rests: {listed(turned)}")
    rests = dict.fromkeys(
        d.about.name for d in devices
        if edge_name(d) in resting_open(study.rig) and d.about.name not in turned
    )  # fmt: skip
    if rests:
        words.append(f"open, as it rests, but for what it starts: {listed(rests)}")
    words += [
        f"{kinds[name]} `{name}` closed for what hangs behind it, though it rests open"
        for name in closed_for_panels(study.rig)
    ]
    pins = dict.fromkeys(d.about.name for d in devices if edge_name(d) in unplugged(study.rig))
    words += [f"{kinds[name]} `{name}` unplugged, since nothing tows" for name in pins]
    banks = {name: found[0] for name, found in usual.items() if found}
    return Unnamed(parked(study.rig, banks), tuple(words))


def _usual(study: Study, selector: str) -> tuple[Position, str] | None:
    """The bank that a selector is on in most of the states that the text names, and the first."""
    first: dict[Position, str] = {}
    counts: Counter[Position] = Counter()
    for state in states_of(study):
        setting = state.of(selector)
        if state.is_stated and setting is not None and setting.position in BANKS:
            first.setdefault(setting.position, state.name)
            counts[setting.position] += 1
    return next(((bank, first[bank]) for bank, _ in counts.most_common(1)), None)
