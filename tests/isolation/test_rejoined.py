"""Batteries side by side that a plan parts are joined again only at equal volts."""

from pathlib import Path

import networkx
import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, study_from
from rigfolio.answers.isolate import isolate_report
from rigfolio.isolation import isolate, rejoin_words, side_by_side_words
from rigfolio.isolation.plans.least_cut import opened_by
from rigfolio.model import Rig
from rigfolio.network import edge_name, parallel_switches
from rigfolio.operating.readings import stages_of
from rigfolio.reports.terminal import as_text
from rigfolio.swap.power import back_on

HEAD = """rig "T"
    system 12 V
busbar N1 200 A
busbar A1 200 A
panel P1 4 slots, negative N1
wire A1 to P1 6 AWG red 3 ft, fuse 50 A at A1
circuit P1.1 "Lamps" fuse 5 A
    wire 16 AWG red 9 ft
    load 1 A
"""


def bank(name: str, facts: str, fuse: str = ", fuse 100 A, class-t at {0}+") -> str:
    return f"battery {name} {facts}, 100 Ah, internal 5 mohm\n" \
        f"wire {name}+ to A1 2 AWG red 2 ft{fuse.format(name)}\n" \
        f"wire {name}- to N1 2 AWG black 2 ft\n"  # fmt: skip


LITHIUM = HEAD + bank("B1", "lithium") + bank("B2", "lithium")
LEAD = HEAD + bank("B1", "flooded") + bank("B2", "flooded")


def words(text: str, place: str) -> str:
    study = study_from(text)
    return rejoin_words(study, isolate(study, place))


def test_the_limit_is_that_of_the_maker_for_lithium() -> None:
    # Lithium battery maker's manual (seen): rested batteries within 0.05 V, strings within 0.2 V.
    assert words(LITHIUM, "B1") == (
        "join B1 and B2 side by side again only when rested and at equal volts, no more than "
        "0.05 V apart (lithium battery maker's manual, rested batteries before they are joined, "
        "seen), or a rush of current flows from one into the other"
    )
    strings = LITHIUM.replace("system 12 V", "system 48 V").replace("lithium,", "lithium, 51.2 V,")
    assert "no more than 0.2 V apart" in words(strings, "B1")


def test_lead_has_no_limit_that_a_source_gives_and_is_told_all_the_same() -> None:
    said = words(LEAD, "B1")
    assert said.startswith(
        "join B1 and B2 side by side again only when rested and at equal volts ("
    )
    assert "apart" not in said


def test_a_plan_that_leaves_them_joined_says_nothing() -> None:
    assert words(LITHIUM, "P1.1") == ""
    assert words(HEAD + bank("B1", "lithium"), "B1") == ""


@pytest.mark.parametrize(
    "joint",
    ["combiner K1 100 A", 'disconnect K1 "Emergency parallel" 100 A, rests open'],
)
def test_what_is_joined_now_and_then_is_no_bank_side_by_side(joint: str) -> None:
    text = HEAD + bank("B1", "lithium") + f"""battery B2 lithium, 100 Ah, internal 5 mohm
{joint}
wire B2+ to K1.2 2 AWG red 2 ft, fuse 100 A, class-t at B2+
wire K1.1 to A1 2 AWG red 2 ft
wire B2- to N1 2 AWG black 2 ft
""".replace("K1.2", "K1.load" if "disconnect" in joint else "K1.2").replace(
        "K1.1", "K1.line" if "disconnect" in joint else "K1.1"
    )  # fmt: skip
    study = study_from(text)
    assert side_by_side_words(study) == ""
    assert words(text, "B1") == ""


def test_of_three_the_one_that_is_parted_is_told_with_those_that_it_joins() -> None:
    text = LITHIUM + bank("B3", "lithium")
    assert words(text, "B3").startswith("join B1, B2 and B3 side by side again")


def test_it_is_told_by_isolate_the_work_plan_and_the_test_sheet() -> None:
    study = study_from(LITHIUM)
    told = words(LITHIUM, "B1")
    said = " ".join(as_text(isolate_report(study, "B1")).split())
    assert f"after its plus lead. J{told[1:]}." in said
    plan = isolate(study, "B1")
    tasks = [task.do for task in back_on(study, plan)]
    assert tasks.count(told) == 1
    # It is read before the step that joins them.
    assert tasks.index(told) < len(tasks) - 1
    assert f"J{told[1:]}." in stages_of(study).feed().about


def reckoned(rig: Rig, opened: frozenset[str], off: frozenset[str]) -> set[frozenset[str]]:
    """The batteries that are joined at both posts, by networkx."""
    net = networkx.Graph()
    net.add_nodes_from(end for one in rig.sources for end in (one.plus, one.minus))
    net.add_edges_from((one.a, one.b) for one in rig.conductors)
    by_hand = parallel_switches(rig)
    net.add_edges_from(
        (one.line, one.load) for one in rig.devices
        if edge_name(one) not in opened and one.about.name not in by_hand
        and not one.traits.joins_banks and not one.traits.selects
    )  # fmt: skip
    on = [one for one in rig.sources if one.stores and one.about.name not in off]
    return {
        frozenset((one.about.name, two.about.name))
        for one in on for two in on
        if one is not two and networkx.has_path(net, one.plus, two.plus)
        and networkx.has_path(net, one.minus, two.minus)
    }  # fmt: skip


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_it_is_told_exactly_where_a_plan_parts_batteries_side_by_side(file: Path) -> None:
    study = checked(file).study
    if study is None:
        return
    none = frozenset[str]()
    for name in [s.about.name for s in study.rig.sources] + [
        p.about.name for p in study.rig.panels
    ]:
        plan = isolate(study, name)
        after = opened_by(study.rig, [step.action for step in plan.steps])
        parted = reckoned(study.rig, none, none) - reckoned(study.rig, after.edges, after.sources)
        said = rejoin_words(study, plan)
        assert bool(said) == bool(parted)
        for pair in parted:
            assert all(one in said for one in pair)
