"""The door to graphviz: positions only, no text of a user, plain words where it is missing."""

import subprocess
import sys
from pathlib import Path

import pytest

from helpers.home import environment
from rigfolio.render import dot
from rigfolio.render.dot import BoxCentre, LayoutError, NodeBox, NodeEdge, dot_text, place

CHAIN = (NodeBox(6, "first"), NodeBox(4), NodeBox(10, "last"))
STEPS = (NodeEdge(0, 1), NodeEdge(1, 2))


@pytest.mark.dot
def test_a_chain_stands_in_one_row():
    spots = place(CHAIN, STEPS)
    assert [spot.column for spot in spots] == [0, 1, 2]
    assert len({round(spot.row, 2) for spot in spots}) == 1


@pytest.mark.dot
def test_rows_are_counted_from_the_top_of_the_highest_box():
    assert place((NodeBox(8),), ()) == (BoxCentre(0, pytest.approx(4.0, abs=0.05)),)


@pytest.mark.dot
def test_boxes_of_a_column_keep_apart():
    boxes = (NodeBox(4, "first"), NodeBox(6), NodeBox(6), NodeBox(6))
    spots = place(boxes, (NodeEdge(0, 1), NodeEdge(0, 2), NodeEdge(0, 3)), gap_rows=2.0)
    rows = sorted(spot.row for spot in spots[1:])
    assert rows[1] - rows[0] >= 8 - 0.1
    assert rows[2] - rows[1] >= 8 - 0.1


@pytest.mark.dot
def test_last_boxes_stand_in_the_order_given():
    boxes = (NodeBox(4, "first"), *(NodeBox(5, "last") for _ in range(5)))
    edges = tuple(NodeEdge(0, head) for head in (5, 3, 1, 4, 2))
    rows = [spot.row for spot in place(boxes, edges)[1:]]
    assert rows == sorted(rows)


@pytest.mark.dot
def test_an_edge_may_lead_back():
    spots = place(
        (NodeBox(4, "first"), NodeBox(4)), (NodeEdge(0, 1), NodeEdge(1, 0, is_ranking=False))
    )
    assert [spot.column for spot in spots] == [0, 1]


def test_nothing_to_place_needs_no_program(monkeypatch):
    monkeypatch.setenv(dot.PROGRAM_VARIABLE, "/nowhere/at/all")
    assert place((), ()) == ()


def test_text_for_graphviz_names_boxes_by_number():
    text = dot_text(CHAIN, STEPS)
    assert "n0 -> n1" in text
    assert "rankdir=LR" in text
    assert '"' not in text.replace('""', "")


def test_a_named_program_that_is_missing_is_said_plainly(monkeypatch):
    monkeypatch.setenv(dot.PROGRAM_VARIABLE, "no-such-program-anywhere")
    with pytest.raises(LayoutError, match="RIGFOLIO_DOT names 'no-such-program-anywhere'"):
        place(CHAIN, STEPS)


def test_no_program_at_all_names_the_package(monkeypatch):
    monkeypatch.delenv(dot.PROGRAM_VARIABLE, raising=False)
    monkeypatch.setattr(dot.sysconfig, "get_path", lambda _: "/nowhere")
    monkeypatch.setattr(dot, "_installed", lambda: None)
    with pytest.raises(LayoutError, match="pip install graphviz-pure"):
        place(CHAIN, STEPS)


@pytest.mark.dot
def test_the_package_is_found_without_the_scripts_folder(monkeypatch):
    monkeypatch.delenv(dot.PROGRAM_VARIABLE, raising=False)
    monkeypatch.setattr(dot.sysconfig, "get_path", lambda _: "/nowhere")
    assert Path(dot.program()).name.startswith("graphviz-pure")


def script(tmp_path, body):
    path = tmp_path / "fake"
    path.write_text(f"#!{sys.executable}\n{body}\n")
    path.chmod(0o755)
    return str(path)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("import sys; sys.stderr.write('no memory'); sys.exit(3)", "graphviz failed: no memory"),
        ("print('not json')", "graphviz gave no layout"),
        ("print('[]')", "graphviz gave no layout"),
        ("print('{\"objects\": []}')", "placed 0 of 3 parts"),
    ],
)
def test_a_program_that_misbehaves_is_said_plainly(body, words, tmp_path, monkeypatch):
    monkeypatch.setenv(dot.PROGRAM_VARIABLE, script(tmp_path, body))
    with pytest.raises(LayoutError, match=words):
        place(CHAIN, STEPS)


def test_a_graph_that_would_take_long_is_not_begun(tmp_path, monkeypatch):
    # By what it is given, and never by the clock: a busy machine gives the same drawing.
    monkeypatch.setenv(dot.PROGRAM_VARIABLE, script(tmp_path, "raise SystemExit('begun')"))
    edges = [NodeEdge(0, 1)] * (dot.MOST_EDGES + 1)
    with pytest.raises(LayoutError, match="501 lines are too many"):
        place(CHAIN, edges)
    with pytest.raises(LayoutError, match="begun"):
        place(CHAIN, edges[1:])


def test_graphviz_is_not_imported_before_it_is_needed():
    code = "import sys, rigfolio.render.dot; print('graphviz' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env=environment(),
    )  # fmt: skip
    assert done.stdout.strip() == "False"
