"""What stands behind the protocol: places in UTF-16, names, what is expected, a missing library."""

import sys

import pytest
from hypothesis import HealthCheck, Phase, given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES, RIGS
from helpers.studies import checked
from rigfolio.cli.entry import main
from rigfolio.editor.desk import Desk
from rigfolio.editor.index import NameIndex
from rigfolio.editor.next_parts import expected
from rigfolio.editor.positions import LinePlace, TextSpots
from rigfolio.editor.renaming import renamed
from rigfolio.editor.session import Session
from rigfolio.judgement.result import check
from rigfolio.lang.edits import apply

SOBER = settings(
    derandomize=True, deadline=None, max_examples=60, database=None,
    suppress_health_check=[HealthCheck.too_slow], phases=[Phase.explicit, Phase.generate],
)  # fmt: skip
WREN = EXAMPLES / "marsh-wren-17.rig"


@SOBER
@given(
    st.text(alphabet="ab\U0001f728é\r\n\t ", max_size=60),
    st.integers(0, 60),
    st.sampled_from([("utf-8", 1), ("utf-16", 2), ("utf-32", 4)]),
)
def test_a_character_is_found_again_by_its_spot(text, at, encoding):
    at = min(at, len(text))
    name, size = encoding
    spots = TextSpots(text, name)
    spot = spots.spot(at)
    # The text before it in UTF-16, as the protocol counts.
    before = text[:at].replace("\r\n", "\n").replace("\r", "\n")
    is_inside = text[at - 1 : at + 1] == "\r\n"
    if not is_inside:
        assert spot.line == before.count("\n")
        last = before.rpartition("\n")[2]
        assert spot.column == len(last.encode(name if size == 1 else f"{name}-le")) // size
        assert spots.offset(spot) == at


def test_a_spot_behind_the_end_of_its_line_is_the_end():
    spots = TextSpots("ab\r\nc")
    assert spots.offset(LinePlace(0, 99)) == 2
    assert spots.offset(LinePlace(1, 99)) == 5
    assert spots.offset(LinePlace(9, 0)) == 5


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_name_of_a_rig_can_be_changed(file):
    """And the rig with each of them changed is understood as before."""
    result = checked(file)
    index = NameIndex(result.texts)
    names = {one.name for one in index.defined if one.name.isidentifier()}
    assert len(names) > 8
    for number, name in enumerate(sorted(names)):
        if number % 5:
            continue
        edits = renamed(result, index, name, f"{name}_new")
        texts = {one: apply(text, edits.get(one, ())) for one, text in result.texts.items()}
        again = check(result.file, text=texts[result.file], instead=texts)
        assert [one.rule for one in again.findings] == [one.rule for one in result.findings]
        assert not any(one.name == name for one in NameIndex(texts).mentions)


def test_a_part_belongs_to_the_rig_that_includes_it(tmp_path):
    (tmp_path / "parts").mkdir()
    part = tmp_path / "parts" / "ac.rig"
    part.write_text('ac "Main" 30 A\n', encoding="utf-8")
    head = tmp_path / "head.rig"
    head.write_text('rig "A"\ninclude "parts/ac.rig"\n', encoding="utf-8")
    desk = Desk()
    assert desk.root(str(part)) == str(head)
    desk.put(str(head), 'rig "A"\n')
    assert desk.root(str(part)) == str(part)
    desk.put(str(head), 'rig "A"\ninclude "parts/ac.rig"\n')
    assert desk.root(str(part)) == str(head)


def test_texts_that_include_each_other_end_somewhere(tmp_path):
    for one, other in (("a", "b"), ("b", "a")):
        (tmp_path / f"{one}.rig").write_text(f'include "{other}.rig"\n', encoding="utf-8")
    assert Desk().root(str(tmp_path / "a.rig")).endswith(".rig")


def test_an_include_leads_to_its_file():
    file = str(EXAMPLES / "lapwing-cabin.rig")
    session = Session()
    at = session.desk.text(file).index("bunkhouse.rig")
    (there,) = session.definitions(file, at)
    assert there.file == str(EXAMPLES / "lapwing-cabin" / "bunkhouse.rig")


@SOBER
@given(st.data())
def test_any_place_of_any_text_is_answered(data):
    text = data.draw(st.sampled_from([file.read_text("utf-8") for file in RIGS]))
    at = data.draw(st.integers(0, len(text)))
    end = min(len(text), at + data.draw(st.integers(0, 15)))
    middle = data.draw(st.sampled_from(["", '"', "@", "?", "\n", "\n    ", " to ", "7", "/", "#"]))
    text = text[:at] + middle + text[end:]
    found = expected(text, at + len(middle))
    if found is not None:
        assert text[found.start : at + len(middle)] == found.typed


@cache
def opened():
    """An editor with a rig in it, and the names that stand there for what is defined elsewhere."""
    session = Session()
    session.desk.put(str(WREN), WREN.read_text(encoding="utf-8"))
    return session, [one for one in session.index(str(WREN)).mentions if not one.is_definition]


@SOBER
@given(st.data())
def test_what_stands_in_a_rig_is_what_was_expected_there(data):
    """Each word of the examples is among those that are offered where it stands."""
    session, words = opened()
    one = data.draw(st.sampled_from(words))
    found = session.offers(str(WREN), one.span.start + 1)
    offers = [each.text for each in found.offers]
    # A place is offered with its end, `F1.line`, or as it is.
    assert any(each.startswith(one.name) for each in offers), one


def test_without_its_library_the_command_says_how_to_get_it(monkeypatch, capsys):
    for name in list(sys.modules):
        if name.startswith(("rigfolio.editor", "pygls", "lsprotocol")):
            monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "pygls", None)
    monkeypatch.setitem(sys.modules, "lsprotocol", None)
    assert main(["editor"]) == 2
    assert "pip install 'rigfolio[editor]'" in capsys.readouterr().err


def test_a_person_at_a_terminal_is_told_who_starts_it(monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", None)
    assert main(["editor"]) == 2
    assert "let your editor start it" in capsys.readouterr().err
