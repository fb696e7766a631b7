"""Calculation sheet: a reader with the paper alone gets the same numbers.

Everything below is read from the text of the printed PDF and worked out again from the formulas
that stand at its foot, written anew here.
"""

import math
import re
from io import BytesIO

import pdfplumber
import pytest
from hypothesis import given, strategies as st

from helpers.cables import SAE
from helpers.forgotten import cache
from helpers.home import EXAMPLES
from helpers.label_rigs import BARE, FEW, NAMES, job_of, marsh_wren, off_paper, panel_of, words
from helpers.page_checks import overlaps
from helpers.studies import job_from
from helpers.sun_rigs import ROOF
from rigfolio.answers.short import short_report
from rigfolio.figures import calculation_report
from rigfolio.judgement.result import check, job_of as job_of_result
from rigfolio.render.pdf import write_pdf
from rigfolio.reports.terminal import as_text
from rigfolio.sheets import calculation

SOUND = sorted(path.name for path in EXAMPLES.glob("*.rig"))
FOOT_M = 0.3048
WIRE = re.compile(
    r"^(\S+) (\S+) (?:(\d+) x )?(\S+ (?:AWG|mm²)) ([\d.]+) (ft|in|m) ([\d.]+) A (-?[\d.]+) °C "
    r"([\d.]+) °C ([\d.]+) °C ([\d.]+) A ([\d.]+) °C ([\d.]+) mΩ ([\d.]+) V$"
)
COPPER = re.compile(r"^(\S+ (?:AWG|mm²)) ([\d.]+) mΩ ([\d.]+) mΩ \S")
LOAD = re.compile(
    r"^(.+?) (\S+\.\S+|D1) ([\d.]+) (A|W|ohm) ([\d.]+) V ([\d.]+) A "
    r"(continuous|cyclic|intermittent|momentary) (\S.*\S) ([\d.]+) V ([\d.]+) %$"
)


@cache
def pages_of(name):
    """The sheet of an example, laid out once."""
    return calculation.pages(example(name))


@cache
def lines_of(name):
    """The lines of the printed sheet of an example."""
    with pdfplumber.open(BytesIO(write_pdf(pages_of(name), title="x"))) as pdf:
        return [line for page in pdf.pages for line in page.extract_text().split("\n")]


def example(name):
    return job_from(EXAMPLES / name)


@pytest.fixture(scope="module", params=SOUND)
def sheet(request):
    return lines_of(request.param)


def copper(sheet):
    return {m[1]: float(m[2]) for line in sheet if (m := COPPER.match(line))}


def wires(sheet):
    return [m for line in sheet if (m := WIRE.match(line))]


def loads(sheet):
    return [m for line in sheet if (m := LOAD.match(line))]


def way_of(sheet, load):
    """The source and the wires of a load's way; a long way goes on in the next line."""
    way = load[8]
    at = sheet.index(load[0]) + 1
    while way.endswith(","):
        way += f" {sheet[at]}"
        at += 1
    source, names = way.split(": ")
    return source, names.split(", ")


def metres(number, unit):
    return float(number) * {"ft": FOOT_M, "in": FOOT_M / 12.0, "m": 1.0}[unit]


def test_what_each_wire_loses_is_repeated_from_the_paper(sheet):
    at_20 = copper(sheet)
    found = wires(sheet)
    assert len(found) > 20
    for one in found:
        name, _, count, size, long, unit, amps, ambient, rated, at, limit, hot, milliohm, drop = (
            one.groups()
        )
        assert float(at) <= float(rated), name
        each = float(amps) / int(count or 1)
        share = min(each, float(limit)) / float(limit)
        warm = float(ambient) + (float(at) - float(ambient)) * share**2
        assert warm == pytest.approx(float(hot), abs=0.1), name
        ohm = at_20[size] * metres(long, unit) * (234.5 + warm) / 254.5 / int(count or 1)
        assert ohm == pytest.approx(float(milliohm), rel=2e-3), name
        volts = float(amps) * ohm / 1000.0
        # Amperes are printed to two places, upwards.
        coarse = 0.01 * ohm / 1000.0
        assert volts == pytest.approx(float(drop), rel=2e-3, abs=6e-5 + coarse), name


