"""What is printed of any report: width, what a terminal would obey, and that nothing is lost."""

import json
from collections import Counter
from collections.abc import Iterable, Iterator

from hypothesis import given, settings, strategies as st

from rigfolio.reports.cells import Amount, PlaceName, Value, Wording, in_words, plain
from rigfolio.reports.escapes import clean
from rigfolio.reports.objects import as_json
from rigfolio.reports.parts import (
    Chapter,
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Sections,
    items,
    remarks,
)
from rigfolio.reports.printing import printed
from rigfolio.reports.terminal import WIDE, as_lines

OFTEN = settings(max_examples=200, deadline=None, derandomize=True, database=None)

WORDS = st.text(max_size=130) | st.text("ab \t\n\r\x1b\x7f\x9b\u2028\udc80é", max_size=40)
KEYS = st.text("abcdef_", min_size=1, max_size=6)
FLOATS = st.floats(width=32)
AMOUNTS = st.builds(
    Amount, st.none() | st.floats(-1e6, 1e6, width=32), st.sampled_from(("A", "V", "ohm", "m"))
)
CELLS = (
    WORDS | st.booleans() | st.none() | FLOATS | AMOUNTS
    | st.builds(PlaceName, WORDS, WORDS) | st.builds(Wording, WORDS, WORDS)
)  # fmt: skip
VALUES = st.recursive(
    CELLS, lambda one: st.lists(one, max_size=3) | st.dictionaries(KEYS, one, max_size=3)
)


@st.composite
def tables(draw: st.DrawFn) -> ReportTable:
    keys = draw(st.lists(KEYS, min_size=1, max_size=6, unique=True))
    columns = tuple(
        ReportColumn(key, draw(WORDS), draw(st.integers(0, 60)), given=draw(st.booleans()))
        for key in keys
    )
    rows = st.tuples(*(CELLS for _ in keys))
    return ReportTable(draw(WORDS), columns, tuple(draw(st.lists(rows, max_size=4))), draw(KEYS))


LISTINGS = st.builds(
    Listing,
    WORDS,
    st.lists(st.builds(Item, WORDS, VALUES, st.text(max_size=12)), max_size=4).map(tuple),
    KEYS,
    ordered=st.booleans(),
)
REMARKS = st.builds(
    Paragraph, WORDS, KEYS, hang=st.integers(0, 12), gap=st.booleans(), for_sheets=st.booleans()
)
FACTS = st.builds(Field, KEYS, VALUES)
LEAVES = FACTS | REMARKS | LISTINGS | tables()
SECTIONS = st.builds(
    Sections,
    st.lists(st.builds(Chapter, WORDS, st.lists(LEAVES, max_size=3).map(tuple)), max_size=3).map(
        tuple
    ),
    KEYS,
)
REPORTS = st.builds(
    Report,
    WORDS,
    st.lists(WORDS, max_size=2).map(tuple),
    st.lists(LEAVES | SECTIONS, max_size=5, unique_by=lambda part: part.key).map(tuple),
    gap=st.booleans(),
)


def squeezed(text: str) -> str:
    return "".join(clean(text).split())


def seen(parts: Iterable[Part]) -> Iterator[str]:
    """Every text of a report that a person is to read."""
    for part in parts:
        match part:
            case Paragraph(for_sheets=False):
                yield part.words
            case Listing() if part.items:
                yield part.title
                yield from (item.words for item in part.items)
            case ReportTable() if part.rows and any(column.most for column in part.columns):
                yield part.title
                shown = [at for at, column in enumerate(part.columns) if column.most]
                yield from (in_words(row[at]) for row in part.rows for at in shown)
            case Sections():
                for section in part.sections:
                    yield section.title
                    yield from seen(section.parts)


def texts(value: Value) -> Iterator[str]:
    """Every text that a program is to get of a value."""
    match value:
        case str():
            yield value
        case PlaceName():
            yield value.name
        case Wording():
            yield value.line
        case dict():
            for one in value.values():
                yield from texts(one)
        case list() | tuple():
            for one in value:
                yield from texts(one)


def told(parts: Iterable[Part]) -> Iterator[str]:
    """Every text of a report that a program is to get."""
    for part in parts:
        match part:
            case Field():
                yield from texts(part.value)
            case Paragraph(for_sheets=False):
                yield part.words
            case Listing():
                for item in part.items:
                    yield from texts(item.words if item.facts is None else item.facts)
            case ReportTable():
                for row in part.objects():
                    yield from texts(dict(row))
            case Sections():
                for section in part.sections:
                    yield from told(section.parts)


