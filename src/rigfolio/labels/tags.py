"""Which pieces of wire get tags, and what the tags say.

A tag goes on an end that somebody can find. Conductors of the text that are one piece of wire have
one pair of tags between them, with both names, and the short leads of a fixture have none.
"""

from collections.abc import Iterator, Mapping

from rigfolio import wording
from rigfolio.job import Job
from rigfolio.labels.system_volts import daylight_words
from rigfolio.model import Conductor, Device
from rigfolio.network import ends_of_run, name_of_run, places_of, runs_of
from rigfolio.protection import guard_facts, guard_there
from rigfolio.record import once, record
from rigfolio.shorts import UNFIT_MARKS, unfit_of
from rigfolio.study import Study
from rigfolio.values import MINUS

_UNSTATED = "a joint, not stated"
"""What an end of a return is called that is only assumed."""
GRAVE = ("TOO LARGE", "NO FUSE", *UNFIT_MARKS)
"""What is said of one stretch of a piece of wire is said of all of it."""


@record
class Tag:
    """What one tag says. The wordings of each part go from long to short."""

    name: str
    polarity: str
    here: tuple[str, ...]
    other: tuple[str, ...]
    facts: tuple[str, ...]
    purpose: str

    @property
    def signed(self) -> str:
        """Name and sign, for a tag that has room for nothing else."""
        sign = "?" if "not joined" in self.polarity else "+"
        return f"{self.name} {MINUS if 'minus' in self.polarity else sign}"


@record
class TaggedWire:
    """A piece of wire: its conductors in the text, one of those side by side, and its two tags."""

    run: tuple[Conductor, ...]
    tags: tuple[Tag, Tag]

    @property
    def wire(self) -> Conductor:
        """The conductor that tells what it is made of."""
        return self.run[0]

    @property
    def head(self) -> str:
        """What it is called and what it is for."""
        return f"{self.tags[0].name} {self.tags[0].purpose}".strip()


@once
def tagged_wires(job: Job) -> tuple[TaggedWire, ...]:
    """The pieces of wire that are meant, by panel and slot, then supply and shared returns.

    Those of a circuit are meant by its name and that of its panel, those that land on a device by
    the name of that too. Since an earlier version only those are whose tags say something else
    now: a circuit with a new label keeps its tags. Each of several conductors side by side has
    tags of its own.
    """
    return tuple(_tagged(job))


def _tagged(job: Job) -> Iterator[TaggedWire]:
    rig = job.rig
    by_wire = {wire.name: run for run in runs_of(rig) for wire in run}
    done: set[str] = set()
    for wire in wording.wires_in_order(rig):
        run = by_wire[wire.name]
        if wire.name in done or not _is_meant(job, run):
            continue
        done.update(each.name for each in run)
        name = name_of_run(rig, run)
        for number in range(1, wire.count + 1):
            called = f"{name} ({number} of {wire.count})" if wire.count > 1 else name
            yield TaggedWire(run, _tags(job, run, called))


def changed_tags(
    old: Job, new: Job, same: Mapping[str, str]
) -> tuple[frozenset[str], tuple[tuple[str, str], ...]]:
    """The wires whose tags are new or say something else than before, and what is true no more.

    Parameters
    ----------
    old, new : Job
        The two versions.
    same : Mapping[str, str]
        What each wire that is in both was called, by what it is called now.

    Returns
    -------
    tuple[frozenset[str], tuple[tuple[str, str], ...]]
        Names of conductors; then the name on each tag that is no longer true, and the name on the
        tag that goes in its place, empty where the wire is gone.
    """
    were = tuple(tagged_wires(old))
    # A run is known again by whichever of its wires is.
    was: dict[str, list[int]] = {}
    for place, tagged in enumerate(were):
        for name in dict.fromkeys(wire.name for wire in tagged.run):
            was.setdefault(name, []).append(place)
    left = dict.fromkeys(range(len(were)))
    again: set[str] = set()
    off: list[tuple[str, str]] = []
    for tagged in tagged_wires(new):
        names = (same.get(wire.name, "") for wire in tagged.run)
        number = next((n for name in names for n in was.get(name, ()) if n in left), None)
        before = None if number is None else were[number]
        if number is not None:
            del left[number]
        if before is None or before.tags != tagged.tags:
            again.update(wire.name for wire in tagged.run)
        if before is not None and before.tags != tagged.tags:
            off.append((before.tags[0].name, tagged.tags[0].name))
    off += [(were[place].tags[0].name, "") for place in left]
    return frozenset(again), tuple(off)


