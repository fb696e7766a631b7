"""What is alike for a meter is told in one order, whatever the last digit of its share."""

import re
from itertools import permutations

from helpers.kept_pump import PUMP
from helpers.studies import heard, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.verdicts import Verdict, told_order
from rigfolio.reports.terminal import as_text


def verdict(name: str, share: float) -> Verdict:
    suspect = Suspect("joint", name, "", 1.0, (0.1,))
    return Verdict((suspect,), share, (0.1,), ((0.1, 0.1),), 0.0, True, ())


def test_equal_shares_are_ordered_by_name_as_people_count():
    alike = [
        verdict("P1.10/1", 0.12),
        verdict("P1.2/1", 0.12 - 3e-8),
        verdict("N1/B1-", 0.12 + 2e-7),
    ]
    for some in permutations([*alike, verdict("Z9", 0.4)]):
        told = [one.faults[0].name for one in sorted(some, key=told_order)]
        assert told == ["Z9", "N1/B1-", "P1.2/1", "P1.10/1"]


def test_what_a_joint_turns_into_heat_does_not_hang_on_which_reading_came_first():
    """2 V at the 3 A of the lamp are 6 W, though nothing runs while all is off."""
    study = study_from(PUMP.format("S1.line", "3 A"))
    read = ("P1 to N1 = 24.8 V, with all off", "Lamp = 22.3 V, with P1.2 on")
    told = [
        re.findall(r"takes ([\d.]+) V at ([\d.]+) A", " ".join(
            as_text(diagnosis_report(study, heard(study.rig, *order))).split()))
        for order in permutations(read)
    ]  # fmt: skip
    assert all(told)
    assert all(float(amperes) > 2.5 for one in told for _, amperes in one)


def test_what_is_measured_next_does_not_hang_on_which_reading_came_first():
    study = study_from(PUMP.format("S1.line", "3 A"))
    read = ("P1 to N1 = 24.8 V, with all off", "Lamp = 22.3 V, with P1.2 on")
    told = {
        " ".join(as_text(diagnosis_report(study, heard(study.rig, *order))).split())
        .partition("Measure next")[2].partition("How likely")[0]
        for order in permutations(read)
    }  # fmt: skip
    assert len(told) == 1
    assert "with Lamp on" in told.pop()
