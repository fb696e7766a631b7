"""A fuse that each string of modules has to have, and has not: `size` asks for it as `check` does.

A fuse in a string carries 1.5625 times its short-circuit current (NFPA 70 690.8 and 690.9, from
memory): 1.5625 x 9.4 A = 14.7 A, so 15 A; the label allows no more than its series fuse.
"""

import pytest

from helpers.studies import study_from
from rigfolio.answers.questions import sized
from rigfolio.judgement.result import check
from rigfolio.judgement.trial import tried
from rigfolio.lang import apply
from rigfolio.sizing import edits_for, sizes

ROOF = """rig "Case"
    system 12 V
    rules vehicle
    coldest -10 degC
battery B1 agm, 100 Ah, delivers 900 A
busbar N1 100 A
wire B1- to N1 6 AWG black 2 ft
wire U1+ to B1+ 10 AWG red 4 ft, fuse 30 A at B1+
wire U1- to N1 10 AWG black 4 ft
busbar N2 60 A
busbar N3 60 A
solar U1 30 A, input 50 V
wire N2 to S9.line 6 AWG red 9 ft
wire N3 to U1.in- 6 AWG black 9 ft
disconnect S9 100 A, rated 200 V
wire S9.load to U1.in 2 AWG red 2 in
"""
STRING = """array Y{number} open circuit 22.4 V, short circuit {short} A, series fuse {label} A
wire Y{number}+ to N2 8 AWG red 6 ft
wire Y{number}- to N3 10 AWG black 6 ft
"""


def roof(strings: int, short: str = "9.4", label: str = "15") -> str:
    return ROOF + "".join(
        STRING.format(number=number, short=short, label=label) for number in range(1, strings + 1)
    )


def written(text: str) -> str:
    study = study_from(text)
    writing = edits_for(study, {"case.rig": text}, sizes(study))
    return apply(text, writing.edits.get("case.rig", ()))


@pytest.mark.parametrize("strings", [3, 4])
def test_every_string_gets_the_fuse_that_it_has_not(strings: int) -> None:
    text = written(roof(strings))
    for number in range(1, strings + 1):
        assert f"wire Y{number}+ to N2 8 AWG red 6 ft, fuse 15 A at N2\n" in text
    assert "array-fed-back" in {one.rule for one in check("roof.rig", text=roof(strings)).findings}
    assert "array-fed-back" not in {one.rule for one in check("roof.rig", text=text).findings}
    # A second run has nothing left to write.
    assert written(text) == text


@pytest.mark.parametrize(
    ("strings", "short", "label"),
    [(1, "9.4", "15"), (2, "9.4", "15"), (3, "9.4", "30"), (3, "9.4", "10")],
)
def test_none_is_written_where_none_is_needed_or_none_is_right(
    strings: int, short: str, label: str
) -> None:
    """One string beside another gives no more than both bear; 15 A are above a label of 10 A."""
    assert "fuse 15 A at N2" not in written(roof(strings, short, label))


def test_size_and_the_way_out_write_the_same(tmp_path) -> None:
    (one,) = (
        one for one in tried(check("roof.rig", text=roof(3))).findings
        if one.rule == "array-fed-back"
    )  # fmt: skip
    assert one.fix is not None
    assert one.fix.is_tried
    assert apply(roof(3), one.fix.edits) == written(roof(3))
    file = tmp_path / "roof.rig"
    file.write_text(roof(3))
    contents, _ = sized(check(str(file)))
    assert contents[file].decode() == written(roof(3))