def _is_meant(job: Job, run: tuple[Conductor, ...]) -> bool:
    """Whether a piece of wire gets its tags printed."""
    since = job.wish.since
    if since is None:
        # Where all is wanted nobody needs to know by what.
        return not job.wish.only or job.wants(*_named_by(job, run))
    if any(wire.name in since.tags for wire in run):
        return True
    return not job.wish.asked.isdisjoint(_named_by(job, run))


def _named_by(job: Job, run: tuple[Conductor, ...]) -> Iterator[str]:
    """By what a piece of wire may be meant."""
    for wire in run:
        circuit = wording.circuit_of(job.rig, wire)
        yield from (wire.name, wire.circuit, circuit.panel if circuit is not None else "")
    for end in ends_of_run(run):
        for edge, _ in job.study.net.steps(end):
            # A slot begins on the bar of its panel: the feed that ends there is none of its wires.
            if isinstance(edge, Device) and not edge.in_slot:
                yield edge.about.name


def _tags(job: Job, run: tuple[Conductor, ...], name: str) -> tuple[Tag, Tag]:
    """What the tags at both ends say."""
    here, there = (
        (_unbroken(wording.end_words(job.rig, end)), wording.short_end(job.rig, end))
        if end in places_of(job.rig)
        else (_UNSTATED, _UNSTATED)
        for end in ends_of_run(run)
    )
    polarity = wording.polarity_words(job.study.polarity(run[0]))
    facts, purpose = _facts(job, run), _purpose(job, run[0])
    return (
        Tag(name, polarity, here, there, facts, purpose),
        Tag(name, polarity, there, here, facts, purpose),
    )


def _unbroken(words: str) -> str:
    """Words whose last part, a lone sign, does not begin a line."""
    head, _, last = words.rpartition(" ")
    return f"{head}\u00a0{last}" if head and len(last) == 1 else words


def _facts(job: Job, run: tuple[Conductor, ...]) -> tuple[str, ...]:
    wire = run[0]
    size, few = wording.there_words(wire), wording.there_words(wire, short=True)
    if wire.assumed:
        return f"ASSUMED return, {size}", f"ASSUMED {size}"
    told = [guard_told(job.study, each) for each in run]
    fuse, rating = next((e for e in told if any(word in e[0] for word in GRAVE)), told[0])
    short = f"{few} {wording.colour_short(wire.colour)}"
    lit = daylight_words(job.study, (wire.a, wire.b))
    if lit:
        return tuple(
            ", ".join(filter(None, words))
            for words in (
                (f"{size} {wording.colour_text(wire.colour)}", fuse, lit),
                (short, fuse, lit),
                (short, rating, lit),
            )
        )
    return (
        f"{size} {wording.colour_text(wire.colour)} {fuse}".strip(),
        f"{short} {fuse}".strip(),
        f"{short} {rating}".strip(),
    )


def guard_told(study: Study, wire: Conductor) -> tuple[str, str]:
    """What guards a wire, long and short, with what that is not fit for."""
    guard = guard_there(study, wire)
    whole, short = guard_facts(study, wire)
    if guard.why not in ("guarded", "over"):
        return whole, short
    held = (study.device(one.about.name) or one for one in guard.devices)
    marks = dict.fromkeys(unfit.mark for device in held for unfit in unfit_of(study, device))
    told = "".join(f", {mark}" for mark in marks)
    return f"{whole}{told}", f"{short}{told}"


def _purpose(job: Job, wire: Conductor) -> str:
    """What a wire is for; printed beside its tags."""
    circuit = wording.circuit_of(job.rig, wire)
    purpose = (circuit.label or circuit.place) if circuit else ""
    if wording.is_return(job.rig, wire):
        purpose = f"return of {purpose}"
    return f"ASSUMED {purpose}" if wire.assumed else purpose