def test_the_drop_of_a_load_is_the_sum_over_its_way(sheet):
    lost = {(one[1], one[2]): float(one[14]) for one in wires(sheet)}
    found = 0
    for one in loads(sheet):
        source, names = way_of(sheet, one)
        found += 1
        volts = sum(lost[name, source] for name in names)
        assert volts == pytest.approx(float(one[9]), abs=1e-4 * len(names) + 5e-4), one[0]
        assert volts / float(one[5]) * 100.0 == pytest.approx(float(one[10]), abs=0.02)
    assert found > 8


def test_the_current_of_a_load_by_its_watts_or_ohms(sheet):
    found = loads(sheet)
    assert found
    for one in found:
        draws, volts = float(one[3]), float(one[5])
        if one[4] != "W":
            amps = {"A": draws, "ohm": volts / draws}[one[4]]
            assert float(one[6]) == pytest.approx(amps, rel=0.05 if one[4] == "ohm" else 2e-3)
            continue
        # Watts are drawn at the load's own volts: more than at those of the source, by what is
        # lost on the way and inside the battery, which together are under twice the drop.
        lost = 2.0 * float(one[9])
        assert draws / volts * 0.998 <= float(one[6]) <= draws / (volts - lost) * 1.002


SHORT = re.compile(
    r"^(\S+) (\S+) ([\d.]+) V ([\d.]+) mΩ(?: usual)? (\S.*?) ([\d.]+) mΩ ([\d.]+) A "
    r"(\S+) ((?:under )?\S+(?: s)?) (?:under )?([\d.]+) A$"
)


def test_a_short_is_the_battery_over_all_of_the_copper_hot(sheet):
    at_20 = copper(sheet)
    by_name = {(one[1], one[2]): one for one in wires(sheet)}
    found = [(line, m) for line in sheet if (m := SHORT.match(line))]
    for line, one in found:
        names, at = one[5], sheet.index(line) + 1
        while names.endswith(","):
            # The place goes on in the same line where it is a circuit outside panels.
            names += f" {re.sub(r'^[A-Z]+[0-9][^ ,/]* (?=[^ ])', '', sheet[at])}"
            at += 1
        milliohm = 0.0
        for name in names.split(", "):
            wire = by_name[name, one[2]]
            warm = (234.5 + float(wire[9])) / 254.5
            milliohm += at_20[wire[4]] * metres(wire[5], wire[6]) * warm / int(wire[3] or 1)
        assert milliohm == pytest.approx(float(one[6]), rel=2e-3)
        amps = float(one[3]) / (float(one[4]) + milliohm) * 1000.0
        assert amps == pytest.approx(float(one[7]), rel=2e-3)
        assert amps < float(one[10])
    solved = [line for line in sheet if "several ways" in line]
    assert len(found) > 10 or len(solved) > 10


def test_the_gate_that_the_least_current_reaches():
    """ISO 8820-3 as the foot of the sheet has it: 600 % in 0.1 s; 82.5 A are 11 times 7.5 A."""
    whole = "\n".join(lines_of("marsh-wren-17.rig"))
    assert re.search(r"^P1.1 B1 12 V 10 mΩ .* 82.47 A P1.1 under 0.1 s under ", whole, re.M)
    assert "600 % 0.1 s" in whole
    assert re.search(r"^W1 B1 12 V 10 mΩ W1 \S+ mΩ 1149 A nothing never", whole, re.M)


def test_a_time_between_two_gates_by_hand():
    """The converter gives 30 A, 3 times 10 A: between 200 % in 5 s and 350 % in 0.5 s."""
    whole = "\n".join(lines_of("lapwing-cabin.rig"))
    assert "200 % 5 s, 350 % 0.5 s" in whole
    share = math.log(3.0 / 2.0) / math.log(3.5 / 2.0)
    by_hand = math.exp(math.log(5.0) + share * math.log(0.5 / 5.0))
    (seconds,) = re.findall(r"^P1.3 Well pump .* 30 A ([\d.]+) s ", whole, re.M)
    assert by_hand == pytest.approx(float(seconds), rel=2e-3)


