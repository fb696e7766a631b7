"""Value classes behave as frozen dataclasses do; the standard library's own are the measure."""

import copy
import operator
import pickle
from dataclasses import FrozenInstanceError, dataclass, replace as replace_dataclass

import pytest

from rigfolio.record import Derived, derived, keep_together, once, record, replace


@record
class Ours:
    name: str
    value: float = 1.0


@dataclass(frozen=True, slots=True, order=True)
class Theirs:
    name: str
    value: float = 1.0


@record
class OneOurs:
    value: object


@dataclass(frozen=True, slots=True, order=True)
class OneTheirs:
    value: object


@record
class NoneOurs:
    pass


@dataclass(frozen=True, slots=True, order=True)
class NoneTheirs:
    pass


@record
class Odd:
    """Fields called as what the methods of a class use."""

    self: int
    other: int
    hash: int
    _written: int


@record
class Sized:
    """A class that says itself what is equal."""

    name: str
    size: int

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sized) and self.size == other.size

    def __hash__(self) -> int:
        return hash(self.size)


WORKED = []


@record
class Square:
    side: int
    name: str = ""

    @derived
    def area(self) -> int:
        """Side by side."""
        WORKED.append(self.side)
        return self.side**2

    @derived
    def broken(self) -> int:
        return self.side.depth


NAN = float("nan")
KINDS = {"two": (Ours, Theirs), "one": (OneOurs, OneTheirs), "none": (NoneOurs, NoneTheirs)}
VALUES = {
    "two": [("a", 1.0), ("a", 2.0), ("b", 1.0), ("a", NAN), ("a", 1)],
    "one": [(1,), (2,), ((1,),), (NAN,), ("1",)],
    "none": [()],
}
PAIRS = [(which, one, other) for which, held in VALUES.items() for one in held for other in held]
OPERATORS = [operator.eq, operator.ne, operator.lt, operator.le, operator.gt, operator.ge]


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


def tried(compare, one, other):
    """What a comparison gives, or that it refuses."""
    try:
        return compare(one, other)
    except TypeError:
        return TypeError


@pytest.mark.parametrize("compare", OPERATORS, ids=lambda each: each.__name__)
@pytest.mark.parametrize(("which", "one", "other"), PAIRS)
def test_every_comparison_is_that_of_a_dataclass(which, one, other, compare):
    ours, theirs = KINDS[which]
    expected = tried(compare, theirs(*one), theirs(*other))
    # The first comparison of a class writes its method, the second one uses it.
    assert tried(compare, ours(*one), ours(*other)) == expected
    assert tried(compare, ours(*one), ours(*other)) == expected


@pytest.mark.parametrize("compare", OPERATORS[2:], ids=lambda each: each.__name__)
def test_values_of_two_classes_have_no_order(compare):
    for one, other in ((Ours("a"), Theirs("a")), (Ours("a"), OneOurs("a")), (NoneOurs(), 1)):
        assert tried(compare, one, other) is TypeError


def test_values_of_two_classes_differ():
    assert NoneOurs() != NoneTheirs()
    assert NoneOurs() != ()
    assert OneOurs(1) != 1
    assert OneOurs("a") != Ours("a")


@pytest.mark.parametrize("which", KINDS)
def test_equal_values_are_one_key(which):
    kind, _ = KINDS[which]
    for values in VALUES[which]:
        assert hash(kind(*values)) == hash(kind(*values))
        assert len({kind(*values), kind(*values)}) == 1
    assert len({kind(*values) for values in VALUES[which]}) == len({*VALUES[which]})


def test_what_cannot_be_hashed_is_refused_each_time():
    for kind in (OneOurs, OneTheirs, Ours, Theirs):
        for _ in range(2):
            with pytest.raises(TypeError, match="unhashable type: 'list'"):
                hash(kind([1]))


def test_an_unhashable_value_can_be_compared():
    assert OneOurs([1]) == OneOurs([1])
    assert OneOurs([1]) != OneOurs([2])


def test_fields_may_be_called_as_they_like():
    assert Odd(1, 2, 3, 4) == Odd(1, 2, 3, 4)
    assert Odd(1, 2, 3, 4) < Odd(1, 2, 3, 5)
    assert len({Odd(1, 2, 3, 4), Odd(1, 2, 3, 4), Odd(1, 2, 3, 5)}) == 2


def test_what_a_class_says_itself_stays():
    one, other = Sized("a", 1), Sized("b", 1)
    for _ in range(2):
        assert one == other
        assert hash(one) == hash(other)
        assert one < other
    assert super(Sized, one).__eq__(other) is False
    assert one == other


def test_a_method_is_written_once_a_class():
    first = type("First", (), {"__annotations__": {"a": int}, "__module__": __name__})
    kind = record(first)
    assert "__eq__" not in vars(kind)
    assert kind(1) == kind(1)
    assert kind.__eq__ is vars(kind)["__eq__"]
    assert kind.__eq__.__qualname__ == "First.__eq__"
    assert "__hash__" not in vars(kind)


def test_a_class_of_which_many_are_made_sets_its_fields_as_before():
    @record
    class Many:
        self: int
        _self: int
        value: float = 1.0

    first = [Many(1, 2), Many(1, 2, 3.0), Many(1, _self=2, value=3.0)]
    assert "__init__" not in vars(Many)
    made = [Many(1, number) for number in range(500)]
    assert Many.__init__.__qualname__.endswith("Many.__init__")
    assert [one._self for one in made] == [*range(500)]
    assert [Many(1, 2), Many(1, 2, 3.0), Many(1, _self=2, value=3.0)] == first
    for values, named in (
        ((), {}),
        ((1, 2, 3.0, 4), {}),
        ((1, 2), {"self": 1}),
        ((1, 2), {"a": 3}),
    ):
        with pytest.raises(TypeError):
            Many(*values, **named)
    with pytest.raises(AttributeError):
        made[0].value = 2.0
    assert replace(made[3], value=4.0) == Many(1, 3, 4.0)


