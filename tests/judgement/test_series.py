"""Batteries one after the other are refused with the one battery that they are."""

import pytest

from rigfolio.findings import Severity
from rigfolio.judgement.result import check

HEAD = """rig "Hut"
    system 24 V
    rules rv
busbar N1
load M1 "Winch" 10 A
wire M1- to N1 10 AWG 4 ft
"""
LOWER = "battery B1 gel, 12 V, 110 Ah, internal 6 mohm\n"
UPPER = "battery B2 gel, 12 V, 100 Ah, internal 6.5 mohm\n"
SERIES = (
    "wire B1+ to B2- 2 AWG black 1 ft\nwire B1- to N1 2 AWG 1 ft\nwire B2+ to M1+ 10 AWG 4 ft\n"
)


def told(text: str) -> list[tuple[str, str]]:
    return [
        (one.rule, one.fix.text if one.fix else "") for one in check("x.rig", text=text).findings
    ]


def test_two_are_written_as_one() -> None:
    # By hand: 12 + 12 V; the smaller of 110 and 100 Ah, for one current flows through both;
    # 6 + 6.5 mohm.
    result = check("x.rig", text=HEAD + LOWER + UPPER + SERIES)
    assert result.study is None
    (found,) = result.findings
    assert (found.rule, found.severity) == ("batteries-in-series", Severity.ERROR)
    assert found.fix is not None
    assert found.fix.text.startswith(
        "one `battery` of 24 V, 100 Ah, internal 12.5 mohm, from `B1-` to `B2+`; "
    )
    assert "which end of `B1+/B2-`" in found.fix.text
    as_one = HEAD + "battery B1 24 V, 100 Ah, internal 12.5 mohm\nwire B1- to N1 2 AWG 1 ft\n"
    as_one += "wire B1+ to M1+ 10 AWG 4 ft\n"
    assert "batteries-in-series" not in [rule for rule, _ in told(as_one)]


@pytest.mark.parametrize("between", ["fuse F1 100 A", "disconnect F1 100 A", "splice F1"])
def test_through_what_stands_between(between: str) -> None:
    joined = SERIES.replace("wire B1+ to B2- 2", "wire B1+ to F1 2 AWG 1 ft\nwire F1 to B2- 2")
    assert [rule for rule, _ in told(f"{HEAD}{LOWER}{UPPER}{between}\n{joined}")] == [
        "batteries-in-series"
    ]


def test_four_are_one_chain_and_what_is_unknown_is_left_out() -> None:
    cells = "".join(f"battery B{n} 6 V, ? Ah, internal 2 mohm\n" for n in (3, 1, 4, 2))
    links = "".join(f"wire B{n}+ to B{n + 1}- 2 AWG 1 ft\n" for n in (1, 2, 3))
    ends = "wire B1- to N1 2 AWG 1 ft\nwire B4+ to M1+ 10 AWG 4 ft\n"
    ((rule, fix),) = told(HEAD + cells + links + ends)
    assert rule == "batteries-in-series"
    assert fix.startswith("one `battery` of 24 V, internal 8 mohm, from `B1-` to `B4+`; ")


def test_two_and_two_that_share_their_middle_are_no_plain_chain() -> None:
    cells = "".join(f"battery B{n} 12 V, 100 Ah\n" for n in range(1, 5))
    links = "".join(f"wire B{a} to B{b} 2 AWG 1 ft\n" for a, b in (
        ("1-", "2-"), ("1+", "2+"), ("1+", "3-"), ("3-", "4-"), ("3+", "4+")))  # fmt: skip
    ends = "wire B1- to N1 2 AWG 1 ft\nwire B3+ to M1+ 10 AWG 4 ft\n"
    ((rule, fix),) = told(HEAD + cells + links + ends)
    assert rule == "batteries-in-series"
    assert fix.startswith("one `battery` of the volts of all, from `B1-` to `B3+`; ")


@pytest.mark.parametrize(
    "wires",
    [
        # Side by side; one the wrong way round; one shorted.
        "wire B1+ to B2+ 2 AWG 1 ft\nwire B1- to B2- 2 AWG 1 ft\n",
        "wire B1+ to B2- 2 AWG 1 ft\nwire B1- to B2+ 2 AWG 1 ft\n",
        "wire B1+ to B1- 2 AWG 1 ft\nwire B1- to B2+ 2 AWG 1 ft\n",
    ],
)
def test_whatever_else_is_wrong_is_told_by_its_rule(wires: str) -> None:
    result = check("x.rig", text=f"{HEAD}{LOWER}{UPPER}{wires}wire B1- to N1 2 AWG 1 ft\n")
    assert result.study is not None
