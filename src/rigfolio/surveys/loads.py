"""What went dead when a fuse was pulled: the loads of a circuit, and what each draws."""

import re
from collections.abc import Collection, Sequence

from rigfolio.findings import UNKNOWN
from rigfolio.model import Circuit, Load, Rig
from rigfolio.reading import Said
from rigfolio.record import once
from rigfolio.surveys.cells import load_named
from rigfolio.surveys.change import SurveyChange, is_same
from rigfolio.surveys.new_circuit import NOBODY
from rigfolio.surveys.statement_index import read_statement
from rigfolio.surveys.told import Spelt, Surveyed
from rigfolio.wording import how_many, is_unnamed

_ASKED = "? A"
_VALUES = ("current", "power", "resistance")
_NO_LETTER = re.compile(r"[\W_]+")
_ARTICLE = re.compile(r"^(?:the|a|an|my|our)\s+")
_IN_A_ROW = re.compile(r"\s*(?:[,&+/]|\band\b)\s*", re.IGNORECASE)


def loads_of(
    row: Surveyed,
    change: SurveyChange,
    known: Sequence[str] = (),
    names: Sequence[str] = (),
    *,
    has_commas: bool,
) -> list[tuple[str, str]]:
    """The loads that a row names, each with what it draws; `? A` where it does not say.

    A name that is known is one, whatever it ends in, and of several in a row each that is known is
    one. Without names, what is drawn is of the known
    loads in their order, or of the one that nobody has named yet. `names` are further ones that the
    text has.
    """
    labels = [part.strip() for part in row.cells.get("went dead", "").split(";") if part.strip()]
    draws = [part.strip() for part in row.cells.get("draws", "").split(";") if part.strip()]
    of = {_plain(label): label for label in (*names, *known)}
    found = [
        (of[_plain(label)], _ASKED)
        if _plain(label) in of
        else _named_with_draw(row, label, change, has_commas=has_commas)
        for written in labels
        for label in _each(written, of)
    ]
    found = [(of.get(_plain(label), label), draw) for label, draw in found]
    if not found and draws:
        found = [(label, _ASKED) for label in known or (NOBODY,)]
    if draws and len(draws) != len(found):
        words = (
            f"{how_many(len(found), 'load')} and {how_many(len(draws), 'draw')}; part them by "
            "semicolons, in their order"
        )
        change.told(row, words)
        return found
    return [
        (label, draw if draw not in ("", "?") else own)
        for (label, own), draw in zip(found, draws or [""] * len(found), strict=True)
    ]


def _plain(name: str) -> str:
    """A name as two people write it alike: `the Water-pump?` is `water pump`."""
    return _NO_LETTER.sub("", _ARTICLE.sub("", name.casefold().strip()))


def _each(written: str, known: Collection[str]) -> Sequence[str]:
    """The names in a row, `fridge and radio`, where one of them is known; else it is one name."""
    if _plain(written) in known:
        return (written,)
    parts = [part for part in _IN_A_ROW.split(written) if part.strip()]
    are_names = not any(part.strip()[0].isdigit() for part in parts)
    return parts if are_names and any(_plain(part) in known for part in parts) else (written,)


def _named_with_draw(
    row: Surveyed, written: str, change: SurveyChange, *, has_commas: bool
) -> tuple[str, str]:
    """A load that nobody knew of, as it was written: `pump 7 A`; how it was read is said back."""
    label, heard = load_named(written, has_commas=has_commas)
    if heard.value:
        about = ", which is about so" if heard.is_about else ""
        change.spelt.append(Spelt(row.line, written, f"load `{label}`, `{heard.value}`{about}"))
    return label[:80], heard.value or _ASKED


