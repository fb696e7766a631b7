"""A layout moves nothing but white space, says the same, and done twice is done once."""

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings, strategies as st

from helpers.home import RIGS, TESTS
from rigfolio.judgement.result import load
from rigfolio.lang.edits import apply
from rigfolio.lang.parser import parse
from rigfolio.layout.columns import best
from rigfolio.layout.files import laid_out
from rigfolio.layout.spacing import laid, layout_edits

HERE = Path(__file__).parent
GIVEN = sorted((HERE / "given").glob("*.rig"))
CORPUS = sorted((TESTS / "corpus").glob("*.rig"))
TEXTS = [file.read_text(encoding="utf-8") for file in (*RIGS, *CORPUS, *GIVEN)]
SOBER = settings(
    derandomize=True, deadline=None, max_examples=60, database=None,
    suppress_health_check=[HealthCheck.too_slow], phases=[Phase.explicit, Phase.generate],
)  # fmt: skip


def once(text: str) -> str:
    return apply(re.sub("\r(?!\n)", "\n", text), layout_edits(text))


def items(text: str) -> list[list[tuple[str, str, str]]]:
    return [
        [(item.kind, item.text, item.unit) for item in line.items] for line in parse(text, "")[0]
    ]


def black(text: str) -> str:
    """A text without its blanks; line breaks stay."""
    return re.sub("[ \t\f\xa0]", "", text)


def meaning(text: str) -> tuple[set[str], list[str]]:
    """The graph of a text without places, and what is wrong with the text."""
    _, rig, found = load("x.rig", text)
    told = [f"{one.rule}: {one.headline}" for one in found]
    if rig is None:
        return set(), told
    groups = (
        rig.sources, rig.devices, rig.junctions, rig.panels, rig.conductors, rig.loads,
        rig.circuits, rig.slots, rig.states, rig.ac, rig.assumptions, rig.problems, rig.remarks,
        rig.photos, rig.gaps, tuple(rig.where.items()),
    )  # fmt: skip
    bare = re.compile(r"Span\([^)]*\)|(start|end)=-?\d+")
    return {bare.sub("", repr(one)) for group in groups for one in group}, told


def holds(text: str) -> None:
    """All that is promised of a layout."""
    after = once(text)
    assert black(after) == black(re.sub("\r(?!\n)", "\n", text))
    assert items(after) == items(re.sub("\r(?!\n)", "\n", text))
    assert layout_edits(after) == ()
    assert after.count("\n") == re.sub("\r(?!\n)", "\n", text).count("\n")


DAMAGE = st.sampled_from(['"', "?", ",", " , ", "\n", "#", "@", " /"])


@st.composite
def noisy(draw: st.DrawFn) -> str:
    """A piece of a rig text with its blanks between items drawn anew, and perhaps damaged."""
    lines = draw(st.sampled_from(TEXTS)).split("\n")
    start = draw(st.integers(0, max(0, len(lines) - 12)))
    text = "\n".join(lines[start : start + draw(st.integers(3, 24))])
    blanks = draw(st.lists(st.sampled_from([" ", "  ", "   ", "\t", " \xa0", "\f ", "      "]),
                           min_size=1, max_size=7))  # fmt: skip
    count = 0

    def other(found: re.Match[str]) -> str:
        nonlocal count
        count += 1
        return blanks[count % len(blanks)] if found[0].strip(" \t") == "" else found[0]

    text = re.sub(r'"[^"\n]*"|#[^\n]*|[ \t]+', other, text)
    for _ in range(draw(st.integers(0, 2))):
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(DAMAGE) + text[at:]
    return text


@SOBER
@given(noisy())
def test_a_layout_of_a_noisy_text_keeps_its_promises(text):
    holds(text)
    assert meaning(once(text)) == meaning(text)


@SOBER
@given(noisy(), st.sampled_from(["\n", "\r\n"]), st.booleans())
def test_line_ends_and_byte_order_mark_stay(text, end, has_mark):
    text = text.replace("\n", end)
    raw = (b"\xef\xbb\xbf" if has_mark else b"") + text.encode()
    after = laid_out(raw, "x.rig").content
    assert after.startswith(b"\xef\xbb\xbf") == has_mark
    assert after.count(b"\r\n") == raw.count(b"\r\n")
    assert after.count(b"\n") == raw.count(b"\n")
    assert after.decode("utf-8-sig").replace("\r\n", "\n") == once(text.replace("\r\n", "\n"))


@SOBER
@given(st.text(alphabet='ab1 \t\r\n",#?/%+.-\xa0\f', max_size=200))
def test_any_text_is_laid_out(text):
    holds(text)


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: text[:20])
def test_whole_rigs_say_the_same_laid_out(text):
    holds(text)
    assert meaning(once(text)) == meaning(text)


@pytest.mark.parametrize("file", GIVEN, ids=lambda file: file.stem)
def test_a_text_is_laid_out_as_its_neighbour_shows(file):
    wanted = (HERE / "laid" / file.name).read_text(encoding="utf-8")
    assert once(file.read_text(encoding="utf-8")) == wanted


def test_a_line_that_is_not_understood_stays_to_the_byte():
    text = 'fuse   F1   50 A\nbattery   B1  "House\nfuse F2    50   Ampere\n\tfuse   F3\n'
    edits, errors = laid(text, "x.rig")
    after = apply(text, edits)
    assert after.split("\n") == [
        "fuse  F1  50 A", 'battery   B1  "House', "fuse F2    50   Ampere", "\tfuse   F3", ""
    ]  # fmt: skip
    assert [one.rule for one in errors] == ["label-not-closed", "unknown-unit", "not-inside"]


def test_lines_keep_to_what_they_belonged_to_above_a_line_that_is_not_understood():
    """A line at a depth of its own would be gone on with, once it is mended."""
    text = 'rig "A"\n  @\n  system 12 V\n'
    assert once(text) == 'rig "A"\n  @\n  system  12 V\n'


def test_figures_that_are_apart_stay_apart():
    """`2 ft 6 in` is one length; here they are a tail of 2 ft and a wire of 6 in."""
    text = 'circuit P1.1 "A"\n    wire 14 AWG red tail 2 ft   6 in\n'
    assert "tail 2 ft   6 in" in once(text)


@pytest.mark.parametrize(
    ("sizes", "wide"),
    [
        # Nobody stands out: as wide as the widest.
        ([5, 6, 7], 7),
        # Three cells of 20 blanks cost more than one that stands beside: 60 against 20.
        ([5, 5, 5, 25], 5),
        # No cell but one says anything: it stands where the next column begins.
        ([0, 0, 9], 9), ([0, 0, 0, 9], 0),
    ],
)  # fmt: skip
def test_a_column_is_as_wide_as_costs_least(sizes, wide):
    assert best(sizes, 20) == wide


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_examples_are_laid_out(file):
    assert layout_edits(file.read_text(encoding="utf-8")) == ()
