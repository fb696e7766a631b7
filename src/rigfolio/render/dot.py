"""Where parts of a diagram stand: columns and order by graphviz; the only door to it.

Graphviz ranks the parts, orders them so that few lines cross, and lines up what belongs in a row.
Only positions are taken from it. The text for that is made here and holds no word of the user; one
for those who lay a graph out themselves holds them, escaped.
"""

import json
import os
import shutil
import subprocess
import sysconfig
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

from rigfolio.record import record

MOST_EDGES = 500
"""A graph of more is not given to graphviz: how long that may take is known by what it is given,
so that a busy machine draws what any other one does."""
PROGRAM_VARIABLE = "RIGFOLIO_DOT"
"""Environment variable that names another graphviz program."""

_PACKAGE = "graphviz-pure"
_POINTS_PER_INCH = 72.0
_ROWS_PER_INCH = 4.0


class LayoutError(Exception):
    """Graphviz is missing, was asked for too much or did not answer as expected."""


@record
class NodeBox:
    """A part to be placed: its height in rows, and whether it must stand first or last.

    `end` is `first`, `last` or empty. Boxes of the last column stand in the order given.
    """

    rows: float
    end: str = ""


@record
class NodeEdge:
    """A line from one box to another, by their numbers.

    `is_ranking` is False where it may lead back; `is_short` pulls both boxes together.
    """

    tail: int
    head: int
    is_ranking: bool = True
    is_short: bool = False


@record
class BoxCentre:
    """Where the middle of a box stands: column from the left, rows from the top."""

    column: int
    row: float


@record
class Node:
    """A node of a graph that is given away: lines of its label, shape, attributes in words."""

    name: str
    label: tuple[str, ...]
    shape: str
    facts: Mapping[str, str]


@record
class Link:
    """An edge of a graph that is given away, with `colour` as `#rrggbb`."""

    tail: str
    head: str
    label: tuple[str, ...]
    colour: str
    facts: Mapping[str, str]
    is_dashed: bool = False


def graph_text(title: str, nodes: Sequence[Node], links: Sequence[Link]) -> str:
    """An undirected graph in the DOT language; all words are escaped, so that none is markup."""
    import graphviz

    graph = graphviz.Graph("schematic")
    graph.attr(rankdir="LR", label=_escaped((title,)), fontname="sans-serif")
    graph.attr("node", fontname="sans-serif")
    graph.attr("edge", fontname="sans-serif", fontsize="9")
    for node in nodes:
        facts = {key: _escaped((value,)) for key, value in node.facts.items() if value}
        graph.node(node.name, label=_escaped(node.label), shape=node.shape, _attributes=facts)
    for link in links:
        facts = {key: _escaped((value,)) for key, value in link.facts.items() if value}
        style = "dashed" if link.is_dashed else "solid"
        graph.edge(link.tail, link.head, label=_escaped(link.label), color=link.colour,
                   style=style, _attributes=facts)  # fmt: skip
    return str(graph.source)


def _escaped(lines: Sequence[str]) -> str:
    """Lines of words that graphviz prints as they are."""
    import graphviz

    plain = (" ".join(line.split()).replace("\0", "") for line in lines)
    made: str = graphviz.nohtml("\\n".join(graphviz.escape(line) for line in plain))
    return made


def dot_text(boxes: Sequence[NodeBox], edges: Sequence[NodeEdge], gap_rows: float = 1.0) -> str:
    """Text for graphviz: boxes named by number, nothing that a user wrote.

    Parameters
    ----------
    boxes, edges : sequences
        The parts and the lines between them.
    gap_rows : float
        Rows between two boxes of one column.
    """
    import graphviz

    graph = graphviz.Digraph("layout")
    graph.attr(rankdir="LR", nodesep=f"{gap_rows / _ROWS_PER_INCH:.3f}", ranksep="0.5")
    graph.attr("node", shape="box", fixedsize="true", label="", width="0.5")
    for number, box in enumerate(boxes):
        graph.node(f"n{number}", height=f"{box.rows / _ROWS_PER_INCH:.3f}")
    for end, rank in (("first", "min"), ("last", "max")):
        numbers = [number for number, box in enumerate(boxes) if box.end == end]
        if numbers:
            with graph.subgraph() as group:
                group.attr(rank=rank)
                for number in numbers:
                    group.node(f"n{number}")
    last = [number for number, box in enumerate(boxes) if box.end == "last"]
    for upper, lower in pairwise(last):
        graph.edge(f"n{upper}", f"n{lower}", style="invis")
    for edge in edges:
        if edge.tail != edge.head:
            more = {} if edge.is_ranking else {"constraint": "false"}
            if edge.is_short:
                more["weight"] = "4"
            graph.edge(f"n{edge.tail}", f"n{edge.head}", _attributes=more)
    return str(graph.source)


