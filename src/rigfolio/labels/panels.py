"""What stands above a panel: its name and limits, and what feeds it."""

from rigfolio import wording
from rigfolio.model import Panel, Rig
from rigfolio.network import feeds_of


def panel_title(panel: Panel) -> str:
    """`P1 Galley panel, 75 A in all, 20 A a slot`."""
    words = [str(panel.about)]
    if panel.total_a is not None:
        words.append(f"{wording.amps(panel.total_a)} in all")
    if panel.slot_a is not None:
        words.append(f"{wording.amps(panel.slot_a)} a slot")
    return ", ".join(words)


def feed_words(rig: Rig, panel: Panel) -> str:
    """The wires that lead from a source to the panel, and where each comes from."""
    words = [
        f"{wire.name} {wording.there_words(wire)} {wording.colour_text(wire.colour)} from "
        f"{wording.end_words(rig, far)}"
        for wire, far in feeds_of(rig, panel)
    ]
    return f"Fed by: {'; '.join(words)}" if words else "Fed by: not stated"
