"""The way out of a decimal comma is the very figure that was written, with a point."""

import re

import pytest
from hypothesis import given, strategies as st

from helpers.home import EXAMPLES
from helpers.studies import studied
from rigfolio.reading import read_log

RIG = studied(EXAMPLES / "marsh-wren-17.rig").rig
UNITS = ("V", "mV", "A", "mA", "ohm", "kohm")


def offered(line: str) -> list[str]:
    _, problems = read_log(line, "log.txt", RIG)
    (one,) = problems
    assert one.headline == "a decimal comma"
    return re.findall(r"`([^`]*)`", str(one.fix))


@given(
    st.integers(0, 9999),
    st.text("0123456789", min_size=1, max_size=4),
    st.sampled_from(UNITS),
    st.sampled_from(("", "-", "+")),
    st.sampled_from((" ", "")),
)
def test_it_is_offered_as_it_was_written(
    whole: int, part: str, unit: str, sign: str, gap: str
) -> None:
    sign = "" if "ohm" in unit else sign
    first, *others = offered(f"P1.2 = {sign}{whole},{part}{gap}{unit}")
    assert first == f"{sign}{whole}.{part} {unit}"
    assert others == ([f"{sign}{whole}{part} {unit}"] if len(part) == 3 else [])
    for each in (first, *others):
        if unit.endswith(("V", "ohm")):
            log, problems = read_log(f"P1.2 to P1 = {each}", "log.txt", RIG)
            assert not problems
            assert log.readings


def test_of_several_commas_nobody_knows_what_they_part() -> None:
    _, (one,) = read_log("P1.2 = 1,200,000 V", "log.txt", RIG)
    assert one.headline == "commas between digits"


@pytest.mark.parametrize(("line", "first"), [("P1.2 = 20,1 V", "20.1 V"), ("P1.2 = 9,6", "9.6 V")])
def test_one_without_a_unit_has_volts_offered(line: str, first: str) -> None:
    assert offered(line)[0] == first
