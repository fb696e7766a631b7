"""What a technician would laugh at: sound wiring in every example, on which rules keep still.

Each item changes the text of a sound example in a way that a person at the panel knows to be right,
or that says nothing of right or wrong. Nothing above advice may be found. Source of the items:
common practice, and 33 CFR 183.425 for the boat's cable (seen).
"""

import re
from collections.abc import Callable

import pytest

from helpers.fed import STRONG, fed, fuse_at
from mutations.edits import SOUND, sound
from rigfolio.findings import Severity
from rigfolio.judgement.result import check, understood
from silence.additions import ADDITIONS, bank_of

BOAT, CABIN = "kittiwake-30", "lapwing-cabin"

_COLOUR = re.compile(
    r"\b((?:dark blue|red|black|white|yellow|blue|orange|brown|violet|pink|grey|green|bare)"
    r"(?:/(?:red|black|white|yellow|blue|orange|brown|green|grey))?)(?=[\s,]|$)"
)
_QUOTED_OR_REMARK = re.compile(r'"[^"]*"|#.*')
_LAMP = re.compile(r"\b(?:[1-9]|1\d)(?:\.\d)? W\b")
"""What draws less than 20 W is a lamp in these examples."""
_VOLTS = {name: (", 51.2 V" if name == CABIN else "") for name in SOUND}


def each_line(text: str, words: str, change: Callable[[str], str]) -> str:
    """Change what stands in the lines of some words; labels and remarks stay as they are."""
    rows = []
    for row in text.split("\n"):
        if re.match(rf"\s*(?:{words})\b", row):
            kept: list[str] = []

            def hide(found: re.Match[str], kept: list[str] = kept) -> str:
                kept.append(found[0])
                return f"\0{len(kept) - 1}\0"

            bare = change(_QUOTED_OR_REMARK.sub(hide, row))
            rows.append(re.sub("\0(\\d+)\0", lambda m, kept=kept: kept[int(m[1])], bare))
        else:
            rows.append(row)
    return "\n".join(rows)


def one_colour(text: str, _: str) -> str:
    """Every wire red, plus and minus alike: polarity is never read from colour."""
    return each_line(text, "wire|return", lambda row: _COLOUR.sub("red", row))


def colours_changed_over(text: str, _: str) -> str:
    """Red for black and black for red on every wire."""

    def swap(row: str) -> str:
        return re.sub(r"\b(red|black)\b", lambda m: {"red": "black", "black": "red"}[m[1]], row)

    return each_line(text, "wire|return", swap)


def thick_wires(text: str, _: str) -> str:
    """Every thin wire of a circuit four gauges thicker behind the same small fuse.

    Feeds stay: thicker, they let more through than the fuses behind them may break.
    """
    thicker = {"18": "14", "16": "12", "14": "10", "12": "8", "10": "6"}
    metric = {"1": "4", "1.5": "4", "2.5": "6", "4": "10", "6": "16"}

    def change(row: str) -> str:
        if not row.startswith(" "):
            return row
        row = re.sub(r"\b(\d+) AWG", lambda m: f"{thicker.get(m[1], m[1])} AWG", row)
        return re.sub(r"\b([\d.]+) mm2", lambda m: f"{metric.get(m[1], m[1])} mm2", row)

    return each_line(text, "wire|return", change)


def branches_beyond_the_main(text: str, _: str) -> str:
    """The spare slots filled with fuses as large as the slot, each with a small load."""
    made = iter(range(1, 99))

    def fill(found: re.Match[str]) -> str:
        rating = "15" if found[1].startswith("P2.") and "bunk" in text.lower() else "20"
        word = "breaker" if "breakers" in text and found[1].startswith("P1.") else "fuse"
        return (
            f'circuit {found[1]} "Added {next(made)}" {word} {rating} A\n'
            f"    wire 10 AWG red 6 ft\n    load 0.2 A, 1 h/day"
        )

    return re.sub(r"^slot (P\d+\.\d+) (?:spare|blank)$", fill, text, flags=re.MULTILINE)


def cranking_cable(text: str, name: str) -> str:
    """A starter on cable that is declared as cranking and has no fuse."""
    bank = bank_of(name)
    return text + (
        f'\nload M9 "Second starter" 250 A, momentary, motor, drop 20 %\n'
        f"wire {bank}+ to M9+ 2/0 AWG red 4 ft cranking\n"
        f"wire M9- to {bank}- 2/0 AWG black 4 ft cranking\n"
    )


def fuses_in_a_made_unit(text: str, name: str) -> str:
    """Two blades side by side in a bought charger, told as the one device that they are."""
    bank = bank_of(name)
    return text + (
        f'\ncharger C9 "Bought unit" 20 A{_VOLTS[name]}\n'
        f'fuse F9 "Two blades of 20 A in it" 40 A {STRONG}\n'
        f"{fed(bank, 'F9.line', '6 AWG red 5 ft', 40)}\n"
        f"wire F9.load to C9+ 6 AWG red 1 ft\n"
        f"wire C9- to {bank}- 6 AWG black 6 ft\n"
    )


def bond_without_fuse(text: str, name: str) -> str:
    """One more bond between battery minus and a frame, as thick as the thickest lead, unfused."""
    return text + f"\nchassis G9\nwire {bank_of(name)}- to G9 4/0 AWG green 2 ft\n"


