"""What each terminal is called: short, as it is typed, and with what it belongs to.

The terminals of the graph have names of their own that nobody has to know. Here each gets the one
that is printed: the post, bar, slot or end that the text names, else the load or the fuse whose end
it is, else the wire that leads to it.
"""

from collections.abc import Iterator

from rigfolio.model.asides import EndNames
from rigfolio.model.graph import Device, Load, Rig
from rigfolio.model.part_names import PANEL_ENDS, end_of
from rigfolio.values import printed


def where_is(rig: Rig) -> dict[str, EndNames]:
    """Both names of every terminal that a wire can land on."""
    found = _EndsTold(rig)
    found.panels()
    for source in rig.sources:
        for end in source.terminals:
            if end != source.inlet:
                found.put(end, end, source.about.label)
    for junction in rig.junctions:
        found.put(junction.terminal, junction.terminal, junction.about.label)
    for device in rig.devices:
        if device.in_slot:
            found.put(device.load, device.load, device.about.label)
    # A post keeps its name whatever sits on it.
    for load in rig.loads:
        found.posts(load)
    for device in rig.devices:
        found.device(device)
    for load in rig.loads:
        found.load(load)
    found.joints()
    return found.words


class _EndsTold:
    """Terminals with their names, as far as they are told."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.words: dict[str, EndNames] = {}
        self.of_loads: dict[str, list[str]] = {}

    def put(self, terminal: str, name: str, more: str = "") -> None:
        """Name a terminal that has no name yet."""
        name = printed(name)
        self.words.setdefault(terminal, EndNames(name, f"{name} {more}".rstrip()))

    def panels(self) -> None:
        """The feed of each panel, what its slots share, and its own negative bar."""
        for panel in self.rig.panels:
            for tail, word in PANEL_ENDS.items():
                terminal = f"{panel.about.name}{tail}"
                if terminal in (panel.feed, panel.bus, panel.negative):
                    self.put(terminal, f"{panel.about.name} {word}")

    def device(self, device: Device) -> None:
        """The ends of a series device that are nothing else."""
        if device.on_wire:
            self._fuse(device)
            return
        name = device.about.name
        for end, word in ((device.line, "line"), (device.load, "load")):
            if end.startswith(f"{name}."):
                self.put(end, end, device.about.label)
            elif end not in self.words:
                self.put(end, f"{name}.{word}", device.about.label)

    def _fuse(self, device: Device) -> None:
        """The ends of a fuse on a wire; where it sits on something, only one is its own."""
        name = device.about.name
        pair = ((device.line, device.load, "line"), (device.load, device.line, "load"))
        for end, other, word in pair:
            seat = self.words.get(other)
            if end not in self.words and seat is not None and not _is_of_fuse(other):
                words = f"{name} at {seat.words}"
                self.words[end] = EndNames(f"{name}.{word}", words)
            else:
                self.put(end, f"{name}.{word}")

    def posts(self, load: Load) -> None:
        """The ends of a load that are nothing else."""
        name = load.about.name
        for end, sign in ((load.plus, "+"), (load.minus, "-")):
            if end in (name, f"{name}{sign}"):
                self.put(end, end, load.about.label)

    def load(self, load: Load) -> None:
        """What else a load ends at; one that several loads share is named by all of them."""
        name = load.about.name
        for end, sign in ((load.plus, "+"), (load.minus, "-")):
            if end in (name, f"{name}{sign}"):
                continue
            if end not in self.words or end in self.of_loads:
                held = self.of_loads.setdefault(end, [])
                held.append(name)
                words = printed(f"{'; '.join(held)} {sign}")
                self.words[end] = EndNames(words, words)

    def joints(self) -> None:
        """What is left: joints beside something that has a name, and those between two wires."""
        labels = {one.place: one.label or one.place for one in self.rig.circuits}
        for wire in self.rig.conductors:
            for end in (wire.b, wire.a):
                name = end if self._is_written(end) else end_of(wire, end)
                joint = f"joint in {labels[wire.circuit]}" if wire.circuit in labels else ""
                self.put(end, name, joint)
        for end in _ends(self.rig):
            self.put(end, end)

    def _is_written(self, terminal: str) -> bool:
        """Whether a person may have written a terminal, or stands beside one that was written."""
        beside = terminal.removesuffix("-")
        return not set("~:") & set(terminal) and (beside == terminal or beside in self.words)


def _ends(rig: Rig) -> Iterator[str]:
    for device in rig.devices:
        yield from (device.line, device.load)
    for load in rig.loads:
        yield from (load.plus, load.minus)


def _is_of_fuse(terminal: str) -> bool:
    return terminal.endswith((".in", ".out", ".fuse.line", ".fuse.load"))
