"""A wire thinner than any row of the book carries less than the thinnest: at that it is broken.

FAA AC 43.13-1B Table 11-3 has 22 AWG at 5 A, and nothing thinner (from memory): so 24 AWG carries
less than 5 A, and a fuse of 5 A is too large for it.
"""

import pytest

from helpers.studies import study_from
from rigfolio.findings import Severity
from rigfolio.judgement.result import check
from rigfolio.judgement.trial import tried
from rigfolio.protection.guard import guard_of_circuit
from rigfolio.protection.limits import most_of, too_much
from rigfolio.protection.overload import too_much_back
from rigfolio.protection.too_large import is_too_large

HUT = """rig "Hut"
    system 12 V
    rules vehicle
battery B1 flooded, 100 Ah
panel P1 4 slots of 30 A, negative N1
busbar N1 100 A
wire B1+ to P1 6 AWG red 2 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse {fuse} A{found}
    wire {out} red 9 ft
    load "Lamp" 0.5 A
    return {back} white 9 ft
"""


def hut(fuse: str, out: str = "14 AWG", back: str = "14 AWG", found: str = "") -> str:
    return HUT.format(fuse=fuse, out=out, back=back, found=found)


def bound_a() -> float:
    limit = most_of(study := study_from(hut("3", "24 AWG")), study.rig.conductor("P1.1/1"))
    assert limit is not None
    assert limit.is_bound
    return limit.value


@pytest.mark.parametrize(("part", "is_over"), [(0.999, False), (1.0, True), (1.001, True)])
def test_a_fuse_at_the_bound_is_too_large(part: float, is_over: bool) -> None:
    fuse = f"{bound_a() * part:.6g}"
    study = study_from(hut(fuse, "24 AWG"))
    (circuit,), wire = study.rig.circuits, study.rig.conductor("P1.1/1")
    assert bool(too_much(study, wire)) is is_over
    assert is_too_large(study, circuit) is is_over
    assert (guard_of_circuit(study, circuit).why == "over") is is_over
    study = study_from(hut(fuse, back="24 AWG"))
    assert (too_much_back(study, study.rig.conductor("P1.1/1R")) is not None) is is_over


def test_at_a_figure_of_the_table_it_is_not() -> None:
    study = study_from(hut("5", "22 AWG"))
    limit = most_of(study, study.rig.conductor("P1.1/1"))
    assert limit is not None
    study = study_from(hut(f"{limit.value:.12g}", "22 AWG"))
    assert not too_much(study, study.rig.conductor("P1.1/1"))


def test_the_bound_is_told_of_what_was_found_and_as_a_way_out_of_nothing() -> None:
    fuse = f"{bound_a():.6g}"
    found = check("hut.rig", text=hut("1", "24 AWG", found=f", found {fuse} A")).findings
    assert [one.severity for one in found if one.rule == "wrong-fuse-found"] == [Severity.DANGER]
    for one in tried(check("hut.rig", text=hut("10", "24 AWG"))).findings:
        assert f"fuse {fuse} A" not in one.way_out
