"""What is sold: the kinds of fuse that are not made small, and gauges or square millimetres."""

import pytest

from helpers.studies import study_from
from rigfolio.books import awg_sizes, metric_sizes
from rigfolio.sizing import sections, sizes

HEAD = 'rig "Bench"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah\nbusbar N1 100 A\n'
MEGA = """fuse F1 100 A mega on B1+
busbar D2 100 A
wire F1.load to D2 10 AWG red 1 ft tag T1
wire N1 to B1- 2 AWG black 3 ft tag T2
"""
LOAD = """load L1 5 A
wire D2 to L1+ 10 AWG red 1 ft tag T3
wire L1- to N1 10 AWG black 1 ft tag T4
"""


@pytest.mark.parametrize(("more", "grown"), [("", {"T1"}), (LOAD, {"T1", "T3", "T4"})])
def test_where_no_smaller_fuse_is_made_the_copper_grows_with_a_load_or_without(
    more: str, grown: set[str]
) -> None:
    # The smallest mega fuse is 100 A. 4 AWG carry 85 A and 2 AWG 115 A with 75 °C insulation
    # (NFPA 70 Table 310.16).
    found = [wire for one in sizes(study_from(HEAD + MEGA + more)) for wire in one.wires]
    changed = {wire.name: wire.fit.text for wire in found if wire.verdict == "change"}
    assert set(changed.values()) == {"2 AWG"}
    assert len(changed) == len(grown)


@pytest.mark.parametrize(
    ("one", "two", "is_metric"),
    [("16 mm2", "16 mm2", True), ("6 AWG", "6 AWG", False), ("16 mm2", "6 AWG", False)],
)
def test_a_wire_that_nobody_has_read_is_sold_as_most_others_are(
    one: str, two: str, is_metric: bool
) -> None:
    # Where as many are of the one as of the other, gauges it is.
    text = f"load L1 5 A\nwire B1+ to L1+ ? red 1 ft, fuse 10 A at B1+\n" \
           f"wire L1- to N1 {one} black 1 ft\nwire N1 to B1- {two} black 1 ft\n"  # fmt: skip
    found = [group for part in sections(study_from(HEAD + text)) for group in part.groups]
    (unread,) = (group for group in found if not hasattr(group.has, "text"))
    assert unread.stock == (metric_sizes() if is_metric else awg_sizes())
