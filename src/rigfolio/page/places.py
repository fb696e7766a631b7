"""Where things stand in the text, and which card each name of the rig leads to."""

from collections.abc import Mapping

from rigfolio.findings import Label, Span
from rigfolio.judgement import Lines
from rigfolio.model import Rig
from rigfolio.page.content import TextPlace
from rigfolio.wording import circuit_of


class Texts:
    """The texts of a rig, to be asked for lines; `file` is the rig file itself."""

    def __init__(self, texts: Mapping[str, str], file: str) -> None:
        self.file = file
        self._lines = {name: Lines(text) for name, text in texts.items()}

    def place(self, span: Span, label: str = "") -> TextPlace:
        """The line that a place begins in."""
        file = span.file or self.file
        lines = self._lines.get(file)
        if lines is None or not lines.text:
            return TextPlace(file, label=label)
        line, column = lines.place(span.start)
        start, end = lines.bounds(line)
        return TextPlace(file, line, column, lines.text[start:end].strip(), label)

    def of(self, label: Label) -> TextPlace:
        """The place of a label, with what it says."""
        return self.place(label.span, label.text)


def keys_of(rig: Rig) -> Mapping[str, str]:
    """For each name of a part the card that tells of it, or the panel or slot that bears it."""
    keys = {panel.about.name: panel.about.name for panel in rig.panels}
    for group in (rig.sources, rig.devices, rig.junctions, rig.loads):
        keys.update((part.about.name, part.about.name) for part in group)
    keys.update((slot.place,) * 2 for slot in rig.slots)
    for load in rig.loads:
        if load.circuit:
            keys[load.about.name] = load.circuit
    for wire in rig.conductors:
        circuit = circuit_of(rig, wire)
        keys[wire.name] = circuit.place if circuit is not None else wire.name
    for circuit in rig.circuits:
        keys[circuit.place] = circuit.place
        if circuit.slot:
            keys[circuit.device] = circuit.place
    return keys
