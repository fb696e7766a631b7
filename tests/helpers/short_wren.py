"""The marsh wren with few circuits, for tests that ask nothing of how large a rig is."""

import re

from helpers.home import EXAMPLES

_LEFT_OUT = ("P1.2", "P1.4", "P1.5", "P1.6", "P1.8", "P1.9", "P1.10", "P1.11")

SHORT_WREN = re.sub(
    rf"^circuit (?:{'|'.join(map(re.escape, _LEFT_OUT))}) .*\n(?: .*\n)*",
    "",
    (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8"),
    flags=re.MULTILINE,
)
"""Lights, furnace, radio and what is always on stay, with all sources, tags and states."""
