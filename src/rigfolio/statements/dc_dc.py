"""A DC-DC converter or charger: a load on the side that feeds it, a source on the other."""

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.lang.facts import facts
from rigfolio.model.draft import Draft, LoadSaid
from rigfolio.model.graph import About, Source
from rigfolio.reading.word import COMMON, Said, Word

WORD = Word(
    "dc-dc",
    ("<name>",),
    (
        *facts(
            "limit!: <current>",
            "volts: from <voltage> to <voltage>",
            "draws: draws <current>",
        ),
        *COMMON,
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add both sides; they share the minus terminal."""
    given = said.facts
    limit = given.needed("limit")
    volts = given.all("volts")
    pair = volts[0].value if volts else ()
    ends = [value for value in pair if isinstance(value, float)] if isinstance(pair, tuple) else []
    out_v = ends[1] if len(ends) == 2 else 0.0
    draws = given.number("draws")
    draft.sources.append(
        Source(
            about=said.about,
            kind="dc-dc",
            plus=f"{said.name}.out",
            minus=f"{said.name}-",
            voltage_v=out_v,
            limit_a=limit,
        )
    )
    input_a: float | Unknown = UNKNOWN if draws is None else draws
    draft.loads.append(
        LoadSaid(
            about=About(f"{said.name}.in", f"{said.about.label} input".strip(), said.span),
            kind="current",
            value=input_a,
            duty="continuous",
            nature="electronics",
            ends=(f"{said.name}.in", f"{said.name}-"),
        )
    )
