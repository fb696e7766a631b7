"""Which fault explains readings best, and what to measure next."""

from collections.abc import Iterator, Mapping, Sequence

from rigfolio.answers.fault_words import (
    FAULT_WORDS,
    banks_words,
    kinds_told,
    load_name,
    per_cent,
    roof_parts,
    verdict_name,
)
from rigfolio.answers.taken_words import as_written_words, is_as_written, taken_words
from rigfolio.books import figure, origin
from rigfolio.diagnosis import (
    Choice,
    Diagnosis,
    How,
    Prediction,
    Suspect,
    Verdict,
    dead_as_wired,
    diagnose,
    next_reading,
    parted,
    predictions,
)
from rigfolio.model import Reading
from rigfolio.network import stand_asked
from rigfolio.operating import DEAD_AS_WIRED
from rigfolio.record import replace
from rigfolio.reports import (
    HANDS,
    JUDGED,
    AnswerOf,
    Chapter,
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    Report,
    Sections,
    Value,
    items,
)
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.values import MINUS
from rigfolio.wording import how_many, in_a_row, short_end, turned_words, typed

_SHOWN = 6
# The faults that are named beside one figure of a meter.
_NAMED = 4
_SHARE = 0.02
_UNLISTED = "something that is none of the faults thought of here"
_LIKELY = 0.1
# From here on that nothing shows is told before any fault [-].
_MOSTLY = 0.5
# From here on a meter in hand shows the sign that it shows for no way at all.
_OPEN_OHM = 1e5
_UNITS: Mapping[How, str] = {
    "volts": "volts", "volts at rest": "volts", "amperes": "amperes",
    "amperes at rest": "amperes", "ohms": "ohms",
}  # fmt: skip


def diagnosis_report(study: Study, readings: Sequence[Reading], told: Sequence[str] = ()) -> Report:
    """What readings say, for `rigfolio diagnose FILE READING ...`.

    `told` is what is to be known of the readings. Amounts of faults are in ohm or shares.

    Raises
    ------
    ValueError
        There are no readings.
    """
    there, others = parted(study, readings)
    parts: tuple[Part, ...] = tuple(roof_parts(study, there)) if there else ()
    if others:
        found = diagnose(study, others)
        choice = next_reading(found) if found.explains else None
        parts += (*_explained(found, others, told), *_next(found, choice))
    of = AnswerOf("diagnose", study.rig.name, study.book.name)
    title = f"{of.rig}: {how_many(len(readings), 'reading')}"
    return Report(title, (JUDGED, HANDS), parts, gap=False, of=of)


def _explained(
    found: Diagnosis, readings: Sequence[Reading], mind: Sequence[str]
) -> Iterator[Part]:
    evidence, told = found.evidence, _told(found)
    yield Field("readings", [reading.text for reading in readings])
    yield Field("loads_on", sorted(evidence.took_on) if evidence.leaves_on_open else None)
    yield Listing("Taken as", items((*mind, *taken_words(found))))
    yield Field("fits", found.fits)
    yield Listing("As the text has it", items(as_written_words(found)), "as_written")
    verdicts = tuple(
        Item(f"{per_cent(one.share)}  {_verdict(found, one)}", _facts(found, one)) for one in told
    )
    odd = found.verdicts[0].unexplained
    yield Field("unexplained", [reading.text for reading in odd])
    if found.explains:
        yield Listing("What explains the readings, the likeliest first", verdicts, "verdicts")
        if not evidence.numeric:
            yield Listing("By kind, before anything is measured", items(kinds_told(found)))
        yield Field("elsewhere", round(_elsewhere(found), 4))
        yield Field("unlisted", round(found.unlisted, 4))
        yield Listing("Beside these", items(_beside(found, told)))
    else:
        yield Field("verdicts", [])
        yield Listing("Nothing explains these readings", items(_odd(found)))


def _facts(found: Diagnosis, one: Verdict) -> Mapping[str, Value]:
    return {
        "faults": [{"kind": fault.kind, "part": fault.name} for fault in one.faults],
        "share": round(one.share, 4),
        "amounts": one.amounts,
        "words": _verdict(found, one),
    }


