"""The short test: ohms, the feed, one row a circuit, the heavy loads under load, all together.

What is left out stands among all readings: each fuse before its loads are on, and the lesser loads
one by one.
"""

from collections.abc import Iterator

from rigfolio.books import figure
from rigfolio.findings import Unknown
from rigfolio.model import Circuit, Load
from rigfolio.network import stands_for
from rigfolio.operating.readings.expected import Stages, stages_of, unfed_words
from rigfolio.operating.readings.load_readings import moment_words, on_words
from rigfolio.operating.readings.test_points import Stage, StageStep
from rigfolio.operating.resting import closed_by_hand
from rigfolio.study import Study, once
from rigfolio.wording import goes_words, load_words, turned_words


@once
def short_stages(study: Study, barred: frozenset[str] = frozenset()) -> tuple[Stage, ...]:
    """The stages of the short test of a rig that have anything to be read.

    `barred` are the devices that stay out or off, as in `stages`.
    """
    whole = stages_of(study, barred)
    made = (
        whole.ohms(), whole.feed(), _circuits(whole), _heavy(whole), whole.together(), whole.kept(),
    )  # fmt: skip
    return tuple(stage for stage in made if stage.steps)


def circuit_steps(study: Study, barred: frozenset[str] = frozenset()) -> Iterator[StageStep]:
    """The steps of one fuse at a time, each worked out as it is asked for; `barred` as above."""
    for circuit in stages_of(study, barred).circuits:
        step = circuit_step(study, circuit, barred)
        if step is not None:
            yield step


def circuit_step(
    study: Study, circuit: Circuit, barred: frozenset[str] = frozenset()
) -> StageStep | None:
    """The step of one circuit; None where nothing of it is read."""
    whole = stages_of(study, barred)
    device = whole.study.device(circuit.device)
    # It stays in the list without a reading, so that nobody puts a fuse in to take one.
    points = () if circuit.place not in whole.use.places else whole.singly.of_circuit(circuit)
    ready = f": {goes_words(device)}" if device is not None else ""
    do = f"{circuit.place} {circuit.label}".strip()
    of = circuit.panel or circuit.place
    fits = () if device is None else (device,)
    shut = _shut_words(study, circuit) if points else ""
    step = StageStep(f"{do}{ready}{shut}", points, of, circuit=circuit.place, fits=fits)
    return step if points or _is_out(whole, step) else None


def _shut_words(study: Study, circuit: Circuit) -> str:
    """The switches that rest open and are closed to read a circuit, with the positions it is for.

    A float that nobody lifts leaves a sound pump without volts.
    """
    found: dict[str, None] = {}
    for load in (study.rig.by_name.loads[name] for name in circuit.loads):
        for stand in stands_for(study.rig, load):
            turned = " and ".join(turned_words(study.rig, stand))
            of = f" for {turned}" if turned else ""
            for one in closed_by_hand(study, load, stand):
                found[f"; {one.about} closed to read it{of}"] = None
    return "".join(found)


def _circuits(whole: Stages) -> Stage:
    steps = [*circuit_steps(whole.study, whole.use.barred)]
    heavy = frozenset(load.about.name for load in heavy_loads(whole.study, whole.use.barred))
    for load in filter(whole.use.is_run, whole.singly.alone):
        if load.about.name not in heavy:
            words = f"{load_words(whole.rig, load)}{moment_words(load)}"
            steps.append(StageStep(words, whole.singly.across(load), load.about.name))
    return Stage(
        "Each circuit, one fuse at a time",
        "A fuse goes in with its loads off: nothing may start but what has no switch or must stay "
        "on, and no other slot may come alive. Then its loads are switched on and the largest of "
        f"them is read; then they are off again.{unfed_words(whole)}",
        tuple(step for step in steps if step.points or step.circuit),
    )


def _is_out(whole: Stages, step: StageStep) -> bool:
    """Whether a step says that nothing goes in yet."""
    return any(map(whole.use.is_out, step.fits))


def _heavy(whole: Stages) -> Stage:
    steps = [
        StageStep(
            on_words(whole.study, load, stand), points, _of(whole, load), circuit=load.circuit
        )
        for load in heavy_loads(whole.study, whole.use.barred)
        for stand, points in whole.singly.in_each(load)
    ]
    return Stage(
        "Heavy loads, each by itself",
        "Only this load is on. Drops are read with both probes on the metal, on the finest range: "
        "what is above its bound is a bad joint: redo it.",
        tuple(step for step in steps if step.points),
    )


@once
def heavy_loads(study: Study, barred: frozenset[str] = frozenset()) -> tuple[Load, ...]:
    """The loads that try joints and feeds, the largest first; at least the largest one of all.

    A start that lasts counts as it draws. Of a circuit with a part that was found damaged the
    largest load is one of them, whatever it draws: what was hot has to be read.
    """
    whole = stages_of(study, barred)
    singly = whole.singly
    known = [load for load in study.rig.loads if load.circuit or load in singly.alone]
    known = [load for load in known if whole.use.is_run(load)]
    known = [load for load in known if not isinstance(load.value, Unknown)]
    known.sort(key=singly.most_a, reverse=True)
    heavy = [load for load in known if singly.most_a(load) >= figure("heavy", "ampere")]
    heavy = heavy or known[:1]
    largest = {load.circuit: load for load in reversed(known)}
    hurt = [largest[one] for one in _damaged(study) if one in largest]
    return tuple(load for load in known if load in heavy or load in hurt)


def _damaged(study: Study) -> Iterator[str]:
    """The places of the circuits with a slot, a device or a wire that was found damaged."""
    index = study.rig.by_name
    for circuit in study.rig.circuits:
        device = study.device(circuit.device)
        wires = (index.conductors[name] for name in (*circuit.wires, *circuit.returns))
        is_hurt = bool(circuit.condition) or any(wire.condition for wire in wires)
        if is_hurt or (device is not None and device.about.condition):
            yield circuit.place


def _of(whole: Stages, load: Load) -> str:
    circuit = whole.study.circuit(load.circuit)
    return (circuit.panel or circuit.place) if circuit is not None else load.about.name
