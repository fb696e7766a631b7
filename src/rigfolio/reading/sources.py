"""What chargers and other sources of limited output say."""

from rigfolio.findings import Unknown
from rigfolio.lang import facts
from rigfolio.model import Source
from rigfolio.reading.word import Said

OUTPUT = facts("limit!: <current>", "volts: <voltage>")
"""The rated output of a source, and its voltage where it is not that of the system."""


def source_said(said: Said, kind: str, limit_a: float | Unknown | None) -> Source:
    """The source that a line describes; a voltage of zero stands for that of the system."""
    return Source(
        about=said.about,
        kind=kind,
        plus=f"{said.name}+",
        minus=f"{said.name}-",
        voltage_v=said.facts.known("volts") or 0.0,
        limit_a=limit_a,
    )
