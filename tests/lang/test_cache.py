"""The tables of the parser: kept only in the user's own cache folder, and never needed."""

import os
import stat
from pathlib import Path

import pytest

from rigfolio.lang import parser


def forget():
    """As in a process of its own: no tables yet, and no line that was split by them."""
    parser._parser.cache_clear()
    parser._split.cache_clear()
    parser._IN_PLACE.clear()


@pytest.fixture(autouse=True)
def _fresh():
    forget()
    yield
    forget()


def read():
    lines, found = parser.parse("fuse F1 7.5 A", "x.rig")
    assert found == ()
    return [item.text for item in lines[0].items]


@pytest.fixture
def home(tmp_path, monkeypatch):
    folder = tmp_path / "home"
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder))
    return folder


def test_folder_is_made_for_the_user_alone(home):
    assert read() == ["fuse", "F1", "7.5"]
    folder = home / "rigfolio"
    assert len(list(folder.iterdir())) == 1
    if os.name == "posix":
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_kept_tables_give_the_same(home):
    first = read()
    forget()
    assert read() == first


@pytest.mark.parametrize("content", [b"", b"\x00" * 100, b"not a pickle\n" * 20])
def test_broken_file_is_built_again(home, content):
    read()
    (file,) = (home / "rigfolio").iterdir()
    head = file.read_bytes().split(b"\n", 1)[0] + b"\n"
    for start in (b"", head):
        file.write_bytes(start + content)
        forget()
        assert read() == ["fuse", "F1", "7.5"]


def test_file_cut_short_is_built_again(home):
    read()
    (file,) = (home / "rigfolio").iterdir()
    whole = file.read_bytes()
    for length in (len(whole) // 2, len(whole) - 1):
        file.write_bytes(whole[:length])
        forget()
        assert read() == ["fuse", "F1", "7.5"]


def test_no_folder_can_be_made(tmp_path, monkeypatch):
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    assert parser.cache_file() is None
    assert read() == ["fuse", "F1", "7.5"]


def test_folder_cannot_be_written(home, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_: False)
    assert parser.cache_file() is None
    assert read() == ["fuse", "F1", "7.5"]


@pytest.mark.skipif(os.name != "posix", reason="permissions of POSIX")
def test_folder_that_others_may_write_to_is_not_used(home):
    folder = home / "rigfolio"
    folder.mkdir(parents=True)
    folder.chmod(0o777)
    assert parser.cache_file() is None
    assert read() == ["fuse", "F1", "7.5"]
    assert list(folder.iterdir()) == []


def test_no_home_and_a_relative_folder(monkeypatch, tmp_path):
    def no_home(_):
        raise RuntimeError

    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", "")
    monkeypatch.setattr(Path, "expanduser", no_home)
    assert parser.cache_file() is None
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    assert parser.cache_file() is None


def test_a_file_in_the_place_of_the_tables(home):
    read()
    (file,) = (home / "rigfolio").iterdir()
    file.unlink()
    file.mkdir()
    forget()
    assert read() == ["fuse", "F1", "7.5"]
