"""Thinner, hotter, more together, poorer insulation never carries more, in any book."""

import math
from itertools import pairwise

import pytest
from hypothesis import example, given, strategies as st

from rigfolio.books.columns import Service
from rigfolio.books.loader import book_names, load_book
from rigfolio.record import replace
from rigfolio.units import awg_size, metric_size

_SIZES = [awg_size(number) for number in range(-3, 25)] + [
    metric_size(mm2) for mm2 in (0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4, 6, 10, 13.3, 16, 25, 35, 50, 70)
]
_services = st.builds(
    Service,
    insulation_c=st.sampled_from(
        [50.0, 60.0, 70.0, 74.0, 75.0, 80.0, 85.0, 90.0, 105.0, 125.0, 200.0]
    ),
    ambient_c=st.one_of(st.none(), st.floats(-20.0, 120.0)),
    bundle=st.integers(1, 40),
    engine_space=st.booleans(),
    system_v=st.sampled_from([12.0, 24.0, 48.0, 51.2]),
)
_books = st.sampled_from([load_book(name) for name in book_names()])
_devices = st.sampled_from(["fuse", "breaker"])


def _never_more(book, size, better, worse, device):
    """Asserts that a worse service carries no more; what is not told claims nothing."""
    for ask in (
        lambda service: book.carries_a(size, service),
        lambda service: book.largest_fuse_a(size, service, device),
    ):
        one, two = ask(better), ask(worse)
        if one is not None and two is not None:
            assert two.value <= one.value * (1.0 + 1e-9), (one, two)


@given(_books, st.sampled_from(_SIZES), _services, st.floats(0.0, 60.0), _devices)
def test_hotter(book, size, service, more_k, device):
    ambient_c = 20.0 if service.ambient_c is None else service.ambient_c
    cooler = replace(service, ambient_c=ambient_c)
    _never_more(book, size, cooler, replace(service, ambient_c=ambient_c + more_k), device)


@given(_books, st.sampled_from(_SIZES), _services, _devices)
def test_in_an_engine_space(book, size, service, device):
    outside = replace(service, engine_space=False)
    _never_more(book, size, outside, replace(service, engine_space=True), device)


@given(_books, st.sampled_from(_SIZES), _services, st.integers(0, 30), _devices)
def test_more_together(book, size, service, more, device):
    _never_more(book, size, service, replace(service, bundle=service.bundle + more), device)


@given(_books, st.sampled_from(_SIZES), _services, st.floats(41.0, 200.0), _devices)
@example(
    load_book("vehicle"),
    metric_size(25),
    Service(insulation_c=80.0, ambient_c=60.0, bundle=8),
    70.0,
    "fuse",
)
def test_poorer_insulation(book, size, service, insulation_c, device):
    poorer, better = sorted((insulation_c, service.insulation_c))
    _never_more(
        book, size, replace(service, insulation_c=better), replace(service, insulation_c=poorer),
        device,
    )  # fmt: skip


@given(_books, st.sampled_from(_SIZES), st.sampled_from(_SIZES), _services, _devices)
def test_thinner(book, one, two, service, device):
    thin, thick = sorted((one, two), key=lambda size: size.area_m2)
    found = [book.largest_fuse_a(size, service, device) for size in (thin, thick)]
    if None not in found:
        assert found[0].value <= found[1].value * (1.0 + 1e-9)


@pytest.mark.parametrize("name", book_names())
@pytest.mark.parametrize("insulation_c", [60.0, 80.0, 105.0])
def test_no_leap_from_size_to_size(name, insulation_c):
    """Of two neighbours in stock the thicker bears no more than its copper and a half more.

    A conductor alone bears about the 0.6th to 0.7th power of its area (any table above: computed).
    """
    book = load_book(name)
    service = Service(insulation_c=insulation_c, ambient_c=40.0)
    sizes = [awg_size(number) for number in range(18, -4, -1)]
    held = [(size, book.carries_a(size, service)) for size in sizes]
    known = [(size, limit) for size, limit in held if limit is not None]
    for (thin, less), (thick, more) in pairwise(known):
        assert more.value / less.value <= 1.5 * thick.area_m2 / thin.area_m2, (thin, thick)


def test_insulation_by_hand():
    """60 °C insulation has 2.8 K left in the 57.2 °C of the chart, where 80 °C has 22.8 K.

    20 A x sqrt(2.8 / 22.8) = 7.0 A; 70 °C at 60 °C: 70 A x sqrt(10 / 22.8) = 46.4 A on 4 AWG.
    """
    book = load_book("vehicle")
    found = book.carries_a(awg_size(12), Service(insulation_c=60.0))
    assert found.value == pytest.approx(20.0 * math.sqrt(2.8 / 22.8))
    found = book.carries_a(metric_size(25), Service(70.0, 60.0, bundle=8))
    assert found.value == pytest.approx(70.0 * math.sqrt(10.0 / 22.8))


def test_heat_by_hand():
    """12 AWG of 75 °C at 10 A in 30 °C: 25 A warm it by 45 K (NFPA 70 Table 310.16, seen).

    45 K x (10 / 25)² = 7.2 K, and the chart of trailers, which allows 20 A, changes nothing of it.
    """
    found = load_book("rv").carries_a(awg_size(12), Service(75.0, 30.0))
    assert found.value == 20.0
    assert found.rise_k * (10.0 / found.value) ** 2 == pytest.approx(7.2)
