"""The diagram as a graph in the DOT language: bars as nodes, rungs as edges."""

from rigfolio.job import Job
from rigfolio.model import Conductor, Device, Load, Source
from rigfolio.render import Link, Node, graph_text
from rigfolio.schematic.chains import Bar, Rung, graph_of
from rigfolio.schematic.setting import STYLES, Speaker, end_text, speaker_of, words_at
from rigfolio.wording import colour_words, shades, short_end, there_words

_PLAIN = "#303030"


def dot_text(job: Job) -> str:
    """The rig as text for graphviz: names, gauges and colours are attributes of each edge.

    Words of the rig are escaped, so that none of them is read as markup.
    """
    graph = graph_of(job)
    said = speaker_of(job.study, STYLES[0][0])
    numbers = {name: f"b{number}" for number, name in enumerate(graph.bars)}
    nodes = [_node(numbers[bar.name], bar, said) for bar in graph.bars.values()]
    links = []
    for number, rung in enumerate(graph.rungs):
        head = numbers.get(rung.b, "")
        if not head:
            head = f"e{number}"
            nodes.append(_end(head, rung, said))
        links.append(_link(numbers[rung.a], head, rung, said))
    return graph_text(job.rig.name, nodes, links)


def _node(name: str, bar: Bar, said: Speaker) -> Node:
    words = said.head(bar) or short_end(said.rig, bar.terminals[0])
    shape = "box" if bar.is_box or bar.panel is not None else "plaintext"
    if bar.kind == "joint":
        shape = "ellipse"
    facts = {"kind": bar.kind, "sign": bar.sign, "terminals": ", ".join(bar.terminals)}
    return Node(name, (words,), shape, facts)


def _end(name: str, rung: Rung, said: Speaker) -> Node:
    kind = rung.end.kind if rung.end else "open"
    terminal = rung.end.terminal if rung.end else rung.ports[1]
    words = "" if kind in ("stub", "slot") else end_text(said.rig, terminal)
    return Node(name, (words,), "point" if not words else "plaintext", {"kind": kind})


def _link(tail: str, head: str, rung: Rung, said: Speaker) -> Link:
    wires = [p.thing for p in rung.pieces if isinstance(p.thing, Conductor)]
    parts = [p.thing for p in rung.pieces if isinstance(p.thing, Device | Source | Load)]
    coloured = next((w for w in wires if shades(w.colour)[0]), None)
    colour = (shades(coloured.colour)[0] if coloured else None) or _PLAIN
    lines = tuple(line for p in rung.pieces for line in _lines(p.thing, said))
    facts = {
        "wires": ", ".join(wire.name for wire in wires),
        "gauges": ", ".join(there_words(wire) for wire in wires),
        "colours": ", ".join(colour_words(wire.colour) for wire in wires),
        "parts": ", ".join(str(part.about) for part in parts),
        "slot": f"{rung.slot[0]}.{rung.slot[1]}" if rung.slot else "",
    }
    return Link(tail, head, lines, colour, facts,
                is_dashed=bool(wires) and all(wire.assumed for wire in wires))  # fmt: skip


def _lines(thing: object, said: Speaker) -> tuple[str, ...]:
    """What an edge says of one of its things."""
    words = words_at(thing, said)
    return () if words is None else tuple(words.split("\n"))
