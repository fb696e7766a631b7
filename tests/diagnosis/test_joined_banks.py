"""What joins two banks and does not close: one bank is charged, the other stands as it rests."""

from functools import cache
from itertools import product
from random import Random

import pytest

from helpers.home import EXAMPLES
from helpers.searches import diagnosed
from helpers.studies import checked, heard, study_from
from rigfolio.books import figure
from rigfolio.diagnosis import Diagnosis
from rigfolio.diagnosis.scenes import Scenes
from rigfolio.diagnosis.suspects import suspects
from rigfolio.diagnosis.verdicts import by_part
from rigfolio.isolation import opened, states_of
from rigfolio.network import edge_name
from rigfolio.operating import NOTHING_WRONG, Scene, Wrong
from rigfolio.study import Study

ENDS = {"combiner": ("1", "2"), "relay": ("line", "load"), "switch": ("line", "load"),
        "disconnect": ("line", "load")}  # fmt: skip
SIMPLE = """
rig "Two banks" system 12 V, rules boat
battery B1 "Start" flooded, 100 Ah
battery B2 "House" agm, 100 Ah
alternator A1 70 A, 14.4 V
{kind} K1 "Charge relay" 120 A
busbar N1 100 A
wire A1+ to B1+ 16 mm2 red 2 m, fuse 80 A at B1+
wire A1- to N1 16 mm2 black 2 m
wire B1- to N1 35 mm2 black 1 m
wire B2- to N1 35 mm2 black 1 m
wire W1 B1+ to K1.{one} 25 mm2 red 1 m, fuse 100 A at B1+
wire W2 K1.{two} to B2+ 25 mm2 red 1 m, fuse 100 A at B2+
circuit B2+ "Lamp" fuse 5 A after 10 cm
    wire 1.5 mm2 red 2 m
    load "Lamp" 2 A, 10 h/day
{states}
"""
OPEN = Wrong(ohm=(("K1", 1e7),))


@cache
def simple(kind: str, states: str) -> Study:
    one, two = ENDS[kind]
    return study_from(SIMPLE.format(kind=kind, one=one, two=two, states=states))


@cache
def drawn_rig(seed: int) -> tuple[Study, tuple[str, str]]:
    """Banks of several batteries on both sides of what joins them; the sun on the far one."""
    chance = Random(f"joined {seed}")
    kind = chance.choice(list(ENDS))
    ends = tuple(f"K1.{end}" for end in ENDS[kind])
    near, far = ends if chance.random() < 0.5 else ends[::-1]
    lines = [f'rig "Joined {seed}" system 12 V, rules boat', f'{kind} K1 "Joiner" 150 A',
             "busbar N1 300 A", "busbar D1 300 A", "busbar D2 300 A",
             f"alternator A1 {chance.choice((40, 70, 120))} A, 14.4 V",
             "wire A1+ to D1 16 mm2 red 2 m, fuse 150 A at D1",
             "wire A1- to N1 16 mm2 black 2 m"]  # fmt: skip
    for bar, first in (("D1", 1), ("D2", 5)):
        sort = chance.choice(("flooded", "agm"))
        inside = chance.choice(("", f", internal {chance.randint(3, 12)} mohm"))
        for name in (f"B{first + at}" for at in range(chance.choice((1, 1, 2)))):
            lines += [f"battery {name} {sort}, {chance.choice((80, 100))} Ah{inside}",
                      f"wire {name}+ to {bar} 35 mm2 red 50 cm, fuse 200 A at {name}+",
                      f"wire {name}- to N1 35 mm2 black {chance.randint(1, 3)} m"]  # fmt: skip
    if chance.random() < 0.4:
        lines += ["solar U1 10 A", "wire U1+ to D2 4 mm2 red 2 m, fuse 15 A at D2",
                  "wire U1- to N1 4 mm2 black 2 m"]  # fmt: skip
    lines += [f"wire D1 to {near} 25 mm2 red {chance.randint(1, 3)} m, fuse 125 A at D1",
              f"wire {far} to D2 25 mm2 red {chance.randint(1, 3)} m, fuse 125 A at D2",
              'circuit D2 "Lamp" fuse 5 A after 10 cm', "    wire 1.5 mm2 red 2 m",
              '    load "Lamp" 2 A, 10 h/day',
              "state engine A1 on, K1 closed", "state away A1 off, K1 open"]  # fmt: skip
    return study_from("\n".join(lines)), (near, far)


def places(told: Diagnosis, part: str) -> int:
    """At which place a part by itself is named among those that are named, from 0 on."""
    named = [parts for parts, _ in by_part(told) if parts]
    return named.index((part,)) if (part,) in named else len(named)


def share(told: Diagnosis, part: str) -> float:
    return dict(by_part(told)).get((part,), 0.0)


