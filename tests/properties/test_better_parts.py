"""What must hold of any rig: better parts never make it worse, and nothing hides behind `?`."""

import re

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import FAULTY
from helpers.studies import checked, found_by
from rigfolio.books.conductors import awg_sizes
from rigfolio.books.loader import book_names, load_book
from rigfolio.demand.drop import drops_of
from rigfolio.findings import RANK, Severity
from rigfolio.judgement.result import understood
from rigfolio.protection.exposure import exposures_of
from rigfolio.protection.inflow import reach_of
from rigfolio.protection.limits import limit_in, limit_of
from rigfolio.rule import judge
from rigfolio.units import Size

GAUGES = ["18", "16", "14", "12", "10", "8", "6", "4"]
FUSES = [3, 5, 10, 15, 20, 30, 40]

branches = st.lists(
    st.tuples(
        st.sampled_from(FUSES), st.sampled_from(GAUGES), st.sampled_from(GAUGES),
        st.integers(5, 300), st.sampled_from([0.5, 2, 6, 12]),
    ),
    min_size=1, max_size=4,
)  # fmt: skip
rigs = st.tuples(
    st.sampled_from([0, 20, 40, 60]), st.sampled_from(GAUGES), st.integers(5, 60), branches
)


def written(rig):
    """A radial rig: battery, perhaps a main fuse, a panel, circuits that step down in size."""
    main, feeder, inches, circuits = rig
    lines = ['rig "Any"', "    system 12 V", "    rules rv", "battery B1 flooded, 100 Ah",
             "panel P1 6 slots of 40 A", "busbar N1 200 A",
             f"wire B1+ to P1 {feeder} AWG red {inches} in tag FEED"
             + (f", fuse {main} A at B1+" if main else ""),
             "wire N1 to B1- 4/0 AWG white 3 ft tag BACK"]  # fmt: skip
    for number, (fuse, first, second, length, draws) in enumerate(circuits, 1):
        lines += [f'circuit P1.{number} "Circuit" fuse {fuse} A',
                  f"    wire {first} AWG blue {length} in",
                  f"    splice J{number}",
                  f"    wire {second} AWG blue {length} in",
                  f'    load "Load" {draws} A']  # fmt: skip
    return "\n".join(lines) + "\n"


def exposed(study):
    return {exposure.wire.name for exposure in exposures_of(study)}


@settings(settings.get_profile("study"))
@given(rig=rigs, data=st.data())
def test_a_smaller_fuse_never_exposes_a_wire(study_of, rig, data):
    main, feeder, inches, circuits = rig
    before = exposed(study_of(written(rig)))
    smaller = [(data.draw(st.sampled_from([f for f in FUSES if f <= fuse])), *rest)
               for fuse, *rest in circuits]  # fmt: skip
    less = data.draw(st.sampled_from([f for f in (20, 40, 60) if f <= main])) if main else 0
    assert exposed(study_of(written((less, feeder, inches, smaller)))) <= before


@settings(settings.get_profile("study"))
@given(rig=rigs, joint=st.sampled_from(["P1", "J1"]), kind=st.sampled_from([
    "battery S1 flooded, 50 Ah", "charger S1 30 A", "solar S1 10 A",
    "turbine S1 10 A"]))  # fmt: skip
def test_one_more_source_never_protects_a_wire(study_of, rig, joint, kind):
    text = written(rig)
    more = f"{kind}\nwire S1+ to {joint} 4 AWG red 3 ft tag MORE\nwire S1- to N1 4 AWG white 3 ft\n"
    before = exposed(study_of(text))
    after = exposed(study_of(text + more))
    assert before <= after


@settings(settings.get_profile("study"))
@given(rig=rigs, data=st.data())
def test_more_copper_never_drops_more(study_of, rig, data):
    main, feeder, inches, circuits = rig

    def thicker(gauge):
        return data.draw(st.sampled_from(GAUGES[GAUGES.index(gauge) :]))

    better = [(fuse, thicker(first), thicker(second), length, draws)
              for fuse, first, second, length, draws in circuits]  # fmt: skip
    one = study_of(written(rig))
    two = study_of(written((main, thicker(feeder), inches, better)))
    for load, same in zip(one.rig.loads, two.rig.loads, strict=True):
        before, after = drops_of(one).of(load), drops_of(two).of(same)
        assert before is not None
        assert after is not None
        assert after.volts <= before.volts * (1.0 + 1e-12)


@settings(settings.get_profile("study"))
@given(rig=rigs)
def test_what_is_not_exposed_lets_no_more_in_than_it_bears_or_is_short(study_of, rig):
    study = study_of(written(rig))
    named = exposed(study)
    for wire in study.rig.conductors:
        limit = limit_of(study, wire)
        if limit is None or study.side.get(wire.a) != "+" or wire.name in named:
            continue
        most = max(inflow.current_a for inflow in reach_of(study).inflows(wire))
        short = isinstance(wire.length_m, float) and wire.length_m <= 18 * 0.0254 + 1e-9
        assert most <= limit.value or short


NUMBER = re.compile(
    r"(?<![\w./-])\d+(?:\.\d+)?(?:/0)?(?= (?:AWG|A|ft|in|W|V|Ah|mm2|m|mm|ohm|degC)(?![\w]))"
)


def unknowns(file):
    """A faulty example with each of its numbers made unknown, one at a time."""
    text = file.read_text(encoding="utf-8")
    for found in NUMBER.finditer(text):
        line = text[text.rfind("\n", 0, found.start()) + 1 : found.start()]
        if "#" not in line:
            yield found.start(), text[: found.start()] + "?" + text[found.end() :]


@pytest.mark.parametrize("file", FAULTY, ids=lambda file: file.stem)
def test_an_unknown_never_makes_a_faulty_rig_quiet(file):
    changed = list(unknowns(file))
    assert changed
    spoke = {one.rule for one in checked(file).findings}
    for at, text in changed:
        study = understood(str(file), text=text).study
        around = text[text.rfind("\n", 0, at) + 1 : text.find("\n", at)]
        assert study is not None, around
        assert is_told(study, spoke), around


def is_told(study, spoke):
    """Whether `check` would end with 1; it is asked of the rules that spoke before, if they do."""
    is_plain = not (study.reversed_source or study.open_poles or study.rig.accepted)
    return (is_plain and any(map(is_grave, found_by(spoke, study)))) or any(
        is_grave(one) and not one.accepted for one in judge(study)
    )


def is_grave(one):
    return RANK[one.severity] <= RANK[Severity.UNKNOWN]


@pytest.mark.parametrize("book", book_names())
def test_a_metric_wire_of_a_gauge_s_copper_bears_the_same(study_of, book):
    study = study_of(written((40, "6", 10, [(5, "14", "14", 20, 2)])), book)
    wire = study.rig.conductors[0]
    for size in awg_sizes():
        same = Size("as much copper", size.area_m2)
        one, two = limit_in(study, wire, size), limit_in(study, wire, same)
        assert (one is None) == (two is None)
        if one is not None and two is not None:
            assert one.value == two.value
    assert load_book(book).name == book
