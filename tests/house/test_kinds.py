"""A kind of part is its row in `kinds/` and its word: nothing else spells it, a duty or a mark.

The second half adds kinds that nobody has thought of, and runs the whole program over them.
"""

import ast
import shutil
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import rigfolio.statements
from helpers.home import HOME
from house.reading import nodes_of
from rigfolio.answers import isolate_report, live_report
from rigfolio.demand.charge_times import charging
from rigfolio.draw.symbols import SYMBOLS
from rigfolio.isolation.plans.orders import isolate
from rigfolio.judgement.result import Result, check, job_of
from rigfolio.kinds import (
    CONDITIONS,
    DEVICES,
    DUTIES,
    JUNCTIONS,
    OCCASIONS,
    OPENINGS,
    SOURCES,
    DeviceKind,
    SourceKind,
)
from rigfolio.kinds.sources import Occasion
from rigfolio.reading import text
from rigfolio.reports.terminal import as_lines
from rigfolio.sheet import sheet_names
from rigfolio.wording import rating_words

SOURCE = HOME / "src" / "rigfolio"
ROWS = {**SOURCES, **DEVICES, **JUNCTIONS}
WORDS = {*ROWS, *DUTIES, *CONDITIONS}
FREE = ("kinds/", "statements/", "books/")
"""The table, the words, and the readers of the books' data."""
_TOLD = ("kind", "duty")
COLUMN = "the heading of a column or the key of a row, whatever kind stands there"
ALLOWED = {
    "answers/size.py": ({"fuse", "charger"}, "what decides a size, as a heading and in a word"),
    "manual/first_text.py": (
        {"alternator", "dc-dc", "disconnect", "solar", "turbine", "vehicle"},
        "writes rig text; a book's name",
    ),
    "compare/changes.py": ({"fuse"}, COLUMN),
    "compare/facts.py": ({"fuse"}, COLUMN),
    "diagnosis/suspects.py": ({"switch"}, "the name of a figure in a book"),
    "diagnosis/symptoms.py": ({"loose"}, "the name of a figure in a book"),
    "draw/symbols.py": (
        {"alternator", "array", "battery", "breaker", "changeover", "charger", "combiner",
         "connector", "dc-dc", "disconnect", "fuse", "relay", "shunt", "solar", "switch",
         "turbine", "vehicle"},
        "the names of the symbols; a row says which one it takes",
    ),
    "protection/breakers.py": ({"breaker", "fuse"}, "the two columns of the rule books"),
    "protection/limits.py": ({"breaker", "fuse"}, "the two columns of the rule books"),
    "surveys/filling.py": ({"fuse"}, COLUMN),
    "rule.py": ({"vehicle"}, "the name of a rule book"),
    "sheets/calculation.py": ({"fuse"}, COLUMN),
    "sheets/colour_legend.py": ({"fuse"}, COLUMN),
    "sheets/stays_live.py": ({"switch"}, COLUMN),
    "sheets/survey.py": ({"fuse"}, COLUMN),
    "swap/rows.py": ({"fuse"}, COLUMN),
}  # fmt: skip


def spelt(code: str) -> set[str]:
    """The kinds that a piece of code names in a string of their own."""
    strings = (node.value for node in nodes_of(code) if isinstance(node, ast.Constant))
    return {value for value in strings if isinstance(value, str) and value in WORDS}


def compared(code: str) -> set[str]:
    """The kinds and duties that a piece of code compares those of something with."""
    found: set[str] = set()
    for node in nodes_of(code):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            if any(isinstance(side, ast.Attribute) and side.attr in _TOLD for side in sides):
                found |= spelt(ast.unparse(node))
    return found


def files() -> Iterator[tuple[str, str]]:
    for file in sorted(SOURCE.rglob("*.py")):
        name = file.relative_to(SOURCE).as_posix()
        if not name.startswith(FREE):
            yield name, file.read_text(encoding="utf-8")


def test_kinds_are_spelt_out_in_their_table_only() -> None:
    found = {name: names for name, code in files() if (names := spelt(code))}
    assert found == {name: names for name, (names, _why) in ALLOWED.items()}


def test_no_file_compares_a_kind_with_a_word() -> None:
    assert {name: names for name, code in files() if (names := compared(code))} == {}


def test_both_searches_find_what_they_are_for() -> None:
    assert spelt("if source.kind in ('solar', 'sun'): pass") == {"solar"}
    assert compared("ok = device.kind == 'fuse' or where['fuse']") == {"fuse"}
    assert compared("ok = where['fuse'] == 'fuse'") == set()
    assert spelt("if load.duty in ('cyclic', 'rarely'): pass") == {"cyclic"}
    assert compared("ok = load.duty != 'momentary'") == {"momentary"}
    assert spelt("marks = ('scorched', 'fine')") == {"scorched"}


def test_every_kind_has_its_word_and_every_word_its_kind() -> None:
    spoken = {word for word in text.words() if spelt_word(word) in ROWS}
    assert spoken == set(ROWS)


def spelt_word(word: str) -> str:
    return text.known_word(word)[0].name


@pytest.mark.parametrize("word", [*SOURCES, *DEVICES])
def test_a_row_points_at_what_there_is(word: str) -> None:
    row = ROWS[word]
    assert row.letter in set("BCFGQTWX")
    # A selector is drawn by the page itself, since it has more than two ends.
    assert row.symbol in SYMBOLS or word == "selector"
    assert row.opening in OPENINGS or (word in DEVICES and not row.opening)
    if isinstance(row, SourceKind):
        assert row.runs_with in OCCASIONS or not row.runs_with
        assert row.stores or row.runs_with or row.has_input
    else:
        assert all(place < len(row.ends) for way in row.ways for place in way)
        assert not row.bolted or row.bolted in OPENINGS


