"""A DC-DC converter or charger: a load on the side that feeds it, a source on the other."""

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.lang import facts
from rigfolio.model import About, Draft, LoadKind, LoadSaid, Source
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
            "isolated: isolated",
        ),
        *COMMON,
    ),
    also=("converter, transformer: from one battery voltage to another",),
)


def add(said: Said, draft: Draft) -> None:
    """Add both sides; they share the minus terminal, unless they are isolated from each other."""
    name, isolated = said.name, said.facts.has("isolated")
    in_v, out_v = _volts(said)
    kind, draws = _draws(said)
    draft.sources.append(
        Source(
            about=said.about,
            kind="dc-dc",
            plus=f"{name}.out",
            minus=f"{name}.out-" if isolated else f"{name}-",
            voltage_v=out_v,
            limit_a=said.facts.needed("limit"),
            efficiency=_share(said, in_v, out_v),
            input_v=in_v or None,
            isolated=isolated,
        )
    )
    draft.loads.append(
        LoadSaid(
            about=About(f"{name}.in", f"{said.about.label} input".strip(), said.span),
            kind=kind,
            value=draws,
            duty="continuous",
            nature="electronics",
            ends=(f"{name}.in", f"{name}.in-" if isolated else f"{name}-"),
        )
    )


def _volts(said: Said) -> tuple[float, float]:
    """Volts in and out; zero stands for those of the system."""
    volts = said.facts.all("volts")
    pair = volts[0].value if volts else ()
    values = [v if isinstance(v, float) else 0.0 for v in pair] if isinstance(pair, tuple) else []
    return (values[0], values[1]) if len(values) == 2 else (0.0, 0.0)


def _draws(said: Said) -> tuple[LoadKind, float | Unknown]:
    """What the input draws: amperes as stated, or watts.

    They come with the volts of the output, which may be those of the system: unknown until then.
    """
    given = said.facts
    draws, share = given.known("draws"), given.known("efficiency")
    if draws is not None or share is None or given.has("draws"):
        return "current", UNKNOWN if draws is None else draws
    stated = given.has("volts") and not all(_volts(said))
    return ("current" if stated else "power"), UNKNOWN


def _share(said: Said, in_v: float, out_v: float) -> float | None:
    """The efficiency: as stated, or by what the input draws at the volts that are stated with it.

    Without volts both sides are at those of the system.
    """
    given = said.facts
    share, draws, limit_a = given.known("efficiency"), given.known("draws"), given.known("limit")
    if share is not None or not draws or limit_a is None:
        return share
    if not given.has("volts"):
        in_v = out_v = 1.0
    return min(limit_a * out_v / (draws * in_v), 1.0) if in_v and out_v else None
