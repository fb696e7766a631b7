"""What the page is told, as JSON: its records by the names of their fields.

The published schema is `grammar/page.schema.json`. The version of the format is that of all JSON of
the program. Figures are in SI units; null is a figure that is not known, and a field that need not
be said is left out.
"""

from collections.abc import Mapping, Sequence

from rigfolio.findings import Unknown
from rigfolio.page.content import RigPage
from rigfolio.record import Record
from rigfolio.reports import AnswerOf, Report, Value, facts_of, json_text

_NOT_TOLD = frozenset({"svg", "jpeg"})
"""Fields that are drawings and pictures, which have files of their own."""


def page_json(page: RigPage) -> str:
    """The JSON of a page; ends in a line break."""
    facts = {"about" if key == "rig" else key: value for key, value in fields_of(page).items()}
    del facts["cautions"]
    return json_text(AnswerOf("page", page.rig.name, page.rig.book), page.cautions, facts)


def fields_of(one: object) -> Mapping[str, Value]:
    """A record as an object: fields of None left out, those that are not known null."""
    names: tuple[str, ...] = getattr(type(one), "__match_args__", ())
    named = ((name, getattr(one, name)) for name in names)
    return {
        name: as_value(value)
        for name, value in named
        if value is not None and name not in _NOT_TOLD
    }


def as_value(value: object) -> Value:
    """A value of a record as JSON can say it.

    Raises
    ------
    TypeError
        It is nothing that a record of the page holds.
    """
    match value:
        case Report():
            return facts_of(value)
        case Record():
            return fields_of(value)
        case Unknown():
            return None
        case str() | bool() | int() | float():
            return value
        case Sequence():
            return [as_value(one) for one in value]
        case _:
            raise TypeError(f"{type(value).__name__} has no place on the page")
