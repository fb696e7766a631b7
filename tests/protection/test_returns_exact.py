"""The bound on returns against the exact optimum of generated networks.

What the fuses let through is a set of currents that Kirchhoff's first law and the ratings bound;
what each of them puts on a return follows from the resistances alone. The most of it is a linear
programme, solved here by HiGHS, with shares by numpy: another model, terminal by terminal, without
zones or levels. Copper is that of ASTM B258 wires at one temperature.
"""

import math

import highspy
import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from helpers.studies import numbered_study
from rigfolio.model import Device
from rigfolio.network import ends
from rigfolio.protection.returns import returns_of


@pytest.fixture(scope="session")
def study_of():
    """Reads a text; its wires are called W1, W2, ... in their order."""
    return numbered_study


GAUGES = ["6", "8", "10", "12"]
# Milliohms of 1 ft at 20 °C: 10.371 ohm of a circular mil-foot of copper (from memory), 2 % for
# stranding, over the circular mils of SAE cable in a maker's list. Only their ratios matter here.
OHM = {"6": 0.431, "8": 0.714, "10": 1.132, "12": 1.814}


@st.composite
def rigs(draw):
    """Bars of the minus side in rings, one or two plus sides, batteries, chargers and loads."""
    bars = draw(st.integers(2, 5))
    bar = st.integers(0, bars - 1)
    # A tree holds them together, what comes on top makes rings.
    pairs = [(n, draw(st.integers(0, n - 1))) for n in range(1, bars)]
    more = draw(st.lists(st.tuples(bar, bar), min_size=1, max_size=4))
    pairs += [(one, two) for one, two in more if one != two]
    lines = ['rig "Net"', "    rules rv"]
    lines += [f"busbar R{n}" for n in range(bars)]
    feeds = draw(st.integers(1, 2))
    lines += [f"splice Z{n}" for n in range(feeds)]
    wires = []
    for number, (one, two) in enumerate(pairs):
        gauge, feet = draw(st.sampled_from(GAUGES)), draw(st.integers(1, 9))
        lines.append(f"wire R{one} to R{two} {gauge} AWG white {feet} ft tag T{number}")
        wires.append((one, two, OHM[gauge] * feet))
    place = {}

    def joined(name, word, plus, fuse):
        where = draw(bar)
        place[f"{name}-"] = where
        lines.append(word)
        at = f", fuse {fuse} A at {plus}" if fuse else ""
        lines.append(f"wire {name}+ to {plus} 6 AWG red 1 ft{at}")
        lines.append(f"wire {name}- to R{where} 6 AWG white 1 ft")

    feed = st.integers(0, feeds - 1)
    for number in range(draw(st.integers(1, 2))):
        fuse = draw(st.sampled_from([20, 30, 50]))
        joined(f"B{number}", f"battery B{number} 100 Ah", f"Z{draw(feed)}", fuse)
    for number in range(draw(st.integers(0, 2))):
        limit = draw(st.sampled_from([8, 20, 45]))
        fuse = draw(st.sampled_from([0, 30, 50]))
        joined(f"C{number}", f"charger C{number} {limit} A", f"Z{draw(feed)}", fuse)
    for number in range(draw(st.integers(1, 4))):
        fuse = draw(st.sampled_from([5, 10, 15, 20]))
        joined(f"L{number}", f"load L{number} 1 A", f"Z{draw(feed)}", fuse)
    return "\n".join(lines) + "\n", bars, wires, place


def shares(bars, wires):
    """What 1 A into each bar and out of the first puts on each wire, from its first end on [-]."""
    laplacian = np.zeros((bars, bars))
    for one, two, ohm in wires:
        laplacian[one, one] += 1.0 / ohm
        laplacian[two, two] += 1.0 / ohm
        laplacian[one, two] -= 1.0 / ohm
        laplacian[two, one] -= 1.0 / ohm
    volts = np.zeros((bars, bars))
    volts[1:, 1:] = np.linalg.inv(laplacian[1:, 1:])
    return [[(volts[one, bar] - volts[two, bar]) / ohm for bar in range(bars)]
            for one, two, ohm in wires]  # fmt: skip


