import subprocess
import sys

import pytest
from hypothesis import given, settings, strategies as st

from rigfolio.books.columns import Service
from rigfolio.books.conductors import awg_sizes, metric_sizes
from rigfolio.books.loader import Book, book_names, load_book
from rigfolio.books.tables import Limit, limit, number, numbers, table, tables, text
from rigfolio.units import Size

_few = settings(derandomize=True, max_examples=50, deadline=None)
_sizes = st.sampled_from([*awg_sizes(), *metric_sizes()])
_names = st.sampled_from(book_names())
_services = st.builds(
    Service,
    insulation_c=st.sampled_from([None, 60.0, 75.0, 90.0, 105.0]),
    ambient_c=st.none() | st.floats(0, 90),
    bundle=st.integers(1, 50),
    engine_space=st.booleans(),
)


def test_the_books():
    assert book_names() == ("boat", "rv", "vehicle")


def test_no_such_book():
    with pytest.raises(KeyError, match="fuses"):
        load_book("fuses")


def test_a_book_is_read_once():
    assert load_book("rv") is load_book("rv")


@pytest.mark.parametrize("name", book_names())
def test_every_book_answers_every_question(name):
    book = load_book(name)
    assert (book.name, bool(book.title)) == (name, True)
    answers = [
        book.reach_m(sheathed=False, from_battery=False),
        book.drop_share(critical=True),
        book.drop_share(critical=False),
        book.feeder_drop_share(),
        book.intermittent_share(),
        book.lead_m(),
        book.continuous_share(),
        book.insulation_c(),
    ]
    assert all(answer.value > 0 and answer.source.title for answer in answers)
    assert book.drop_share(critical=True).value < book.drop_share(critical=False).value


@_few
@given(_names, _sizes, _services, st.floats(0, 40))
def test_hotter_never_carries_more(name, size: Size, service: Service, rise_k):
    base_c = 30.0 if service.ambient_c is None else service.ambient_c
    hot = Service(service.insulation_c, base_c + rise_k, service.bundle, service.engine_space)
    _not_more(load_book(name), (size, hot), (size, service))


@_few
@given(_names, _sizes, _services, st.integers(0, 30))
def test_a_thicker_bundle_never_carries_more(name, size: Size, service: Service, more):
    fuller = Service(
        service.insulation_c, service.ambient_c, service.bundle + more, service.engine_space
    )
    _not_more(load_book(name), (size, fuller), (size, service))


@_few
@given(_names, _sizes, _sizes, _services)
def test_less_copper_never_carries_more(name, one: Size, other: Size, service: Service):
    thin, thick = sorted((one, other), key=lambda size: size.area_m2)
    _not_more(load_book(name), (thin, service), (thick, service))


@_few
@given(_names, st.sampled_from(awg_sizes()), _services)
def test_metric_and_gauge_of_one_area_agree(name, gauge: Size, service: Service):
    metric = Size("metric", gauge.area_m2)
    one, other = (
        load_book(name).carries_a(gauge, service),
        load_book(name).carries_a(metric, service),
    )
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        assert (one.value, one.source) == (other.value, other.source)


@_few
@given(_names, _sizes, _services)
def test_a_device_is_never_judged_below_the_wire(name, size: Size, service: Service):
    book = load_book(name)
    carries, device = book.carries_a(size, service), book.largest_fuse_a(size, service)
    assert (carries is None) == (device is None)
    if carries is not None and device is not None:
        assert device.value >= carries.value
        assert device.how.startswith(carries.how)


def _not_more(book: Book, worse: tuple[Size, Service], better: tuple[Size, Service]) -> None:
    low, high = book.carries_a(*worse), book.carries_a(*better)
    if low is not None:
        assert isinstance(high, Limit)
        assert low.value <= high.value * (1 + 1e-9)


@pytest.mark.parametrize(
    ("read", "slip"),
    [
        (number, {"x": "7"}),
        (number, {"x": True}),
        (numbers, {"x": 7}),
        (text, {"x": 7}),
        (table, {"x": 7}),
        (tables, {"x": [7]}),
    ],
)
def test_a_slip_in_a_table_is_told(read, slip):
    with pytest.raises(TypeError, match="x is no"):
        read(slip, "x")


def test_a_limit_without_a_unit_is_told():
    with pytest.raises(KeyError, match="known unit"):
        limit({"source": "s", "status": "seen", "length": 7})


def test_reading_a_book_pulls_in_nothing_heavy():
    code = (
        "import sys; from rigfolio.books.loader import load_book; load_book('rv');"
        "heavy = {'pint', 'lark', 'reportlab', 'graphviz', 'PIL', 'numpy'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
