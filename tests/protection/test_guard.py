"""What is said of a wire's fuse is one answer, and it holds by the wiring alone."""

import math
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from helpers.cases import Case, read_cases
from helpers.circuits import Made
from helpers.home import HOME
from helpers.studies import checked
from rigfolio.figures.calculation import calculation
from rigfolio.figures.report import _fuses_words
from rigfolio.findings import Unknown
from rigfolio.job import Job
from rigfolio.judgement.result import Result, job_of, load, understood
from rigfolio.labels import tags
from rigfolio.labels.content import every_label
from rigfolio.labels.system_volts import volts_at
from rigfolio.model import Conductor, Device, thinner_of
from rigfolio.protection import (
    exposures_of,
    fitted_words,
    guard_of,
    guard_of_circuit,
    guard_words,
    limit_of,
    reach_of,
)
from rigfolio.protection.guard import Guard
from rigfolio.protection.inflow import Inflow, source_limit
from rigfolio.sheets import colour_card, colour_legend, panel_directory
from rigfolio.study import Study, as_found
from rigfolio.wording import wires_in_order

EXAMPLES = sorted((HOME / "examples").glob("*.rig"))
FAULTY = sorted((HOME / "examples" / "faulty").glob("*.rig"))
CASES = [
    case for file in sorted((HOME / "tests" / "rules").glob("*.rig")) for case in read_cases(file)
]
HEAD = 'rig "Case"\n    system 12 V\n    rules rv\n    ambient 40 degC\n'


def _study(text: str) -> Study | None:
    _, rig, _ = load("case.rig", text)
    return None if rig is None else Study(rig, rig.book)


@pytest.fixture(scope="module", params=CASES, ids=[f"{c.file.stem}: {c.title}" for c in CASES])
def case_read(request: pytest.FixtureRequest) -> Result:
    """A case, read once for all that is asked of it; no rule is asked."""
    case: Case = request.param
    return case.asked(understood)


def _plus(study: Study) -> Iterator[Conductor]:
    """The wires out: those that a fuse may be asked of."""
    for wire in study.rig.conductors:
        circuit = study.circuit(wire.circuit)
        back = circuit is not None and wire.name in circuit.returns
        if study.side.get(wire.a) == "+" and not back:
            yield wire


def _drivers(study: Study, wire: Conductor, opened: tuple[Device, ...]) -> set[str]:
    """The sources joined to a wire where some devices are taken out of the net."""
    gone = {(d.about.name, d.line, d.load) for d in opened}

    def is_open(edge: object) -> bool:
        return isinstance(edge, Device) and (edge.about.name, edge.line, edge.load) in gone

    near = study.net.walk([wire.a, wire.b], is_open)
    return {source.about.name for source in study.rig.sources if source.plus in near}


def _hold(study: Study) -> None:
    """What a guard says of each wire, tried on the net itself."""
    faults = {(one.wire.name, one.fault) for one in exposures_of(study)}
    shown = {name for name, _ in faults}
    for wire in study.rig.conductors:
        guard = guard_of(study, wire)
        if guard.why in ("over", "far", "bare") and study.is_judged_lead(wire):
            known = limit_of(study, wire) is not None
            assert not known or (wire.name, guard.why) in faults or wire.name in shown
        else:
            assert wire.name not in shown or study.shorted
    for wire in _plus(study):
        _holds(study, wire, guard_of(study, wire))


def _holds(study: Study, wire: Conductor, guard: Guard) -> None:
    itself = {one.source.about.name for one in guard.against if one.why == "itself"}
    if guard.why in ("guarded", "itself"):
        every = tuple(d for one in guard.against for d in one.devices)
        assert _drivers(study, wire, every) <= itself, wire.name
        limit = limit_of(study, wire)
        for inflow in reach_of(study).inflows(wire):
            assert not math.isinf(inflow.current_a), wire.name
            if limit is not None and not any(d.kind == "breaker" for d in study.rig.devices):
                lasting_a = _lasting_a(study, wire, inflow, limit.value)
                assert lasting_a <= limit.value * (1 + 1e-6), wire.name
    if guard.why == "guarded":
        assert guard.devices
        assert all(device.protects for device in guard.devices)
    if guard.why in ("ahead", "far", "bare", "cranking"):
        fuses = tuple(device for device in study.rig.devices if device.protects)
        endless = {s.about.name for s in study.rig.sources if math.isinf(source_limit(s))}
        free = _drivers(study, wire, fuses)
        limit = limit_of(study, wire)
        most_a = max(one.current_a for one in reach_of(study).inflows(wire))
        assert free & endless or (limit is not None and most_a > limit.value), wire.name


