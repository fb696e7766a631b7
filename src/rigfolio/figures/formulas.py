"""How the figures of the calculation sheet are worked out: formulas, constants, sources."""

import math
from collections.abc import Iterator

from rigfolio.books import cut_off_v, fuse_gates, stranding
from rigfolio.demand import flows_of
from rigfolio.figures.calculation import Calculation
from rigfolio.kinds import DUTIES, OCCASIONS
from rigfolio.reports import MEASURE
from rigfolio.shorts import OwnCutOff
from rigfolio.study import Study
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import amps, joined_words

_OCCASIONAL = tuple(duty for duty, kind in DUTIES.items() if kind.at_times)


def currents(study: Study) -> Iterator[str]:
    """How what is carried, and what may be, is worked out."""
    book = study.book
    share = book.intermittent_share()
    yield (
        f"{MEASURE} Rule book {book.name}: {book.title}. The letter "
        "beside `may carry` points at the table of what wires may carry; the wire of a circuit or "
        "feed that carries least is meant. Largest: the largest fuse that all of its wires allow, "
        "and its slot."
    )
    yield _heat(study)
    yield from _empty_banks(study)
    yield (
        "Current of a load: W / V, or V / ohm, at the volts printed beside it. Demand: loads of "
        f"one circuit are added up. Of several circuits those that run {' or '.join(_OCCASIONAL)} "
        f"count with the largest of them, or with {show(share.value, '%')} of their sum if that "
        f"is more; all others in full. Source: {share.source}."
    )


def _empty_banks(study: Study) -> Iterator[str]:
    """How much more loads of watts draw at the end of each bank that feeds any."""
    fed = {
        way.source.about.name
        for load, way in flows_of(study).counts.homes.values()
        if load.kind == "power" and way.source.stores
    }
    banks = [one for one in study.rig.sources if one.about.name in fed]
    ends = [(one, cut_off_v(one.chemistry, one.voltage_v)) for one in banks]
    if ends:
        listed = ", ".join(
            f"{bank.about.name} at {show(end.value, 'V')} up to "
            f"{show_load(bank.voltage_v / end.value - 1.0, '%', 2)} more ({end.source})"
            for bank, end in ends
        )
        yield (
            "Watts are judged at the volts of the system, less what is lost. Where a bank counts "
            f"as empty they draw more: {listed}. That lasts minutes, and is left to what a fuse "
            "carries above its rating; size the main fuse of an inverter by its maker's figure."
        )


def not_counted(study: Study, whole: Calculation) -> Iterator[str]:
    """The loads that are left out of every sum."""
    left_out = [
        str(one.load.about)
        for one in whole.loads
        if one.current_a is None or not flows_of(study).ways.get(one.load.about.name)
    ]
    if left_out:
        yield (
            f"NOT COUNTED, its draw or its way is not known: {', '.join(left_out)}. What these "
            "share with others carries and loses more than is printed."
        )


def _on_top(whole: Calculation) -> str:
    """What may come at any time: `Sun comes`, and `Sun and wind come` where wind charges too."""
    held = {one.traits.charges_with for one in whole.chargers} | {"sun"}
    found = [kind for kind, one in OCCASIONS.items() if one.at_any_time and kind in held]
    return f"{joined_words(found).capitalize()} {'comes' if len(found) == 1 else 'come'}"


def formulas(study: Study, whole: Calculation) -> Iterator[str]:
    """Paragraphs that let a reader repeat the rest of the figures by hand."""
    if whole.chargers:
        listed = ", ".join(
            f"{one.about.name} {one.kind} {amps(one.limit_a)}" for one in whole.chargers
        )
        yield (
            "On the way to a battery a charging source counts with its rated output where that is "
            f"more than the loads: {listed}. {_on_top(whole)} on top of either shore or engine; "
            "the last two do not run together."
        )
    yield from _losses(study, whole)
    if flows_of(study).is_meshed:
        yield (
            "Rings and wires side by side: current splits so that every way between two points "
            "loses the same, the copper of each as hot as its part makes it; the figures of such a "
            "wire are those with everything closed. What it must carry is taken for the worst: "
            "loads that would take current off it are left out, each device that can be opened is "
            "open in turn, a wire of unknown length carries nothing or all."
        )


def _inside(whole: Calculation) -> str:
    """What the batteries of solved shorts have inside."""
    shorts = [line.short for line in whole.sections if line.short is not None]
    held = {
        name: f"{name} {show(ohm, 'mΩ', 4)}{' usual' if is_usual else ''}"
        for short in shorts
        if short.feed is None
        for name, ohm, is_usual in short.inside
    }
    return f" They have inside: {', '.join(held.values())}." if held else ""


