"""The diagram as a graph: graphviz reads it and finds every wire; the SVG tells what is what."""

import json
import subprocess
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings, strategies as st

from helpers.home import EXAMPLES
from helpers.label_rigs import job_of
from helpers.schematic_rigs import HERON, heron, tangle
from helpers.studies import job_from
from rigfolio.cli.entry import main
from rigfolio.render.dot import program
from rigfolio.render.svg import write_svg
from rigfolio.schematic.dot_graph import dot_text
from rigfolio.schematic.sheet import diagram

NAMES = ("marsh-wren-17", "heron-van", "kittiwake-30", "lapwing-cabin")
SVG = "{http://www.w3.org/2000/svg}"


def read_by_graphviz(text):
    """Nodes and edges of a text, as graphviz lays them out."""
    done = subprocess.run([program(), "-Kdot", "-Tjson"], input=text.encode(), capture_output=True,
                          check=True)  # fmt: skip
    return json.loads(done.stdout)


@pytest.mark.dot
@pytest.mark.parametrize("name", NAMES)
def test_graphviz_finds_every_wire_with_its_gauge_and_colour(name):
    job = job_from(EXAMPLES / f"{name}.rig")
    found = read_by_graphviz(dot_text(job))
    edges = found["edges"]
    wires = [wire for edge in edges for wire in edge.get("wires", "").split(", ") if wire]
    assert sorted(wires) == sorted(wire.name for wire in job.rig.conductors)
    for edge in edges:
        if edge.get("wires"):
            count = len(edge["wires"].split(", "))
            assert len(edge["gauges"].split(", ")) == count
            assert len(edge["colours"].split(", ")) == count
    labels = {node["label"] for node in found["objects"]}
    for panel in job.rig.panels:
        assert any(panel.about.name in label for label in labels)


@pytest.mark.dot
@pytest.mark.parametrize("name", ["\\N \\G", "<b>x</b>", "a] ; } -- {", "tab\tend \\", "&amp; é"])
def test_words_of_the_text_are_never_markup(name):
    job = job_of(HERON.replace("Start fuse", name))
    found = read_by_graphviz(dot_text(job))
    said = " ".join(edge.get("parts", "") for edge in found["edges"])
    assert " ".join(name.split()) in said.replace("\\\\", "\\")


@pytest.mark.dot
@settings(max_examples=5, deadline=None, derandomize=True)
@given(st.integers(0, 300))
def test_graphviz_reads_the_graph_of_a_tangle(seed):
    job = job_of(tangle(seed))
    found = read_by_graphviz(dot_text(job))
    wires = [w for edge in found.get("edges", ()) for w in edge.get("wires", "").split(", ") if w]
    assert sorted(wires) == sorted(wire.name for wire in job.rig.conductors)


def test_the_command_writes_it(tmp_path, capsys):
    asked = ["draw", str(EXAMPLES / "heron-van.rig"), "--format", "dot"]
    assert main([*asked, "-o", str(tmp_path / "van.dot")]) == 0
    assert (tmp_path / "van.dot").read_text(encoding="utf-8").startswith("graph schematic {")
    capsys.readouterr()


def test_a_reader_program_can_walk_the_svg():
    for page in diagram(heron()).pages:
        root = ElementTree.fromstring(write_svg(page))
        assert root.get("role") == "graphics-document"
        groups = [g for g in root.iter(f"{SVG}g") if g.get("class") == "part"]
        assert len(groups) > 20
        for group in groups:
            assert group.get("role") in ("figure", "graphics-object", "graphics-symbol")
            assert group.find(f"{SVG}title").text.strip()
            assert group.find(f"{SVG}desc").text.strip()
