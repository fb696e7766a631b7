"""A plan read as what it is, one step after the other: nothing that runs loses a wire, and what was
switched off comes back once, after the readings that want it off.

What runs and what a wire serves is worked out here anew, by a general graph library.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest
from hypothesis import given, settings

from helpers.forgotten import cache
from helpers.home import EXAMPLES, RIGS
from helpers.studies import checked
from helpers.work_rigs import GENERATED
from rigfolio.folio.versions import compared
from rigfolio.isolation import Open, isolate, source_reach, step_words
from rigfolio.judgement.result import Result, check, understood
from rigfolio.model import Load, Source
from rigfolio.network import edge_name
from rigfolio.study import Study
from rigfolio.swap.changed import work_since
from rigfolio.swap.held import not_on_words
from rigfolio.swap.plan import work
from rigfolio.swap.power import CHARGING, Task, WorkPart, chargers
from rigfolio.swap.site import Site
from rigfolio.wording import called

EVERY = sorted([*RIGS, *(EXAMPLES / "faulty").glob("*.rig")])


class _Site:
    """A rig as somebody stands before it: what is off or open, and what hangs on which wire."""

    def __init__(self, study: Study) -> None:
        self.study, self.rig = study, study.rig
        self.off: set[str] = set()
        self.whole = networkx.MultiGraph()
        for edge in (*self.rig.conductors, *self.rig.devices):
            one, two = (edge.a, edge.b) if hasattr(edge, "a") else (edge.line, edge.load)
            self.whole.add_edge(one, two, key=edge_name(edge))
        self.pieces = _pieces(self.whole)

    def runs(self, part: Load | Source) -> bool:
        """Whether current may flow in a part as things stand."""
        if part.about.name in self.off:
            return False
        state = Open(
            frozenset(edge_name(d) for d in self.rig.devices if d.about.name in self.off),
            frozenset(s.about.name for s in self.rig.sources if s.about.name in self.off),
        )
        alive = source_reach(self.study).alive(state)
        if isinstance(part, Source):
            return part.about.name in alive.get(part.plus, ())
        return part.plus in alive

    def hangs_on(self, wire: str) -> Iterator[Load | Source]:
        """The loads and chargers that a battery serves by a wire and by nothing beside it."""
        ends = next((w.a, w.b) for w in self.rig.conductors if w.name == wire)
        if not self.whole.has_edge(*ends, key=wire):
            return
        self.whole.remove_edge(*ends, key=wire)
        less = _pieces(self.whole)
        self.whole.add_edge(*ends, key=wire)
        inlets = {source.inlet for source in self.rig.sources}
        loads = [load for load in self.rig.loads if load.about.name not in inlets]
        for bank in (source for source in self.rig.sources if source.stores):
            for part in (*loads, *(s for s in self.rig.sources if not s.stores)):
                pairs = ((part.plus, bank.plus), (part.minus, bank.minus))
                if all(_joined(self.pieces, *pair) for pair in pairs) and not all(
                    _joined(less, *pair) for pair in pairs
                ):
                    yield part


def _pieces(graph: networkx.MultiGraph) -> dict[str, int]:
    """The number of the piece of a graph that each terminal lies in."""
    pieces = enumerate(networkx.connected_components(graph))
    return {terminal: number for number, piece in pieces for terminal in piece}


def _joined(pieces: dict[str, int], one: str, two: str) -> bool:
    return one == two or (one in pieces and pieces[one] == pieces.get(two))


def play(was: Study, now: Study, parts: tuple[WorkPart, ...]) -> list[Task]:
    """Do a plan step by step and hold each against the rig; the steps that lift something."""
    site = _Site(was)
    kept_off = set(chargers(now))
    lifting = []
    is_told = any("NOT ENOUGH" in task.do for part in parts for task in part.tasks)
    for part in parts:
        if part.title == CHARGING:
            kept_off = set()
        for task in part.tasks:
            assert not site.off.intersection(task.off), f"off twice: {task.do}"
            site.off |= set(task.off)
            assert site.off.issuperset(task.on), f"on again and was not off: {task.do}"
            site.off -= set(task.on)
            lifting += [task] if task.lifts else []
            for wire in task.lifts if not is_told else ():
                running = [p.about.name for p in site.hangs_on(wire) if site.runs(p)]
                assert running == [], f"{wire} comes off under {running}"
            if part.title.startswith(("Live: ", "Bring it back")) and "read" in task.see:
                assert kept_off <= site.off, f"{kept_off - site.off} runs while this is read"
    index = now.rig.by_name
    left = {name for name in site.off if name in index.sources or name in index.devices}
    # What a danger keeps off is told as that, and is all that is left.
    assert all(not_on_words(now, name) for name in left), left
    told = " ".join(task.do for part in parts for task in part.tasks)
    for name in left:
        part = index.sources.get(name) or index.devices[name]
        words = not_on_words(now, name)
        assert f"{called(name, part.about.label)}: {words}" in told or f"{name}: {words}" in told
    return lifting


@pytest.mark.parametrize("file", EVERY, ids=lambda file: file.stem)
def test_the_plan_of_a_panel(file: Path) -> None:
    study = checked(file).study
    if study is None:
        assert file.parent.name == "faulty"
        return
    for panel in study.rig.panels:
        circuits = [c for c in study.rig.circuits if c.panel == panel.about.name]
        lifting = play(study, study, work(study, panel.about.name))
        assert len(lifting) >= len(circuits)


@settings(max_examples=15)
@given(GENERATED)
def test_the_plan_of_any_panel(text: str) -> None:
    study = check("any.rig", text=text).study
    assert study is not None
    for panel in study.rig.panels:
        play(study, study, work(study, panel.about.name))


def versions(file: Path) -> Iterator[tuple[str, Result, Result]]:
    """A rig against itself without one of its parts, and the other way round.

    What is found in them has no part in a plan, and is not asked.
    """
    text = file.read_text(encoding="utf-8")
    every = re.split(r"^(?=\S)", text, flags=re.MULTILINE)
    parts = [one for one in every if re.match(r"(?!rig|state|#|photo|note|ac )\w", one)]
    whole = understood(str(file), text=text, instead={})
    assert whole.study is not None
    for gone in parts[:: max(1, len(parts) // 7)]:
        less = understood(str(file), text=text.replace(gone, "", 1), instead={})
        if less.study is not None:
            yield f"without {gone}", whole, less
            yield f"with {gone}", less, whole


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_plan_of_what_comes_and_goes(file: Path) -> None:
    tried = 0
    for _, was, now in versions(file):
        assert was.study is not None
        assert now.study is not None
        _, again = compared(was, now)
        play(was.study, now.study, work_since(now.study, again))
        tried += 1
    assert tried >= 6


SHARED = """\
rig "Two on a post"
    rules vehicle
    system 12 V
