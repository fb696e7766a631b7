"""How to make a part dead: what to open in which order, and what stays live."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigfolio.books import proof_by_meter
from rigfolio.isolation import (
    NOT_ENOUGH,
    UNREACHED,
    Plan,
    Step,
    StillLive,
    Turn,
    back_feed_words,
    beside_words,
    black_words,
    charged,
    charged_words,
    closed_first,
    comes_back_words,
    frame_words,
    goes_dark_words,
    idle_words,
    in_turn,
    isolate,
    measured_at,
    proof_of,
    readings_at,
    red_words,
    rejoin_words,
    shut_words,
    step_words,
    still_live_words,
)
from rigfolio.kinds import USUAL_GUARD
from rigfolio.model import Rig
from rigfolio.record import fields_by_name
from rigfolio.reports import (
    HANDS,
    JUDGED,
    AnswerOf,
    Field,
    Item,
    Listing,
    Paragraph,
    Part,
    Report,
    ReportColumn,
    ReportTable,
    Value,
    items,
    remarks,
)
from rigfolio.study import Study
from rigfolio.wording import NameKind, called, capital, in_a_row, load_words, short_end, typed

_BACK = "Back in the reverse order, loads last; the minus lead of a battery after its plus lead."
_SPARKS = (
    " Capacitors that are empty spark when they are joined again: fill them through a lamp or a "
    "resistor first."
)


def isolate_report(study: Study, name: str, kind: NameKind | None = None) -> Report:
    """How to make a part dead, for `rigfolio isolate FILE PLACE`.

    `kind` is what it is, where that is known and not asked of a person.

    Raises
    ------
    RefusalError
        Nothing has that name, or several parts have it.
    """
    plan = isolate(study, name, kind=kind)
    place = called(plan.place, plan.label)
    parts = _plan(study, plan)
    of = AnswerOf("isolate", study.rig.name, study.book.name)
    return Report(f"How to make {place} dead", (JUDGED, HANDS), tuple(parts), of=of)


def ends_said(rig: Rig, terminals: Iterable[str]) -> tuple[str, ...]:
    """Terminals by their names, as they are typed."""
    return tuple(typed(short_end(rig, end)) for end in terminals)


def _plan(study: Study, plan: Plan) -> Iterator[Part]:
    rig, loads = study.rig, study.rig.by_name.loads
    yield from (
        Field("place", plan.place), Field("label", plan.label),
        Field("terminals", ends_said(rig, plan.terminals)),
        Field("with_it", ends_said(rig, plan.with_it)), Field("condition", plan.condition),
        Field("reached_by", plan.reached_by), Field("is_enough", plan.is_enough),
        Field("loads", plan.loads), Field("off_first", plan.off_first),
        Field("stop_first", plan.stop_first),
        Field("comes_back", tuple(load_words(rig, loads[name]) for name in plan.comes_back)),
    )  # fmt: skip
    yield from remarks(_reach(study, plan), gap=True)
    yield Field("steps", [_step(study, step) for step in plan.steps])
    yield from _orders(study, plan)
    read = readings_at(study, plan, "its feed and at each slot")
    yield Listing("", items(read), name="proof", for_sheets=True)
    shut = closed_first(study, plan)
    yield Listing("", items((capital(shut),) if shut else ()), name="shut", for_sheets=True)
    yield from _left(rig, plan)
    yield Field("citation", fields_by_name(plan.order))


def _reach(study: Study, plan: Plan) -> Iterator[str]:
    """What reaches the part, and whether anything parts it from there."""
    if not plan.reached_by:
        yield f"No source of this text reaches {plan.place}."
        if any(study.side.get(end) == "-" for end in plan.terminals):
            yield (
                "It lies on the way back: what returns through it goes dark when it is lifted, "
                "and the lifted end floats up to the volts of the sources. Make dead first what "
                "returns there, detectors and alarms among it."
            )
        return
    if not plan.is_enough:
        yield (
            f"NOT ENOUGH: wire alone joins {plan.place} to a source; what is listed leaves it live."
        )
    if plan.is_post:
        yield (
            f"{plan.place} holds the post of a battery: that post is live between the posts "
            "whatever is opened. Cover it."
        )
    rig = study.rig
    sources = rig.sources
    labels = {s.about.name: called(s.about.name, s.about.label) for s in sources}
    idle = idle_words(study, plan.place)
    if idle:
        yield idle
    if plan.with_it:
        yield _why_with_it(rig, plan)
    back = comes_back_words(study, plan)
    if back:
        yield f"{back}."
    yield f"{plan.place} is reached by {', '.join(labels[name] for name in plan.reached_by)}."
    for name in plan.left_in:
        is_said = bool(rig.by_name.devices[name].family)
        why = "it is held by nuts" if is_said else (
            "so large a fuse is taken as held by nuts until its kind is said"
        )  # fmt: skip
        yield (
            f"{name} by itself would part {plan.place} too. It stays in: {why}, and what a hand "
            "opens goes before a wrench on a live stud."
        )


def _why_with_it(rig: Rig, plan: Plan) -> str:
    """Why more is made dead than what was asked for: what feeds the part is where hands go."""
    behind = _behind(rig, plan)
    if not plan.condition:
        return f"What feeds slot {plan.place} is {behind}, live with nothing in the slot."
    circuit = rig.by_name.circuits.get(plan.place)
    device = rig.by_name.devices.get(circuit.device if circuit is not None else "")
    kind, out = (device.kind, device.traits.goes) if device is not None else (USUAL_GUARD, "in")
    return (
        f"{plan.place} is {plan.condition}, and what feeds it is {behind}, live whether its {kind} "
        f"is {out} or not: make {behind} dead to mend it."
    )


def _behind(rig: Rig, plan: Plan) -> str:
    """What feeds a part, by the name of the panel whose bar it is."""
    panels = {end: panel.about.name for panel in rig.panels for end in (panel.feed, panel.bus)}
    names = (panels.get(end) or typed(short_end(rig, end)) for end in plan.with_it)
    return in_a_row(dict.fromkeys(names))


def _step(study: Study, step: Step) -> Mapping[str, Value]:
    return {
        "part": step.action.part,
        "label": step.label,
        "kind": step.action.kind,
        "do": step_words(study, step),
        "keeps_off": step.keeps_off,
        "done_in": step.done_in,
    }


def _orders(study: Study, plan: Plan) -> Iterator[Part]:
    """What is to be done in turn, one order a line, and what the sheets say below it."""
    turns = in_turn(study, plan)
    yield ReportTable(
        "",
        (ReportColumn("do"), ReportColumn("part")),
        tuple((capital(one.do), one.part) for one in turns),
        name="in_turn",
        for_sheets=True,
    )
    held = charged_words(charged(study, plan))
    yield Listing("", items(_mind(study, plan, held)), name="mind", for_sheets=True)
    if not plan.reached_by:
        return
    yield Listing(
        f"In this order ({plan.order.status}):",
        items(_told(study, plan, turns, held)),
        name="told",
        ordered=True,
    )
    again = rejoin_words(study, plan)
    yield Paragraph(f"{_BACK}{_SPARKS if held else ''}{f' {capital(again)}.' if again else ''}")


def _told(study: Study, plan: Plan, turns: Sequence[Turn], held: str) -> Iterator[str]:
    meter = proof_by_meter()
    for one in turns:
        done = f" Already so in: {in_a_row(one.done_in)}." if one.done_in else ""
        why = f" {capital(one.why)}." if one.why else ""
        yield f"{capital(one.do)}.{why}{done}"
    yield "Tag what you opened, so that nobody closes it."
    if held:
        yield f"{capital(held)}."
    rig = study.rig
    place = red_words(rig, plan.place)
    places = f"{place} and on {_behind(rig, plan)}" if plan.with_it else place
    ends = measured_at(study, plan)
    proof = proof_of(study, plan, ends)
    more = "".join(f", and on {words}" for words in beside_words(study, plan, proof, ends))
    minus, frame = black_words(study, plan, ends), frame_words(study, plan, ends)
    shut = shut_words(study, proof)
    when = f" {capital(shut)}." if shut else ""
    yield f"With a meter on {places}{more}: {meter.title}; to {minus} and to {frame}.{when}"


def _mind(study: Study, plan: Plan, held: str) -> Iterator[str]:
    """What else has to be known before the meter is believed."""
    back = comes_back_words(study, plan)
    if back:
        yield f"{back}."
    if held:
        yield f"{capital(held)}."
    again = rejoin_words(study, plan)
    if again:
        yield f"{capital(again)}."
    if not plan.reached_by:
        yield UNREACHED
    if not plan.is_enough:
        yield f"{NOT_ENOUGH}."
    if plan.back_feeds:
        yield f"{capital(back_feed_words(plan.back_feeds))}."
    if plan.goes_dark:
        yield f"{goes_dark_words(plan)}."


def _left(rig: Rig, plan: Plan) -> Iterator[Part]:
    """What is live all the same, what would be again, and what is no longer."""
    yield Field("stays_live", [_still(rig, one) for one in plan.stays_live])
    feeds = tuple(
        Item(
            called(one.source, one.label)
            + (f", through {', '.join(called(name) for name in one.by)}" if one.by else ""),
            {"source": one.source, "label": one.label, "through": one.by},
        )
        for one in plan.back_feeds
    )
    if plan.reached_by:
        live = items(still_live_words(plan.stays_live))
        yield Listing("Stays live while you work:", live, name="left_live")
    title = f"Would feed {plan.place} with every disconnect and selector open:"
    yield Listing(title, feeds, "back_feeds")
    yield Listing("Must stay on and goes dark with this:", items(plan.goes_dark), "goes_dark")


def _still(rig: Rig, one: StillLive) -> Mapping[str, Value]:
    return {
        "part": one.part.name,
        "label": one.part.label,
        "terminals": ends_said(rig, one.part.terminals),
        "sources": one.sources,
        "through_loads": one.through_loads,
    }
