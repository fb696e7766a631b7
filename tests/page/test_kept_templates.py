"""Templates that were compiled by a process before: the same page, and never from anything else."""

import marshal

import pytest

from helpers.home import EXAMPLES
from rigfolio.judgement.result import check, job_of
from rigfolio.own_folder import keep
from rigfolio.page import document
from rigfolio.page.document import page_html
from rigfolio.page.gather import rig_page

FILE = EXAMPLES / "heron-van.rig"


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """The folder of a user in which nothing is kept yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    document._environment.cache_clear()
    yield tmp_path / "rigfolio"
    document._environment.cache_clear()


def html():
    """A page as a new process makes it."""
    document._environment.cache_clear()
    result = check(str(FILE))
    return page_html(rig_page(result, job_of(result)))


def templates(folder):
    return sorted(folder.glob("*.template"))


def test_what_is_kept_gives_the_same_page(folder, monkeypatch):
    first = html()
    names = {file.name for file in templates(folder)}
    assert {"cards.html.template", "page.html.template"} <= names
    monkeypatch.setattr("jinja2.Environment.compile", lambda *_, **__: pytest.fail("compiled"))
    assert html() == first


@pytest.mark.parametrize("damage", ["cut", "turned", "empty"])
def test_what_is_damaged_is_compiled_anew(folder, damage):
    first = html()
    for file in templates(folder):
        held = file.read_bytes()
        file.write_bytes({"cut": held[:-9], "turned": held[:-1] + b"?", "empty": b""}[damage])
    assert html() == first


@pytest.mark.parametrize("made_by", ["another version of the library", "another text"])
def test_what_was_made_of_something_else_is_compiled_anew(folder, made_by):
    first = html()
    code = compile("raise AssertionError('not of this template')", "other", "exec")
    for file in templates(folder):
        keep(file, f"{made_by}\n".encode(), marshal.dumps(code))
    assert html() == first
