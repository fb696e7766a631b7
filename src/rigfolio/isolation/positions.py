"""What each position of a disconnect, a selector or a changeover means, in words for the owner.

A switch that is named after its action is read both ways; so every position says what it does and
what stays live.
"""

from collections.abc import Iterable, Iterator

from rigfolio.isolation.alone import opened_alone
from rigfolio.isolation.energised import Alive, Open, bank_joins, in_use, source_reach
from rigfolio.isolation.fed import when_opened
from rigfolio.isolation.plans import actions_of, opened_by
from rigfolio.isolation.set_to import numbered
from rigfolio.isolation.table import Part, parts_of
from rigfolio.isolation.waiting import waiting
from rigfolio.model import Device
from rigfolio.network import edge_name, parallel_switches, stands_for
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.wording import position_words, short_end, turned_words

_FEEDS = frozenset({"panel", "circuit", "load"})


@record
class Meaning:
    """A switch, one of its positions, and what that position does."""

    switch: str
    label: str
    position: str
    words: str


def meanings(study: Study) -> tuple[Meaning, ...]:
    """Every position of what parts the rig or makes one of several ways, in order."""
    view = _View(study)
    done: set[str] = set()
    found: list[Meaning] = []
    for device in study.rig.devices:
        name = device.about.name
        if not (device.traits.parts_rig or device.position) or name in done:
            continue
        done.add(name)
        if device.position:
            found += view.changeover(device)
            continue
        found += view.selector(device) if device.traits.selects else view.disconnect(device)
    return tuple(found)


