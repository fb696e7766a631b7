"""Solar modules that are joined to each other: one, a string in series, or equal strings."""

from collections.abc import Iterator

from rigfolio.books import sun_figure
from rigfolio.findings import UNKNOWN, Finding, Unknown
from rigfolio.lang import error, facts
from rigfolio.model import Draft, Modules, Source
from rigfolio.reading import COMMON, Said, Word
from rigfolio.units import show, show_against

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
    also=(
        "module, modules, pv, solar panel, solar panels, solar module, solar modules, "
        "solar array: of solar modules",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Add the array with its two ends, at the volts that it has with nothing on it."""
    draft.found += _impossible(said)
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


def _impossible(said: Said) -> Iterator[Finding]:
    """Figures that one label cannot bear together.

    A module has its highest volts with nothing on it and its highest current when it is shorted:
    where it works it has less of both.
    """
    given = said.facts
    works_v, open_v = given.known("works"), given.known("open")
    power_w, short_a = given.known("power"), given.known("short")
    fix = "read the label of a module again, each figure for one module"
    at = given.span("works")
    if at is not None and works_v is not None and open_v is not None and works_v >= open_v:
        works, most = show_against(works_v, open_v, "V")
        yield error(
            "label-impossible", at, f"works at {works}, and has {most} with nothing on it",
            here="a module works at less than its open-circuit volts", fix=fix,
        )  # fmt: skip
        return
    volts = open_v if works_v is None else works_v
    at = given.span("power")
    if at is None or power_w is None or volts is None or short_a is None:
        return
    most_w = volts * short_a
    if power_w > most_w * (1.0 + sun_figure("label", "share").value):
        given_by = f"{show(volts, 'V')} with {show(short_a, 'A')} are {show(most_w, 'W')}"
        yield error(
            "label-impossible", at, f"{show(power_w, 'W')}, and {given_by}",
            here="a module gives less than its volts times its short-circuit current", fix=fix,
        )  # fmt: skip