@pytest.mark.parametrize("kind", ENDS)
@pytest.mark.parametrize(
    "states", ["state engine A1 on, K1 closed\nstate away A1 off, K1 open", "state engine A1 on"]
)
def test_a_joiner_with_one_stud_charged_and_one_at_rest_does_not_close(
    kind: str, states: str
) -> None:
    study, (one, two) = simple(kind, states), ENDS[kind]
    studs = f"K1.{one} = 14.2 V, in engine", f"K1.{two} = 12.4 V, in engine"
    across = (f"K1.{one} to K1.{two} = 1.8 V, in engine",)
    for said in (studs, across, ("House does not charge", *studs)):
        told = diagnosed(study, heard(study.rig, *said))
        assert told.fits, said
        assert share(told, "K1") > 0.8, (said, by_part(told)[:3])
    # At the batteries all on the way between them is as likely.
    told = diagnosed(study, heard(study.rig, "B1 = 14.2 V, in engine", "B2 = 12.4 V, in engine"))
    between = {"K1", "W1", "W1 fuse", "W2", "W2 fuse", "B2-/N1"}
    between |= {"wires behind W1 fuse", "wires behind W2 fuse"}
    assert told.fits
    assert sum(share(told, part) for part in between) > 0.9
    assert places(told, "K1") < (1 if kind in ("combiner", "relay") else 6)
    # 12.4 V are no flat battery: half full at rest.
    assert share(told, "B2") < 0.02


@pytest.mark.parametrize("seed", range(8))
def test_what_joins_banks_and_is_open_is_named_among_the_first_two(seed: int) -> None:
    study, (near, far) = drawn_rig(seed)
    chance = Random(f"read {seed}")
    high, low = 14.0 + 0.4 * chance.random(), 12.2 + 0.4 * chance.random()
    lines = (f"{near} = {high:.2f} V, in engine", f"{far} = {low:.2f} V, in engine")
    for said in (lines, (f"{near} to {far} = {high - low:.2f} V, in engine",)):
        told = diagnosed(study, heard(study.rig, *said))
        assert told.explains
        assert places(told, "K1") < 2, (said, by_part(told)[:4])
    # A bank that takes its charge is no sign of anything.
    lines = (f"{near} = {high:.2f} V, in engine", f"{far} = {high - 0.03:.2f} V, in engine")
    told = diagnosed(study, heard(study.rig, *lines))
    assert share(told, "K1") < 0.1, by_part(told)[:4]


def _joiners() -> list[tuple[str, str, str]]:
    """In the examples: what joins banks, in each state in which it is closed and charges one."""
    found = []
    for file in sorted(EXAMPLES.glob("*.rig")):
        study = checked(file).study
        assert study is not None
        for state, device in product(states_of(study), study.rig.devices):
            closed = edge_name(device) not in opened(study.rig, state).edges
            if device.traits.joins_banks and closed and not study.rig.problems:
                found.append((file.stem, device.about.name, state.name))
    return found


@pytest.mark.parametrize(("name", "joiner", "state"), _joiners())
def test_the_joiners_of_the_examples_are_found_by_their_studs(
    name: str, joiner: str, state: str
) -> None:
    study = checked(EXAMPLES / f"{name}.rig").study
    assert study is not None
    device = next(one for one in study.rig.devices if one.about.name == joiner)
    scene = Scenes(study).of((state, ()), frozenset())
    wrong = Wrong(ohm=((edge_name(device), figure("joint", "open_ohm")),))
    shown = scene.solve(wrong)
    told = []
    for end in (device.line, device.load):
        minus = next(one.minus for one in study.rig.sources if one.stores)
        told.append((end, shown.between_v(end, minus)))
    if abs(told[0][1] - told[1][1]) < 0.3:
        pytest.skip("both banks are charged by themselves")
    lines = [f"{end} = {volts:.2f} V, in {state}" for end, volts in told]
    assert places(diagnosed(study, heard(study.rig, *lines)), edge_name(device)) < 2


@pytest.mark.parametrize("kind", ["combiner", "relay"])
def test_a_joiner_is_named_for_a_bank_that_does_not_charge(kind: str) -> None:
    study = simple(kind, "state engine A1 on, K1 closed")
    told = diagnosed(study, heard(study.rig, "House does not charge"))
    first = [one.faults[0].name for one in told.verdicts if one.touches][:6]
    assert "K1" in first


def _scene(kind: str = "combiner", unsure: frozenset[str] = frozenset()) -> Scene:
    study = simple(kind, "state engine A1 on, K1 closed")
    state = next(one for one in states_of(study) if one.name == "engine")
    return Scene(
        study, opened(study.rig, state), frozenset(), is_stated=True, unsure=unsure
    )  # fmt: skip