def _next(found: Diagnosis, choice: Choice | None) -> Iterator[Part]:
    """What to measure next, and what it would tell."""
    yield from (Paragraph(words, gap=True) for words in _by_thermometer(found))
    if choice is None:
        yield Field("next", None)
        yield Paragraph(_no_choice(found), gap=True)
    else:
        yield Field("next", _reading(found, choice))
        parts = (
            Paragraph(measure_words(found, choice)),
            Listing("", tuple(_meanings(found, choice))),
            Paragraph(f"written down as `{entry_words(found, choice)}`"),
        )
        yield Sections((Chapter("Measure next", parts),))
    yield Paragraph(
        f"How likely each fault is before any reading: {origin('weight')}. A search tells where to "
        "look, not what is there: look at the part before you change it, and find out why it "
        "failed.",
        gap=True,
    )


def _by_thermometer(found: Diagnosis) -> Iterator[str]:
    """What no meter of volts tells: that a battery is too cold."""
    if not found.explains:
        return
    for fault in dict.fromkeys(fault for one in _told(found) for fault in one.faults):
        if fault.kind == "cold":
            yield (
                f"Measure the temperature of {banks_words(fault)} first, at the case: below "
                f"{show(fault.least_c, '°C')} nothing else need be wrong."
            )


def _reading(found: Diagnosis, choice: Choice) -> Mapping[str, Value]:
    study = found.evidence.study
    return {
        "how": choice.how,
        "from": typed(short_end(study.rig, choice.a)),
        "to": typed(short_end(study.rig, choice.b)) if choice.b else "",
        "entry": entry_words(found, choice),
        "bits": round(choice.bits, 3),
        "shows": [
            {
                "words": verdict_name(study, one.verdict),
                _UNITS[choice.how]: round(one.value, 3),
                "least": round(one.low, 3),
                "most": round(one.high, 3),
            }
            for one in predictions(found, choice)[:_SHOWN]
        ],
    }


def _elsewhere(found: Diagnosis) -> float:
    """How likely it is that nothing on the way of the readings is at fault [-]."""
    return sum(one.share for one in found.verdicts if not one.touches)


def _told(found: Diagnosis) -> list[Verdict]:
    touching = [one for one in found.verdicts if one.touches]
    told = [one for one in touching if one.share >= _SHARE][:_SHOWN]
    elsewhere = _elsewhere(found)
    if elsewhere >= _MOSTLY and (not told or is_as_written(found)):
        sound = next(one for one in found.verdicts if one.faults[0].kind == "nothing")
        return [replace(sound, share=elsewhere), *told]
    return told or touching[:1] or list(found.verdicts[:1])


def _verdict(found: Diagnosis, one: Verdict) -> str:
    pairs = zip(one.faults, one.amounts, strict=True)
    words = ", and ".join(_fault(found, fault, amount, one) for fault, amount in pairs)
    left = in_a_row([f"`{reading.text}`" for reading in one.unexplained])
    return f"{words}; {left} would then be a slip" if left and found.explains else words


def _fault(found: Diagnosis, fault: Suspect, amount: float, one: Verdict) -> str:
    if fault.kind == "nothing" and dead_as_wired(found.evidence):
        return _wired_dead(found)
    if fault.kind == "nothing" and is_as_written(found):
        return "nothing is broken: as the text has it, this is what is seen"
    words = FAULT_WORDS[fault.kind](found.evidence.study, fault, amount)
    if fault.kind not in ("joint", "contact"):
        return words
    # Whichever reading was taken first: where most runs through it, it is warmest.
    shown = found.evidence.solve_at(one.wrong, one.levels)
    current_a = max((each.current_a(fault.name) for each in shown), key=abs)
    lost_v, heat_w = current_a * amount, current_a**2 * amount
    if not found.evidence.numeric and abs(lost_v) < figure("sound", "joint_volt"):
        # Nothing was measured, and the least of it is what a sound joint takes.
        return words
    tail = f"{show(amount, 'ohm', 2)}, takes {show(lost_v, 'V', 2)} at {show(current_a, 'A', 2)}"
    if heat_w >= figure("heat", "melts_w"):
        tail += f" and turns {show(heat_w, 'W', 2)} into heat: that melts what holds it"
    elif heat_w >= figure("heat", "felt_w"):
        tail += f" and turns {show(heat_w, 'W', 2)} into heat: it can be felt"
    return f"{words}: {tail}"