def _losses(study: Study, whole: Calculation) -> Iterator[str]:
    """How heat, resistance and drop are worked out, and what is allowed."""
    book = study.book
    hours = book.continuous_share()
    yield (
        "Copper at: T = ambient + (at limit - ambient) x (I / may carry)², I no more than the wire "
        "may carry, and of wires side by side the current of one. At limit: how hot the wires of "
        "the table of currents are at what it gives them, the insulation's own temperature where "
        "it does not tell (heat balance as in NFPA 70 310.15(C), memory)."
    )
    yield _resistance(study, whole)
    yield from _frames(study)
    yield (
        "Loads of watts draw more the less volts they get: I = P / U, U = source - what its inside "
        "and the wires out and back take. A load's own line has it on alone, a circuit's all of "
        "that circuit, the wires and every drop all that can be expected together."
    )
    yield _drop(study)
    yield (
        f"A fuse carries {show(hours.value, '%')} of its rating for hours; source: "
        f"{hours.source}. What can come back through a return is the most that the fuses toward "
        "the loads let through to what returns there; it stands behind `back`."
    )
    yield (
        "Short: a bolted fault at the far end. Least: volts / (inside + copper), copper at the "
        "temperature that it is rated for, T = rated in the formula of resistance, the battery "
        "alone. `usual` is the most that such a battery has inside, where the text does not say. "
        "Clears in: the longest time at least current over rating, straight lines between the "
        "gates on logarithmic scales"
        f"{_gates()}. Opens: what is overloaded most, and so opens first. `under`: it ends no "
        "later than that, by the last gate of a fuse (of a class T that is twice its rating) or by "
        "one behind that which opens first; how much sooner no standard says. Most: copper at "
        f"{study.coldest.value:g} °C ({study.coldest.source}), or at its ambient where that is "
        "less, full batteries and all that charges; `under` where a battery's figure is not told. "
        "`?`: no table of times serves, as for breakers, or something is not known. Where several "
        "sources or ways feed it, the whole net is solved, and what each source gives is listed "
        "instead of the way."
        f"{_inside(whole)}"
    )
    yield from _cut_off(whole)
    yield (
        f"Drop allowed: {show_limit(book.feeder_drop_share().value, '%')} to a feeder, to a load "
        f"as its line says. Sources: {book.feeder_drop_share().source}; "
        f"{book.drop_share(critical=True).source}; {book.drop_share(critical=False).source}."
    )


def _cut_off(whole: Calculation) -> Iterator[str]:
    """The shorts that may have batteries cut off by themselves before a fuse opens."""
    alike: dict[tuple[str, ...], tuple[OwnCutOff, list[str]]] = {}
    for line in whole.sections:
        if line.short is not None and line.short.own is not None:
            own = line.short.own
            alike.setdefault(own.names, (own, []))[1].append(line.section.place)
    for own, places in alike.values():
        names = joined_words(
            [f"{one.about.name} above {show_limit(one.cut_off_a or 0.0, 'A')}"
             for one in own.batteries]
        )  # fmt: skip
        they, are = ("it", "is") if len(own.batteries) == 1 else ("they", "are")
        dark = f" Where {they} {are}, {own.dark_words}." if own.dark else ""
        yield (
            f"Cut off by itself: {names}. More than that may flow from there in the short of "
            f"{', '.join(places)}; how fast it is done is not stated: whether {they} or what opens "
            f"there {are} first cannot be told.{dark}"
        )


def _resistance(study: Study, whole: Calculation) -> str:
    """How the resistance of a wire is worked out, and what its copper is taken for."""
    book = study.book
    return (
        "Resistance: R = R20 x length x (234.5 + T) / 254.5, over the number of wires side by side "
        "(FAA AC 43.13-1B 11-66d(4), seen). R20 goes by the family of cable that stands beside it "
        "under Copper: that of the type printed on the wire, where the text tells it; else "
        f"{book.cable.words} ({book.cable_source}).{_cables(whole)} By ASTM B258 a gauge "
        f"has 17.241 mΩ mm² / m over its area, times {stranding().value:g} for the lay of the "
        "strands (IEC 60028); a metric size has the greatest that the standard of its family "
        "allows. For the most that a short draws a wire of unknown type has the copper of the "
        "family that has most."
    )


def _drop(study: Study) -> str:
    """How drops are added up, and what is on."""
    start = "the bar" if study.book.drops_from_bar else "the posts"
    return (
        "Drop: current x resistance, added up over the way of the load, out and back, with the "
        "demand of all loads on each wire, from the source named with the way: of those that "
        "stand ready the one that loses least. Of volts: drop over the volts of the load's system. "
        "Drops by what is on: a load alone with nothing else; all that runs for hours, continuous "
        "or cyclic; all at once but what runs a moment, each source within its limit; a load that "
        "is not on then has no figure. As judged: all that can be expected together, counted as "
        f"the rule book counts it, from {start}. "
        "The line of a circuit shows the load that loses most of what it is allowed; that of a "
        "feed the way to its panel and back."
    )


def _frames(study: Study) -> Iterator[str]:
    """What the frames have, where a rig has any."""
    frames = [one for one in study.rig.junctions if one.traits.is_frame]
    stated = [f"{one.about.name} {show(one.ohm, 'mΩ', 4)}" for one in frames if one.ohm is not None]
    if stated:
        yield (
            f"Frame: {', '.join(stated)} as stated, on top of the copper of each wire that bonds "
            "it; cold and hot alike."
        )
    if len(stated) < len(frames):
        yield (
            "A frame of which no resistance is stated counts as without. Beside the way back of a "
            "panel it takes nothing off the drop of the feeder."
        )


def _cables(whole: Calculation) -> str:
    """Where the resistances come from that stand under Copper."""
    used = dict.fromkeys(str(one.taken.source) for one in whole.copper)
    return f" Sources: {'; '.join(used)}." if used else ""


def _gates() -> str:
    """The times of a blade fuse, and where they come from."""
    found = fuse_gates("regular", 10.0)
    if found is None:
        return ""
    words = ", ".join(
        f"{show(gate.share, '%')} "
        + ("no end" if math.isinf(gate.max_s) else show_load(gate.max_s, "s", 4))
        for gate in found.gates
    )
    return f", of a blade fuse {words} ({found.source})"


def _heat(study: Study) -> str:
    """How a current is corrected for heat, and what the tables were made for."""
    made = sorted({c.base_c for c in study.book.columns if c.base_c is not None})
    if not made:
        return "No table of this book is corrected for heat."
    listed = " or ".join(f"{base_c:g} °C" for base_c in made)
    return (
        "Heat: a current of a table counts times sqrt((insulation - ambient) / (insulation - "
        f"ambient of the table)) where it is hotter than the table was made for, {listed}; printed "
        "to two places, multiplied in full."
    )