# Kinds that nobody has thought of -----------------------------------------------------------------

TOYS: dict[str, SourceKind | DeviceKind] = {
    "wheel": SourceKind(
        "G", "W", "alternator", "source", "lift it out of the race", 2, "turning",
        runs_with="stream", charges_with="stream",
    ),
    "cutout": DeviceKind(
        "F", "F", "breaker", protects=True, alike=True, resets=True, column="breaker",
        families=("breaker",), opening="breaker", fails="has let go", out="cutouts off",
    ),
    "isolator": DeviceKind(
        "Q", "S", "disconnect", opened_by="hand", parts_rig=True, needs_rating=True,
        opening="disconnect", do="throw its lever",
    ),
}  # fmt: skip
SOURCE_WORD = '''"""A toy."""
from rigfolio.model import Draft
from rigfolio.reading import COMMON, OUTPUT, Said, Word, source_said
WORD = Word("{0}", ("<name>",), (*OUTPUT, *COMMON))
def add(said: Said, draft: Draft) -> None:
    draft.sources.append(source_said(said, "{0}", said.facts.needed("limit")))
'''
DEVICE_WORD = '''"""A toy."""
from rigfolio.model import Draft
from rigfolio.reading import COMMON, SERIES, Said, Word, series_said
WORD = Word("{0}", ("<name>",), (*SERIES, *COMMON))
def add(said: Said, draft: Draft) -> None:
    draft.series.append(series_said(said, "{0}"))
'''
RIG = """rig "Toy rig"
    system 12 V
    rules rv
battery B1 "House" 100 Ah agm
cutout F1 "Main cutout" 30 A
isolator S1 "House isolator" ? A
wheel U1 "Mill wheel" 20 A
panel P1 "Galley" 2 slots of 20 A
busbar N1 "Negative bar" 100 A
wire B1+ to F1.line 10 AWG red 1 ft
wire F1.load to S1.line 10 AWG red 1 ft
wire S1.load to P1 14 AWG red 4 ft
wire U1+ to B1+ 10 AWG red 9 ft, fuse 25 A at B1+
wire U1- to N1 10 AWG black 9 ft
wire N1 to B1- 8 AWG black 1 ft
circuit P1.1 "Lights" fuse 5 A
    wire 16 AWG red 9 ft
    load "Lamp" 1 A, 4 h/day, always on
"""


@pytest.fixture
def toys(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Result]:
    """What is found in a rig of toy kinds: a row and a word each, and an occasion for one."""
    folder = tmp_path / "statements"
    shutil.copytree(SOURCE / "statements", folder, ignore=shutil.ignore_patterns("__pycache__"))
    for word, row in TOYS.items():
        is_source = isinstance(row, SourceKind)
        monkeypatch.setitem(SOURCES if is_source else DEVICES, word, row)  # type: ignore[arg-type]
        body = (SOURCE_WORD if is_source else DEVICE_WORD).format(word)
        (folder / f"{word}.py").write_text(body, encoding="utf-8")
    stream = Occasion("only with water", "the water runs", "which may run at any time")
    monkeypatch.setitem(OCCASIONS, "stream", stream)
    monkeypatch.setattr(text, "_FOLDER", folder)
    monkeypatch.setattr(rigfolio.statements, "__path__", [str(folder)])
    _forget()
    yield check("toy.rig", text=RIG)
    _forget()
    for word in TOYS:
        sys.modules.pop(f"rigfolio.statements.{word}", None)


def _forget() -> None:
    for kept in (text.words, text.known_word, text.context):
        kept.cache_clear()


def test_toys_are_read_and_judged(toys: Result) -> None:
    said = {(one.rule, one.headline) for one in toys.findings}
    assert ("not-surveyed", "cannot judge: rating of isolator `S1` is unknown") in said
    over = [headline for name, headline in said if name == "fuse-over-wire"]
    assert over, said
    assert over[0].startswith("30 A cutout, 14 AWG may carry ")
    kept = [headline for name, headline in said if name == "always-on-behind-disconnect"]
    assert kept, said
    assert "S1" in kept[0]


def test_toys_are_in_every_answer(toys: Result) -> None:
    assert toys.study is not None
    study = toys.study
    live = "\n".join(as_lines(live_report(study)))
    assert "stream" in live
    assert "U1" in live
    plan = isolate(study, "P1")
    assert [(step.action.part, step.action.kind) for step in plan.steps] == [("S1", "disconnect")]
    assert "S1 House isolator: throw its lever" in "\n".join(as_lines(isolate_report(study, "P1")))
    post = "\n".join(as_lines(isolate_report(study, "F1.line")))
    assert "U1 Mill wheel: lift it out of the race" in post
    assert [one.by for one in charging(study)] == ["U1"]
    cutout = next(one for one in study.rig.devices if one.about.name == "F1")
    assert rating_words(cutout) == "30 A cutout"


@pytest.mark.parametrize("name", sorted({*sheet_names()} - {"photo"}))
def test_toys_are_on_every_sheet(toys: Result, name: str) -> None:
    assert toys.study is not None
    pages = import_module(f"rigfolio.sheets.{name}").pages(job_of(toys))
    assert pages