def test_a_class_of_several_fields_of_which_many_are_made_sets_them_as_before():
    @record
    class Wide:
        _a: int
        __class: int
        c: object
        d: int = 4
        e: object = None

        @derived
        def sum(self):
            """Of some of them."""
            return self._a + self.d

    first = [Wide(1, 2, "c"), Wide(1, 2, "c", e=5), Wide(1, 2, c="c", d=6)]
    made = [Wide(number, 2, "c") for number in range(500)]
    assert "__init__" in vars(Wide)
    assert {type(one) for one in (*first, *made)} == {Wide}
    assert [Wide(1, 2, "c"), Wide(1, 2, "c", e=5), Wide(1, 2, c="c", d=6)] == first
    assert hash(made[1]) == hash(first[0])
    assert [one.sum for one in made] == [*range(4, 504)]
    assert copy.copy(made[7]) == made[7]
    with pytest.raises(TypeError):
        Wide(1, 2)
    with pytest.raises(TypeError):
        Wide(1, 2, 3, 4, 5, 6)
    for name in ("d", "sum", "unknown"):
        with pytest.raises(AttributeError):
            setattr(made[7], name, 1)
        with pytest.raises(AttributeError):
            delattr(made[7], name)
    assert made[7].d == 4


def test_a_value_class_has_no_other_below_it():
    with pytest.raises(TypeError, match="Lower"):
        type("Lower", (Ours,), {})


def test_a_class_without_fields_of_which_many_are_made_is_as_before():
    kind = record(type("Bare", (), {"__annotations__": {}, "__module__": __name__}))
    made = [kind() for _ in range(500)]
    assert set(made) == {kind()}
    with pytest.raises(TypeError):
        kind(1)


def test_a_value_never_changes():
    with pytest.raises(FrozenInstanceError):
        Theirs("a").name = "b"
    with pytest.raises(AttributeError):
        Ours("a").name = "b"
    with pytest.raises(AttributeError):
        del Ours("a").name


@pytest.mark.parametrize("which", KINDS)
def test_a_value_travels(which):
    kind, _ = KINDS[which]
    values = VALUES[which][0]
    sent = kind(*values)
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(sent, protocol)) == sent
    assert copy.deepcopy(sent) == copy.copy(sent) == sent
    assert hash(copy.copy(sent)) == hash(sent)


def test_a_value_of_the_package_travels_to_another_process():
    from rigfolio.units import awg_size

    assert pickle.loads(pickle.dumps(awg_size(16))) == awg_size(16)


def test_a_field_that_is_not_there_cannot_be_replaced():
    assert replace(Ours("a"), name="b") == Ours("b")
    with pytest.raises(TypeError, match="no \\['volume'\\]"):
        replace(Ours("a"), volume=1)


def test_what_is_derived_is_worked_out_once():
    WORKED.clear()
    one = Square(3)
    assert WORKED == []
    assert [one.area, one.area] == [9, 9]
    assert WORKED == [3]


def test_what_is_derived_is_no_field():
    one, other = Square(3), Square(3)
    assert one.area == 9
    assert one == other
    assert hash(one) == hash(other)
    assert not one < other
    assert repr(one) == "Square(side=3, name='')"
    assert pickle.dumps(one) == pickle.dumps(other)
    assert replace(one, side=4).area == 16
    assert copy.copy(one).area == 9
    with pytest.raises(TypeError):
        Square(3, "", 9)
    with pytest.raises(TypeError):
        replace(one, area=9)
    with pytest.raises(AttributeError):
        one.area = 10


def test_what_goes_wrong_in_working_out_is_not_hidden():
    for _ in range(2):
        with pytest.raises(AttributeError, match="depth"):
            assert Square(3).broken


def test_a_class_shows_how_it_derives():
    assert isinstance(Square.area, Derived)
    assert Square.area.__doc__ == "Side by side."


def test_fields_can_be_matched_by_place():
    for kind in (Ours, Theirs):
        match kind("a", 2.0):
            case Ours(name, value) | Theirs(name, value):
                assert (name, value) == ("a", 2.0)
            case _:
                pytest.fail("no match")


def test_what_is_asked_of_one_thing_is_worked_out_once_for_it_alone():
    @record
    class Box:
        size: int

        @derived
        def answers(self) -> dict:
            return {}

    asked = []

    @once
    def times(box: Box, by: int = 2) -> int:
        """So many times the size."""
        asked.append((box.size, by))
        return box.size * by

    one, other = Box(3), Box(3)
    assert [times(one), times(one), times(one, 5), times(one, by=5), times(other)] == [
        6, 6, 15, 15, 6,
    ]  # fmt: skip
    # What is kept with one is no part of it: both are equal, and each was asked for itself.
    assert asked == [(3, 2), (3, 5), (3, 5), (3, 2)]
    assert one == other
    assert hash(one) == hash(other)
    assert times.__doc__ == "So many times the size."


def test_two_that_keep_together_are_asked_once():
    @record
    class Box:
        size: int
        name: str = ""

        @derived
        def answers(self) -> dict:
            return {}

    asked = []

    @once
    def doubled(box: Box) -> int:
        asked.append(box.name)
        return 2 * box.size

    one = Box(3, "as it is")
    named = replace(one, name="named")
    keep_together(one, named)
    assert (doubled(named), doubled(one)) == (6, 6)
    assert asked == ["named"]
