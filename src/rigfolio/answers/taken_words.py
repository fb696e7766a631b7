"""What stands before all faults: how readings were taken, and what the text alone makes of them."""

from collections.abc import Iterator

from rigfolio.answers.energy import balance_words
from rigfolio.answers.fault_words import load_name, unfed_words
from rigfolio.books import figure
from rigfolio.demand import allowed_drop_of, balances, drops_of
from rigfolio.diagnosis import Diagnosis, emptied, untold_inside
from rigfolio.findings import UNKNOWN
from rigfolio.network import edge_name, stand_in, turns_in
from rigfolio.operating import closed_by_hand
from rigfolio.record import record
from rigfolio.units import apart, show, show_limit, show_load
from rigfolio.wording import amps, in_a_row, short_end, unknown_copper, unknown_inside

_ANY_V = 12.0
_WEAK = ("dim", "slow")
# What regulates itself cuts out on too few volts, and may do so for another reason.
_STARVED = ("flickers",)
_OPENED = ("blows", "tripped")


def taken_words(found: Diagnosis) -> Iterator[str]:
    """What is to be known of how the readings were understood, a line each."""
    evidence = found.evidence
    if evidence.leaves_on_open:
        yield _on(found)
    inputs = [f"`{source.inlet}`" for source in evidence.study.rig.sources if source.inlet]
    if inputs:
        yield f"inputs of converters, {in_a_row(inputs)}: by what is given then, not at full output"
    for reading in evidence.readings:
        if reading in evidence.at_rest:
            yield f"`{reading.text}`: with all loads off, since the other reading there names loads"
    for probe in evidence.numeric:
        if probe.reading.measure == "voltage" and not probe.reading.b:
            rig = evidence.study.rig
            yield (
                f"`{probe.reading.text}`: red on {short_end(rig, probe.a)}, black on "
                f"{short_end(rig, probe.b)}"
            )
    coils = {edge: coil for scene in evidence.scenes for edge, coil in scene.coils.items()
             if coil.about.name in scene.draw_of}  # fmt: skip
    for edge, coil in coils.items():
        yield f"relay `{edge}` is closed by `{coil.about}`, as their names say"
    yield from _by_hand(found)
    yield from _by_itself(found)
    yield from _standing(found)
    yield from _emptied(found)
    sources = dict.fromkeys(s for scene in evidence.scenes for s in scene.sources)
    shares = (f"`{name}` at {_rest(found, name)}" for name in sources)
    yield f"sources as nobody has measured them: {', '.join(shares)}"
    unknown = dict.fromkeys(wire for scene in evidence.scenes for wire in scene.unknown)
    if unknown:
        yield f"not known: {unknown_copper(unknown)}"
    for name in untold_inside(evidence):
        yield f"not known: {unknown_inside(name)}"


def _by_hand(found: Diagnosis) -> Iterator[str]:
    """What rests open and was closed for a load to run, as a float that is lifted."""
    study = found.evidence.study
    held = dict[str, dict[str, None]]()
    for scene in found.evidence.scenes:
        stand = stand_in(study.rig, scene.opened.edges)
        for load in (one for one in study.rig.loads if one.about.name in scene.on):
            for one in closed_by_hand(study, load, stand):
                if edge_name(one) not in scene.opened.edges:
                    held.setdefault(str(one.about), {})[f"`{load.about}`"] = None
    for switch, loads in held.items():
        yield f"`{switch}`, which rests open: closed by hand, with {in_a_row(loads)} on"


def _by_itself(found: Diagnosis) -> Iterator[str]:
    """The loads that were not named and start by themselves, on the wires of those that were."""
    evidence = found.evidence
    on = frozenset().union(*(one.on for one in evidence.scenes))
    circuits = {load.circuit for load in evidence.study.rig.loads if load.about.name in on}
    for load in evidence.study.rig.loads:
        if load.traits.by_itself and load.circuit in circuits and load.about.name not in on:
            yield (
                f"`{load.about}`: off; it starts by itself and hangs on the same wires: see that "
                "it did not run, or read again with it named"
            )


def _emptied(found: Diagnosis) -> Iterator[str]:
    """What may have emptied a bank, since nobody knows what it draws."""
    for bank, behind in emptied(found.evidence):
        loads = [one for one in found.evidence.study.rig.loads if one.about.name in behind]
        names = [f"`{one.about}`" for one in loads if one.current_a(_ANY_V) is UNKNOWN]
        if names:
            yield f"what they draw is not known, so they may empty `{bank}`: {in_a_row(names)}"


def _on(found: Diagnosis) -> str:
    """Which loads are on, where that was not said."""
    evidence = found.evidence
    loads = evidence.study.rig.loads
    names = [str(load.about) for load in loads if load.about.name in evidence.took_on]
    if not names:
        return "all loads off while reading"
    apart = ", of those that a switch keeps apart what is read" * bool(_turns(found))
    return f"on while reading: {', '.join(names)}{apart}; all else off"