def fed_by_position(study: Study, name: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The positions of a switch that makes one of several ways, each with the loads it can feed.

    In words; where other such switches have to stand so too, these with them.
    """
    rig, found = study.rig, []
    for way in rig.poles.get(name, ()):
        own = (name, way.position)
        fed = []
        for load in rig.loads if way.position else ():
            for stand in stands_for(rig, load):
                if own in stand:
                    also = " and ".join(turned_words(rig, stand - {own}))
                    fed.append(
                        f"{load.about.label or load.about.name}{f' with {also}' * bool(also)}"
                    )
        if way.position:
            found.append((position_words(rig, name, way.position), tuple(fed)))
    return tuple(found)


class _View:
    """What is live on the batteries alone, and on everything."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.drive = source_reach(study)
        inputs = {f"{name}.in" for name in self.drive.inputs}
        self.parts = tuple(
            part for part in parts_of(study) if part.kind in _FEEDS and part.name not in inputs
        )
        rig = study.rig
        apart = bank_joins(rig)
        others = {s.about.name for s in rig.sources if not s.stores}
        passes_on = self.drive.passes_on
        # One whose input nobody has drawn is itself what feeds: there is nothing behind it to name.
        self.through = passes_on & self.drive.inputs.keys()
        self.stores = frozenset(s.about.name for s in rig.sources if s.stores)
        self.resting = Open(apart, frozenset(others) - passes_on)
        self.selectors = frozenset(edge_name(d) for d in rig.devices if d.traits.selects)
        self.labels = {s.about.name: f"{s.about.label} {s.about.name}".strip() for s in rig.sources}

    def disconnect(self, device: Device) -> Iterator[Meaning]:
        """ON and OFF."""
        name, label = device.about.name, device.about.label
        if device.line in self.study.sunlit:
            yield from self._sun(name, label)
            return
        if name in parallel_switches(self.study.rig):
            yield from self._parallel(name, label)
            return
        fed = self._fed(name)
        names = _names(fed)
        parted = Open(self.resting.edges | self.selectors, self.resting.sources)
        by = self._banks(fed, self.drive.alive(parted), self.drive.alive(self.resting))
        words = f"{by} {names}" if fed else "nothing of this text hangs on it alone"
        yield Meaning(name, label, "ON", words)
        yield Meaning(name, label, "OFF", self._off(name, fed))

    def _parallel(self, name: str, label: str) -> Iterator[Meaning]:
        """ON and OFF of what joins banks in an emergency."""
        banks = [self.labels[one] for one in opened_alone(self.study, name).parted]
        both = " and ".join(banks)
        yield Meaning(name, label, "ON", f"{both} are joined: for an emergency alone")
        stays = self._off(name, ()).partition(". ")[2]
        yield Meaning(name, label, "OFF", f"{both} are parted, as in use. {stays}")

    def _sun(self, name: str, label: str) -> Iterator[Meaning]:
        """ON and OFF of what stands between solar modules and their controller."""
        base = in_use(self.study.rig)
        on, off = self.drive.alive(base), self.drive.alive(self._with(name, base))
        cut = [(one, one.lit[0]) for one in self.study.rig.sources
               if one.lit and one.lit[0] in on and one.lit[0] not in off]  # fmt: skip
        by = dict.fromkeys(source for _, end in cut for source in on[end])
        arrays = ", ".join(self.labels[one] for one in by)
        fed = ", ".join(self.labels[one.about.name] for one, _ in cut)
        stays = "the side of the modules stays live while light falls on them"
        if not cut:
            yield Meaning(name, label, "ON", "nothing of this text hangs on it alone")
            yield Meaning(name, label, "OFF", f"changes nothing: {stays}")
            return
        yield Meaning(name, label, "ON", f"{arrays} {'feed' if len(by) > 1 else 'feeds'} {fed}")
        yield Meaning(name, label, "OFF", f"{fed} gets nothing from {arrays}; {stays}")

    def selector(self, device: Device) -> Iterator[Meaning]:
        """Each bank, both, and OFF."""
        name, label = device.about.name, device.about.label
        edges = {
            place: edge_name(one)
            for one, place in numbered(self.study.rig)
            if one.about.name == name
        }
        fed = self._fed(name)
        for position, cut in (("1", 2), ("2", 1), ("BOTH", 0)):
            shut = frozenset({edges[cut]} if cut in edges else ())
            alive = self.drive.alive(Open(self.resting.edges | shut, self.resting.sources))
            live = tuple(part for part in fed if _is_live(part, alive))
            words = f"{self._banks(live, alive)} {_names(live)}" if live else "feeds nothing"
            yield Meaning(name, label, position, words)
        yield Meaning(name, label, "OFF", self._off(name, fed))

    def changeover(self, device: Device) -> Iterator[Meaning]:
        """Each position, and OFF where it has one."""
        name, label = device.about.name, device.about.label
        for position, fed in fed_by_position(self.study, name):
            words = f"feeds {', '.join(fed)}" if fed else "feeds nothing"
            yield Meaning(name, label, position, words)
        if device.turns_off:
            yield Meaning(name, label, "OFF", self._all_off(name))

    def _all_off(self, name: str) -> str:
        """What is dead where such a switch makes none of its ways, and which end of it is live."""
        rig = self.study.rig
        fed = [one.about.label or one.about.name for one in rig.loads
               if any(at == name for stand in stands_for(rig, one) for at, _ in stand)]  # fmt: skip
        every = self.drive.alive(self._with(name, in_use(rig)))
        ends = dict.fromkeys(end for one in rig.poles[name] for end in (one.line, one.load))
        live = [f"{short_end(rig, end)} from {' and '.join(every[end])}"
                for end in ends if end in every]  # fmt: skip
        words = f"{', '.join(fed)} dead" if fed else "nothing of this text hangs on it"
        return f"{words}. These stay live: {'; '.join(live)}" if live else words

    def _fed(self, name: str) -> tuple[Part, ...]:
        """What is live on the batteries with a switch closed and dead with it open."""
        on = self.drive.alive(self.resting)
        off = self.drive.alive(self._with(name, self.resting))
        return tuple(part for part in self.parts if _is_live(part, on) and not _is_live(part, off))

    def _off(self, name: str, fed: tuple[Part, ...]) -> str:
        off = self.drive.alive(self._with(name, self.resting))
        every = self.drive.alive(self._with(name, in_use(self.study.rig)))
        unless = dict.fromkeys(
            source
            for part in fed
            for end in self._behind(part, every)
            for source in every.get(end, ())
        )
        # A relay that a charger holds has a battery keep alive what hangs behind it.
        unless = {n: None for n in unless if n not in self.through and n not in self.stores}
        words = f"{_names(fed)} dead" if fed else "changes nothing on the batteries alone"
        if unless:
            words += f", unless {self._running(unless)}"
        live = [part for part in self.parts if _is_live(part, off)]
        state = self._with(name, self.resting)
        rest = self.drive.alive(Open(state.edges | waiting(self.study.rig), state.sources))
        coming = [part for part in live if not _is_live(part, rest)]
        live = [part for part in live if part not in coming]
        lines = [
            self.labels[s.about.name]
            for s in self.study.rig.sources
            if s.about.name not in self.through and s.plus in every
        ]
        stays = [_names(live)] if live else []
        stays += [f"once switched on, {_names(coming)}"] if coming else []
        stays += [f"the wires of {', '.join(lines)}"] if lines else []
        if not stays:
            return f"{words}. Nothing of this text stays live"
        return f"{words}. These stay live: {'; '.join(stays)}"

    def _with(self, name: str, state: Open) -> Open:
        own = [action for action in actions_of(self.study.rig) if action.part == name]
        return when_opened(self.study, state, opened_by(self.study.rig, own, state)).state

    def _banks(self, parts: Iterable[Part], *views: Alive) -> str:
        """What makes some parts live on the batteries alone, in the first view where any is."""
        found = tuple(parts)
        every = self.drive.alive()
        for alive in views:
            names = dict.fromkeys(
                source
                for part in found
                for end in self._behind(part, every)
                for source in alive.get(end, ())
                if source not in self.through
            )
            if names:
                by = " and ".join(self.labels[name] for name in names)
                return f"{by} {'feed' if len(names) > 1 else 'feeds'}"
        return "nothing feeds"

    def _behind(self, part: Part, every: Alive) -> tuple[str, ...]:
        """The terminals of a part, and the inputs of the converters that feed it in a view."""
        by = dict.fromkeys(name for end in part.terminals for name in every.get(end, ()))
        inputs = (self.drive.inputs[n] for n in by if n in self.through)
        return (*part.terminals, *inputs)

    def _running(self, names: Iterable[str]) -> str:
        when = {s.about.name: s.traits.live_when for s in self.study.rig.sources}
        return " or ".join(f"{self.labels[name]} is {when[name]}" for name in names)


def _is_live(part: Part, alive: Alive) -> bool:
    return any(end in alive for end in part.terminals)


def _names(parts: Iterable[Part]) -> str:
    """Parts by their labels, names where they have none."""
    return ", ".join(
        f"{part.label} {part.name}" if part.kind == "panel" else part.label or part.name
        for part in parts
    ).strip()