def _lasting_a(study: Study, wire: Conductor, inflow: Inflow, limit_a: float) -> float:
    """What flows into an end for long [A].

    Of a lead that runs into the fuse of its own battery at its other end that is the most of any
    one fuse, and of what drives on once all of them have opened.
    """
    near, far = reach_of(study).inflows(wire)
    other = far if inflow.end == near.end else near
    fuses = tuple(one for one in inflow.by if isinstance(one, Device))
    if inflow.current_a <= limit_a or other.current_a > limit_a:
        return inflow.current_a
    own = tuple(one for one in other.by if isinstance(one, Device))
    if not own:
        return inflow.current_a
    left = _drivers(study, wire, (*fuses, *own))
    limits = {source.about.name: source_limit(source) for source in study.rig.sources}
    return max(sum(limits[name] for name in left), *(one.rating_a for one in fuses))


@pytest.mark.parametrize("file", [*EXAMPLES, *FAULTY], ids=lambda file: file.stem)
def test_the_guard_of_a_wire_holds_by_the_wiring_of_an_example(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    _hold(study)


def test_the_guard_of_a_wire_holds_by_the_wiring_of_a_case(case_read: Result) -> None:
    if case_read.study is not None:
        _hold(case_read.study)


@settings(max_examples=40, derandomize=True, deadline=None, database=None)
@given(st.integers(0, 10**6))
def test_the_guard_of_a_wire_holds_by_the_wiring_of_a_rig_made_up(seed: int) -> None:
    study = _study(Made(seed).text)
    assert study is not None
    _hold(study)


def _figures(guard: Guard) -> list[str]:
    """The ratings that a sheet has to name beside a wire, all others being wrong."""
    if guard.why not in ("guarded", "over"):
        return []
    return ["?" if isinstance(d.rating_a, Unknown | None) else f"{d.rating_a:g} A"
            for d in guard.devices]  # fmt: skip


def _says(job: Job) -> None:
    """Tags, legend, card, labels, directory and calculation of a rig against `protection`."""
    study = job.study
    for wire in wires_in_order(job.rig):
        guard = guard_of(as_found(study), thinner_of(wire))
        figures = _figures(guard)
        long, short = tags.guard_told(study, wire)
        for said in (*tags._facts(job, (wire,)), colour_card._gauge(job, wire)):
            # What modules make of it stands behind what is said of its fuse.
            words = said.partition(", live in daylight")[0]
            assert wire.assumed or words.endswith((long, short)), (wire.name, words)
        legend = colour_legend._cells(job, [wire], "", "")[-1]
        assert legend == guard_words(study, wire)
        for words in (long, legend):
            assert all(figure in words for figure in figures), (wire.name, words, figures)
            assert figures or "A " not in f"{words} " or guard.why == "itself", (wire.name, words)
            assert ("TOO LARGE" in words) <= (guard.why in ("over", "guarded"))
        if not figures and guard.why not in ("return", "idle"):
            assert "no" in long.casefold()
            assert "none" in legend.casefold()
    _says_circuits(job)


def _says_circuits(job: Job) -> None:
    study = job.study
    labels = {label.place: label for label in every_label(job)}
    for circuit in job.rig.circuits:
        guard = guard_of_circuit(as_found(study), circuit)
        words = panel_directory._protection(job, circuit)
        assert fitted_words(study, circuit) in words[0]
        assert all(figure in words[0] for figure in _figures(guard)), (circuit.place, words)
        label = labels.get(circuit.place)
        if label is not None and guard.why != "over":
            said = label.ratings[0].replace("\N{NO-BREAK SPACE}", " ")
            # In a rig of several voltages the label says which.
            volts = volts_at(study, (circuit.start,))
            assert said == ", ".join(filter(None, (fitted_words(study, circuit), volts)))


@pytest.mark.parametrize("file", [*EXAMPLES, *FAULTY], ids=lambda file: file.stem)
def test_every_sheet_of_an_example_says_what_protection_answers(file: Path) -> None:
    result = checked(file)
    assert result.study is not None
    _says(job_of(result))


def test_every_sheet_of_a_case_says_what_protection_answers(case_read: Result) -> None:
    if case_read.study is not None:
        _says(job_of(case_read))


@settings(max_examples=20, derandomize=True, deadline=None, database=None)
@given(st.integers(0, 10**6))
def test_every_sheet_of_a_rig_made_up_says_what_protection_answers(seed: int) -> None:
    _says(job_of(understood("made.rig", text=Made(seed).text)))


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_the_calculation_names_the_devices_that_guard(file: Path) -> None:
    study = checked(file).study
    assert study is not None
    for line in calculation(study, ()).sections:
        wires = [wire for group in line.section.groups for wire in group.wires]
        if line.returns_a is not None or not wires:
            continue
        words = _fuses_words(study, line)
        figures = [f for wire in wires for f in _figures(guard_of(study, wire))]
        assert all(figure in words for figure in figures)
        assert figures or "none" in words.casefold()


def test_a_cable_ahead_of_its_fuse_bears_none_and_the_one_behind_it_does() -> None:
    study = _study(
        f"{HEAD}battery B1 105 Ah\nfuse F1 50 A\nbusbar A1\nbusbar N1\n"
        "wire B1+ to F1 6 AWG red 7 in\nwire F1 to A1 6 AWG red 3 ft\n"
        "wire B1- to N1 6 AWG black 3 ft\nload L1 5 A\n"
        "wire A1 to L1+ 14 AWG 3 ft, fuse 15 A at A1\nwire L1- to N1 14 AWG 3 ft\n"
    )
    assert study is not None
    said = {wire.name: guard_words(study, wire) for wire in study.rig.conductors}
    assert said["B1+/F1"] == "none: ahead of F1"
    assert said["A1/F1"] == "50 A fuse F1"
    assert said["B1-/N1"] == said["L1-/N1"] == "none"
    assert said["A1/L1+"] == "15 A fuse"


def test_a_cranking_cable_bears_no_fuse_that_stands_on_the_same_post() -> None:
    study = _study(
        f"{HEAD}battery B1 105 Ah\nfuse F1 100 A on B1+\nbusbar A1\nbusbar N1\n"
        'load M1 "Starter" 150 A, momentary\nwire B1+ to M1+ 1/0 AWG red 3 ft, cranking\n'
        "wire F1.load to A1 1/0 AWG red 3 ft\nwire M1- to B1- 1/0 AWG black 3 ft\n"
    )
    assert study is not None
    said = {wire.name: guard_words(study, wire) for wire in study.rig.conductors}
    assert said["B1+/M1+"] == "none: cranking cable"
    assert said["A1/F1.load"] == "100 A fuse F1"


def test_a_circuit_that_starts_behind_a_fuse_is_guarded_by_that_fuse() -> None:
    text = (
        f"{HEAD}battery B1 105 Ah\nfuse F2 15 A\nbusbar N1\n"
        "wire B1+ to F2 10 AWG red 5 in\nwire B1- to N1 10 AWG black 3 ft\n"
        'circuit F2.load "Pump"\n    wire 14 AWG red 8 ft\n    load "Pump" 7 A\n'
    )
    job = job_of(understood("case.rig", text=text))
    (circuit,) = job.rig.circuits
    assert fitted_words(job.study, circuit) == "15 A fuse F2"
    of_fuse, label = every_label(job)
    assert of_fuse.place == "F2"
    assert label.ratings[0].replace("\N{NO-BREAK SPACE}", " ") == "15 A fuse F2"
    assert panel_directory._protection(job, circuit)[0] == "15 A fuse F2"
