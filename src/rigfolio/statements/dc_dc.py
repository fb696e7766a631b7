"""A DC-DC converter or charger: a load on the side that feeds it, a source on the other."""

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.lang import facts
from rigfolio.model import About, Draft, LoadSaid, Source
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "dc-dc",
    ("<name>",),
    (
        *facts(
            "limit!: <current>",
            "volts: from <voltage> to <voltage>",
            "draws: draws <current>",
            "efficiency: efficiency <share>",
        ),
        *COMMON,
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add both sides; they share the minus terminal."""
    name = said.name
    in_v, out_v = _volts(said)
    draft.sources.append(
        Source(
            about=said.about,
            kind="dc-dc",
            plus=f"{name}.out",
            minus=f"{name}-",
            voltage_v=out_v,
            limit_a=said.facts.needed("limit"),
        )
    )
    draft.loads.append(
        LoadSaid(
            about=About(f"{name}.in", f"{said.about.label} input".strip(), said.span),
            kind="current",
            value=_draws(said, in_v, out_v),
            duty="continuous",
            nature="electronics",
            ends=(f"{name}.in", f"{name}-"),
        )
    )


def _volts(said: Said) -> tuple[float, float]:
    """Volts in and out; zero stands for those of the system."""
    volts = said.facts.all("volts")
    pair = volts[0].value if volts else ()
    values = [v if isinstance(v, float) else 0.0 for v in pair] if isinstance(pair, tuple) else []
    return (values[0], values[1]) if len(values) == 2 else (0.0, 0.0)


def _draws(said: Said, in_v: float, out_v: float) -> float | Unknown:
    """What the input draws: as stated, or power out over efficiency over volts in."""
    given = said.facts
    draws, limit_a, share = given.known("draws"), given.known("limit"), given.known("efficiency")
    if draws is not None:
        return draws
    if limit_a is None or share is None or given.has("draws"):
        return UNKNOWN
    if not given.has("volts"):
        # Both sides at the voltage of the system.
        return limit_a / share
    return limit_a * out_v / in_v / share if in_v and out_v else UNKNOWN