def test_copper_of_a_gauge_by_its_diameter():
    """ASTM B258: 0.005 in x 92^((36 - n) / 39); 17.241 mΩ mm²/m and 1.02 as the sheet says.

    Of that an SAE cable has the share that its circular mils have of those of its gauge.
    """
    sheet = lines_of("marsh-wren-17.rig")
    assert any("17.241 mΩ mm²" in line and "1.02" in " ".join(sheet) for line in sheet)
    found = copper(sheet)
    assert {"6 AWG", "12 AWG", "14 AWG", "16 AWG"} <= found.keys()
    for size, milliohm in found.items():
        gauge = int(size.split()[0])
        area = math.pi / 4.0 * (0.127 * 92.0 ** ((36 - gauge) / 39.0)) ** 2
        by_hand = 17.241 / area * 1.02 * SAE[str(gauge)]
        assert by_hand == pytest.approx(milliohm, rel=1e-3)


def test_metric_copper_is_that_of_the_standard():
    """IEC 60228 class 5, plain copper at 20 °C: 2.5 mm² 7.98, 16 mm² 1.21, 70 mm² 0.272 mΩ/m."""
    found = copper(lines_of("heron-van.rig"))
    assert (found["2.5 mm²"], found["16 mm²"], found["70 mm²"]) == (7.98, 1.21, 0.272)


def test_demand_and_ampacity_of_the_trailer_by_hand():
    sheet = lines_of("marsh-wren-17.rig")
    whole = "\n".join(sheet)
    # NFPA 70-2023 Table 310.16, 6 AWG at 75 °C 65 A (seen); 30 °C table, 40 °C about it.
    assert "65 A for 6 AWG with 75 °C insulation x 0.88 at 40 °C" in whole
    assert 65.0 * math.sqrt((75.0 - 40.0) / (75.0 - 30.0)) == pytest.approx(57.32, abs=0.005)
    assert re.search(r"^a 57.32 A 65 A for 6 AWG", whole, re.M)
    by_circuit = {}
    for one in loads(sheet):
        by_circuit.setdefault(one[2], []).append((float(one[6]), one[7]))
    panel = {place: held for place, held in by_circuit.items() if place.startswith("P1.")}
    assert len(panel) == 11
    for place, held in panel.items():
        amps = sum(each for each, _ in held)
        row = next(line for line in sheet if line.startswith(f"{place} "))
        printed = float(next(iter(re.findall(r" ([0-9.]+) A ", row))))
        # What loads draw is never rounded down; here to three digits, above to four.
        assert printed == pytest.approx(amps, rel=0.01), row
        assert printed >= amps - 0.001 * len(held), row
    # All of the panel and the gas detector pass W2; W3 carries the panel: 7 A and 6 A occasional.
    steady = sum(
        a for held in panel.values() for a, duty in held if duty in ("continuous", "cyclic")
    )
    occasional = [a for held in panel.values() for a, d in held if d == "intermittent"]
    listed = float(next(one for one in wires(sheet) if one[1] == "W3")[7])
    own = steady + max(*occasional, 0.10 * sum(occasional))
    # Beside each other loads of watts have a little less voltage, and draw a little more.
    assert own <= listed <= own * 1.01


def test_what_watts_draw_at_the_end_of_a_bank_is_said():
    """Lead is empty at 6 x 1.75 V = 10.5 V, LiFePO4 at 4 x 2.5 V = 10 V: 12 / 10.5, 12.8 / 10."""
    said = " ".join(lines_of("marsh-wren-17.rig"))
    assert "B1 at 10.5 V up to 15 % more" in said
    assert "B1 at 10 V up to 28 % more" in " ".join(lines_of("heron-van.rig"))


def test_findings_stand_in_the_verdict():
    name = "faulty/shared-return-too-thin.rig"
    whole = "\n".join(lines_of(name))
    assert re.search(
        r"^B1-/R1 return, R1 to B1− 5.56 A 16 AWG 6 ft 8 A \(\w\) back: 15 A 8 A DANGER",
        whole,
        re.M,
    )
    assert re.search(r"^P1.1 Lamps 2.0\d A 14 AWG 5 ft: /1, /1R 15 A \(\w\) 5 A 15 A", whole, re.M)
    assert "no finding" in whole
    for word in ("safe", "passed", "OK"):
        assert not re.search(rf"\b{word}\b", whole)


