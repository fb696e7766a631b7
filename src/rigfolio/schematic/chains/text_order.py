"""Where a thing stands in the text, over all of its files."""

from rigfolio.model import Circuit, Conductor, Panel, Slot
from rigfolio.schematic.chains.elements import Thing


class TextOrder:
    """Places in the text; files count in the order in which they are first met."""

    def __init__(self) -> None:
        self._files: dict[str, int] = {}

    def place(self, thing: Thing | Panel) -> tuple[int, int]:
        """The number of its file, and how far into that it begins."""
        span = thing.span if isinstance(thing, Conductor | Slot | Circuit) else thing.about.span
        return self._files.setdefault(span.file, len(self._files)), span.start