def _turns(found: Diagnosis) -> bool:
    """Whether some of what is on cannot be on with the rest of it."""
    evidence = found.evidence
    return len(turns_in(evidence.study.rig, sorted(evidence.took_on))) > 1


def _standing(found: Diagnosis) -> Iterator[str]:
    """How selectors and combiners stand where no state was named."""
    evidence = found.evidence
    if all(probe.reading.state for probe in (*evidence.numeric, *evidence.symptoms)):
        return
    if evidence.running:
        why = "something is to charge" if _is_charge(found) else "what was said can be seen then"
        yield f"no state was named: as in `{evidence.running}`, since {why}"
        return
    yield from (f"no state was named: {words}" for words in evidence.scenes_of.unnamed.words)
    yield from unfed_words(found)


def _is_charge(found: Diagnosis) -> bool:
    return any(one.reading.kind == "source" for one in found.evidence.symptoms)


def _rest(found: Diagnosis, name: str) -> str:
    scene = next(one for one in found.evidence.scenes if name in one.sources)
    share, spread = scene.rest_share(name)
    volts = next(s.voltage_v for s in found.evidence.study.rig.sources if s.about.name == name)
    return f"{show(share * volts, 'V')} ± {show(spread * volts, 'V', 2)}"


def as_written_words(found: Diagnosis) -> Iterator[str]:
    """What the text alone makes of what was said: volts that wires lose, a day that is short."""
    yield from _losing(found)
    yield from dict.fromkeys(one.words for one in _blowing(found))
    banks = {name for name, _ in emptied(found.evidence)}
    for one in balances(found.evidence.study):
        if banks & {*one.banks} and one.left_c < 0.0:
            yield f"a day takes more of it than comes in: {balance_words(one)}"


def _losing(found: Diagnosis) -> Iterator[str]:
    """The loads that are dim or slow, or read so, by the drop that `check` judges."""
    evidence, study = found.evidence, found.evidence.study
    said = {one.reading.part for one in evidence.symptoms
            if one.reading.symptom in (*_WEAK, *_STARVED)}  # fmt: skip
    read = {(one.a, one.b) for one in evidence.numeric if one.reading.measure == "voltage"}
    for load in study.rig.loads:
        is_meant = (load.plus, load.minus) in read or said & {load.about.name, load.circuit}
        drop = drops_of(study).of(load) if is_meant else None
        if drop is None or drop.collapses:
            continue
        allowed = allowed_drop_of(study, load)
        is_broken = allowed.is_broken_by(drop.share)
        if is_broken or drop.share > 1.0 - figure("seen", "dim_share"):
            shares = f"{apart(drop.share, allowed.value, '%')} of {show(drop.nominal_v, 'V')}"
            more = ": `check` says what mends that" if is_broken else ""
            yield (
                f"`{load_name(study, load.about.name)}` loses {show_load(drop.volts, 'V')}, "
                f"{shares}, with nothing broken{more}"
            )


@record
class _OpensUnbroken:
    """A fuse that is said to have opened, and does so with nothing broken: why, and how sure."""

    words: str
    is_sure: bool


def _blowing(found: Diagnosis) -> Iterator[_OpensUnbroken]:
    """The fuses that are said to blow and carry too much with nothing broken, as `check` has it."""
    seen, study = found.evidence.seen, found.evidence.study
    more = "with nothing broken: `check` says what mends that"
    for one in (probe.reading for probe in found.evidence.symptoms):
        if one.symptom not in _OPENED:
            continue
        for device, demand_a, rated_a in seen.fuses.overloaded(one, seen.loads_at(one)):
            carries = f"carries {apart(demand_a, rated_a, 'A')} in use and is made for"
            words = f"`{device.about.name}` {carries} {show_limit(rated_a, 'A')}, {more}"
            yield _OpensUnbroken(words, is_sure=True)
        for device, start, is_sure in seen.fuses.opened_by_start(one, seen.loads_at(one)):
            opens = "is sure to open" if is_sure else "may open"
            yield _OpensUnbroken(
                f"`{device.about.name}`, {amps(device.rating_a)}, {opens} on the start of "
                f"`{load_name(study, start.load.about.name)}`, "
                f"{show_load(start.current_a, 'A')} for {start.lasts}, {more}",
                is_sure,
            )


def is_as_written(found: Diagnosis) -> bool:
    """Whether all that was said is what the rig shows with nothing wrong."""
    said = [one.reading.symptom for one in found.evidence.symptoms]
    if not said:
        return found.fits and any(_losing(found))
    ways = []
    if {*said} & {*_WEAK}:
        ways.append(any(_losing(found)))
    if {*said} & {*_OPENED}:
        ways.append(any(one.is_sure for one in _blowing(found)))
    return {*said} <= {*_WEAK, *_OPENED} and all(ways)
