"""A rig that somebody edits while a command is at work on it: the edit is not lost."""

from pathlib import Path

import pytest

import rigfolio.answers
from fuzz.moments import INTO_TEXT, RIG, TEXT, WRITERS
from rigfolio.cli.entry import main
from rigfolio.folio import writing

MARK = "# edited\n"


@pytest.mark.parametrize("name", INTO_TEXT)
@pytest.mark.parametrize("how", ["in its place", "put there anew"])
def test_what_was_edited_meanwhile_stays(name, how, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    rig = Path(RIG)
    rig.write_text(TEXT, encoding="utf-8")
    write = writing._write

    def edited(part, content):
        write(part, content)
        if how == "in its place":
            with rig.open("a", encoding="utf-8") as file:
                file.write(MARK)
        else:
            Path("other").write_text(TEXT + MARK, encoding="utf-8")
            Path("other").replace(rig)

    monkeypatch.setattr(writing, "_write", edited)
    assert main([name, RIG, *WRITERS[name]]) == 2
    told = capsys.readouterr().err
    assert "error[file-changed]" in told
    assert f"`{tmp_path / RIG}` was changed by somebody else while it was read" in told
    assert "nothing was written" in told
    assert rig.read_text(encoding="utf-8") == TEXT + MARK
    assert [path.name for path in tmp_path.iterdir()] == [RIG]
    monkeypatch.setattr(writing, "_write", write)
    assert main([name, RIG, *WRITERS[name]]) in (0, 1)
    assert rig.read_text(encoding="utf-8").endswith(MARK)
    assert rig.read_text(encoding="utf-8") != TEXT + MARK


def test_an_edit_between_two_readings_is_told_as_what_it_is(tmp_path, monkeypatch, capsys):
    """The text is read again before words are put into it: what it says then is another."""
    monkeypatch.chdir(tmp_path)
    rig = Path(RIG)
    rig.write_text(TEXT, encoding="utf-8")
    naming = rigfolio.answers.naming_of

    def edited(*given, **more):
        found = naming(*given, **more)
        rig.write_text(TEXT + MARK, encoding="utf-8")
        return found

    monkeypatch.setattr("rigfolio.answers.naming_of", edited)
    assert main(["name", RIG, "--write"]) == 2
    assert "was changed by somebody else while it was read" in capsys.readouterr().err
    assert rig.read_text(encoding="utf-8") == TEXT + MARK