def put_loads(
    row: Surveyed, rig: Rig, circuit: Circuit, change: SurveyChange, *, has_commas: bool
) -> None:
    """Fill in what the loads of a circuit draw, and add those that nobody knew of."""
    own = [load for load in rig.loads if load.about.name in circuit.loads and load.about.label]
    loads: dict[str, list[Load]] = {}
    for one in own:
        loads.setdefault(one.about.label.casefold(), []).append(one)
    known = [load.about.label for load in own]
    elsewhere = _elsewhere(rig, circuit)
    names = (*known, *elsewhere, *((circuit.label,) if len(loads) == 1 and circuit.label else ()))
    new: list[tuple[str, str]] = []
    for label, draws in loads_of(row, change, known, names, has_commas=has_commas):
        alike = loads.get(label.casefold(), [])
        if not alike and len(loads) == 1 and _plain(label) == _plain(circuit.label):
            # Its label tells the one load of a circuit as well as its own name.
            alike = next(iter(loads.values()))
        # Of several with one name each has its turn.
        load: Load | None = alike.pop(0) if len(alike) > 1 else next(iter(alike), None)
        if load is None and label in elsewhere:
            at = elsewhere[label]
            change.told(row, f"the text has `{label}` at {at}: see whether it went dead with both")
        elif load is None:
            new.append((label, draws))
        elif draws != _ASKED:
            _drawn(row, load, draws, change)
    unnamed = next((load for load in own if is_unnamed(load.about.label)), None)
    if new and unnamed is not None:
        new = _named(row, circuit, unnamed, new, change)
    if new:
        _added(row, circuit, new, change)


def put_draws(row: Surveyed, load: Load, change: SurveyChange) -> None:
    """Fill in what a load with a row of its own draws."""
    draws = row.cells.get("draws", "")
    if draws not in ("", "?"):
        _drawn(row, load, draws, change)


def _elsewhere(rig: Rig, circuit: Circuit) -> dict[str, str]:
    """Loads that hang somewhere else, by a label that no other load has, with their circuits."""
    return {
        load.about.label: load.circuit or load.about.name
        for load in _labelled_alone(rig)
        if load.about.name not in circuit.loads
    }


@once
def _labelled_alone(rig: Rig) -> tuple[Load, ...]:
    """The loads whose label no other load has."""
    alike: dict[str, list[Load]] = {}
    for load in rig.loads:
        alike.setdefault(_plain(load.about.label), []).append(load)
    return tuple(loads[0] for label, loads in alike.items() if label and len(loads) == 1)


def _drawn(row: Surveyed, load: Load, draws: str, change: SurveyChange, called: str = "") -> None:
    said = change.index.at(load.about.span)
    read = read_statement(f"load X {draws}")
    if read and any(is_same(one.value, load.value) for one in read.facts.all(load.kind)):
        return
    if said is None or said.word != "load" or read is None:
        change.told(row, f"what `{load.about.label}` draws is not said in a line of its own")
        return
    given = next((each for key in _VALUES for each in said.facts.all(key)), None)
    if given is None:
        change.put(row, said, draws, "draws")
    elif given.value is UNKNOWN:
        change.replace(row, given.span, draws, f"{called or load.about.label} draws {draws}")
    elif not any(is_same(each.value, given.value) for key in _VALUES
                 if said.facts.has(key) for each in read.facts.all(key)):  # fmt: skip
        was = change.index.words(given.span)
        change.told(row, f"the text says `{load.about.label}` draws `{was}`, the survey `{draws}`")


def _named(
    row: Surveyed, circuit: Circuit, load: Load, new: list[tuple[str, str]], change: SurveyChange
) -> list[tuple[str, str]]:
    """Give the load that nobody had named the first of the names; those that are left.

    A circuit that was called so too is called by it.
    """
    said = change.index.at(load.about.span)
    span = said.facts.span("label") if said is not None else None
    if said is None or span is None:
        return new
    (label, draws), *rest = new
    change.replace(row, span, f'"{label}"', f"went dead with it: {label}")
    of_circuit = change.index.at(circuit.span)
    called = of_circuit.facts.span("label") if of_circuit is not None else None
    if called is not None and is_unnamed(circuit.label):
        change.replace(row, called, f'"{label}"', f"is called {label}")
    if draws != _ASKED:
        _drawn(row, load, draws, change, label)
    return rest


def _added(
    row: Surveyed, circuit: Circuit, new: Sequence[tuple[str, str]], change: SurveyChange
) -> None:
    said = change.index.at(circuit.span)
    if said is None:
        return
    last: Said = max((said, *said.inside), key=lambda one: one.span.end)
    lines = "".join(f'\n    load "{label}" {draws}' for label, draws in new)
    named = "; ".join(label if draws == _ASKED else f"{label} {draws}" for label, draws in new)
    change.replace(row, change.index.line_end(last.span), lines, f"went dead with it: {named}")
