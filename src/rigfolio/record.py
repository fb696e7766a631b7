"""Frozen, slotted value classes that are cheap to define.

They behave as `@dataclass(frozen=True, slots=True)` and type checkers treat them so. The difference
is when the work is done: a dataclass writes and compiles its methods for every class when its
module is imported, which for all classes of this package took longer than reading and judging a
rig. Here all classes share one set of methods. Those that compare and hash are written and compiled
for a class when it is compared or hashed for the first time, which few classes ever are in a run;
the one that sets the fields when so many values were made of a class that it pays.
"""

from collections.abc import Callable, Hashable, Iterator
from functools import wraps
from itertools import count
from typing import (
    TYPE_CHECKING,
    Any,
    Concatenate,
    Generic,
    ParamSpec,
    Protocol,
    TypeVar,
    dataclass_transform,
    overload,
)

if TYPE_CHECKING:

    class Keeper(Protocol):
        """What never changes, and keeps what was worked out of it."""

        @property
        def answers(self) -> dict[Hashable, object]:
            """What is kept, by what was asked."""


Class = TypeVar("Class")
Value = TypeVar("Value")
Whole_contra = TypeVar("Whole_contra", bound="Keeper", contravariant=True)
Asked = ParamSpec("Asked")
Answer = TypeVar("Answer")

_MISSING = object()
_MANY = 100
"""Values of a class, before a method of its own that sets their fields is worth its compiling."""
_OPENED = 4
"""Fields, from which on it is faster to open a value, set them all and shut it again."""
_set_class: Callable[[object, type], None] = object.__dict__["__class__"].__set__
_OPERATORS = {"__eq__": "==", "__lt__": "<", "__le__": "<=", "__gt__": ">", "__ge__": ">="}


class Record:
    """What every value class can do; fields are in `__match_args__`, as the class body has them."""

    __slots__ = ()
    __match_args__: tuple[str, ...] = ()
    _setters: tuple[Any, ...] = ()
    _defaults: tuple[object, ...] = ()
    _required: int = 0
    _made: Iterator[int] = count()

    def __init__(self, *values: object, **named: object) -> None:
        """Set the fields, by place or by name.

        Raises
        ------
        TypeError
            A field is missing, or given twice, or not known.
        """
        kind = type(self)
        if next(kind._made) == _MANY:
            _write_setting(kind)
        setters = kind._setters
        if named or len(values) != len(setters):
            values = _arranged(kind, values, named)
        # The lengths agree: to have that checked once more takes a tenth of it all.
        for setter, value in zip(setters, values):  # noqa: B905
            setter(self, value)

    def __init_subclass__(cls) -> None:
        """Refuse a class below a value class: a new value of it would end as one of that."""
        if cls.__base__ is not Record:
            raise TypeError(f"{cls.__name__}: a value class has no other below it")

    def __setattr__(self, name: str, value: object) -> None:
        """Refuse: a value never changes."""
        raise AttributeError(f"{type(self).__name__}.{name} cannot be set: it is a value")

    def __delattr__(self, name: str) -> None:
        """Refuse: a value never changes."""
        raise AttributeError(f"{type(self).__name__}.{name} cannot be deleted: it is a value")

    # Each of these six runs once a class: it puts a method of that class in its own place.

    def __eq__(self, other: object) -> bool:
        """Whether both are of one class and all fields are equal."""
        return _compare("__eq__", self, other)

    def __lt__(self, other: object) -> bool:
        """Compare field by field, as tuples do."""
        return _compare("__lt__", self, other)

    def __le__(self, other: object) -> bool:
        """Compare field by field, as tuples do."""
        return _compare("__le__", self, other)

    def __gt__(self, other: object) -> bool:
        """Compare field by field, as tuples do."""
        return _compare("__gt__", self, other)

    def __ge__(self, other: object) -> bool:
        """Compare field by field, as tuples do."""
        return _compare("__ge__", self, other)

    def __hash__(self) -> int:
        """The hash of all fields.

        Raises
        ------
        TypeError
            A field cannot be hashed.
        """
        hashed: int = _written(type(self), "__hash__")(self)
        return hashed

    def __repr__(self) -> str:
        """Class and fields, as a dataclass prints them."""
        kind = type(self)
        names = kind.__match_args__
        inner = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
        return f"{kind.__qualname__}({inner})"

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        """How a value travels to another process."""
        return type(self), fields_of(self)


