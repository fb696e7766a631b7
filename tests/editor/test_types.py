"""A unit and its type in an editor: where a name is defined, what is offered, who shares it."""

import pytest

from helpers.fleet import FINCH
from rigfolio.editor.session import Session
from rigfolio.refusal import RefusalError

UNIT = """\
rig "Finch 1" system 12 V, rules rv
include "finch.rig"
    except rig
    except F1
fuse F1 30 A, class T
wire F1 to P1.6 10 AWG red 2 ft
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "finch.rig").write_text(FINCH, encoding="utf-8")
    (tmp_path / "one.rig").write_text(UNIT, encoding="utf-8")
    return tmp_path


def _at(text, part, word):
    return text.index(part) + part.index(word)


def test_a_name_leads_to_what_the_unit_has(folder):
    unit = str(folder / "one.rig")
    session = Session()
    session.desk.put(unit, UNIT)
    (there,) = session.definitions(unit, _at(UNIT, "wire F1", "F1"))
    assert (there.file, there.start) == (unit, _at(UNIT, "fuse F1", "F1"))
    # The slot of the type, which is taken over.
    (there,) = session.definitions(unit, _at(UNIT, "to P1.6", "P1"))
    assert (there.file, there.start) == (str(folder / "finch.rig"), _at(FINCH, "panel P1", "P1"))


def test_what_is_left_out_and_not_written_anew_leads_to_the_type(folder):
    text = UNIT.replace("fuse F1 30 A, class T\n", "")
    unit = str(folder / "one.rig")
    session = Session()
    session.desk.put(unit, text)
    (there,) = session.definitions(unit, _at(text, "except F1", "F1"))
    assert (there.file, there.start) == (str(folder / "finch.rig"), _at(FINCH, "fuse F1", "F1"))


def test_names_of_the_type_are_offered_to_be_excepted(folder):
    text = UNIT.replace("    except F1\n", "    except \n")
    unit = str(folder / "one.rig")
    session = Session()
    session.desk.put(unit, text)
    offers = session.offers(unit, _at(text, "except \n", "\n"))
    assert {"rig", "F1", "P1.2"} <= {one.text for one in offers.offers}


def test_a_name_is_changed_in_both_files_of_one_unit(folder):
    unit = str(folder / "one.rig")
    session = Session()
    session.desk.put(unit, UNIT)
    edits = session.renamed(unit, _at(UNIT, "fuse F1", "F1"), "F7")
    assert {file: len(each) for file, each in edits.items()} == {
        unit: 3, str(folder / "finch.rig"): 3,
    }  # fmt: skip


@pytest.mark.parametrize("name", ["one.rig", "finch.rig"])
def test_a_name_that_another_unit_has_as_well_is_not_changed(folder, name):
    (folder / "two.rig").write_text('rig "F 2"\ninclude "finch.rig" except rig\n', "utf-8")
    file = folder / name
    text = file.read_text("utf-8")
    session = Session()
    session.desk.put(str(file), text)
    with pytest.raises(RefusalError, match="a part of") as refused:
        session.renamed(str(file), _at(text, "fuse F1", "F1"), "F7")
    assert refused.value.rule == "rename-shared"


def test_no_way_out_of_one_unit_writes_into_the_type(folder):
    unit, its_type = str(folder / "one.rig"), str(folder / "finch.rig")
    session = Session()
    session.desk.put(unit, UNIT)
    session.desk.put(its_type, FINCH)
    for_type = session.findings(its_type)[its_type]
    (rule,) = {one.rule for one in for_type if one.rule == "fuse-over-wire"}
    (at,) = [one.at.span for one in for_type if one.rule == rule]
    # By itself the type may be mended; the unit, where the same is found, leaves it alone.
    assert [one.rule for one in session.ways_out(its_type, at) if one.rule == rule]
    found = session.findings(unit)[its_type]
    assert [one.at.span for one in found if one.rule == rule] == [at]
    near = [one.rule for one in session.ways_out(unit, at)]
    assert near == []
