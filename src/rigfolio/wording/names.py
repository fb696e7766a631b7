"""The printed names of parts and places: short, long, within a sentence, as they are typed.

A part bears its one name from the model, a terminal from `Rig.where`. What stands here puts a name
in its place: with its label, with what it is, with the minus sign as it is printed.
"""

import re
from collections.abc import Iterable

from rigfolio.findings import Span
from rigfolio.kinds import plural
from rigfolio.model import Circuit, EndNames, Load, Rig
from rigfolio.record import once
from rigfolio.values import MINUS, printed

ALWAYS_ON = "ALWAYS ON"
"""The remark on what must stay on and does, as the text says it: `always on`."""
MUST_STAY_ON = "MUST STAY ON"
"""The same where nobody can tell whether it does."""
NOT_ALWAYS_ON = f"{MUST_STAY_ON}: IS NOT"
"""The same where it goes dead in some state of the rig."""
AHEAD_OF_MAIN = "ahead of its main"
"""What stands behind the feed of a panel that has a main of its own."""
_UNNAMED = frozenset({
    ("unknown",), ("unidentified",), ("unnamed",), ("mystery",), ("nobody", "knows"),
    ("not", "known"), ("not", "identified"),
})  # fmt: skip
"""How labels begin that people give to what they could not identify: common practice."""
_MORE = re.compile(r"[=:#,;]|\b(to|and|on|dead|dim|weak|flickers|blows|hot|works)\b", re.IGNORECASE)


def is_unnamed(label: str) -> bool:
    """Whether a label says that nobody knows what the thing is.

    Examples
    --------
    >>> [is_unnamed(label) for label in ("?", "Unknown 4", "not known yet", "Pump")]
    [True, True, True, False]
    """
    words = re.findall(r"[^\W_]+", label.casefold())
    return not words or bool({tuple(words[:1]), tuple(words[:2])} & _UNNAMED)


def called(name: str, label: str = "") -> str:
    """A part with its label; a name that is made of the label stands alone.

    Examples
    --------
    >>> called("S1", "Battery disconnect"), called("Fan at P1.4", "Fan")
    ('S1 Battery disconnect', 'Fan at P1.4')
    """
    return name if not label or f"{name} ".startswith(f"{label} ") else f"{name} {label}"


def with_kind(kind: str, name: str) -> str:
    """A device in a sentence; a name that says what it is stands alone.

    Examples
    --------
    >>> with_kind("fuse", "F1"), with_kind("fuse", "W12 fuse")
    ('fuse `F1`', '`W12 fuse`')
    """
    return f"`{name}`" if f" {kind}" in name else f"{kind} `{name}`"


def typed(name: str) -> str:
    """A printed name as it is typed into a reading; quoted where it might be read as more."""
    name = name.replace(MINUS, "-")
    return f'"{name}"' if _MORE.search(name) else name


def on_paper(words: str) -> str:
    """Words of a finding as paper bears them, where nobody types: without the marks of a terminal.

    Examples
    --------
    >>> on_paper("126 A can come back through `W7`")
    '126 A can come back through W7'
    """
    return words.replace("`", "")


def how_many(number: int, noun: str) -> str:
    """So many things of a kind.

    Examples
    --------
    >>> how_many(1, "circuit"), how_many(3, "switch")
    ('1 circuit', '3 switches')
    """
    return f"{number} {noun if number == 1 else plural(noun)}"


def states_no(*kinds: str, so: str = "") -> str:
    """What stands where a sheet or an answer has nothing to show.

    Examples
    --------
    >>> states_no("panel", "circuit")
    'This rig states no panel and no circuit.'
    >>> states_no("wire", so="there is nothing to cut")
    'This rig states no wire: there is nothing to cut.'
    """
    *first, last = (f"no {kind}" for kind in kinds)
    listed = f"{', '.join(first)} and {last}" if first else last
    return f"This rig states {listed}{f': {so}' if so else ''}."


NO_COLOUR = states_no("wire", so="there is no colour to look up")
"""Where colours are listed and there are none."""


def in_a_row(names: Iterable[str]) -> str:
    """Names in one line; a comma inside of one is never a comma of the list.

    Examples
    --------
    >>> in_a_row(["Pump", "Radio"]), in_a_row(["Pump", "Lights, two"])
    ('Pump, Radio', 'Pump; Lights, two')
    """
    every = tuple(names)
    return ("; " if any("," in name for name in every) else ", ").join(every)