@pytest.mark.parametrize(
    ("edge", "ohm", "alike", "charged"),
    [
        ("K1", 0.0, True, True),
        ("K1", 0.04, True, True),
        # Some amperes flow: a state of its own, and a charge.
        ("K1", 0.06, False, True),
        ("K1", 4.0, False, True),
        ("K1", 6.0, False, False),
        # So of what else lies between them, out or back; a lamp's fuse parts none.
        ("W2 fuse", 1e7, False, False),
        ("B2-/N1", 1e7, False, False),
        ("B2+", 1e7, True, True),
    ],
)
def test_what_parts_a_bank_leaves_it_in_a_state_of_its_own(
    edge: str, ohm: float, alike: bool, charged: bool
) -> None:
    scene, wrong = _scene(), Wrong(ohm=((edge, ohm),))
    assert (scene.alike("B2", wrong) == {"B1", "B2"}) is alike
    rests = (figure("rest", "share"), figure("rest", "spread"))
    charges = pytest.approx(_charged())
    assert scene.rest_share("B2", wrong) == (charges if charged else rests)
    assert scene.rest_share("B1", wrong) == charges


def _charged() -> tuple[float, float]:
    """From half full at rest to what an alternator of 14.4 V holds: middle and spread."""
    low = figure("rest", "share") - figure("rest", "spread")
    high = 14.4 / 12.0
    return (low + high) / 2.0, (high - low) / 2.0


def test_a_bank_that_nothing_charges_rests_and_so_does_one_that_is_flat() -> None:
    scene = _scene()
    rests = (figure("rest", "share"), figure("rest", "spread"))
    dead = Wrong(emf=(("A1", 0.0),))
    assert scene.rest_share("B1", dead) == scene.rest_share("B2", dead) == rests
    assert scene.alike("B1", dead) == {"B1", "B2"}
    flat = Wrong(emf=(("B2", 0.9),))
    assert scene.rest_share("B2", flat) == rests != scene.rest_share("B1", flat)
    # What only the sun charges is as likely at rest: both together, by their variances.
    unsure = _scene(unsure=frozenset({"A1"})).rest_share("B1")
    low, high = rests, _charged()
    assert unsure[0] == pytest.approx((low[0] + high[0]) / 2.0)
    deviations = [one[1] / 2.0 for one in (low, high)]
    variance = sum(one**2 for one in deviations) / 2.0 + ((high[0] - low[0]) / 2.0) ** 2
    assert unsure[1] == pytest.approx(2.0 * variance**0.5)


def test_what_a_signal_closes_fails_oftener_where_its_coil_is_not_written() -> None:
    def weight(text: str) -> float:
        study = study_from(text)
        return next(o.weight for o in suspects(study) if (o.kind, o.name) == ("open device", "K1"))

    one, two = ENDS["relay"]
    alone = SIMPLE.format(kind="relay", one=one, two=two, states="")
    coil = (
        'circuit B1+ "Coil" fuse 2 A after 10 cm\n    wire 1 mm2 red 2 m\n'
        '    load "Charge relay coil" 0.2 A\n'
    )
    assert weight(alone) == figure("weight", "signal")
    assert weight(alone + coil) == figure("weight", "switch")
    by_hand = SIMPLE.format(kind="disconnect", one=one, two=two, states="")
    assert weight(by_hand) == figure("weight", "switch")


def test_the_contact_of_a_coil_that_is_dead_parts_the_banks_as_well() -> None:
    one, two = ENDS["relay"]
    text = SIMPLE.format(kind="relay", one=one, two=two, states="") + (
        'circuit B1+ "Coil" fuse 2 A after 10 cm\n    wire 1 mm2 red 2 m\n'
        '    load "Charge relay coil" 0.2 A\nstate engine A1 on, K1 closed\n'
    )
    study = study_from(text)
    scene = Scenes(study).of(("engine", ()), frozenset())
    coil = next(load.about.name for load in study.rig.loads if "coil" in str(load.about))
    dead = Wrong(draws=((coil, 0.0),))
    assert scene.alike("B2", NOTHING_WRONG) == {"B1", "B2"}
    assert scene.alike("B2", dead) == {"B2"}
    shown = scene.solve(dead)
    assert shown.between_v("B2+", "B2-") == pytest.approx(12.0 * figure("rest", "share"), abs=0.02)
    # Read at both studs it is the contact, or what should bring its coil in.
    studs = "K1.line = 14.2 V, in engine", "K1.load = 12.4 V, in engine"
    told = diagnosed(study, heard(study.rig, *studs))
    of_coil = {"K1", coil, *(edge for edge in scene.branch_of if edge.startswith("B1+/Coil"))}
    assert told.fits
    assert sum(share(told, part) for part in of_coil) > 0.8
    assert share(told, "K1") > 0.1
