"""What two versions hold, whatever the file and the line that it stands in."""

from rigfolio.compare import placeless
from rigfolio.findings import Span
from rigfolio.judgement import understood
from rigfolio.values import Place

TEXT = """\
battery B1 lithium, 105 Ah, delivers 50 kA
busbar  N1 150 A
panel   P1 6 slots of 20 A
wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+
wire N1 to B1- 6 AWG black 3 ft
circuit P1.1 "Pump" fuse 10 A
    wire   14 AWG red 6 ft
    return 14 AWG black 6 ft to N1
    load   "Pump" 5 A
"""


def held(text: str, file: str = "x.rig") -> object:
    study = understood(file, text=text).study
    assert study is not None
    return placeless(study.rig)


def test_another_file_and_other_lines_are_no_difference():
    assert held(TEXT) == held(f"# as found\n\n{TEXT.replace('wire B1+', 'wire  B1+')}", "y.rig")


def test_another_figure_is_one():
    assert held(TEXT) != held(TEXT.replace("fuse 10 A", "fuse 15 A"))


def test_another_order_is_one():
    lines = TEXT.splitlines(keepends=True)
    assert held(TEXT) != held("".join((lines[1], lines[0], *lines[2:])))


def test_places_count_by_their_turn_and_written_ones_by_their_words():
    early, late = Span("x.rig", 3, 4), Span("x.rig", 9, 12)
    assert placeless((early, late)) == (0, 1)
    assert placeless((late, early)) == (1, 0)
    assert placeless(Place("B1", (), "+", 4, 7)) == placeless(Place("B1", (), "+", 40, 43))
