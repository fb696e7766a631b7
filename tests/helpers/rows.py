"""Gives each test that asks for `row` the rows of its table in the TOML file beside it."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest


def give_rows(metafunc: pytest.Metafunc) -> None:
    """`test_x(row)` in `test_y.py` reads `[x]` of `y.toml`; lists in it are columns of rows."""
    if "row" not in metafunc.fixturenames:
        return
    beside = Path(metafunc.module.__file__)
    data = tomllib.loads(
        beside.with_name(beside.stem.removeprefix("test_") + ".toml").read_text("utf-8")
    )
    found = data[metafunc.function.__name__.removeprefix("test_")]
    rows = [
        row for table in (found if isinstance(found, list) else [found]) for row in _rows(table)
    ]
    assert rows, f"no rows for {metafunc.function.__name__}"
    metafunc.parametrize("row", rows, ids=[_name(row) for row in rows])


def _rows(table: dict[str, object]) -> Iterator[dict[str, object]]:
    assert table["source"], table
    assert table["status"] in {"seen", "computed", "common practice", "memory"}, table
    columns = {key: each for key, each in table.items() if isinstance(each, list)}
    shared = {key: each for key, each in table.items() if key not in columns}
    if not columns:
        yield shared
    for values in zip(*columns.values(), strict=True):
        yield shared | dict(zip(columns, values, strict=True))


def _name(row: dict[str, object]) -> str:
    return " ".join(
        f"{key}={each}" for key, each in row.items() if key not in ("source", "status", "tolerance")
    )[:60]
