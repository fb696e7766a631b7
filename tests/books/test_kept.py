"""Tables of figures that are kept as parsed: the same as the TOML, and never needed."""

import tomllib
from pathlib import Path

import pytest

from rigfolio.books import kept

BOOKS = Path(kept.__file__).parent
FILES = sorted(BOOKS.rglob("*.toml"))


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "rigfolio"


@pytest.fixture
def parsed(monkeypatch):
    """How often TOML was parsed."""
    calls = []
    parse = kept._parsed
    monkeypatch.setattr(kept, "_parsed", lambda content: calls.append(1) or parse(content))
    return calls


def with_types(held):
    """A table with the type of each of its values."""
    if isinstance(held, dict):
        return {key: with_types(value) for key, value in held.items()}
    if isinstance(held, list):
        return [with_types(value) for value in held]
    return type(held), held


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_what_is_kept_is_what_the_text_says(file, folder, parsed):
    said = with_types(tomllib.loads(file.read_text(encoding="utf-8")))
    assert [with_types(kept.read_toml(file)) for _ in range(2)] == [said, said]
    assert list(with_types(kept.read_toml(file))) == list(said)
    assert len(parsed) == 1


def test_no_two_tables_are_kept_in_one_place():
    assert len(FILES) > 10
    assert len({file.stem for file in FILES}) == len(FILES)


def test_what_is_damaged_is_not_loaded(folder, tmp_path, parsed):
    file = tmp_path / "one.toml"
    file.write_text("[a]\nb = 1.5\n", encoding="utf-8")
    said = kept.read_toml(file)
    (place,) = folder.iterdir()
    whole = place.read_bytes()
    broken = [whole[:at] for at in range(len(whole))]
    broken += [whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :] for at in range(len(whole))]
    for count, content in enumerate([*broken, whole + b"\0"], start=2):
        place.write_bytes(content)
        assert kept.read_toml(file) == said
        assert len(parsed) == count
        assert place.read_bytes() == whole


def test_another_text_is_parsed_anew(folder, tmp_path):
    file = tmp_path / "one.toml"
    for value in (1.5, 2.5, 1.5):
        file.write_text(f"[a]\nb = {value}\n", encoding="utf-8")
        assert kept.read_toml(file) == {"a": {"b": value}}
    assert [place.name for place in folder.iterdir()] == ["one.table"]


def test_where_nothing_can_be_kept_the_text_is_parsed(folder, tmp_path, parsed):
    file = tmp_path / "one.toml"
    file.write_text("[a]\nb = 1\n", encoding="utf-8")
    (folder / "one.table").mkdir(parents=True)
    for _ in range(2):
        assert kept.read_toml(file) == {"a": {"b": 1}}
    assert len(parsed) == 2
    assert [place.name for place in folder.iterdir()] == ["one.table"]


def test_without_a_folder_of_its_own_it_is_parsed(tmp_path, monkeypatch, parsed):
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    for _ in range(2):
        assert kept.read_toml(FILES[0]) == tomllib.loads(FILES[0].read_text(encoding="utf-8"))
    assert len(parsed) == 2
