"""Loads that hold their watts pull the voltage down until nothing holds it any more.

Drivers, chargers and inverters draw more as their volts sag. Beyond half of the voltage there is no
current at which supply and load agree: the load drops out, starts again and drops out, and takes
with it what hangs on the same wires. Before that the battery's own resistance takes it below the
volts at which inverters and chargers switch off.

*Why:* no fuse opens, since nothing draws too much for long. What is seen is a lamp that flickers, a
refrigerator that never starts, and copper that grows warm.
"""

from collections.abc import Collection, Iterable, Iterator

from rigfolio.demand import collapsed_of, drops_of
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.isolation import Open, bank_joins
from rigfolio.model import Conductor, Load, Source
from rigfolio.natural_order import natural
from rigfolio.operating import (
    alone,
    drawn_in,
    most_alone_w,
    operating,
    source_ohm,
)
from rigfolio.record import replace
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of
from rigfolio.study import Study, once
from rigfolio.units import show, show_against, show_limit, show_load
from rigfolio.wording import label_of

RULE = Rule(
    "voltage-collapse",
    Severity.FAULT,
    Citation("no solution of Kirchhoff's laws with loads of constant power", "computed"),
)


def check(study: Study) -> Iterator[Finding]:
    """Loads that the network cannot feed with what runs beside them."""
    found = collapsed_of(study)
    for load in study.rig.loads:
        if not isinstance(load.value, float) or load.kind != "power":
            continue
        if load.about.name in found:
            yield _finding(study, load, load.value)
        else:
            yield from _sagging(study, load, load.value)


def _sagging(study: Study, load: Load, asked_w: float) -> Iterator[Finding]:
    """A load that takes full batteries below their end by their own resistance, nothing else on."""
    from rigfolio.books import cut_off_v

    banks = [(one, ohm) for one, ohm, reached in _banks(study) if load.plus in reached]
    # Above its end, what a bank loses inside is less than an eighth of its volts (computed).
    if not any(ohm * asked_w > 0.08 * one.voltage_v**2 for one, ohm in banks):
        return
    at_rest = Open(bank_joins(study.rig))
    full = Study(replace(study.rig, sources=tuple(_filled(study.rig.sources))), study.book.name)
    point = operating(full, loads={load.about.name}, opened=at_rest, copper="loaded")
    for bank, _ in sorted(banks, key=lambda one: natural(one[0].about.name)):
        posts_v, end = point.across_v(bank), cut_off_v(bank.chemistry, bank.voltage_v)
        if posts_v is None or posts_v >= end.value or not point.drawn_a(load.about.name):
            continue
        yield RULE.finding(
            f"`{label_of(load)}` takes {show_load(asked_w, 'W')}: by its own resistance "
            f"`{bank.about.name}` falls to {show_limit(posts_v, 'V')} even when full, below its "
            f"end at {show_load(end.value, 'V')}",
            load.about.span,
            others=[(bank.about.span, "has too much resistance inside for it")],
            source=end.source,
            fix=Fix("a larger bank, or one with less resistance inside"),
            numbers=(("posts_v", posts_v), ("end_v", end.value), ("power_w", asked_w)),
        )
        return


@once
def _banks(study: Study) -> tuple[tuple[Source, float, Collection[str]], ...]:
    """The batteries whose own resistance is known [ohm], each with all that it is wired to."""
    return tuple(
        (one, ohm, study.net.walk([one.plus]).keys())
        for one in study.rig.sources
        if one.stores and (ohm := source_ohm(one))
    )


def _filled(sources: Iterable[Source]) -> Iterator[Source]:
    """The sources with all batteries full and at rest, with what they have inside."""
    from rigfolio.books import full_v

    for source in sources:
        if source.stores:
            volts = full_v(source.chemistry, source.voltage_v).value
            yield replace(source, voltage_v=volts, internal_ohm=source_ohm(source))
        else:
            yield source


def _finding(study: Study, load: Load, asked_w: float) -> Finding:
    most_w = _most_w(study, load)
    asks = (
        f"`{label_of(load)}` asks for {show_load(asked_w, 'W')} and pulls the voltage to collapse"
    )
    if most_w is not None and most_w < asked_w:
        asks += f": source and copper give {show_against(asked_w, most_w, 'W')[1]} at most"
    elif drawn_in(study, load, alone(study, load)).collapses:
        most_w = most_alone_w(study, load, asked_w)
        if most_w is not None:
            volts = show(study.nominal_v(load.plus), "V")
            most = show_against(asked_w, most_w, "W")[1]
            asks += f" by itself: {volts} and copper as warm as it gets give {most} at most"
    else:
        most_w = most_alone_w(study, load, 4.0 * (most_w or asked_w))
        if most_w is not None:
            asks += f" beside what else runs: alone it could have {show_limit(most_w, 'W')} at most"
    return RULE.finding(
        asks,
        load.about.span,
        others=[(wire.span, "loses most on its way") for wire in _worst(study, load)],
        fix=Fix("thicker wires or a shorter way, so that they take less than a tenth of it"),
        numbers=(("power_w", asked_w), *((("most_w", most_w),) if most_w is not None else ())),
    )


def _worst(study: Study, load: Load) -> list[Conductor]:
    """The wire on its way, out or back, that takes most of the voltage."""
    worst = drops_of(study).worst_of(load)
    return [worst] if worst is not None and not worst.assumed else []


def _most_w(study: Study, load: Load) -> float | None:
    """The most that cold copper and full batteries give to a load that is on alone [W].

    A source gives the most where half of its voltage is lost: a quarter of open voltage times
    short-circuit current. What is not known counts as no resistance, so that it is never too low.
    """
    from rigfolio.books import full_v

    case = faults_of(study).coldest_at(load.plus, load.minus)
    bound_a = case.bound_a if case is not None else None
    if case is None or bound_a is None:
        return None
    feeding = {name for name, own_a in case.sources if own_a > 0.0}
    open_v = max(
        full_v(source.chemistry, source.voltage_v).value
        if source.stores else source.voltage_v
        for source in study.rig.sources
        if source.about.name in feeding
    )  # fmt: skip
    return open_v * bound_a / 4.0
