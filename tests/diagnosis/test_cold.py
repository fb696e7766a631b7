"""A battery that refuses a charge for the cold is a cause wherever `check` warns of the cold."""

from pathlib import Path

import pytest

from helpers.home import CORPUS, RIGS
from helpers.searches import diagnosed
from helpers.studies import heard, studied, study_from
from rigfolio.answers.diagnose import diagnosis_report
from rigfolio.diagnosis.suspects import suspects
from rigfolio.operating import NOTHING_WRONG, Wrong
from rigfolio.reports.terminal import as_text
from rigfolio.rule import rule
from rigfolio.study import Study

RIG = """rig "Frost"
    system 12 V
    rules boat
    coldest {coldest} degC
battery B1 lithium, 12.8 V, 100 Ah, internal 5 mohm{limit}
battery B2 lithium, 12.8 V, 100 Ah, internal 5 mohm{limit}
charger C1 40 A, 14.4 V
busbar N1 200 A
busbar N2 200 A
wire B1+ to N2 35 mm2 red 1 m, fuse 100 A at B1+
wire B2+ to N2 35 mm2 red 1 m, fuse 100 A at B2+
wire B1- to N1 35 mm2 black 1 m
wire B2- to N1 35 mm2 black 1 m
wire C1+ to N2 10 mm2 red 1 m, fuse 50 A at N2
wire C1- to N1 10 mm2 black 1 m
state shore C1 on
"""


def frosty(coldest: int = -5, limit: str = ", no charge below 0 degC") -> Study:
    return study_from(RIG.format(coldest=coldest, limit=limit))


def cold_in(study: Study) -> set[str]:
    return {name for one in suspects(study) if one.kind == "cold" for name in one.banks}


def warned_of(study: Study) -> set[str]:
    _, check, _ = rule("charge-in-cold")
    banks = [each for each in study.rig.sources if each.stores]
    told = [finding.headline for finding in check(study)]
    named = {each.about.name for each in banks}
    return {name for name in named if any(f"`{name}` " in line.partition(":")[0] for line in told)}


@pytest.mark.parametrize("file", [*RIGS, *CORPUS], ids=lambda file: file.stem)
def test_a_battery_may_be_too_cold_wherever_check_warns_of_that(file: Path) -> None:
    study = studied(file)
    assert cold_in(study) == warned_of(study)


@pytest.mark.parametrize("coldest", [-5, 5])
@pytest.mark.parametrize("limit", ["", ", no charge below 0 degC", ", no charge below 10 degC"])
def test_as_the_text_has_it(coldest: int, limit: str) -> None:
    study = frosty(coldest, limit)
    assert cold_in(study) == warned_of(study)
    least = 10 if "10" in limit else 0
    assert bool(cold_in(study)) is (coldest < least)


def test_batteries_of_one_kind_are_cold_at_one_time_and_told_first() -> None:
    study = frosty()
    for said in ("B2 does not charge", "B1 does not charge, in shore"):
        first = diagnosed(study, heard(study.rig, said)).verdicts[0]
        assert [(one.kind, one.banks) for one in first.faults] == [("cold", ("B1", "B2"))]
    # The charger holds its volts at the bar, and nothing flows: nothing but that shows it.
    lines = ("B2 does not charge, in shore", "N2 to N1 = 14.4 V, in shore", "B2 = 14.4 V, in shore")
    told = diagnosed(study, heard(study.rig, *lines))
    assert told.verdicts[0].faults[0].kind == "cold"
    assert told.verdicts[0].share > 0.5
    assert told.fits
    report = as_text(diagnosis_report(study, heard(study.rig, *lines)))
    assert "too cold to take a charge" in report


def test_a_cold_battery_gives_and_takes_nothing() -> None:
    study = frosty()
    (scene,) = diagnosed(study, heard(study.rig, "B2 does not charge, in shore")).evidence.scenes
    wrong = Wrong(no_charge=("B1", "B2"))
    sound, cold = scene.solve(NOTHING_WRONG), scene.solve(wrong)
    # By hand: both take the 40 A of the charger; cold they take none, and the charger holds 14.4 V.
    assert sound.given_a("B1") + sound.given_a("B2") == pytest.approx(-40.0, abs=1.0)
    assert abs(cold.given_a("B1")) + abs(cold.given_a("B2")) < 1e-6
    assert cold.between_v("B2+", "B2-") == pytest.approx(14.4, abs=0.01)
    assert scene.rest_share("B1", wrong) == scene.rest_share("B1")
