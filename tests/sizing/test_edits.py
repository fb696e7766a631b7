"""How a gauge and a rating are written into a text: the figure changes, and nothing beside it."""

import pytest

from helpers.studies import study_from
from rigfolio.findings import Refit
from rigfolio.lang.edits import apply
from rigfolio.sizing import by_file, changed

TEXT = """rig "Bench"
    system 12 V
    rules rv
battery B1 agm, 100 Ah
fuse F1 {} on B1+
busbar D1 100 A
busbar N1 100 A
load M1 1 A
load M2 1 A
wires 10 AWG red
    wire D1 to M1+ 4 ft, tag T1   # the near one
    wire D1 to M2+ 4 ft, tag T2
wire F1.load to D1 4mm2 red 1 ft, tag T3
wire B1- to N1 ? black 1 ft, tag T4
wires black
    wire M1- to N1 14AWG 1 ft, tag T5
    wire M2- to N1 1 ft, tag T6
"""


def rewritten(fuse: str, *changes: Refit) -> list[str]:
    """The lines that differ once some changes are written."""
    text = TEXT.format(fuse)
    edits = by_file(changed(study_from(text), {"case.rig": text}, changes))["case.rig"]
    lines = zip(text.split("\n"), apply(text, edits).split("\n"), strict=True)
    return [after for before, after in lines if before != after]


def gauge(wire: str, size: str) -> Refit:
    return Refit("gauge", wire, size)


@pytest.mark.parametrize("before", ["50 A", "500mA", "0.5 kA", "? A", "?"])
def test_a_rating_is_written_in_amperes(before: str) -> None:
    assert rewritten(before, Refit("rating", "F1", "60 A")) == ["fuse F1 60 A on B1+"]


def test_what_stands_without_a_blank_stays_so() -> None:
    assert rewritten("50A", Refit("rating", "F1", "60 A")) == ["fuse F1 60A on B1+"]


@pytest.mark.parametrize(
    ("before", "after"),
    [("30 A", "15 A"), ("30A", "15A"), ("? A", "15 A"), ("?A", "15A"), ("?", "15 A")],
)
def test_a_rating_in_the_line_of_a_wire_gets_one_unit(before: str, after: str) -> None:
    text = TEXT.format("50 A").replace("4 ft, tag T2", "4 ft, fuse {} 3 in from D1, tag T2")
    old, new = text.replace("{}", before), text.replace("{}", after)
    edits = changed(study_from(old), {"case.rig": old}, [Refit("rating", "T2 fuse", "15 A")])
    assert apply(old, edits) == new


@pytest.mark.parametrize(
    ("changes", "lines"),
    [
        # A gauge that two wires share is edited where both get the same.
        ((gauge("T1", "8 AWG"), gauge("T2", "8 AWG")), ["wires 8 AWG red"]),
        # One of them gets a gauge of its own, before the comment; so do two that differ.
        ((gauge("T1", "8 AWG"),), ["    wire D1 to M1+ 4 ft, tag T1 8 AWG   # the near one"]),
        ((gauge("T1", "8 AWG"), gauge("T2", "6 AWG")),
         ["    wire D1 to M1+ 4 ft, tag T1 8 AWG   # the near one",
          "    wire D1 to M2+ 4 ft, tag T2 6 AWG"]),
        # In the unit and with the blanks that stood there; another unit brings its own.
        ((gauge("T3", "6 mm²"),), ["wire F1.load to D1 6mm2 red 1 ft, tag T3"]),
        ((gauge("T3", "8 AWG"),), ["wire F1.load to D1 8 AWG red 1 ft, tag T3"]),
        ((gauge("T4", "8 AWG"),), ["wire B1- to N1 8 AWG black 1 ft, tag T4"]),
        ((gauge("T5", "1/0 AWG"),), ["    wire M1- to N1 1/0AWG 1 ft, tag T5"]),
        # Where none is written it is added to the wire.
        ((gauge("T6", "8 AWG"),), ["    wire M2- to N1 1 ft, tag T6 8 AWG"]),
        ((Refit("guard", "T3", "60 A", "D1"),),
         ["wire F1.load to D1 4mm2 red 1 ft, tag T3, fuse 60 A at D1"]),
    ],
)  # fmt: skip
def test_only_the_words_of_a_change_are_written(
    changes: tuple[Refit, ...], lines: list[str]
) -> None:
    assert rewritten("50 A", *changes) == lines


@pytest.mark.parametrize("change", [gauge("T1", "9 AWG"), Refit("rating", "F9", "60 A")])
def test_a_size_that_is_not_sold_and_a_part_that_is_not_there_are_refused(change: Refit) -> None:
    with pytest.raises(LookupError):
        rewritten("50 A", change)
