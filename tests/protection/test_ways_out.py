"""The way out of a fuse that wires of several sizes cannot bear.

18 AWG bears 6 A in a travel trailer, 16 AWG 8 A and 14 AWG 15 A: NFPA 70 Table 552.10(E)(1), as it
stands in the book (from memory). Of the blade fuses that are made the largest up to 6 A is 5 A.
"""

from itertools import permutations

import pytest

from rigfolio.judgement.result import check

BAR = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 30 A on B1+
busbar D1 100 A
busbar N1 100 A
splice Z1
splice Z2
load M1 20 A
load M2 3 A
wire F1.load to D1 8 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire D1 to M1+ 8 AWG red 2 ft
wire M1- to N1 8 AWG black 2 ft
wire D1 to Z1 {} red 2 ft
wire Z1 to Z2 {} red 2 ft
wire Z2 to M2+ {} red 2 ft
wire M2- to N1 8 AWG black 2 ft
"""


@pytest.mark.parametrize("sizes", tuple(permutations(("14 AWG", "16 AWG", "18 AWG"))))
def test_a_fuse_for_several_wires_is_one_that_the_thinnest_bears(sizes: tuple[str, ...]) -> None:
    found = check("bench.rig", text=BAR.format(*sizes)).findings
    (one,) = (finding for finding in found if finding.rule == "fuse-over-wire")
    assert one.headline == "30 A fuse, 18 AWG may carry 6 A"
    assert one.fix is not None
    assert one.fix.text.startswith("a fuse of its own, 5 A at most, where")
