"""Where a reading was taken: the terminals and loads of the part that a person names beside it."""

import re
from collections.abc import Callable, Collection, Iterator, Sequence
from functools import cache, cached_property

from rigfolio.books import spoken
from rigfolio.kinds import with_article
from rigfolio.lang import READING_FORMS, Passage, bare, hidden
from rigfolio.model import PartKind, Rig, Symptom
from rigfolio.record import record, replace
from rigfolio.wording import Finder, Named, finder_of, one_of, short_end, terminals_of, typed

_NOTHING = "nothing"
_SOME_FUSE = re.compile(r"(?:(?:a|an|the|its|some|one)\s+)?(?:fuse|breaker)", re.IGNORECASE)
"""A fuse that is not named."""
_ARTICLE = re.compile(r"^(?:the|my|our|a|an)\s+", re.IGNORECASE)
_WHEN = re.compile(r"(?:only\s+)?(?:when(?:ever)?|while|as|once|on|in)\s+", re.IGNORECASE)
_RUNS = re.compile(
    r"(?P<names>.+?)\s+(?:runs?|(?:is|are)\s+(?:running|on|used)|comes?\s+on|works?|on)",
    re.IGNORECASE,
)
_ALL_OFF = re.compile(r"(?:everything|all(?:\s+loads)?)\s+(?:(?:is|are)\s+)?off", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*[,;]\s*(?:and\s+)?|\s+and\s+")


@record
class Spot:
    """A part: its own name, what it is, its two terminals, the loads that it runs.

    `b` is empty where the part has one terminal; what is read there is read against its minus.
    """

    name: str
    kind: PartKind
    a: str
    b: str = ""
    loads: tuple[str, ...] = ()


class Spots:
    """The parts and places of a rig as places to put a meter on."""

    def __init__(self, rig: Rig, states: Callable[[], Collection[str]] = tuple) -> None:
        self.rig, self._states = rig, states

    @cached_property
    def states(self) -> tuple[str, ...]:
        """The states that the rig names, and those that are supplied."""
        named = (state.name for state in self.rig.states)
        return tuple(dict.fromkeys((*named, *self._states())))

    @property
    def all_loads(self) -> tuple[str, ...]:
        """The names of all loads."""
        return tuple(load.about.name for load in self.rig.loads)

    @cached_property
    def finder(self) -> Finder:
        """All parts and places by what a person may write."""
        return finder_of(self.rig)

    def find(self, name: str) -> Spot | None:
        """The one part that is meant; None where there is none, or more than one."""
        found = self.finder.find(name)
        if not found and name.casefold() in _everything():
            return Spot("everything", "rig", "")
        if not found and name.casefold() == _NOTHING:
            return Spot(_NOTHING, "rig", "")
        return _spot(self.rig, found[0]) if len(found) == 1 else None

    def listed(self, text: str) -> Iterator[str]:
        """The names of a list with commas, semicolons or `and`, any of which a name may hold."""
        cuts = [found.span() for found in _BETWEEN.finditer(hidden(text))]
        starts, ends = [0, *(end for _, end in cuts)], [*(start for start, _ in cuts), len(text)]
        at = 0
        while at < len(starts):
            longest = range(len(ends) - 1, at, -1)
            last = next((n for n in longest if self.finder.find(text[starts[at] : ends[n]])), at)
            name = text[starts[at] : ends[last]].strip()
            if name:
                yield name
            at = last + 1

    def beginning(self, text: str) -> str:
        """The longest beginning of a text that is a place; empty where none is."""
        words = text.split(" ")
        begun = (" ".join(words[:count]) for count in range(len(words), 0, -1))
        return next((one for one in begun if self.find(_ARTICLE.sub("", bare(one)))), "")

    def whose_fuse(self, text: str, loads: Sequence[str]) -> Spot | None:
        """The load before which some fuse is meant: `a fuse blows when the fridge starts`.

        None where another place is named, or not one load alone.
        """
        if not _SOME_FUSE.fullmatch(bare(text)) or len(loads) != 1 or self.find(bare(text)):
            return None
        return self.find(loads[0])

    @property
    def examples(self) -> str:
        """How a rig stood, as it is said of this one."""
        load = next((f"`, with {name} on`" for name in self._plain_loads), "")
        states = [f"`, in {typed(name)}`" for name in self.states[:3]]
        day = "a day stands in front: `2026-03-14 …`"
        return "; ".join((" or ".join(filter(None, (load, *states))), day)).removeprefix("; ")

    def is_load(self, part: Named) -> bool:
        """Whether something draws that a part runs, so that it can be said to be on."""
        return bool(_loads(self.rig, part))

    def device_of(self, spot: Spot) -> str:
        """The device that is meant where something stands open or closed; empty where none is."""
        if spot.kind == "circuit":
            return self.rig.by_name.circuits[spot.name].device
        return spot.name if spot.kind == "device" else ""

    def positions_of(self, device: str) -> tuple[str, ...]:
        """Where a switch may stand that makes one way at a time; none for any other device."""
        ways = [one for one in self.rig.poles.get(device, ()) if one.position]
        off = ("off",) if ways and ways[0].turns_off else ()
        return (*(one.position for one in ways), *off)

    def may_stand(self, part: Named, position: str) -> bool:
        """Whether it may be said of a part that it stands so."""
        positions = self.positions_of(part.name)
        return is_switch(part) and (not positions or position in positions)

    def not_switched_on(self, spot: Spot, position: str = "on") -> tuple[str, str]:
        """Why a part that draws nothing cannot be said to be on, and what to say in its place."""
        source = self.rig.by_name.sources.get(spot.name)
        if source is not None and source.stores:
            why = f"`{spot.name}` is a {source.kind}: it is not switched, its switches are"
            return why, "name those that stand otherwise, with `open` or `closed`"
        if source is not None:
            why = f"`{spot.name}` is {with_article(source.kind)}, no load: a state has it on or off"
            return why, self._states_with(spot.name, position)
        device = self.rig.by_name.devices.get(spot.name)
        if device is not None:
            stands = "1" if device.traits.has_positions else "closed"
            why = f"`{spot.name}` is {with_article(device.kind)}, no load"
            return why, f"say how it stands: `, {typed(spot.name)} {stands}`"
        example = next((name for name in self._plain_loads), "")
        fix = f"name what draws: `, with {example} on`" if example else "name what draws"
        return f"`{spot.name}` is no load: nothing is switched on with it alone", fix

    def _states_with(self, source: str, position: str) -> str:
        """The states of the text in which a source stands so."""
        names = [one.name for one in self.rig.states if (source, position) in one.settings]
        listed = ", ".join(f"`, in {typed(name)}`" for name in names)
        if listed:
            return f"name the state: {listed}"
        return f"write a state into the text in which `{source} {position}` stands, and name it"

    @property
    def _plain_loads(self) -> Iterator[str]:
        """Loads by names that are typed as they stand, the first first."""
        inlets = {source.inlet for source in self.rig.sources}
        loads = (load.about for load in self.rig.loads if load.about.name not in inlets)
        names = (name for one in loads for name in (one.label, one.name) if name)
        known = (typed(name) for name in names if (spot := self.find(name)) and spot.loads)
        return iter(sorted(known, key=lambda name: name.startswith('"')))

    def end(self, terminal: str) -> str:
        """What a terminal is called."""
        return short_end(self.rig, terminal)


def is_switch(part: Named) -> bool:
    """Whether it may be said of a part how it stands."""
    return part.kind == "device"


@cache
def _everything() -> tuple[str, ...]:
    return dict(spoken())["everything"]


def _loads(rig: Rig, part: Named) -> tuple[str, ...]:
    """The loads that a part runs."""
    if part.kind == "circuit":
        return rig.by_name.circuits[part.key].loads
    return (part.key,) if part.kind == "load" else ()


def _spot(rig: Rig, part: Named) -> Spot:
    two = terminals_of(rig, part.kind, part.key)
    kind: PartKind = "terminal" if part.kind == "bar" or part.kind == "slot" else part.kind
    return Spot(part.name, kind, two.a, two.b, _loads(rig, part))


def state_said(said: Passage, spots: Spots) -> tuple[int, str]:
    """Where `in shore` or `in state laid up` ends, and the state.

    Raises
    ------
    NotReadError
        There is no such state.
    """
    lead = re.match(r"in\s+(?:state\s+)?", said.text)
    start = lead.end() if lead else 0
    rest = said.text[start:]
    for name in sorted(spots.states, key=len, reverse=True):
        for written in (f'"{name}"', name):
            tail = rest[len(written) :].lstrip()
            if rest.casefold().startswith(written.casefold()) and tail[:1] in ("", ","):
                return start + len(written), name
    named = bare(rest.partition(",")[0])
    listed = ", ".join(f"`{name}`" for name in spots.states)
    headline = f"no state is called `{named}`"
    raise said.wrong(headline, f"there are {listed}" if listed else "the rig names none")


@record
class When:
    """What a line says of when: the loads that are on, or the state; empty where it is not that."""

    on: tuple[str, ...]
    state: str


def when_said(clause: Passage, spots: Spots) -> When | None:
    """What `when the pump runs` or `while towing` means; None for what says no when.

    Raises
    ------
    NotReadError
        It says when, by what is neither a load nor a state.
    """
    lead = _WHEN.match(clause.text)
    if lead is None:
        return None
    words = clause.text[lead.end() :].strip()
    state = next((one for one in spots.states if one.casefold() == words.casefold()), "")
    if state or _ALL_OFF.fullmatch(words):
        return When((), state)
    ran = _RUNS.fullmatch(words)
    if ran is None:
        raise clause.wrong(f"`{words}` is no state, and no load that runs", spots.examples)
    names = spots.listed(ran["names"])
    return When(tuple(load for one in names for load in loads_said(one, clause, spots)), "")


def loads_said(name: str, rest: Passage, spots: Spots) -> tuple[str, ...]:
    """The loads that a name in a list means.

    Raises
    ------
    NotReadError
        It means none.
    """
    name = _ARTICLE.sub("", bare(name)) if spots.find(bare(name)) is None else bare(name)
    if name == "all":
        return spots.all_loads
    spot = spots.find(name)
    if spot is None:
        raise rest.wrong(*_not_one(name, spots))
    if not spot.loads:
        raise rest.wrong(*spots.not_switched_on(spot))
    return spot.loads


def _not_one(name: str, spots: Spots) -> tuple[str, str]:
    """What is wrong with a name that fits no load, or several, and which may be meant."""
    several = [one for one in spots.finder.find(name) if one.kind == "load"]
    if len(several) > 1:
        return f"{len(several)} loads are called `{name}`", one_of(several)
    return f"no load is called `{name}`", spots.finder.near(name, spots.is_load)


def turned_round(spot: Spot, symptom: Symptom) -> tuple[Spot, Symptom]:
    """What is meant by a place: that nothing works is that everything is dead."""
    if spot.name == _NOTHING:
        return replace(spot, name="everything"), "dead" if symptom == "works" else "works"
    return spot, symptom


def no_symptom(text: str, spots: Spots) -> tuple[str, str]:
    """Why a line is neither a reading nor a symptom, and what may be said of its place."""
    place, listed = spots.beginning(text), "`rigfolio help symptoms` lists what may be said"
    if not place:
        return "neither a reading nor a symptom", f"write it as {READING_FORMS}; {listed}"
    rest = text[len(place) :].strip()
    said = [f"`{place} {words[0]}`" for kind, words in spoken() if kind != "everything"]
    headline = f"`{rest}` is no symptom" if rest else f"nothing is said of `{place}`"
    return headline, f"say {', '.join(said)}; {listed}"