battery B1 "Bank" agm, 90 Ah, internal 5 mohm
alternator A1 "Alternator" 60 A
dc-dc D1 "Charger from the engine" 20 A from 12 V to 12 V
battery B2 "Starter" agm, 70 Ah, internal 5 mohm
panel P1 "Panel" 4 slots of 20 A, negative N1
busbar N1 "Minus bar" 100 A
wire B2+ to D1.in 10 AWG red 3 ft, fuse 30 A at B2+
wire D1.out to B1+ 10 AWG red 3 ft, fuse 30 A at B1+
wire A1+ to B2+ 2 AWG red 3 ft, fuse 80 A at B2+
wire A1- to B2- 2 AWG black 3 ft
wire D1- to N1 10 AWG black 3 ft
wire B2- to B1- 4 AWG black 3 ft, tag M2
wire B1+ to P1 10 AWG red 3 ft, fuse 30 A at B1+
wire N1 to B1- 10 AWG black 3 ft, tag M1
circuit P1.1 "Lamp" fuse 5 A
    wire 14 AWG red 8 ft
    load "Lamp" 2 A
"""


@cache
def shared() -> Study:
    study = check("shared.rig", text=SHARED).study
    assert study is not None
    return study


def test_engine_and_converter_stand_still_before_a_minus_wire_is_lifted() -> None:
    tasks = [task for part in work(shared(), "P1") for task in part.tasks]
    lifted = next(at for at, task in enumerate(tasks) if "M1" in task.lifts)
    for name in ("A1", "D1"):
        off = next(at for at, task in enumerate(tasks) if name in task.off)
        on = next(at for at, task in enumerate(tasks) if name in task.on)
        assert off < lifted < on


def test_both_wires_on_a_post_are_named() -> None:
    study = shared()
    lead = next(step for step in isolate(study, "B1").steps if step.action.kind == "lead")
    assert lead.action.part == "B1"
    assert "lift both wires on its minus post (B1−), M2, M1, and tape each" in step_words(
        study, lead
    )
    one = next(file for file in RIGS if "kittiwake" in file.stem)
    kittiwake = checked(one).study
    assert kittiwake is not None
    words = [step_words(kittiwake, step) for step in isolate(kittiwake, "B2").steps]
    assert any("B2 House bank: lift the minus lead (B2−) and tape it" in each for each in words)


def test_what_is_off_needs_no_fuse_drawn_beside_it() -> None:
    # The charger from the engine is switched off: its fuse at B1 may stay.
    opened = {name for part in work(shared(), "P1") for task in part.tasks for name in task.off}
    assert {"A1", "D1"} <= opened
    assert not any(name.startswith("B1+/D1.out") for name in opened)


def test_what_is_replaced_is_made_dead_at_its_input_too() -> None:
    was = check("shared.rig", text=SHARED)
    now = check("shared.rig", text=SHARED.replace("20 A from 12 V", "30 A from 12 V"))
    assert now.study is not None
    _, again = compared(was, now)
    site = Site(now.study, again)
    assert {work.before for work in site.hands_on} == {"D1"}
    # By hand: what feeds it lands on D1.in, what it gives leaves by D1.out.
    assert set(site.ends) == {"D1.in", "D1.out"}
    assert {*site.lifted_by(site.hands_on[0])} == {"B2+/D1.in", "B1+/D1.out", "D1-/N1"}


def test_a_battery_that_is_replaced_parts_from_the_fuses_on_its_post() -> None:
    was = check("shared.rig", text=SHARED)
    now = check("shared.rig", text=SHARED.replace("agm, 90 Ah", "agm, 120 Ah"))
    assert now.study is not None
    _, again = compared(was, now)
    site = Site(now.study, again)
    (work,) = site.hands_on
    # By hand: two wires land on its minus post, two by fuses that sit on its plus post.
    assert {*site.lifted_by(work)} == {"M1", "M2", "B1+/D1.out", "B1+/P1"}
    (task,) = (
        task for part in work_since(now.study, again) for task in part.tasks
        if task.do.startswith("B1 Bank: capacity")
    )  # fmt: skip
    assert {*task.lifts} == {"M1", "M2", "B1+/D1.out", "B1+/P1"}
