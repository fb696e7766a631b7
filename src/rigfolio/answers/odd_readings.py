"""Readings that are not as expected, told to whoever writes them down."""

from collections.abc import Iterable, Iterator, Sequence

from rigfolio.answers.logbook import doubts
from rigfolio.diagnosis import Evidence, Scenes, dead_as_wired, parted, roof_of
from rigfolio.isolation import states_of
from rigfolio.model import Reading
from rigfolio.operating import DEAD_AS_WIRED, MeterPoint, bounds_words, probed
from rigfolio.study import Study, as_fitted
from rigfolio.swap import every_stage, is_off, point_of, sheet_stages
from rigfolio.units import show_between


def odd_words(study: Study, readings: Sequence[Reading]) -> tuple[str, ...]:
    """What is not as expected of some readings, a line each; they are kept all the same.

    Volts that no source can give are told by `doubts`, and not again.
    """
    there, others = parted(study, [one for one in readings if one.measure != "symptom"])
    others = tuple(one for one in others if not doubts(study, (one,)))
    scenes = Scenes(as_fitted(study))
    words = (each for one in others for each in _of(study, one, scenes))
    return (*_of_roof(study, there), *words)


def _of_roof(study: Study, readings: Sequence[Reading]) -> Iterator[str]:
    for one in readings:
        (read,) = roof_of(study, (one,)).read
        if read.expected is None:
            continue
        low, high = read.expected
        if not low <= one.value <= high:
            unit = "V" if one.measure == "voltage" else "A"
            swapped = ": red and black, or plus and minus, are swapped"
            turned = swapped if one.value < 0.0 < low else ""
            yield _words(one, f"{show_between(low, high, unit)} by day{turned}")


def _of(study: Study, reading: Reading, scenes: Scenes) -> Iterator[str]:
    stages = (*sheet_stages(study), *every_stage(study))
    evidence = Evidence(scenes.study, (reading,), scenes)
    if dead_as_wired(evidence):
        yield f"`{reading.text}`: must stay on, and is {DEAD_AS_WIRED}: mend the wiring first"
        return
    points = [point_of(reading, stages)]
    if points == [None]:
        points = list(_points(evidence))
    known = [one for one in points if one is not None]
    if not known or not all(is_off(one, reading.value) for one in known):
        return
    # To work out what charges takes as long as all else: few readings come this far.
    if all(is_off(one, reading.value) for one in _charged(evidence)):
        yield _words(reading, " or ".join(dict.fromkeys(map(bounds_words, known))))


def _points(evidence: Evidence) -> Iterable[MeterPoint | None]:
    """What a sound rig shows there: with what is said to be on, or with its loads on and off."""
    (probe,) = evidence.numeric
    reading, (scene,) = probe.reading, evidence.scenes
    scenes = [scene]
    if reading.on is None and reading.at_a is None:
        standing = (reading.state or evidence.running, reading.set_to)
        scenes.append(evidence.scene(standing, frozenset()))
    return [probed(one, reading, probe.a, probe.b) for one in scenes]


def _charged(evidence: Evidence) -> Iterator[MeterPoint]:
    """What is shown while something charges, where nobody said that it does not."""
    (probe,) = evidence.numeric
    reading, (scene,) = probe.reading, evidence.scenes
    if reading.measure != "voltage" or reading.state:
        return
    for state in states_of(evidence.study):
        charging = evidence.scene((state.name, reading.set_to), scene.on)
        shown = probed(charging, reading, probe.a, probe.b)
        if shown is not None and shown.low > 1.0:
            yield shown


def _words(reading: Reading, expected: str) -> str:
    return (
        f"`{reading.text}`: expected {expected}; kept as it is: read it again, and ask "
        "`rigfolio diagnose` if it stays so"
    )
