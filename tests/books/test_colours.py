import re

import pytest

from rigfolio.books.colours import colour_book
from rigfolio.books.fuses import fuse_colour, fuse_families, fuse_series


def test_iec_60757(row):
    book = colour_book()
    colour = book.by_code[row["code"]]
    assert colour.word == row["word"]
    assert book.by_word[row["word"]] is colour
    assert book.find(row["code"].lower()) is book.find(row["word"].title()) is colour


def test_without_code(row):
    assert colour_book().by_word[row["word"]].code is None


def test_ambiguous(row):
    book = colour_book()
    assert book.find(row["letters"]) is None
    assert len(book.ambiguous[row["letters"]]) == 2
    for word in book.ambiguous[row["letters"]]:
        assert book.find(word)


@pytest.mark.parametrize(("other", "word"), [("gray", "grey"), ("purple", "violet")])
def test_other_spelling(other, word):
    assert colour_book().find(other) is colour_book().by_word[word]


def test_codes_are_those_of_the_standard_in_its_order():
    codes = [colour.code for colour in colour_book().colours if colour.code]
    assert " ".join(codes) == "BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE"


def test_no_two_colours_print_alike():
    shades = [colour.rgb for colour in colour_book().colours]
    assert len(shades) == len(set(shades))
    assert [shade for shade in shades if not re.fullmatch(r"#[0-9a-f]{6}", shade)] == []


def test_every_fuse_colour_is_a_colour():
    words = {
        word
        for family in fuse_families()
        for rating_a in fuse_series(family)
        if (word := fuse_colour(rating_a, family))
    }
    assert "red" in words
    assert {word for word in words if colour_book().find(word) is None} == set()
