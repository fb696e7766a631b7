from itertools import pairwise

import pytest
from hypothesis import assume, given, settings, strategies as st

from rigfolio.books.conductors import (
    awg_sizes,
    cable_families,
    cable_of_type,
    least_resistance_ohm_per_m,
    metric_sizes,
    outside_diameter_m,
    resistance_ohm_per_m,
    stranding,
    tag_overlap_m,
    taken_for,
)
from rigfolio.books.loader import book_names, load_book
from rigfolio.units import Size, awg_size, metric_size

_KFT_M = 304.8
_few = settings(derandomize=True, max_examples=50, deadline=None)


def test_iec_class_5(row):
    found = resistance_ohm_per_m(metric_size(row["mm2"]), 20.0) * 1e3
    assert found == pytest.approx(row["ohm_per_km"], rel=row["tolerance"])


def test_iec_class_5_recalled(row):
    found = resistance_ohm_per_m(metric_size(row["mm2"]), 20.0) * 1e3
    assert found == pytest.approx(row["ohm_per_km"], rel=row["tolerance"])


def test_iso_6722(row):
    found = resistance_ohm_per_m(metric_size(row["mm2"]), 20.0) * 1e3
    assert row["ohm_per_km"] <= found <= row["ohm_per_km"] * (1.0 + row["tolerance"])


def test_iec_class_2(row):
    found = resistance_ohm_per_m(metric_size(row["mm2"]), 20.0, "class 2") * 1e3
    assert found == pytest.approx(row["ohm_per_km"], rel=row["tolerance"])


def test_iec_class_5_tinned(row):
    found = resistance_ohm_per_m(metric_size(row["mm2"]), 20.0, "tinned") * 1e3
    assert found == pytest.approx(row["ohm_per_km"], rel=row["tolerance"])


def _copper_mm2(gauge: int) -> float:
    """The copper that SAE cable of a gauge is taken for [mm²]."""
    found = resistance_ohm_per_m(awg_size(gauge), 20.0, "vehicle")
    return 0.017241 * stranding().value / found


def test_sae_least_copper(row):
    assert row["mm2"] <= _copper_mm2(row["gauge"]) <= row["mm2"] * (1.0 + row["tolerance"])


def test_sae_strands(row):
    assert _copper_mm2(row["gauge"]) == pytest.approx(row["mm2"], rel=row["tolerance"])


def test_nec_stranded(row):
    found = resistance_ohm_per_m(awg_size(row["gauge"]), 75.0) * _KFT_M
    assert found == pytest.approx(row["ohm_per_kft"], rel=row["tolerance"])


def test_faa_tinned(row):
    found = resistance_ohm_per_m(awg_size(row["gauge"]), 20.0, "aircraft") * _KFT_M
    assert found == pytest.approx(row["ohm_per_kft"], abs=row["half_a_place"])


def test_faa_drop_examples(row):
    ohm_per_ft = resistance_ohm_per_m(awg_size(row["gauge"]), 20.0, "aircraft") * 0.3048
    found = ohm_per_ft * row["run_ft"] * row["current_a"]
    assert found == pytest.approx(row["drop_v"], abs=row["half_a_place"])


def test_gxl_diameter(row):
    found = outside_diameter_m(awg_size(row["gauge"]))
    assert found.value * 1e3 == pytest.approx(row["od_mm"])
    assert (found.source.status, found.how) == ("seen", "")


def test_iso_diameter(row):
    found = outside_diameter_m(metric_size(row["mm2"]))
    assert found.value * 1e3 == pytest.approx(row["od_mm"])
    assert (found.source.status, found.how) == ("seen", "")


@pytest.mark.parametrize(
    ("size", "od_mm", "how"),
    [
        (awg_size(24), 2.4, "as 20 AWG"),
        (awg_size(3), 11.2, "as 2 AWG"),
        (metric_size(16.0), 9.4, "as 4 AWG"),
        (metric_size(120.0), 18.8 * (120 / 107.2193) ** 0.5, "scaled up from 4/0 AWG by area"),
    ],
)
def test_diameter_without_a_row(size, od_mm, how):
    found = outside_diameter_m(size)
    assert found.value * 1e3 == pytest.approx(od_mm, rel=1e-4)
    assert found.how == how


def test_stock_runs_from_thin_to_thick():
    assert [size.text for size in (awg_sizes()[0], awg_sizes()[-1])] == ["24 AWG", "4/0 AWG"]
    assert [size.text for size in (metric_sizes()[0], metric_sizes()[-1])] == ["0.5 mm²", "120 mm²"]
    for sizes in (awg_sizes(), metric_sizes()):
        assert list(sizes) == sorted(sizes, key=lambda size: size.area_m2)


def test_single_figures():
    assert stranding().value == 1.02
    assert tag_overlap_m().value == pytest.approx(5e-3)


def test_metric_area_of_a_gauge(row):
    metric = resistance_ohm_per_m(metric_size(row["mm2"]), 40.0)
    gauge = resistance_ohm_per_m(awg_size(row["gauge"]), 40.0)
    assert metric == pytest.approx(gauge, rel=row["tolerance"])