def _wired_dead(found: Diagnosis) -> str:
    """What must stay on and is dead by the wiring alone: a danger, with no part broken."""
    study = found.evidence.study
    names = in_a_row([load_name(study, load.about.name) for load in dead_as_wired(found.evidence)])
    return f"{names}: must stay on, {DEAD_AS_WIRED} with switches so: mend the wiring first"


def _beside(found: Diagnosis, told: Sequence[Verdict]) -> Iterator[str]:
    elsewhere = _elsewhere(found)
    unlisted = found.unlisted
    rest = 1.0 - elsewhere - unlisted - sum(one.share for one in told if one.touches)
    if rest > 0.005:
        yield f"{per_cent(rest)}  other faults and pairs of faults, each less likely than these"
    if unlisted > 0.005:
        yield f"{per_cent(unlisted)}  {_UNLISTED}"
    if elsewhere > 0.005 and all(one.touches for one in told):
        yield f"{per_cent(elsewhere)}  a reading that was taken elsewhere, or nothing wrong"
    if not found.fits:
        yield from _odd(found)


def _odd(found: Diagnosis) -> Iterator[str]:
    """The readings that no fault makes, and what to do about them."""
    odd = [
        reading
        for reading in found.verdicts[0].unexplained
        if all(reading in one.unexplained for one in _told(found))
    ]
    if found.verdicts[0].unexplained and not odd:
        yield "the likeliest leaves out a reading that others explain: take that one again first"
        return
    for reading in odd:
        yield f"no single fault and no pair of faults that was tried shows `{reading.text}`"
    if not odd:
        yield (
            "no single fault and no pair that was tried explains all readings well: each is off "
            "by some spreads"
        )
    yield (
        "read again, with the probes where the text of the reading says; if the meter shows it "
        "again, the rig is not wired as its text says: find out first what feeds that place"
    )


def _no_choice(found: Diagnosis) -> str:
    if not found.explains:
        return "Nothing more is worth measuring until these readings hold."
    likely = [one for one in found.verdicts if one.share >= _LIKELY]
    if not any(one.touches for one in _told(found)):
        if dead_as_wired(found.evidence):
            return "No reading would tell more: no part is broken, the wiring is to be mended."
        if is_as_written(found):
            return "No reading would tell more: mend that first, and see whether it comes back."
        return "No reading would tell more: what may be wrong does not show in these."
    if len(likely) <= 1:
        return (
            "No reading would part what is left: look at that part; where it is as it should be, "
            "what is wrong is none of the faults that are thought of here."
        )
    return (
        "No reading tells these apart any better: they are the same for a meter at these "
        "terminals. Measure across each crimp and clip of that part with the load on."
    )


def measure_words(found: Diagnosis, choice: Choice) -> str:
    """Where the probes or the clamp go, and what has to be on or off."""
    rig, side = found.evidence.study.rig, found.evidence.study.side
    scene = found.evidence.onward.scene
    on = "with the same loads on" if scene.on else "with all loads off"
    if scene.on and len(found.evidence.scenes) > 1:
        loads = sorted(load_name(found.evidence.study, one) for one in scene.on)
        on = f"with {in_a_row(loads)} on"
    if scene.starting:
        names = (load_name(found.evidence.study, one) for one in scene.starting)
        on += f" and {in_a_row(names)} starting"
    turns = [*turned_words(rig, _stood(found))]
    on = ", ".join([on, *turns])
    if choice.how == "amperes at rest":
        return (
            f"amperes out of {choice.a}, all loads off: a clamp for direct current round its "
            "lead, or an ammeter in its minus lead"
        )
    if choice.how == "amperes":
        where = "its wire at the panel"
        if found.evidence.study.circuit(choice.a) is None:
            where = "its own lead"
        return f"amperes in {choice.a}, a clamp for direct current round {where}, {on}"
    ends = f"from {short_end(rig, choice.a)} (red) to {short_end(rig, choice.b)} (black)"
    if choice.how == "ohms":
        return f"ohms {ends}, every source off, proved dead, every fuse out"
    if choice.how == "volts at rest":
        return f"volts {ends}, with all loads off"
    is_drop = side.get(choice.a) == side.get(choice.b)
    more = "; a drop, so read it on the finest range that holds it" if is_drop else ""
    return f"volts {ends}, {on}{more}"


