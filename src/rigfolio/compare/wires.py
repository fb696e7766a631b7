"""The conductors of two versions of a rig, and what is told of them."""

from collections.abc import Iterator, Sequence

from rigfolio.compare.change import Change, ChangeKind, apart
from rigfolio.compare.facts import Told, differences, wire_said
from rigfolio.compare.match import Pair, ends_of, is_another, matched_wires
from rigfolio.compare.runs import matched_runs
from rigfolio.model import Circuit, Conductor, Rig
from rigfolio.record import once
from rigfolio.wording import colour_words, gauge_words, short_end


class Wires:
    """The conductors of two versions, those of circuits by their place in the circuit."""

    def __init__(self, before: Rig, after: Rig, pairs: Sequence[Pair]) -> None:
        self.before, self.after = before, after
        self.was, self.now = before.by_name.conductors, after.by_name.conductors
        places = {old.place: new.place for old, new in pairs if old and new}
        # Each pair: the wire as it was, as it is, and what differs.
        self.places = places
        self.feeds = matched_wires(before, after, places)
        self.touched: set[str] = {
            new.name for old, new in self.feeds if new and (not old or self._facts(old, new))
        }
        self.runs = {
            new.place: matched_runs(before, after, old, new) for old, new in pairs if old and new
        }
        # What each wire that is in both was called, by what it is called now.
        self.same = {new.name: old.name for old, new in self.feeds if old and new}
        self.same |= {new: old for runs in self.runs.values() for old, new in runs if old and new}
        self.moved = {new.place for old, new in pairs if old and new and old.place != new.place}

    def of_circuit(self, old: Circuit, new: Circuit) -> Iterator[Told]:
        """What differs in the wires of a circuit, out and back."""
        backs = frozenset((*old.returns, *new.returns))
        pairs = self.runs[new.place]
        for word, is_back in (("wire", False), ("return", True)):
            some = [pair for pair in pairs if ((pair[1] or pair[0]) in backs) is is_back]
            for at, (was, now) in enumerate(some):
                called = word + (f" {at + 1}" if len(some) > 1 else "")
                yield from self._of_run(called, old, was, now)

    def _of_run(self, word: str, circuit: Circuit, was: str, now: str) -> Iterator[Told]:
        if not now:
            yield f"{word} is gone", False
            return
        wire = self.now[now]
        facts = self._facts(self.was[was], wire) if was else ()
        if not was:
            looks = f"{gauge_words(wire)} {colour_words(wire.colour)}"
            is_new = is_another(self.before, self.after, circuit, wire)
            yield f"{word} {'is new' if is_new else 'was not stated'}, {looks}", not is_new
        if facts or not was:
            self.touched.add(wire.name)
        yield from ((f"{word} {fact}", is_learnt) for fact, is_learnt in facts)

    def renamed(self) -> Iterator[Change]:
        """The same wires under other names; not those whose circuit was moved or that land anew."""
        for now, was in self.same.items():
            new = self.now[now]
            if now == was:
                continue
            self.touched.add(now)
            lands_anew = ends_of(self.was[was], self.places) != ends_of(new, {})
            if new.circuit not in self.moved and (new.circuit or not lands_anew):
                yield Change(
                    "renamed", "wire", was, now, run_words(self.after, new), (f"was {was}",)
                )

    def changes(self) -> Iterator[Change]:
        """Feeds and other wires that belong to no circuit."""
        for old, new in self.feeds:
            if old is None or new is None:
                one = new or old
                assert one is not None  # noqa: S101
                was, now = ("", one.name) if old is None else (one.name, "")
                looks = (f"{gauge_words(one)} {colour_words(one.colour)}",)
                kind: ChangeKind = "new" if old is None else "gone"
                rig = self.before if new is None else self.after
                yield Change(kind, "wire", was, now, run_words(rig, one), looks)
                continue
            for kind, facts in apart("rewired", self._facts(old, new)):
                yield Change(kind, "wire", old.name, new.name, run_words(self.after, new), facts)

    def _facts(self, old: Conductor, new: Conductor) -> tuple[Told, ...]:
        facts = differences(
            wire_said(self.before, old, imperial=new.is_in_feet),
            wire_said(self.after, new, imperial=new.is_in_feet),
        )
        if old.assumed and not new.assumed:
            facts = tuple((words, True) for words, _ in facts)
        lands = f"lands on {run_words(self.after, new)}, was {run_words(self.before, old)}"
        return ((lands, False), *facts) if self._lands_anew(old, new) else facts

    def _lands_anew(self, old: Conductor, new: Conductor) -> bool:
        """Whether an end is joined to something else, be the circuit where it may."""
        if not new.circuit:
            return ends_of(old, self.places) != ends_of(new, {})
        if old.assumed or new.assumed:
            return False
        was, now = (landings(*each) for each in ((self.before, old), (self.after, new)))
        return tuple(self.places.get(end, end) for end in was) != now


def run_words(rig: Rig, wire: Conductor) -> str:
    """Both ends of a wire as they are called at the panel."""
    return " to ".join(short_end(rig, end) for end in (wire.a, wire.b))


def landings(rig: Rig, wire: Conductor) -> tuple[str, str]:
    """Where a wire of a circuit lands outside it: its slot, a bar, a post; empty inside it."""
    circuit = rig.by_name.circuits.get(wire.circuit)
    outside = _outside(rig)

    def lands(end: str) -> str:
        if circuit is not None and end == circuit.start:
            return circuit.place
        return end if end in outside else ""

    return lands(wire.a), lands(wire.b)


@once
def _outside(rig: Rig) -> frozenset[str]:
    """Bars, splices, posts of sources, where panels are fed, and what they have for minuses."""
    posts = (post for source in rig.sources for post in (source.plus, source.minus))
    bars = (panel.negative for panel in rig.panels if panel.negative)
    feeds = (panel.feed for panel in rig.panels)
    return frozenset((*rig.by_name.junctions, *posts, *feeds, *bars))