def _is_copper_of_a_gauge(mm2: float) -> bool:
    return any(abs(mm2 * 1e-6 / awg_size(n).area_m2 - 1) < 6e-3 for n in range(-3, 31))


FAMILIES = st.sampled_from([one.name for one in cable_families()])
GAUGES = st.integers(-3, 30)


@_few
@given(st.floats(0.1, 200), st.floats(1.0, 3.0), st.floats(-40, 150), FAMILIES)
def test_more_metric_copper_never_resists_more(mm2, times, temperature_c, cable):
    # The copper of a gauge has that gauge's resistance, which the standard's greatest one is above.
    assume(not _is_copper_of_a_gauge(mm2) and not _is_copper_of_a_gauge(mm2 * times))
    thin, thick = metric_size(mm2), metric_size(mm2 * times)
    assert resistance_ohm_per_m(thick, temperature_c, cable) <= resistance_ohm_per_m(
        thin, temperature_c, cable
    ) * (1 + 1e-9)


@_few
@given(GAUGES, st.integers(1, 10), st.floats(-40, 150), FAMILIES)
def test_a_thicker_gauge_never_resists_more(gauge, thinner, temperature_c, cable):
    thick, thin = awg_size(gauge), awg_size(gauge + thinner)
    assert resistance_ohm_per_m(thick, temperature_c, cable) < resistance_ohm_per_m(
        thin, temperature_c, cable
    )


@pytest.mark.parametrize("cable", [one.name for one in cable_families()])
def test_thicker_stock_never_resists_more(cable):
    """Gauges and metric sizes side by side.

    The least that a gauge of full copper has stands beside the most that IEC 60228 allows a metric
    size, which may be up to 6 % more at 35 and 70 mm².
    """
    spread = 1.0 + (0.0 if cable in ("vehicle", "aircraft") else 0.06)
    stock = sorted((*awg_sizes(), *metric_sizes()), key=lambda size: size.area_m2)
    ohms = [resistance_ohm_per_m(size, 20.0, cable) for size in stock]
    assert all(thick <= thin * spread for thin, thick in pairwise(ohms))


@pytest.mark.parametrize("book", book_names())
def test_a_book_names_a_family_that_has_a_source(book):
    held = load_book(book)
    assert held.cable in cable_families()
    assert held.cable_source.status in ("seen", "common practice", "memory")


@given(FAMILIES, st.sampled_from([*awg_sizes(), *metric_sizes()]))
def test_no_family_has_more_copper_than_the_most(cable, size):
    least = least_resistance_ohm_per_m(size, 20.0)
    assert least <= resistance_ohm_per_m(size, 20.0, cable)


@pytest.mark.parametrize(
    ("printed", "cable"),
    [("GXL", "vehicle"), ("sgt", "vehicle"), ("BC5W2", "tinned"), ("H07V-R", "class 2"),
     ("H07V-K", "plain"), ("FLRY-B", "ISO 6722")],
)  # fmt: skip
def test_a_printed_type_tells_the_family(printed, cable):
    found = cable_of_type(printed)
    assert found is not None
    assert found.name == cable


def test_a_type_that_nobody_lists_tells_nothing():
    assert cable_of_type("blue stuff") is None
    assert cable_of_type("") is None


@_few
@given(st.sampled_from([*awg_sizes(), *metric_sizes()]), st.floats(-40, 150), st.floats(0, 50))
def test_hotter_never_resists_less(size: Size, temperature_c, rise_k):
    cool = resistance_ohm_per_m(size, temperature_c)
    assert resistance_ohm_per_m(size, temperature_c + rise_k) >= cool


@_few
@given(st.floats(0.1, 200), st.floats(1.0, 3.0))
def test_more_copper_is_never_thinner_outside(mm2, times):
    thin, thick = metric_size(mm2), metric_size(mm2 * times)
    assert outside_diameter_m(thick).value >= outside_diameter_m(thin).value * (1 - 1e-9)


_PLAIN = "IEC 60228 class 5, plain copper, greatest at 20 °C"


@pytest.mark.parametrize(
    ("size", "cable", "words", "status"),
    [
        (awg_size(14), "vehicle", "SAE J1127 or J1128, less copper than its gauge", "seen"),
        (awg_size(14), "plain", "full gauge, plain copper", "computed"),
        (awg_size(16), "aircraft", "tin-plated wire of FAA AC 43.13-1B", "memory"),
        (
            metric_size(2.5),
            "aircraft",
            _PLAIN,
            "seen",
        ),
        (
            metric_size(4.0),
            "vehicle",
            _PLAIN,
            "memory",
        ),
        (metric_size(6.0), "tinned", "IEC 60228 class 5, coated copper, greatest at 20 °C", "seen"),
    ],
)
def test_what_a_size_is_taken_for_is_said_with_its_own_source(size, cable, words, status):
    found = taken_for(size, cable)
    assert (found.words, found.source.status) == (words, status)


def test_a_size_in_stock_is_the_size_that_a_text_writes():
    assert [metric_size(float(size.text.removesuffix(" mm²"))) for size in metric_sizes()] == list(
        metric_sizes()
    )
    assert 50.0 in [float(size.text.removesuffix(" mm²")) for size in metric_sizes()]
