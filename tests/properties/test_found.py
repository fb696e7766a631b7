"""A wire that was found counts as if it were the one of the text, for all that copper does.

What belongs there is not there yet: until it is pulled, volts, heat, starts, shorts and readings
are those of what was found. Only what has to guard a wire looks at both.
"""

from collections.abc import Iterator

import pytest
from hypothesis import event, given, settings, strategies as st

from helpers.studies import study_from
from rigfolio.answers.demand import demand_report
from rigfolio.figures import calculation_report
from rigfolio.findings import Span
from rigfolio.judgement.result import check
from rigfolio.judgement.trial import tried
from rigfolio.operating import short_stages, stages
from rigfolio.record import replace
from rigfolio.reports import Report
from rigfolio.rule import judge, rule
from rigfolio.study import Study
from rigfolio.swap.held import barred
from rigfolio.swap.roof import roof_stages
from rigfolio.units import Size

HUT = """rig "Hut"
    system 12 V
    rules {book}
battery B1 flooded, 100 Ah, internal 8 mohm
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
chassis G1
wire B1- to G1 {bond} bare 2 ft
wire B1+ to P1 {feed} red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Heater" breaker 15 A, interrupts 3 kA
    wire {run} red 34 ft
    load "Heater" {load}
"""

STARTS = "2.5 A, starts at 10 times for 3 min"
UNLIKE = {"found", "sections", "carries"}
"""What a report says of what guards wires, and that some were found."""


def hut(
    run: str = "10 AWG", feed: str = "6 AWG", bond: str = "6 AWG", book: str = "rv",
    load: str = "5 A",
) -> str:  # fmt: skip
    return HUT.format(run=run, feed=feed, bond=bond, book=book, load=load)


def test_a_thin_wire_that_was_found_loses_its_own_volts() -> None:
    """16 AWG: 4.09 ohm for 1000 ft at 20 °C by ASTM B258, so 68 ft of it lose 1.39 V at 5 A cold.

    In use it is warmer; the hottest that its insulation bears is 60 °C, at which copper has 1.157
    times the resistance (IEC 60028, 0.00393 a kelvin; both from memory). Strands add some.
    """
    (drop,) = (one for one in check("hut.rig", text=hut("10 AWG, found 16 AWG")).findings
               if one.rule == "voltage-drop")  # fmt: skip
    lost_v = dict(drop.numbers)["drop_v"]
    assert 5 * 0.00409 * 68 < lost_v < 1.157 * 1.06 * 5 * 0.00409 * 68 + 0.1
    assert drop.way_out == "pull 10 AWG for `P1.1/1`, as the text has it"
    assert not [one for one in check("hut.rig", text=hut("10 AWG")).findings
                if one.rule == "voltage-drop"]  # fmt: skip


@pytest.mark.parametrize(
    ("sizes", "named"),
    [
        ({"run": "10 AWG, found 16 AWG"}, "voltage-drop"),
        ({"run": "10 AWG, found 14 AWG", "load": STARTS}, "start-heats-wire"),
        ({"run": "? AWG, found 16 AWG"}, "voltage-drop"),
        ({"bond": "6 AWG, found 12 AWG"}, "chassis-bond-thin"),
    ],
)
def test_what_the_wire_that_is_there_does_is_told(sizes: dict[str, str], named: str) -> None:
    assert named in {one.rule for one in check("hut.rig", text=hut(**sizes)).findings}


def test_a_way_out_that_asks_for_thicker_wire_is_tried_as_if_it_were_pulled() -> None:
    """14 AWG loses too much as well, so the text has to say more; then only the pulling is left."""
    text = hut("14 AWG, found 16 AWG").replace("34 ft", "45 ft")
    (drop,) = (one for one in tried(check("hut.rig", text=text)).findings
               if one.rule == "voltage-drop")  # fmt: skip
    assert drop.way_out.startswith("`12 AWG`")
    again = check("hut.rig", text=text.replace("14 AWG", "12 AWG"))
    (drop,) = (one for one in again.findings if one.rule == "voltage-drop")
    assert drop.way_out == "pull 12 AWG for `P1.1/1`, as the text has it"


SIZES = ["4 AWG", "6 AWG", "10 AWG", "14 AWG", "16 AWG", "18 AWG", "22 AWG", "1.5 mm2"]


def _as(study: Study, number: int, found: Size, *, is_plain: bool) -> Study:
    """The rig with other copper on one line: as the text says it, or only found there."""
    line = study.rig.conductors[number].span
    change = {"size" if is_plain else "found": found}
    wires = (replace(one, **change) if one.span == line else one for one in study.rig.conductors)
    return Study(replace(study.rig, conductors=tuple(wires)), study.book.name)


def _told(study: Study) -> set[tuple[str, str, Span]]:
    """What is said of a rig by its wires as they are."""
    return {
        (one.rule, one.headline, one.at.span)
        for one in judge(study)
        if not rule(one.rule)[0].of_plan
    }


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_found_is_as_if_it_were_what_the_text_says(data: st.DataObject) -> None:
    run, feed, bond, other = (data.draw(st.sampled_from(SIZES)) for _ in range(4))
    book = data.draw(st.sampled_from(["rv", "boat", "vehicle"]))
    study = study_from(hut(run, feed, bond, book, STARTS))
    number = data.draw(st.integers(0, len(study.rig.conductors) - 1))
    size = study_from(hut(other)).rig.conductor("P1.1/1").size
    assert isinstance(size, Size)
    one, two = (_as(study, number, size, is_plain=each) for each in (True, False))
    event(f"something more is said: {bool(_told(one) - _told(study))}")
    assert _told(one) <= _told(two)
    # What stays out is judged by both wires, as all that guards one; the rest is read alike.
    assert barred(one) <= barred(two)
    for out in (barred(one), barred(two)):
        assert short_stages(one, out) == short_stages(two, out)
        assert stages(one, out) == stages(two, out)
    assert roof_stages(one) == roof_stages(two)
    for report in (demand_report, calculation_report):
        figures = [list(_figures(report(each))) for each in (one, two)]
        assert figures[0] == figures[1]


def _figures(report: Report) -> Iterator[object]:
    for part in report.parts:
        if not {getattr(part, "key", ""), getattr(part, "name", "")} & UNLIKE:
            yield part
