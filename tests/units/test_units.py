"""Units: every factor of the table is pint's, and text from a file never reaches pint's parser."""

import math
import os
import subprocess
import sys

import pytest

import rigfolio.units as units
from rigfolio.judgement.result import load
from rigfolio.units import MEANT, UNITS, awg_size, from_si, metric_size, quantity, show, to_si

SI = {
    "length": "meter", "current": "ampere", "voltage": "volt", "power": "watt",
    "resistance": "ohm", "charge": "coulomb", "energy": "joule", "area": "meter ** 2",
    "share": "dimensionless", "time": "second", "duty": "dimensionless", "torque": "newton * meter",
    "temperature": "degree_Celsius",
}  # fmt: skip


@pytest.mark.parametrize("value", [0.0, 1.0, 7.5, -40.0, 1234.567])
@pytest.mark.parametrize("symbol", UNITS)
def test_every_symbol_is_what_pint_says(symbol, value):
    unit = UNITS[symbol]
    expected = quantity(value, symbol).to(SI[unit.kind]).magnitude
    assert to_si(value, symbol) == pytest.approx(expected, rel=1e-12, abs=1e-12)
    assert from_si(expected, symbol) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_every_other_spelling_leads_to_a_symbol():
    assert {meant for meant in MEANT.values() if meant != "AWG"} <= set(UNITS)
    assert not set(MEANT) & set(UNITS)


@pytest.mark.parametrize(
    ("value", "symbol", "text"),
    [
        (7.5, "A", "7.5 A"), (0.3048, "ft", "1 ft"), (1200.0, "W", "1200 W"), (0.0, "V", "0 V"),
        (12345.6, "W", "12346 W"), (0.00012, "ohm", "0.00012 ohm"), (0.03, "%", "3 %"),
        (99.96, "A", "100 A"), (-0.36, "V", "-0.36 V"), (40.0, "degF", "104 degF"),
        (1e-7, "A", "0 A"), (105 * 3600.0, "Ah", "105 Ah"),
    ],
)  # fmt: skip
def test_show(value, symbol, text):
    assert show(value, symbol) == text


def test_show_never_uses_an_exponent():
    for power in range(-9, 10):
        assert "e" not in show(1.234 * 10.0**power, "A").split()[0]


def test_sizes():
    # ASTM B258: 36 AWG is 0.005 in across, each gauge 92 to the power of 1/39 more (memory).
    across_m = 0.005 * 0.0254 * 92 ** ((36 - 16) / 39)
    assert awg_size(16).area_m2 == pytest.approx(math.pi / 4 * across_m**2, rel=1e-9)
    assert (awg_size(0).text, awg_size(-3).text, awg_size(16).text) == (
        "1/0 AWG",
        "4/0 AWG",
        "16 AWG",
    )
    assert metric_size(2.5).text == "2.5 mm²"
    assert metric_size(2.5).area_m2 == pytest.approx(2.5e-6)
    assert metric_size(2.5).awg is None


def test_text_never_reaches_the_parser_of_pint(monkeypatch, tmp_path):
    import pint

    def refuse(*_, **__):
        raise AssertionError("text has reached pint")

    for name in ("parse_expression", "parse_units", "__call__"):
        monkeypatch.setattr(pint.UnitRegistry, name, refuse)
    file = tmp_path / "x.rig"
    file.write_text(
        'rig "X"\n  system 12 V\nwire A1 to B1 9**9**9 ft\nfuse F1 5 amps\nfuse F2 5 A\n'
    )
    _, _, found = load(str(file))
    assert [one.rule for one in found] == ["character-not-read", "unknown-unit"]


def test_reading_a_file_does_not_import_pint():
    code = (
        "import sys; from rigfolio.judgement.result import load; load('-', 'fuse F1 5 A'); "
        "sys.exit('pint' in sys.modules)"
    )
    paths = os.pathsep.join(path for path in sys.path if path)
    env = {**os.environ, "PYTHONPATH": paths}
    assert subprocess.run([sys.executable, "-c", code], check=False, env=env).returncode == 0


def test_only_quantity_makes_pint_quantities():
    assert units.quantity(7.5, "A").magnitude == 7.5
    with pytest.raises(KeyError):
        units.to_si(1.0, "furlong")
