"""How a rig stands while readings are taken that name no state of it.

Every switch is closed. A selector is on the bank that it is on in most of the states that the text
names, and a combiner is open: what charges is off until somebody says otherwise.
"""

from collections import Counter
from collections.abc import Iterator

from rigfolio.model.graph import Device
from rigfolio.record import record
from rigfolio.study.live import Open, combiners
from rigfolio.study.net import edge_name
from rigfolio.study.states import numbered, states_of
from rigfolio.study.study import Study

_BANKS = ("1", "2")


@record
class Unnamed:
    """What is open, and each thing that was taken for granted in words."""

    opened: Open
    words: tuple[str, ...]


def unnamed(study: Study) -> Unnamed:
    """How a rig stands where nobody said."""
    rig = study.rig
    sides: dict[str, list[tuple[Device, int]]] = {}
    for device, place in numbered(rig):
        if device.kind == "selector":
            sides.setdefault(device.about.name, []).append((device, place))
    shut: set[str] = set()
    words = []
    for name, held in sides.items():
        chosen = next(iter(_banks(study, name)), None)
        if chosen is None:
            words.append(f"selector `{name}` on all of its banks")
            continue
        position, state = chosen
        shut |= {edge_name(device) for device, place in held if str(place) != position}
        words.append(f"selector `{name}` on {position}, as in `{state}`")
    apart = combiners(rig)
    names = dict.fromkeys(each.about.name for each in rig.devices if each.kind == "combiner")
    words += [f"combiner `{name}` open, since nothing charges" for name in names]
    return Unnamed(Open(apart | shut), tuple(words))


def _banks(study: Study, selector: str) -> Iterator[tuple[str, str]]:
    """The banks that a selector is on and the first state of each, the most frequent bank first."""
    first: dict[str, str] = {}
    counts: Counter[str] = Counter()
    for state in states_of(study):
        setting = state.of(selector)
        if state.is_stated and setting is not None and setting.position in _BANKS:
            first.setdefault(setting.position, state.name)
            counts[setting.position] += 1
    yield from ((position, first[position]) for position, _ in counts.most_common())
