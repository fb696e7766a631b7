"""One lamp behind a fuse and a panel, for sums that are done by hand."""

from helpers.studies import study_from
from rigfolio.study import Study

LAMP = """rig "One lamp"
    system 12 V
    rules vehicle
    ambient 40 degC
    insulation 105 degC
battery B1 flooded, 100 Ah, {inside}
chassis G1
panel P1 6 slots of 20 A
busbar N1 100 A
fuse F1 60 A {main} on B1+
wire F1.load to P1 10 mm2 2 m
wire N1 to B1- 10 mm2 2 m
wire G1 to N1 10 mm2 1 m
circuit P1.1 "Lamp" fuse 10 A
    wire 1.5 mm2 5 m
    load "Lamp" 2 A
    return 1.5 mm2 5 m
"""
# IEC 60228 class 5 at 20 °C: 10 mm² 1.91 ohm/km, 1.5 mm² 13.3 ohm/km.
FEED_OHM, BRANCH_OHM = 4 * 1.91e-3, 10 * 13.3e-3
# The most copper that such wire may hold: 1.82 ohm/km (ISO 6722, memory), 12.1 (class 2, seen).
FEED_LEAST_OHM, BRANCH_LEAST_OHM = 4 * 1.82e-3, 10 * 12.1e-3
HOT = (234.5 + 105.0) / 254.5


def lamp(inside: str = "internal 10 mohm", main: str = "midi") -> Study:
    return study_from(LAMP.format(inside=inside, main=main))
