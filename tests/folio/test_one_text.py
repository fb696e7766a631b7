"""A text compared with itself: nothing is judged, and nothing else is said than by looking."""

import pytest

from helpers.home import EXAMPLES
from rigfolio.folio import versions
from rigfolio.judgement import understood

FILES = sorted([*EXAMPLES.glob("*.rig"), *(EXAMPLES / "faulty").glob("*.rig")])


def told(file, other):
    """All that is told of two versions but the sheets, which are the last to be looked at."""
    found, again = versions.compared(understood(str(file)), understood(str(other)))
    return found, again.labels, again.tags, again.taken_off, again.wires, again.tags_off, again.work


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_long_way_finds_no_difference_either(file, monkeypatch):
    short = told(file, file)
    monkeypatch.setattr(versions, "_is_one_text", lambda *_: False)
    assert told(file, file) == short


def test_nothing_is_judged_where_nothing_is_compared(tmp_path, monkeypatch):
    copy = tmp_path / "copy.rig"
    copy.write_bytes(FILES[0].read_bytes())
    monkeypatch.setattr(versions, "judged", lambda _: pytest.fail("judged"))
    found, *rest = told(FILES[0], copy)
    assert not any((found.changes, found.gained, found.cured, *rest))


def test_another_rule_book_is_another_version():
    one, two = (understood(str(FILES[0]), book) for book in ("rv", "boat"))
    assert versions.compared(one, two)[0].changes
