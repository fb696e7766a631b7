"""What two versions hold, whatever the file and the line that it stands in."""

import pytest

from rigfolio.compare import is_same_but_for_places, placeless
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


EARLY, LATE, OTHER = Span("x.rig", 3, 4), Span("x.rig", 9, 12), Span("y.rig", 1, 2)


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ((EARLY, LATE), (EARLY, OTHER)),
        ((EARLY, LATE), (LATE, EARLY)),
        ((EARLY, EARLY), (EARLY, LATE)),
        ((EARLY, LATE), (LATE, LATE)),
        ([EARLY, 1.0], (LATE, 1)),
        ({"a": EARLY, "b": LATE}, {"b": LATE, "a": EARLY}),
        ({"a": EARLY}, {"b": EARLY}),
        ((EARLY, "a"), (EARLY, "b")),
        ((EARLY,), (EARLY, LATE)),
        (Place("B1", (), "+", 4, 7), Place("B1", (), "+", 40, 43)),
        (Place("B1", (), "+", 4, 7), Place("B2", (), "+", 4, 7)),
        (EARLY, "x"),
    ],
)
def test_both_ways_to_compare_say_the_same(one, two):
    for pair in ((one, two), (two, one), (one, one)):
        assert is_same_but_for_places(*pair) is (placeless(pair[0]) == placeless(pair[1]))


@pytest.mark.parametrize(
    ("was", "now"), [("fuse 10 A", "fuse 15 A"), ("wire B1+", "wire  B1+"), ("6 ft", "7 ft")]
)
def test_both_ways_say_the_same_of_a_rig(was, now):
    one, two = (understood(f"{len(text)}.rig", text=text).study
                for text in (TEXT, TEXT.replace(was, now)))  # fmt: skip
    assert one is not None
    assert two is not None
    assert is_same_but_for_places(one.rig, two.rig) is (placeless(one.rig) == placeless(two.rig))
