"""What must stay on and is dead by its wiring is never called right: by hand, with a finger."""

import pytest

from helpers.kept_pump import PUMP
from helpers.studies import study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.reading.logs.meter import read_log
from rigfolio.reports.terminal import as_text

CHARGER = "charger C1 30 A\nwire C1+ to P1 10 mm2 red 2 m\nwire C1- to N1 10 mm2 black 2 m\n"


def said(place: str, reading: str, more: str = "") -> str:
    study = study_from(PUMP.format(place, "3 A") + more)
    log, problems = read_log(reading, "r", study.rig)
    assert problems == ()
    return " ".join(as_text(diagnosis_report(study, log.readings)).split())


@pytest.mark.parametrize("more", ["", CHARGER])
def test_a_pump_behind_the_open_switch_is_dead_as_wired(more: str) -> None:
    words = said("P1.1", "Bilge pump = 0 V, with P1.1 on, S1 open", more)
    assert "Bilge pump: must stay on, DEAD as wired with switches so" in words
    assert "nothing" not in words


@pytest.mark.parametrize(
    ("place", "reading"),
    [
        # A lamp may go dark; a pump ahead of the switch does not; closed it cuts off none.
        ("P1.1", "Lamp = 0 V, with P1.2 on, S1 open"),
        ("S1.line", "Bilge pump = 24.3 V, with Bilge pump on, S1 open"),
        ("P1.1", "Bilge pump = 0 V, with P1.1 on, S1 closed"),
    ],
)
def test_what_is_not_dead_by_its_wiring_is_not_told_so(place: str, reading: str) -> None:
    assert "DEAD as wired" not in said(place, reading)


STATES = "state stored S1 open\nstate used S1 closed\n"


@pytest.mark.parametrize("reading", ["Bilge pump dead", "P1.1 dead"])
def test_states_in_which_the_wiring_leaves_a_part_dead_are_told(reading: str) -> None:
    words = said("P1.1", reading, STATES)
    assert "as in `stored` the wiring itself leaves Bilge pump dead: write `, in stored`" in words
    assert "the wiring itself" not in said("P1.1", f"{reading}, in used", STATES)
    assert "the wiring itself" not in said("S1.line", "Bilge pump dead", STATES)
