"""What people write into a survey, and what is read. The spellings are common practice."""

import pytest

from rigfolio.surveys import cells
from rigfolio.surveys.columns import Heading, heading
from rigfolio.surveys.quantities import BARE, COMMA, THOUSANDS

READ = (
    ("gauge", "14ga", "14 AWG"), ("gauge", "14 GA.", "14 AWG"), ("gauge", "12 gauge", "12 AWG"),
    ("gauge", "#14", "14 AWG"), ("gauge", "No. 8", "8 AWG"), ("gauge", "AWG 16", "16 AWG"),
    ("gauge", "16awg", "16 AWG"), ("gauge", "2/0", "2/0 AWG"), ("gauge", "00 AWG", "2/0 AWG"),
    ("gauge", "4 sq mm", "4 mm2"), ("gauge", "2.5mm²", "2.5 mm2"), ("gauge", "1.5 qmm", "1.5 mm2"),
    ("found", "7.5 amp", "7.5 A"), ("found", "15a", "15 A"), ("found", "20 Amps", "20 A"),
    ("found", "10A fuse", "10 A"), ("belongs", "7½ A", "7.5 A"), ("marked", "500 mA", "500 mA"),
    ("length", "18'", "18 ft"), ("length", "18’ 6”", "18 ft 6 in"),
    ("length", "18'6", "18 ft 6 in"),
    ("tail", '6"', "6 in"), ("tail", "6 1/2 in.", "6 1/2 in"), ("length", "22 feet", "22 ft"),
    ("length", "5 ft, 3 inches", "5 ft 3 in"), ("length", "2.5 metres", "2.5 m"),
    ("colour", "Red w/ black stripe", "red/black"), ("colour", "red with black", "red/black"),
    ("colour", "dk green", "dark green"), ("colour", "Lt. Blue", "light blue"),
    ("colour", "WHT/blk", "white/black"), ("colour", "blue (white stripe)", "blue/white"),
    ("colour", "red-black", "red/black"), ("colour", "green-yellow", "green-yellow"),
    ("condition", "burnt", "scorched"), ("condition", "ok", ""), ("condition", "Loose!", "loose"),
    ("condition", "a bit rusty and loose", "corroded, loose"), ("wires", "two", "2"),
    ("wires", "3 wires", "3"), ("draws", "7 amps", "7 A"),
    ("draws", "48w; ?; 0.5A", "48 W; ?; 0.5 A"),
)  # fmt: skip


@pytest.mark.parametrize(("column", "written", "read"), READ)
def test_what_people_write_is_read(column, written, read):
    heard = cells.hear(Heading(column), written, has_commas=False)
    assert (heard.value, heard.wrong) == (read, "")
    again = cells.hear(Heading(column), heard.value, has_commas=False) if heard.value else heard
    assert again.value == heard.value
    assert not heard.is_about


@pytest.mark.parametrize("written", ["~12'", "about 12 ft", "12 ft?", "ca. 12 feet", "12' or so"])
def test_about_is_heard(written):
    heard = cells.hear(Heading("length"), written, has_commas=False)
    assert heard.value == "12 ft"
    assert heard.is_about


@pytest.mark.parametrize(
    ("column", "written", "wrong"),
    [
        ("length", "12", BARE), ("gauge", "14", BARE), ("found", "7.5", BARE), ("draws", "7", BARE),
        ("length", "12 A", cells.quantity("x", "length", "", has_commas=False).wrong),
        ("found", "7,5 A", COMMA), ("colour", "bl", cells.NO_COLOUR),
        ("wires", "few", cells.NO_COUNT),
        ("condition", "scorchd", cells.NO_MARK), ("gauge", "14/2", None), ("gauge", "1.5 mm", None),
        ("colour", "red and black", cells.NO_COLOUR), ("length", "18' and a bit", None),
        ("found", "15 or 20 A", None), ("length", "6 feet 3", None),
    ],
)  # fmt: skip
def test_what_could_mean_two_things_is_asked_for(column, written, wrong):
    heard = cells.hear(Heading(column), written, has_commas=False)
    assert heard.value == ""
    assert heard.wrong
    assert wrong in (None, heard.wrong)


def test_a_comma_is_a_decimal_one_where_it_parts_no_cells():
    assert cells.hear(Heading("found"), "7,5 A", has_commas=True).value == "7.5 A"
    assert cells.hear(Heading("gauge"), "0,75 mm2", has_commas=True).value == "0.75 mm2"
    assert cells.hear(Heading("draws"), "1,500 W", has_commas=True).wrong == THOUSANDS


def test_the_unit_of_a_heading_serves_bare_numbers_and_no_others():
    head = heading("Length (ft)")
    assert head == heading("length ft") == heading("LENGTH in feet") == Heading("length", "ft")
    assert cells.hear(head, "12", has_commas=False).value == "12 ft"
    assert cells.hear(head, "12 in", has_commas=False).value == "12 in"
    assert heading("fuse found [A]") == Heading("found", "A")
    assert heading("AWG") == Heading("gauge", "AWG")
    assert heading("size mm²") == Heading("gauge", "mm2")
    assert heading("load watts") == Heading("draws", "W")
    assert heading("gauge") == Heading("gauge")
    assert heading("favourite tune") is None


def test_a_mark_without_a_word_is_kept_as_a_note():
    heard = cells.hear(Heading("condition"), "Hot to touch, burnt", has_commas=False)
    assert (heard.value, heard.aside) == ("scorched", "Hot to touch")