def fields_of(value: object) -> tuple[Any, ...]:
    """The fields of a record in their order."""
    names: tuple[str, ...] = type(value).__match_args__  # type: ignore[attr-defined]
    return tuple([getattr(value, name) for name in names])


def fields_by_name(value: object) -> dict[str, Any]:
    """The fields of a record by their names, in their order."""
    names: tuple[str, ...] = type(value).__match_args__  # type: ignore[attr-defined]
    return dict(zip(names, fields_of(value), strict=True))


class Derived(Generic[Value]):
    """A value that is worked out of the fields of a record when it is first asked for, and kept.

    It has a slot beside the fields: no part in equality, order, hash or print, and it does not
    travel.
    """

    def __init__(self, work: Callable[[Any], Value]) -> None:
        self.work = work
        self.__doc__ = work.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        """Find the slot that the record has for it."""
        self.slot: Any = owner.__dict__.get(_slot(name))

    @overload
    def __get__(self, one: None, owner: type) -> "Derived[Value]": ...
    @overload
    def __get__(self, one: object, owner: type) -> Value: ...
    def __get__(self, one: object | None, owner: type) -> "Derived[Value] | Value":
        """The value; itself where a class is asked."""
        if one is None:
            return self
        try:
            kept: Value = self.slot.__get__(one)
        except AttributeError:
            kept = self.work(one)
            self.slot.__set__(one, kept)
        return kept


def derived(work: Callable[[Any], Value]) -> Derived[Value]:
    """Make of a method without arguments a value that a record works out once."""
    return Derived(work)


def once(
    work: Callable[Concatenate[Whole_contra, Asked], Answer],
) -> Callable[Concatenate[Whole_contra, Asked], Answer]:
    """A function that works something out of a rig or a study, and keeps what it gave with that.

    What is asked beside it has to be hashable.
    """

    @wraps(work)
    def asked(whole: Whole_contra, /, *about: Asked.args, **named: Asked.kwargs) -> Answer:
        key = (work, *about, *named.items())
        answers = whole.answers
        if key not in answers:
            answers[key] = work(whole, *about, **named)
        return answers[key]  # type: ignore[return-value]

    return asked


def keep_together(one: "Keeper", other: "Keeper") -> None:
    """Let a record keep what was worked out of another one, of which nothing was asked yet.

    For two that differ in nothing that anything is worked out of.
    """
    answers: Any = type(other).answers
    answers.slot.__set__(other, one.answers)


def _slot(name: str) -> str:
    return f"_derived_{name}"


def _compare(name: str, one: Record, other: object) -> bool:
    compared: bool = _written(type(one), name)(one, other)
    return compared


def _written(kind: type[Record], name: str) -> Callable[..., Any]:
    """A method of a class that names each of its fields; the class has it from now on."""
    names = kind.__match_args__
    own, its = ("".join(f"{side}.{field}, " for field in names) for side in ("self", "other"))
    if name == "__hash__":
        text = f"def __hash__(self):\n return hash(({own}))"
    else:
        text = (
            f"def {name}(self, other):\n"
            " if other.__class__ is not self.__class__: return NotImplemented\n"
            f" return ({own}) {_OPERATORS[name]} ({its})"
        )
    space: dict[str, Any] = {}
    exec(text, space)
    method: Callable[..., Any] = space[name]
    method.__qualname__ = f"{kind.__qualname__}.{name}"
    if name not in kind.__dict__:
        setattr(kind, name, method)
    return method


