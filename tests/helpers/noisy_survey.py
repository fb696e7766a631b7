"""A panel as it is, and the survey of it as people at a panel write it down."""

from dataclasses import dataclass

from hypothesis import strategies as st

COLOURS = {
    "red": ("red", "Red", "RD", "RED"), "black": ("black", "blk", "Black"),
    "red/black": ("Red w/ black stripe", "red with black", "red/black", "red-black", "RD/BK"),
    "white/blue": ("white/blue", "wht/blu", "White (blue stripe)", "white w/ blue tracer"),
    "dark green": ("dk green", "dark green", "Dk. Green"), "yellow": ("yellow", "yel", "Yellow"),
    "brown": ("brown", "Brown", "brn"), "violet": ("purple", "violet", "Violet"),
}  # fmt: skip
GAUGES = (18, 16, 14, 12, 10)
AMPERES = (3.0, 5.0, 7.5, 10.0, 15.0, 20.0)
FEET = (3.0, 6.5, 9.0, 12.0, 18.0, 22.0)
LOADS = ("Ceiling lamp", "Pump", "Roof fan", "Radio", "Step lamp", "USB socket", "Heater fan")
MARKS = {"": ("", "ok", "OK", "good", "-"), "scorched": ("burnt", "scorched", "a bit burnt"),
         "loose": ("loose", "Loose"), "corroded": ("rusty", "corroded", "green")}  # fmt: skip


@dataclass(frozen=True)
class Surveyed:
    """One slot as it is, and its row as it was written down."""

    number: int
    load: str
    colour: str
    awg: int
    feet: float
    found_a: float
    draws_a: float
    mark: str
    row: tuple[str, ...]


HEADS = ("Slot", "Name", "colour, stripe", "gauge", "length", "Found", "wires", "went dead",
         "condition", "remark")  # fmt: skip


def _gauge(awg):
    forms = ("{}ga", "{} AWG", "#{}", "{} gauge", "{}awg", "{} ga.")
    return st.sampled_from(forms).map(lambda form: form.format(awg))


def _length(feet):
    whole, inches = int(feet), round(feet % 1 * 12)
    if inches:
        forms = (f"{whole}' {inches}\"", f"{whole} ft {inches} in", f"{feet} ft", f"~{feet}'")
    else:
        forms = (f"{whole}'", f"{whole} ft", f"{whole} feet", f"~{whole}'", f"about {whole} ft",
                 f"{whole * 12}\"")  # fmt: skip
    return st.sampled_from(forms)


def _amperes(ampere, comma):
    figure = f"{ampere:g}".replace(".", comma)
    forms = ("{}a", "{} A", "{}A", "{} amp", "{} amps", "{} Amp")
    return st.sampled_from(forms).map(lambda form: form.format(figure))


@st.composite
def slots(draw, number, comma):
    """A slot and its row."""
    load = f"{draw(st.sampled_from(LOADS))} {'ABCDEFGHIJKLMNOPQRSTUVWX'[number - 1]}"
    colour, awg = draw(st.sampled_from(sorted(COLOURS))), draw(st.sampled_from(GAUGES))
    feet, mark = draw(st.sampled_from(FEET)), draw(st.sampled_from(("", "", "", *MARKS)))
    found, draws = draw(st.sampled_from(AMPERES)), draw(st.sampled_from((0.0, 1.0, 2.5, 7.0)))
    place = draw(
        st.sampled_from((f"P1.{number}", f"p1.{number}", f"P1 {number}", f"slot {number}"))
    )
    dead = f"{load} {draw(_amperes(draws, comma))}" if draws else load
    name = load.upper() if draw(st.booleans()) else load
    row = (
        place, name, draw(st.sampled_from(COLOURS[colour])),
        draw(_gauge(awg)), draw(_length(feet)), draw(_amperes(found, comma)),
        draw(st.sampled_from(("1", "1", "", "2", "two"))), dead, draw(st.sampled_from(MARKS[mark])),
        draw(st.sampled_from(("", "", "by the door", "rubs on the frame"))),
    )  # fmt: skip
    return Surveyed(number, load, colour, awg, feet, found, draws, mark, row)


@st.composite
def panels(draw, least=4, most=12):
    """The slots of a panel, and what stands between the cells of its table."""
    comma = draw(st.sampled_from((".", ",")))
    count = draw(st.integers(least, most))
    return [draw(slots(number, comma)) for number in range(1, count + 1)], comma


def table_text(found, comma):
    """The table as a spreadsheet stores it; with semicolons where commas are decimal."""
    import csv
    import io

    text = io.StringIO()
    csv.writer(text, delimiter="," if comma == "." else ";").writerows(
        (HEADS, *(one.row for one in found))
    )
    return text.getvalue()
