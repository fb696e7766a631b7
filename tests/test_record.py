"""Value classes behave as frozen dataclasses do; the standard library's own are the measure."""

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, replace as replace_dataclass

import pytest

from rigfolio.record import record, replace


@record
class Ours:
    name: str
    value: float = 1.0


@dataclass(frozen=True, slots=True, order=True)
class Theirs:
    name: str
    value: float = 1.0


def test_a_field_called_value_can_be_replaced():
    assert replace(Ours("a"), value=2.0) == Ours("a", 2.0)
    assert replace_dataclass(Theirs("a"), value=2.0) == Theirs("a", 2.0)


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), (("a", 1.0, 2), {}), (("a",), {"size": 3}), (("a",), {"name": "b"})],
)
def test_what_a_dataclass_refuses_is_refused(values, named):
    for kind in (Ours, Theirs):
        with pytest.raises(TypeError):
            kind(*values, **named)


def test_equality_order_hash_and_print():
    for kind in (Ours, Theirs):
        one, other = kind("a"), kind(name="a", value=1.0)
        assert (one == other, hash(one) == hash(other), one < kind("b")) == (True, True, True)
        assert repr(one) == f"{kind.__name__}(name='a', value=1.0)"
    assert Ours("a") != Theirs("a")


def test_a_value_never_changes():
    with pytest.raises(FrozenInstanceError):
        Theirs("a").name = "b"
    with pytest.raises(AttributeError):
        Ours("a").name = "b"
    with pytest.raises(AttributeError):
        del Ours("a").name


def test_a_value_travels():
    assert copy.deepcopy(Ours("a", 3.0)) == Ours("a", 3.0)


def test_a_value_of_the_package_travels_to_another_process():
    from rigfolio.units import awg_size

    assert pickle.loads(pickle.dumps(awg_size(16))) == awg_size(16)


def test_values_of_two_classes_have_no_order():
    with pytest.raises(TypeError):
        assert Ours("a") < Theirs("a")


def test_a_field_that_is_not_there_cannot_be_replaced():
    from rigfolio.record import replace

    assert replace(Ours("a"), name="b") == Ours("b")
    with pytest.raises(TypeError, match="no \\['volume'\\]"):
        replace(Ours("a"), volume=1)
