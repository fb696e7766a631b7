"""Every `?` of a text has a blank on the survey sheet, and what is typed in it is taken."""

import pytest

from helpers.forgotten import cache
from helpers.label_rigs import words
from helpers.studies import study_from
from rigfolio.judgement.result import check, job_of
from rigfolio.render import StoredTable
from rigfolio.sheets import survey
from rigfolio.surveys import fill, read_survey

TEXT = """rig "Blanks"
    system 12 V
    rules rv
battery B1 agm, {capacity} Ah, internal {internal} mohm
fuse F1 60 A, interrupts {bank} kA, on B1+
panel P1 2 slots of 20 A, 60 A in all, interrupts {panel} kA
busbar N1 {bar} A
array Y1 open circuit {open} V, short circuit {short} A, series fuse {series} A
solar U1 {output} A, input {input} V
wire F1 to P1 6 AWG red 1 ft
wire Y1+ to U1.in 12 AWG red 3 ft, fuse 10 A at Y1+, interrupts {string} kA, rated {volts} V
wire Y1- to U1.in- 12 AWG black 3 ft
wire U1+ to P1 10 AWG red 3 ft, fuse 30 A at P1, interrupts {charge} kA
wire U1- to N1 10 AWG black 3 ft
wire B1- to N1 6 AWG black 3 ft
wire P1- to N1 6 AWG black 3 ft
circuit N1 "Lamp" fuse 5 A, interrupts {lamp} kA
    wire 16 AWG blue 9 ft
    load "Lamp" 1 A
"""
READ = {
    "capacity": ("B1", "capacity", "100 Ah"), "internal": ("B1", "internal", "internal 4 mohm"),
    "bank": ("F1", "interrupts", "interrupts 20 kA"),
    "panel": ("P1", "interrupts", "interrupts 1 kA"), "bar": ("N1", "rating", "100 A"),
    "open": ("Y1", "open circuit", "open circuit 22 V"),
    "short": ("Y1", "short circuit", "short circuit 6 A"),
    "series": ("Y1", "series fuse", "series fuse 10 A"), "output": ("U1", "rating", "20 A"),
    "input": ("U1", "input", "input 100 V"),
    "string": ("U1.in/Y1+ fuse", "interrupts", "interrupts 20 kA"),
    "volts": ("U1.in/Y1+ fuse", "rated", "rated 1000 V"),
    "charge": ("P1/U1+ fuse", "interrupts", "interrupts 10 kA"),
    "lamp": ("circuit N1", "interrupts", "interrupts 5 kA"),
}  # fmt: skip
"""What is asked: in the row of which place, the word before its blank, what is read on the part."""
FIGURES = {asked: read.split()[-2] for asked, (_, _, read) in READ.items()}


@cache
def sheet(text: str) -> str:
    """What stands on the survey sheet of a text."""
    return words(survey.pages(job_of(check("blanks.rig", text=text))))


@pytest.mark.parametrize("asked", READ)
def test_what_a_text_asks_has_a_blank_and_is_taken(asked):
    place, word, read = READ[asked]
    whole, open_ = TEXT.format(**FIGURES), TEXT.format(**{**FIGURES, asked: "?"})
    blank = "interrupts: ………" if asked == "panel" else f"{word} ………"
    assert [blank in sheet(one) for one in (whole, open_)] == [False, True]
    table = StoredTable(((1, ("place", "plate")), (2, (place, read))), has_commas=False)
    filled = fill(study_from(open_).rig, {"case.rig": open_}, read_survey(table))
    assert filled.trouble == ()
    (edit,) = filled.edits
    assert open_[: edit.span.start] + edit.text + open_[edit.span.end :] == whole


def test_what_is_no_plate_of_a_fuse_is_told():
    text = TEXT.format(**FIGURES)
    table = StoredTable(((1, ("place", "plate")), (2, ("P1/U1+ fuse", "8 AWG"))), has_commas=False)
    filled = fill(study_from(text).rig, {"case.rig": text}, read_survey(table))
    assert filled.edits == ()
    (told,) = filled.trouble
    assert "besides its rating" in told.kind
