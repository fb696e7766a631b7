"""Nobody buys or carries another fuse of a make that cannot break what flows where it sits."""

from pathlib import Path

from helpers.label_rigs import words
from helpers.studies import job_from, study_from
from rigfolio.sheets import at_the_panel
from rigfolio.swap import picks

RIG = """rig "Ruff" revised 2026-01-02
    system 12 V
    rules  boat
battery B1 "House bank" lithium, 200 Ah, 12.8 V, internal 3 mohm, stud M8
fuse F1 "House fuse" 50 A, {make}
load L1 "Pump" 20 A, motor
wire W1 B1+ to F1 6 AWG red 0.1 m
wire W2 F1 to L1+ 6 AWG red 1 m
wire W3 L1- to B1- 6 AWG black 1 m
"""


def test_a_fuse_that_cannot_break_a_short_is_not_bought_again() -> None:
    """12.8 V over 3 mohm and some copper is more than 2 kA and less than 20 kA, by hand."""
    weak = study_from(RIG.format(make="midi, interrupts 2 kA"))
    (line,) = (one for one in picks(weak) if one.group == "Fuses")
    assert (line.bought, line.places) == ("0", ("F1",))
    assert line.note.startswith("not bought: interrupts 2000 A, ")
    strong = study_from(RIG.format(make="class T, interrupts 20 kA"))
    (line,) = (one for one in picks(strong) if one.group == "Fuses")
    assert line.bought == "3"


def test_nor_is_it_among_the_spares_to_carry(tmp_path: Path) -> None:
    told = {}
    for make in ("midi, interrupts 2 kA", "class T, interrupts 20 kA"):
        file = tmp_path / f"{make[:4]}.rig"
        file.write_text(RIG.format(make=make), encoding="utf-8")
        told[make] = words(at_the_panel.pages(job_from(file), ()))
    weak, strong = told.values()
    assert "Spare fuses to carry" not in weak
    assert "Spare fuses to carry" in strong