def one_more_source(text: str, name: str) -> str:
    """A small sun panel with a controller, its line fused at the post, straight on the battery."""
    bank = bank_of(name)
    return text + (
        f'\nsolar U9 "Added sun" 5 A{_VOLTS[name]}\n'
        f"wire U9+ to {bank}+ 12 AWG red 8 ft, {fuse_at(bank, 10)}\n"
        f"wire U9- to {bank}- 12 AWG black 8 ft\n"
    )


def thin_tap(text: str, name: str) -> str:
    """A thin wire on the post to a small fuse within the distance that every book allows."""
    bank = bank_of(name)
    return text + (
        f"\nfuse F9 2 A {STRONG}\n"
        f'load M9 "Clock" 0.1 A\n'
        f"wire {bank}+ to F9.line 16 AWG red 6 in\n"
        f"wire F9.load to M9+ 16 AWG red 3 ft\n"
        f"wire M9- to {bank}- 16 AWG black 3 ft\n"
    )


def cable_in_a_boat(text: str, _: str) -> str:
    """20 A on 14 AWG of 105 °C cable: a danger in a trailer, and right in a boat."""
    blocks = re.split(r"(?=^(?:circuit|slot|ac|state|wire|panel) )", text, flags=re.MULTILINE)
    return "".join(
        re.sub(r"breaker \d+ A", "breaker 20 A", block, count=1)
        if block.startswith("circuit P1.") and "14 AWG" in block
        else block
        for block in blocks
    )


def leads_of_fixtures(text: str, _: str) -> str:
    """Six inches of thin wire that a lamp came with, behind the fuse of its circuit."""
    return each_line(text, r"\s+load", lambda row: _LAMP.sub(r"\g<0>, leads 22 AWG 6 in", row))


def cold_filaments(text: str, _: str) -> str:
    """Lamps that look like a short while they are cold."""

    def change(row: str) -> str:
        return _LAMP.sub(r"\g<0>, filament", re.sub(r", (?:led|electronics)\b", "", row), count=1)

    return each_line(text, r"\s+load", change)


def hard_starts(text: str, _: str) -> str:
    """Motors that take six times their current for a moment."""
    return each_line(text, r"\s+load|load", lambda row: re.sub(r"at \d times", "at 6 times", row))


def other_order(text: str, _: str) -> str:
    """The statements last to first: meaning does not depend on their order."""
    blocks: list[list[str]] = []
    for row in text.split("\n"):
        if row and not row.startswith((" ", "#")):
            blocks.append([row])
        elif row.startswith(" ") and blocks:
            blocks[-1].append(row)
    return "\n".join("\n".join(block) for block in reversed(blocks)) + "\n"


EVERYWHERE = (
    one_colour,
    thick_wires,
    branches_beyond_the_main,
    fuses_in_a_made_unit,
    bond_without_fuse,
    one_more_source,
    thin_tap,
    leads_of_fixtures,
    cold_filaments,
    hard_starts,
    other_order,
    colours_changed_over,
    *ADDITIONS,
)
SOME = (
    *((cranking_cable, name) for name in SOUND if name != CABIN),
    (cable_in_a_boat, BOAT),
)
FITS = (*((item, name) for item in EVERYWHERE for name in SOUND), *SOME)


@pytest.mark.parametrize("name", SOUND)
def test_the_examples_themselves(name: str) -> None:
    assert _loud(sound(name).text) == []


@pytest.mark.parametrize(
    ("item", "name"), FITS, ids=[f"{item.__name__}-{name}" for item, name in FITS]
)
def test_no_alarm(item: Callable[[str, str], str], name: str) -> None:
    text = sound(name).text
    changed = item(text, name)
    assert changed != text, "nothing was changed"
    assert _loud(changed) == []


def _loud(text: str) -> list[str]:
    """What is found above advice."""
    result = check("silence.rig", text=text)
    assert result.study is not None
    return [
        f"{one.severity.value}[{one.rule}] {one.headline}"
        for one in result.findings
        if one.severity is not Severity.ADVICE
    ]


def test_branch_fuses_do_add_up_to_more_than_the_main() -> None:
    """Else the examples would prove nothing of that item."""
    for name, main in (("kittiwake-30", "F3"), ("marsh-wren-17", "F1")):
        study = understood(
            "silence.rig", text=branches_beyond_the_main(sound(name).text, name)
        ).study
        assert study is not None
        branches = sum(
            device.rating_a
            for device in study.rig.devices
            if device.load.startswith("P1.") and isinstance(device.rating_a, float)
        )
        held = study.device(main)
        assert held is not None
        assert isinstance(held.rating_a, float)
        assert branches > held.rating_a


_UNREAD = {
    "length": re.compile(r"\b(?:\d+ ft(?: \d+ in)?|\d+ in|[\d.]+ m)\b(?! from)"),
    "gauge": re.compile(r"\b[\d/.]+ (?:AWG|mm2|mm²)(?=\s)"),
    "rating": re.compile(r"\b(?:fuse|breaker) (\d[\d.]*) A\b"),
}
_ASKED = {"length": "? ft", "gauge": "? AWG", "rating": "fuse ? A"}


@pytest.mark.parametrize("name", SOUND)
@pytest.mark.parametrize("what", _UNREAD)
def test_what_nobody_has_read_is_no_danger(what: str, name: str) -> None:
    """Every wire of a sound rig without its length, its gauge, or the rating of its fuse."""
    text = each_line(
        sound(name).text, r"\s*wire|\s+return|circuit",
        lambda row: _UNREAD[what].sub(_ASKED[what], row),
    )  # fmt: skip
    assert text != sound(name).text
    told = _loud(text)
    assert [one for one in told if not one.startswith("unknown[")] == []
    assert told, "what is not known is asked for"