def place(
    boxes: Sequence[NodeBox], edges: Sequence[NodeEdge], gap_rows: float = 1.0
) -> tuple[BoxCentre, ...]:
    """A spot for each box, in the order of the boxes.

    Raises
    ------
    LayoutError
        Graphviz is missing or failed, or there are more than `MOST_EDGES` lines.
    """
    if not boxes:
        return ()
    if len(edges) > MOST_EDGES:
        raise LayoutError(f"{len(edges)} lines are too many for a layout by graphviz")
    answer = _answer(program(), dot_text(boxes, edges, gap_rows))
    centres: dict[int, tuple[float, float]] = {}
    for node in answer:
        name = node.get("name", "")
        if isinstance(name, str) and name[:1] == "n" and name[1:].isdigit():
            across, up = (float(part) for part in str(node["pos"]).split(","))
            centres[int(name[1:])] = (across, up)
    if len(centres) != len(boxes):
        raise LayoutError(f"graphviz placed {len(centres)} of {len(boxes)} parts")
    columns = {across: n for n, across in enumerate(sorted({c[0] for c in centres.values()}))}
    rows_per_point = _ROWS_PER_INCH / _POINTS_PER_INCH
    tops = [centres[n][1] + boxes[n].rows / rows_per_point / 2 for n in centres]
    top = max(tops)
    return tuple(
        BoxCentre(columns[centres[n][0]], (top - centres[n][1]) * rows_per_point)
        for n in range(len(boxes))
    )


def forget() -> None:
    """Let go of the layouts that are kept, so that the next one is made anew."""
    _answer.cache_clear()


def program() -> str:
    """The graphviz program that is used.

    The package `graphviz-pure` gives the same layout on every machine. Another program is used
    only where `RIGFOLIO_DOT` names it, because layouts differ from one version to the next.

    Raises
    ------
    LayoutError
        There is none.
    """
    named = os.environ.get(PROGRAM_VARIABLE, "")
    if named:
        found = shutil.which(named)
        if found is None:
            raise LayoutError(f"{PROGRAM_VARIABLE} names {named!r}, which is no program")
        return found
    for file in (_PACKAGE, f"{_PACKAGE}.exe"):
        path = Path(sysconfig.get_path("scripts")) / file
        if path.is_file():
            return str(path)
    located = _installed()
    if located is None:
        raise LayoutError(f"the program {_PACKAGE} is missing: `pip install {_PACKAGE}` brings it")
    return located


def _installed() -> str | None:
    """The program of the package wherever it was installed; not on the path as a rule."""
    from importlib import metadata

    try:
        files = metadata.files(_PACKAGE) or ()
    except metadata.PackageNotFoundError:
        return None
    for file in files:
        if file.name in (_PACKAGE, f"{_PACKAGE}.exe"):
            path = Path(str(file.locate()))
            if path.is_file():
                return str(path)
    return None


@lru_cache(maxsize=512)
def _answer(command: str, text: str) -> list[dict[str, object]]:
    """The nodes of the answer of graphviz, kept: a page is tried in many forms with one layout."""
    try:
        done = subprocess.run(
            [command, "-Kdot", "-Tjson"], input=text.encode(), capture_output=True, check=False
        )
    except OSError as error:
        raise LayoutError(f"graphviz did not start: {error}") from None
    if done.returncode:
        raise LayoutError(f"graphviz failed: {done.stderr.decode(errors='replace').strip()}")
    try:
        answer = json.loads(done.stdout)
        return [node for node in answer["objects"] if "pos" in node]
    except (ValueError, KeyError, TypeError) as error:
        raise LayoutError(f"graphviz gave no layout: {error}") from None
