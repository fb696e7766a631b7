"""A part that is complained of is on, whatever else is said to run beside it."""

import pytest

from helpers.home import EXAMPLES
from helpers.studies import checked
from rigfolio.diagnosis.places import MeterPlaces
from rigfolio.reading.logs.meter import read_log

WREN = EXAMPLES / "marsh-wren-17.rig"


@pytest.mark.parametrize(
    ("line", "on"),
    [
        ("Radio flickers, with Pump on", {"Radio", "Pump"}),
        ("Radio resets when Pump runs", {"Radio", "Pump"}),
        ("P1.7 keeps rebooting, with Pump on", {"Radio", "Pump"}),
        ("Pump dim, with Pump and Radio on", {"Radio", "Pump"}),
        ("Radio hot, with all off", set()),
        ("P1.7 = 11.9 V, with Pump on", {"Pump"}),
    ],
)
def test_what_is_complained_of_is_on_beside_what_runs(line: str, on: set[str]) -> None:
    study = checked(WREN).study
    assert study is not None
    log, found = read_log(line, "readings.txt", study.rig)
    assert not found
    names = MeterPlaces(study).loads_on(log.readings[0])
    assert {study.rig.by_name.loads[name].about.label for name in names} == on