def _stood(found: Diagnosis) -> tuple[tuple[str, str], ...]:
    """How switches stand of which a reading says it, and those that what is on needs turned."""
    onward, rig = found.evidence.onward, found.evidence.study.rig
    said = dict(onward.standing[1])
    asked = dict(stand_asked(rig, onward.scene.on)) if not onward.standing[0] else {}
    return tuple((asked | said).items())


def entry_words(found: Diagnosis, choice: Choice, amount: str = "…") -> str:
    """A reading as it is written down, for the next search and for the log."""
    rig = found.evidence.study.rig
    stood = () if choice.how == "ohms" else _stood(found)
    stands = "".join(f", {typed(name)} {position}" for name, position in stood)
    off = ", with all off" if choice.how in ("volts at rest", "amperes at rest") else ""
    if not choice.b:
        return f"{typed(choice.a)} = {amount} A{off}{stands}"
    unit = "ohm" if choice.how == "ohms" else "V"
    ends = " to ".join(typed(short_end(rig, end)) for end in (choice.a, choice.b))
    return f"{ends} = {amount} {unit}{off}{stands}"


def _meanings(found: Diagnosis, choice: Choice) -> Iterator[Item]:
    """What the meter shows, and for which faults: the ends of a range belong to those named."""
    study = found.evidence.study
    groups: list[dict[str, Prediction]] = []
    for one in predictions(found, choice):
        near = next((g for g in groups if _is_alike(choice.how, next(iter(g.values())), one)), None)
        if near is None:
            groups.append(near := {})
        near.setdefault(verdict_name(study, one.verdict), one)
    for held in groups[:_SHOWN]:
        named = list(held)[:_NAMED]
        more = f" and {len(held) - _NAMED} more near that" if len(held) > _NAMED else ""
        shown = _range_words(choice.how, [held[name] for name in named])
        yield Item(f"{', '.join(named)}{more}", mark=shown)


def _is_alike(how: How, one: Prediction, two: Prediction) -> bool:
    """Whether two faults show the same to somebody who is looking for the difference."""
    return all(_is_near(how, *ends) for ends in ((one.low, two.low), (one.high, two.high)))


def _is_near(how: How, one: float, two: float) -> bool:
    if how == "ohms":
        return max(one, two) <= 1.5 * min(one, two)
    return abs(one - two) <= max(0.05, 0.03 * abs(two))


def _range_words(how: How, shown: Sequence[Prediction]) -> str:
    """The figure of some faults, or from which to which; of one that has no amounts, both."""
    low, high = min(one.low for one in shown), max(one.high for one in shown)
    ends = list(dict.fromkeys(_shown_words(how, each).replace("-", MINUS) for each in (low, high)))
    if len({end.rpartition(" ")[2] for end in ends}) < len(ends):
        ends[0] = ends[0].rpartition(" ")[0]
    faults = [fault for one in shown for fault in one.verdict.faults]
    return " to ".join(ends) if any(f.is_graded for f in faults) else " or ".join(ends)


def _shown_words(how: How, shown: float) -> str:
    if how == "ohms" and shown > _OPEN_OHM:
        return "open"
    if how == "ohms":
        return f"{shown:.2g} Ω" if shown < 10.0 else f"{shown:.0f} Ω"
    # Nought has no sign.
    return f"{round(shown, 2) + 0.0:.2f} {'V' if how.startswith('volts') else 'A'}"