def in_runs(names: Iterable[str], fewest: int = 3) -> str:
    """All names in one line, as one those of which so many follow each other.

    Examples
    --------
    >>> in_runs(["P1.1", "P1.2", "P1.3", "P1.5", "W1", "W2"])
    'P1.1 to P1.3, P1.5, W1, W2'
    >>> in_runs(["3.1", "3.2", "3.7"], 2)
    '3.1 to 3.2, 3.7'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    shown = ([f"{run[0]} to {run[-1]}"] if len(run) >= fewest else run for run in runs)
    return in_a_row(name for part in shown for name in part)


def _follows(before: str, after: str) -> bool:
    """Whether two names are alike but for a figure at the end, which is greater by one."""
    stems = [name.rstrip("0123456789") for name in (before, after)]
    first, second = (name[len(stem) :] for name, stem in zip((before, after), stems, strict=True))
    counted = first.isascii() and second.isascii() and first.isdigit() and second.isdigit()
    return stems[0] == stems[1] and counted and second == str(int(first) + 1)


def short_end(rig: Rig, terminal: str) -> str:
    """What a terminal is called, as a person may type it: `S1.line`, `W12 fuse.load`, `Pump +`."""
    return _names(rig, terminal).name


def end_words(rig: Rig, terminal: str) -> str:
    """Where an end of a conductor lands, with what it belongs to: `S1.line Battery disconnect`."""
    return _names(rig, terminal).words


def _names(rig: Rig, terminal: str) -> EndNames:
    return rig.where.get(terminal) or EndNames(printed(terminal), printed(terminal))


def load_words(rig: Rig, load: Load) -> str:
    """A load with what tells it from others: `M1 Starter`, or its circuit, `Water pump: Pump`."""
    name = str(load.about)
    circuit = rig.by_name.circuits.get(load.circuit)
    if circuit is None or not circuit.label or circuit.label == load.about.label:
        return name
    return f"{circuit.label}: {name}"


def loads_words(rig: Rig, circuit: Circuit) -> str:
    """The loads of a circuit, in the order of the text; that they are at it goes without saying."""
    loads = rig.by_name.loads
    named = (str(loads[name].about) for name in circuit.loads if name in loads)
    return "; ".join(words.removesuffix(f" at {circuit.place}") for words in named)


def spans_of(rig: Rig, place: str) -> tuple[Span, ...]:
    """Where the text speaks of a part; of a circuit its wires and loads too, of an end its part."""
    index = rig.by_name
    name = next(
        (n for n in (place, place.rstrip("+-"), place.rstrip("+-").split(".")[0]) if _has(rig, n)),
        place,
    )
    found = [
        held[name].about.span
        for held in (index.sources, index.devices, index.junctions, index.panels, index.loads)
        if name in held
    ]
    found += [wire.span for wire in rig.conductors if wire.name == name]
    found += [slot.span for slot in rig.slots if slot.place == name]
    circuit = index.circuits.get(name)
    if circuit is not None:
        found.append(circuit.span)
        wires = (index.conductors[each] for each in (*circuit.wires, *circuit.returns))
        found += [wire.span for wire in wires]
        found += [index.loads[each].about.span for each in circuit.loads if each in index.loads]
    return tuple(found)


def _has(rig: Rig, name: str) -> bool:
    index = rig.by_name
    holders = (
        index.sources, index.devices, index.junctions, index.panels, index.loads,
        index.conductors, index.circuits,
    )  # fmt: skip
    slots = {slot.place for slot in rig.slots}
    return name in slots or any(name in held for held in holders)


def part_at(rig: Rig, span: Span) -> str:
    """The smallest named part of the rig that a place of the text belongs to; empty if none."""
    return name_and_words_at(rig, span)[1]


def name_and_words_at(rig: Rig, span: Span) -> tuple[str, str]:
    """The same part by its name alone, and as it is printed; both empty if there is none."""
    held = [
        (part.end - part.start, number, name, words)
        for number, (part, name, words) in enumerate(_spans(rig))
        if part.holds(span)
    ]
    return min(held)[2:] if held else ("", "")


@once
def _spans(rig: Rig) -> tuple[tuple[Span, str, str], ...]:
    """The places in the text of all parts, with their names and as they are printed."""
    parts: list[tuple[Span, str, str]] = []
    for group in (rig.sources, rig.devices, rig.junctions, rig.panels, rig.loads):
        parts += [(part.about.span, part.about.name, str(part.about)) for part in group]
    parts += [(wire.span, wire.name, f"wire {wire.name}") for wire in rig.conductors]
    parts += [(c.span, c.place, f"{c.place} {c.label}".rstrip()) for c in rig.circuits]
    parts += [(state.span, state.name, f"state {state.name}") for state in rig.states]
    parts += [(slot.span, slot.place, f"slot {slot.place}") for slot in rig.slots]
    return tuple(parts)


def unknown_inside(source: str) -> str:
    """What is to be asked for where a battery does not say what it has inside.

    Examples
    --------
    >>> unknown_inside("B1")
    '`delivers` from the maker of `B1`, or its `internal` resistance'
    """
    return f"`delivers` from the maker of `{source}`, or its `internal` resistance"


def unknown_copper(wires: Iterable[str]) -> str:
    """What is not known of wires that were not surveyed, and what they count as.

    Examples
    --------
    >>> unknown_copper(["W1", "W2"])
    'size or length of `W1`, `W2`, which count as without resistance'
    """
    names = [f"`{wire}`" for wire in wires]
    counts = "counts" if len(names) == 1 else "count"
    return f"size or length of {in_a_row(names)}, which {counts} as without resistance"
