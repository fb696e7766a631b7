"""The reference of the language tells the truth.

Its words are those of the grammar and of the statements, its facts those that are read, and every
example in it is a rig that is understood.
"""

import re

import pytest

from helpers.home import HOME
from rigfolio.books import book_names, load_book
from rigfolio.books.colours import colour_book
from rigfolio.judgement.result import load
from rigfolio.lang.fact import Fact
from rigfolio.lang.parser import grammar_text
from rigfolio.lang.patterns import STUDS, TERMINALS
from rigfolio.reading.text import reference, words
from rigfolio.units import UNITS

PAGE = HOME / "grammar" / "REFERENCE.md"
TEXT = PAGE.read_text(encoding="utf-8")
SECTIONS = {
    part.split("\n", 1)[0]: part for part in re.split(r"^## ", TEXT, flags=re.MULTILINE)[1:]
}
GENERAL = (
    "Values",
    "How a wire is called",
    "Any part",
    "Any conductor",
    "A fuse within a line",
    "Examples",
)
BLOCK = re.compile(r"```rig ?(\S*)\n(.*?)```", re.DOTALL)


def describe(fact: Fact) -> str:
    """A fact as the reference prints it."""
    return " ".join(part.replace("|", " or ") for part in fact.parts)


def blocks(section: str) -> list[tuple[str, str]]:
    return BLOCK.findall(SECTIONS[section])


def test_sections_are_the_words():
    assert tuple(SECTIONS) == (*GENERAL, *words())


def test_grammar_has_the_same_words_each_with_a_comment():
    lines = re.findall(r'^ +(?:\| )?"([a-z-]+)" *// (.+)$', grammar_text(), flags=re.MULTILINE)
    assert sorted(word for word, _ in lines) == sorted(words())
    assert all(comment.strip() for _, comment in lines)
    keywords = re.findall(r'^ +(?:\| )?"([a-z-]+)"', grammar_text(), flags=re.MULTILINE)
    assert len(keywords) == len(lines)


@pytest.mark.parametrize("word", words())
def test_every_fact_stands_in_its_section(word):
    said = SECTIONS[word]
    for shared in GENERAL:
        if f"(#{shared.lower().replace(' ', '-')})" in said:
            said += SECTIONS[shared]
    kind = reference()[word]
    takes = [*kind.takes, *(kind.inner_takes or ())]
    missing = [describe(fact) for fact in takes if f"`{describe(fact)}`" not in said]
    assert missing == []
    opening = [part for part in kind.opening if not part.endswith("?")]
    names = [part for part in opening if part != "<name>"]
    assert [part for part in names if f"`{part}`, right behind the word" not in said] == []


def test_each_rule_book_is_said_to_be_made_for_what_it_says_itself():
    said = " ".join(SECTIONS["rig"].split())
    assert all(f"`{name}`" in said for name in book_names())
    assert [name for name in book_names() if load_book(name).made_for not in said] == []


@pytest.mark.parametrize("word", words())
def test_every_fact_in_the_section_is_read(word):
    kind = reference()[word]
    takes = {describe(fact) for fact in (*kind.takes, *(kind.inner_takes or ()))}
    listed = re.findall(r"^- (`.*?)(?::|,| right|\n)", SECTIONS[word], flags=re.MULTILINE)
    assert listed
    patterns = [each for line in listed for each in re.findall(r"`([^`]+)`", line)]
    known = takes | set(kind.opening)
    assert [each for each in patterns if each not in known] == []


@pytest.mark.parametrize("word", words())
def test_example_is_understood(word, tmp_path):
    examples = blocks(word)
    assert examples
    for name, text in examples:
        if name:
            (tmp_path / name).write_text(text, encoding="utf-8")
    prelude = blocks("Examples")[0][1]
    for name, text in examples:
        if name:
            continue
        file = tmp_path / "example.rig"
        file.write_text(text if text.startswith("rig") else prelude + text, encoding="utf-8")
        _, rig, found = load(str(file))
        assert found == ()
        assert rig is not None
        assert rig.problems == ()
        assert word in [line.split()[0] for line in text.splitlines()]


def test_every_unit_and_colour_is_listed():
    values = SECTIONS["Values"]
    written = {unit for _, unit in re.findall(r"`([-\d./ ]+) (?=(\S+?)`)", values)}
    alone = set(re.findall(r"`(\S+?)`", values))
    # The ohm sign has two code points that look the same.
    units = {symbol.replace("\u2126", "\u03a9") for symbol in UNITS}
    assert units - {unit.replace("\u2126", "\u03a9") for unit in written | alone} == set()
    colours = [colour.word for colour in colour_book().colours]
    assert [word for word in colours if not re.search(rf"\b{word}\b", values)] == []
    codes = [colour.code for colour in colour_book().colours if colour.code]
    assert [code for code in codes if f"`{code}`" not in values] == []


def test_terminals_and_studs_are_listed():
    values = SECTIONS["Values"]
    assert [word for word in TERMINALS if not re.search(rf"`{word}\b", values)] == []
    assert "M8" in STUDS


def test_every_value_that_a_fact_takes_is_explained_and_no_other_has_no_use():
    kinds = [reference()[word] for word in words()]
    facts = [fact for kind in kinds for fact in (*kind.takes, *(kind.inner_takes or ()))]
    takes = {part for fact in facts for part in fact.parts}
    values = {name for part in takes for name in re.findall(r"^<([a-z]+)>$", part)}
    rows = dict(re.findall(r"^\| `<([a-z]+)>` \| (.+?) \|", SECTIONS["Values"], re.MULTILINE))
    plain = {"label", "name", "thing", "title", "tag", "called"}
    assert values - rows.keys() - plain == set()
    unused = re.search(r"^(.+) are read and have no use in a statement", SECTIONS["Values"], re.M)
    assert unused is not None
    written = {unit for row in rows.values() for unit in re.findall(r"`[-\d./]+ (\S+?)`", row)}
    assert not {*re.findall(r"`(\w+)`", unused[1])} & written
