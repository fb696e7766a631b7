"""Circuits of which nobody has read what hangs on them: no load is stated, none is ruled out."""

from collections.abc import Iterable, Mapping

from rigfolio.model import Circuit
from rigfolio.network import Edge, Tree, edge_name, path
from rigfolio.record import once
from rigfolio.study import Study


@once
def unread_circuits(study: Study) -> tuple[Circuit, ...]:
    """The circuits with a wire behind their device and nothing at all that it leads to.

    What it leads to may be a load, a panel or a source, by whatever wires. A wire that ends in the
    text ends somewhere in the rig as well.
    """
    rig = study.rig
    parts = {end for load in rig.loads for end in (load.plus, load.minus)}
    parts |= {end for source in rig.sources for end in (source.plus, source.minus)}
    parts |= {panel.feed for panel in rig.panels}

    def leads_nowhere(circuit: Circuit) -> bool:
        def is_own(edge: Edge) -> bool:
            return edge_name(edge) == circuit.device

        reached = study.net.walk([circuit.start], is_own)
        return parts.isdisjoint(reached)

    return tuple(
        circuit for circuit in rig.circuits
        if circuit.device and circuit.wires and not circuit.loads and leads_nowhere(circuit)
    )  # fmt: skip


def unread_on(study: Study, found: Iterable[Tree]) -> Mapping[str, tuple[str, ...]]:
    """The edges that lead from sources to such circuits, and the sources, with their places."""
    on: dict[str, dict[str, None]] = {}
    for circuit in unread_circuits(study):
        device = study.device(circuit.device)
        panel = study.panel(circuit.panel)
        for tree in found:
            if device is None or device.line not in tree.out:
                continue
            names = [tree.source.about.name, edge_name(device), *circuit.wires]
            names += [edge_name(edge) for edge in path(tree.out, device.line)]
            bar = panel.negative if panel is not None else None
            if bar is not None and bar in tree.back:
                names += [edge_name(edge) for edge in path(tree.back, bar)]
            for name in names:
                on.setdefault(name, {})[circuit.place] = None
    return {name: tuple(places) for name, places in on.items()}
