"""Solar modules that are joined to each other: one, a string in series, or equal strings."""

from rigfolio.findings import UNKNOWN, Unknown
from rigfolio.lang import facts
from rigfolio.model import Draft, Modules, Source
from rigfolio.reading import COMMON, Said, Word

WORD = Word(
    "array",
    ("<name>",),
    (
        *facts(
            "open!: open circuit <voltage>",
            "short!: short circuit <current>",
            "series: <n modules> in series",
            "parallel: <n strings> in parallel",
            "works: works at <voltage>",
            "power: <power>",
            "gains: gains <share> a degree colder",
            "back: series fuse <current>",
        ),
        *COMMON,
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the array with its two ends, at the volts that it has with nothing on it."""
    modules = _modules(said)
    open_v, short_a = modules.open_v, modules.short_a
    draft.sources.append(
        Source(
            about=said.about,
            kind="array",
            plus=f"{said.name}+",
            minus=f"{said.name}-",
            voltage_v=0.0 if isinstance(open_v, Unknown) else open_v * modules.series,
            limit_a=UNKNOWN if isinstance(short_a, Unknown) else short_a * modules.parallel,
            modules=modules,
        )
    )


def _modules(said: Said) -> Modules:
    given = said.facts
    return Modules(
        series=said.count("series", 1),
        parallel=said.count("parallel", 1),
        open_v=given.needed("open"),
        short_a=given.needed("short"),
        power_w=given.known("power"),
        works_v=given.known("works"),
        cold_share=given.known("gains"),
        back_a=given.number("back"),
    )