def test_the_figures_that_decide_a_verdict_stand_below_it():
    """Every number of a finding is on the sheet, and that of a start is not that of a run.

    By hand, 40 ft of 14 AWG of SAE cable at 2.857 mΩ/ft: 114 mΩ, warmed by its own 12 A some 5 %
    more, times 12 A is 1.4 V, of 12 V 12 %; its run of 2 A would lose 2 %.
    """
    text = (
        'rig "Far"\n    system 12 V\n    rules rv\nbattery B1 agm, 100 Ah, internal 4 mohm\n'
        "fuse F1 60 A, class-t, interrupts 20 kA, on B1+\npanel P1 2 slots, 60 A in all\n"
        "busbar N1 100 A\nwire F1 to P1 4 AWG red 1 ft\nwire P1- to N1 4 AWG black 1 ft\n"
        "wire B1- to N1 4 AWG black 1 ft\n"
        'circuit P1.1 "Heater" fuse 15 A\n    wire 14 AWG red 20 ft\n'
        '    load "Heater" 2 A, cyclic, starts at 6 times for 3 min\n'
    )
    seen = words(calculation.pages(job_of_result(check("far.rig", text=text))))
    assert "FAULT: voltage-" in seen
    (told,) = re.findall(r"while it starts for 3 min; 10 % are allowed; starts at 12 A", seen)
    assert told
    lost, share = re.search(r"loses ([\d.]+) V, ([\d.]+) % of 12 V, while", seen).groups()
    assert 1.4 < float(lost) < 1.7
    assert float(share) == pytest.approx(float(lost) / 12 * 100, abs=0.1)


def test_modules_stand_beside_what_their_controller_bears():
    """By hand: 2 x 24 V, at -15 °C x (1 + 0.003 x 40) = 53.76 V, up 53.8 V; 110 W/20 V = 5.5 A."""
    seen = words(calculation.pages(job_of(ROOF)))
    row = seen[seen.index("Modules and controllers") :]
    for figure in ("48 V", "53.8 V", "at -15 °C", "100 V", "5.5 A"):
        assert figure in row, figure
    lost = seen[seen.index("What each wire loses") : seen.index("Drops by what is on")]
    for name in ("Y1+/Z1", "S1/Z1", "S1/U1.in", "U1.in-/Y3-"):
        assert name in lost.replace("−", "-"), name


def test_a_short_opens_what_is_overloaded_most_and_ends_no_later_than_a_last_gate():
    """A terminal cube has no table: the class T behind it ends all by 360 s, at twice its 100 A."""
    report = calculation_report(job_of(ROOF).study)
    (shorts,) = report.tables("shorts")
    (row,) = [row for row in shorts.rows if row[0] == "N2/U1+ fuse"]
    assert row[7:9] == ("N2/U1+ fuse", "under 360 s")
    told = short_report(job_of(ROOF).study, "U1+")
    assert "Opens first: N2/U1+ fuse" in as_text(told)


def test_what_is_not_known_is_a_question_mark():
    whole = "\n".join(lines_of("faulty/return-not-surveyed.rig"))
    assert "NOT COUNTED, its draw or its way is not known: Fan." in whole
    assert re.search(r"^P1.1 Fan \? ", whole, re.M)


@pytest.mark.parametrize("name", SOUND)
def test_nothing_is_cut_or_covered(name):
    pages = pages_of(name)
    assert pages == calculation.pages(example(name))
    for page in pages:
        assert overlaps(page) == ()
        assert off_paper(page) == []
        assert not [mark for mark in page.marks if "…" in getattr(mark, "text", "")]


@pytest.mark.parametrize("job", [job_of(BARE), marsh_wren()], ids=["bare", "survey"])
def test_a_survey_with_gaps_still_prints(job):
    for page in calculation.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []


@FEW
@given(slots=st.integers(1, 20), names=st.lists(NAMES, min_size=1, max_size=5))
def test_any_names_fit(slots, names):
    job = panel_of(slots, names * 4, paper="a4")
    for page in calculation.pages(job):
        assert overlaps(page) == ()
        assert off_paper(page) == []