def leaves(value: object) -> Iterator[object]:
    if isinstance(value, dict):
        for one in value.values():
            yield from leaves(one)
    elif isinstance(value, list):
        for one in value:
            yield from leaves(one)
    else:
        yield value


@OFTEN
@given(REPORTS)
def test_lines_fit_a_terminal_and_hold_nothing_that_it_would_obey(report: Report) -> None:
    for line in as_lines(report):
        assert len(line) <= WIDE
        assert line.isprintable()
        assert line == line.rstrip()


@OFTEN
@given(REPORTS)
def test_every_text_is_in_the_lines(report: Report) -> None:
    # Cells stand beside each other, so that letters are counted and not looked for in a row.
    whole = Counter("".join(as_lines(report)))
    wanted: Counter[str] = Counter()
    for text in (report.title, *report.cautions, *seen(report.parts)):
        wanted += Counter(squeezed(text))
    assert wanted <= whole


@OFTEN
@given(st.lists(WORDS, max_size=5), st.lists(WORDS, min_size=1, max_size=5))
def test_paragraphs_and_lists_keep_their_order(said: list[str], told_of: list[str]) -> None:
    parts = (*remarks(said), Listing("Listed", items(told_of)))
    lines = squeezed("".join(as_lines(Report("Title", (), parts))))
    assert lines == squeezed("".join(["Title", *said, "Listed", *told_of]))


@OFTEN
@given(REPORTS)
def test_json_parses_back_with_every_text_and_its_format_first(report: Report) -> None:
    text = as_json(report)
    assert all(char.isprintable() or char == "\n" for char in text)
    read = json.loads(text)
    assert next(iter(read.items())) == ("format", 2)
    assert read["cautions"] == list(report.cautions)
    there = {one for one in leaves(read) if isinstance(one, str)}
    # Facts of a section may bear one key; the last of them counts.
    once = [part for part in report.parts if not isinstance(part, Sections)]
    assert set(told(once)) <= there


@OFTEN
@given(VALUES)
def test_a_value_is_given_to_programs_as_json_holds_it(value: Value) -> None:
    assert json.loads(json.dumps(plain(value), allow_nan=False)) == plain(value)


def test_an_unknown_amount_is_null_and_never_nothing() -> None:
    table = ReportTable("", (ReportColumn("amps", "carries", 9),), ((Amount(None, "A"),),), "rows")
    report = Report("Title", (), (table,))
    assert json.loads(printed(report, is_json=True))["rows"] == [{"amps": None}]
    assert printed(report).split("\n")[-2] == "? A"


def test_an_amount_is_given_in_si_units_and_printed_in_its_own() -> None:
    one = Amount(0.3048, "ft")
    assert (plain(one), in_words(one)) == (0.3048, "1 ft")


def test_what_has_no_end_is_null() -> None:
    assert plain([float("inf"), float("nan"), 1.0]) == [None, None, 1.0]


def test_a_sheet_has_wording_of_its_own_where_its_column_is_narrow() -> None:
    one = Wording("not counted: the pump", "without P1.2")
    assert (in_words(one), in_words(one, on_sheet=True)) == (
        "not counted: the pump",
        "without P1.2",
    )


def test_steps_are_numbered_and_hang_by_their_number() -> None:
    report = Report("Title", (), (Listing("In turn", items(["open " * 30] * 10), ordered=True),))
    lines = list(as_lines(report))
    assert lines[4].startswith("  1. open")
    assert lines[5].startswith("     open")
    assert lines[-1].startswith("      open")


def test_tables_of_one_key_are_one_list_and_an_empty_one_prints_nothing() -> None:
    columns = (ReportColumn("name", most=9),)
    tables = tuple(ReportTable(title, columns, rows, "all") for title, rows in
                   (("One", (("a",),)), ("None", ()), ("Two", (("b",),))))  # fmt: skip
    report = Report("Title", (), tables)
    assert json.loads(as_json(report))["all"] == [{"name": "a"}, {"name": "b"}]
    assert list(as_lines(report)) == ["Title", "", "", "One", "  a", "", "Two", "  b"]


def test_a_table_wider_than_the_terminal_narrows_its_widest_column() -> None:
    columns = (ReportColumn("a", most=60), ReportColumn("b", most=60))
    report = Report(
        "Title", (), (ReportTable("", columns, (("x " * 30, "short"), ("y", "z " * 30))),)
    )
    widths = [len(line) for line in as_lines(report)]
    assert max(widths) <= WIDE