def optimum(study, place, share, failed=""):
    """The most, over all that the fuses let through, of what comes back with given shares [A].

    With a charger that has `failed` nothing else takes current, and that one drives none.
    """
    rig = study.rig
    edges = [e for e in (*rig.conductors, *rig.devices) if study.side.get(ends(e)[0]) == "+"]
    columns = []
    for edge in edges:
        one, two = ends(edge)
        most = edge.rating_a if isinstance(edge, Device) else None
        columns.append(({one: -1.0, two: 1.0}, (None if most is None else -most, most), 0.0))
    for source in rig.sources:
        if source.about.name == failed:
            columns.append(({source.plus: -1.0}, (0.0, None), share[place[source.minus]]))
            continue
        cost = share[place[source.minus]]
        # What a source drives leaves the minus side at its own terminal.
        columns.append(({source.plus: 1.0}, (0.0, source.limit_a), -cost))
        if source.stores and not failed:
            columns.append(({source.plus: -1.0}, (0.0, None), cost))
    for load in (one for one in rig.loads if not failed and study.side.get(one.plus) == "+"):
        columns.append(({load.plus: -1.0}, (0.0, None), share[place[load.minus]]))
    nodes = dict.fromkeys(node for into, _, _ in columns for node in into)
    solver = highspy.Highs()
    # One process has one pool of threads, of the size that its first solver asked for.
    solver.setOptionValue("threads", 1)
    solver.silent()
    # A battery that drives into itself puts nothing on any wire: that is kept finite.
    far = 1e4
    amounts = [
        solver.addVariable(
            lb=-far if low is None else low, ub=far if high is None else high, obj=gain
        )
        for _, (low, high), gain in columns
    ]
    for node in nodes:
        held = [
            amount * into[node]
            for amount, (into, _, _) in zip(amounts, columns, strict=True)
            if node in into
        ]
        solver.addConstr(solver.qsum(held) == 0.0)
    solver.changeObjectiveSense(highspy.ObjSense.kMaximize)
    solver.run()
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return solver.getInfo().objective_function_value


@settings(max_examples=100)
@given(rigs())
def test_the_bound_is_the_exact_optimum(study_of, drawn):
    text, bars, wires, place = drawn
    study = study_of(text)
    returns = returns_of(study)
    for number, share in enumerate(shares(bars, wires)):
        back = returns[f"T{number}"]
        back_and_forth = (share, [-one for one in share])
        exact = max(optimum(study, place, one) for one in back_and_forth)
        if all(abs(abs(one) - round(abs(one))) < 1e-9 for one in share):
            # The one way between two parts of the minus side: a charger may fail behind it.
            chargers = [s.about.name for s in study.rig.sources if not s.stores]
            found = (optimum(study, place, o, c) for o in back_and_forth for c in chargers)
            exact = max([exact, *found])
        assert back.current_a >= exact * 0.99 - 1e-6, number
        assert back.current_a <= exact * 1.01 + 1e-6, number


@settings(max_examples=40)
@given(rigs(), st.data())
def test_nothing_that_can_flow_is_above_the_bound(study_of, drawn, data):
    """Kirchhoff's laws with loads of any size that their fuses bear, from one source or several."""
    text, bars, wires, place = drawn
    study = study_of(text)
    returns = returns_of(study)
    into = np.zeros(bars)
    for load in study.rig.loads:
        drive = [s for s in study.rig.sources if s.plus in study.net.walk([load.plus])]
        if not drive:
            continue
        by = data.draw(st.sampled_from(drive))
        # One load at a time stays within every fuse on its way; several would have to share them.
        fuses = [d.rating_a for d in study.rig.devices
                 if d.load in (load.plus, by.plus) or d.line in (load.plus, by.plus)
                 or load.about.name in d.about.name]  # fmt: skip
        path = study.net.walk([by.plus])
        fuses += [e.rating_a for e in _edges(path, load.plus) if isinstance(e, Device)]
        most = min([*fuses, by.limit_a or math.inf])
        into[:] = 0.0
        into[place[load.minus]] += most
        into[place[by.minus]] -= most
        for number, share in enumerate(shares(bars, wires)):
            flows = abs(float(np.dot(share, into)))
            assert flows <= returns[f"T{number}"].current_a * 1.01 + 1e-6


def _edges(back, terminal):
    step = back.get(terminal)
    while step is not None:
        yield step[0]
        step = back.get(step[1])


def test_an_unknown_length_is_neither_a_current_nor_nothing(study_of):
    text = (
        'rig "Net"\n    rules rv\nbattery B1 100 Ah\nbusbar R1\nload L1 1 A\n'
        "wire B1+ to L1+ 6 AWG red 1 ft, fuse 50 A at B1+\n"
        "wire L1- to R1 6 AWG white 1 ft\n"
        "wire R1 to B1- 16 AWG white 1 ft\nwire R1 to B1- 6 AWG white ? ft\n"
    )
    returns = returns_of(study_of(text))
    assert returns["W3"].maybe
    assert returns["W3"].current_a == 0.0
    assert returns["W2"].current_a == pytest.approx(50.0)
