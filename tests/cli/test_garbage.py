"""When a command looks for garbage: where a process goes on always, else only until it judged."""

import gc

import pytest

from helpers.home import EXAMPLES
from rigfolio.cli import main

WREN = str(EXAMPLES / "marsh-wren-17.rig")


@pytest.fixture
def switched(monkeypatch):
    """What was switched off and on."""
    told: list[str] = []
    monkeypatch.setattr(gc, "disable", lambda: told.append("off"))
    monkeypatch.setattr(gc, "enable", lambda: told.append("on"))
    return told


@pytest.mark.parametrize("command", ["page", "labels"])
def test_where_documents_are_made_and_nothing_else_is_done_it_looks_no_more(
    command, switched, tmp_path
):
    out = str(tmp_path / ("page.html" if command == "page" else "labels.pdf"))
    assert main([command, WREN, "-o", out], is_alone=True) in (0, 1)
    assert switched == ["off"]


@pytest.mark.parametrize("command", ["page", "labels"])
def test_in_a_process_that_goes_on_it_is_left_as_it_was(command, switched, tmp_path):
    out = str(tmp_path / ("page.html" if command == "page" else "labels.pdf"))
    assert main([command, WREN, "-o", out]) in (0, 1)
    assert switched == []


def test_whoever_judges_many_rigs_goes_on_looking(switched):
    assert main(["check", WREN, WREN], is_alone=True) in (0, 1)
    assert switched == []