def _write_setting(kind: type[Record]) -> None:
    """Give a class a method of its own that sets its fields: it takes less than half as long.

    Where there are several, a new value is of a class that can be set until they are.
    """
    names = kind.__match_args__
    # Longer than any field, and so the name of none.
    own = "_" + max(names, key=len, default="self")
    space: dict[str, Any] = {}
    taken, lines = [own], [" pass\n"]
    is_opened = len(names) >= _OPENED
    if is_opened:
        space |= {f"{own}_be": _set_class, f"{own}_open": _opened(kind), f"{own}_kind": kind}
        lines = [f" {own}_be({own}, {own}_open)\n"]
    for place, name in enumerate(names):
        space[f"{own}_else{place}"] = kind._defaults[place]
        taken.append(name if place < kind._required else f"{name}={own}_else{place}")
        if is_opened:
            lines.append(f" {own}.{name} = {name}\n")
        else:
            space[f"{own}_set{place}"] = kind._setters[place]
            lines.append(f" {own}_set{place}({own}, {name})\n")
    if is_opened:
        lines.append(f" {own}.__class__ = {own}_kind\n")
    exec(f"def __init__({', '.join(taken)}):\n{''.join(lines)}", space)
    method: Callable[..., None] = space["__init__"]
    method.__qualname__ = f"{kind.__qualname__}.__init__"
    kind.__init__ = method  # type: ignore[method-assign]


def _opened(kind: type[Record]) -> type[Record]:
    """A class of the same fields that can be set."""
    space = {
        "__slots__": kind.__dict__["__slots__"],
        "__setattr__": object.__setattr__,
        "__delattr__": object.__delattr__,
    }
    return type(kind.__name__, (Record,), space)


def _arranged(
    kind: type[Record], values: tuple[object, ...], named: dict[str, object]
) -> tuple[object, ...]:
    """All fields in order, from places, names and defaults."""
    given = len(values)
    rest = kind._defaults[given:]
    if not named and kind._required <= given <= len(kind._defaults):
        return (*values, *rest)
    names = kind.__match_args__[given:]
    rest = tuple([named.pop(name, own) for name, own in zip(names, rest, strict=True)])
    if named or given > len(kind._defaults) or any(one is _MISSING for one in rest):
        raise _misfit(kind, given, rest, named)
    return (*values, *rest)


def _misfit(
    kind: type[Record], given: int, rest: tuple[object, ...], named: dict[str, object]
) -> TypeError:
    """What is wrong with the values of a record."""
    names = kind.__match_args__[given:]
    missing = [name for name, value in zip(names, rest, strict=True) if value is _MISSING]
    wrong = sorted(named) or ([f"{given} values"] if given > len(kind.__match_args__) else [])
    return TypeError(f"{kind.__name__}: missing {missing}, not taken {wrong}")


@dataclass_transform(frozen_default=True, eq_default=True, order_default=True)
def record(body: type[Class]) -> type[Class]:
    """Make a value class of a class body with annotated fields."""
    names = tuple(body.__annotations__)
    space = {
        key: value
        for key, value in body.__dict__.items()
        if key not in names and key not in ("__dict__", "__weakref__")
    }
    kept = [_slot(key) for key, value in space.items() if isinstance(value, Derived)]
    space["__slots__"] = (*names, *kept)
    space["__match_args__"] = names
    defaults = tuple([body.__dict__.get(name, _MISSING) for name in names])
    space["_defaults"] = defaults
    bare = [place for place, own in enumerate(defaults) if own is _MISSING]
    space["_required"] = bare[-1] + 1 if bare else 0
    made: Any = type(body.__name__, (Record,), space)
    made._setters = tuple([made.__dict__[name].__set__ for name in names])
    made._made = count()
    return made  # type: ignore[no-any-return]


def replace(value: Value, /, **changes: object) -> Value:
    """A record with some fields changed.

    Raises
    ------
    TypeError
        A name is no field of it.
    """
    kind = type(value)
    names: tuple[str, ...] = kind.__match_args__  # type: ignore[attr-defined]
    fields = [getattr(value, name) for name in names]
    for name, new in changes.items():
        if name not in names:
            raise TypeError(f"{kind.__name__} has no {sorted({*changes} - {*names})}")
        fields[names.index(name)] = new
    return kind(*fields)
