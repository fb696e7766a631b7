"""What loads say of themselves."""

from collections.abc import Iterator, Sequence

from rigfolio.books import inverter_efficiency
from rigfolio.findings import UNKNOWN, Finding, Span, Unknown
from rigfolio.kinds import DUTIES, USUAL_DUTY, Duty
from rigfolio.lang import Facts, error, facts
from rigfolio.model import LoadKind, LoadSaid
from rigfolio.reading.word import Said
from rigfolio.record import replace
from rigfolio.units import Size

LOAD = facts(
    "current!: <current>",
    "power: <power>",
    "resistance: <resistance>",
    f"duty: {'|'.join(DUTIES)}",
    "hours: <duty>",
    "of_day: <share> of the day",
    "starts: starts at <n times>",
    "start_time: for <time>",
    "nature: filament|led|heater|motor|electronics",
    "always: always on",
    "critical: critical",
    "drop: drop <share>",
    "leads: leads <size> <length>",
    "rest: takes <current> at rest",
    "made_for: made for <voltage>",
)
"""What may be said of a load."""

INVERTER = facts(
    "power!: <power>",
    "efficiency: efficiency <share>",
    "draws: draws <current>",
    f"duty: {'|'.join(DUTIES)}",
    "hours: <duty>",
    "of_day: <share> of the day",
    "critical: critical",
    "drop: drop <share>",
    "always: always on",
    "rest: takes <current> at rest",
    "made_for: made for <voltage>",
)
"""What may be said of an inverter; its watts are those of the AC side."""


def load_said(said: Said) -> LoadSaid:
    """The load that a line describes; watts mean constant power unless its nature says more."""
    given = said.facts
    kind, value = _value(given)
    leads = given.all("leads")
    pair = leads[0].value if leads else None
    size, length = pair if isinstance(pair, tuple) else (None, None)
    return replace(
        _common(said, kind, value, given.word("nature")),
        starts_at=given.known("starts"),
        start_s=given.known("start_time"),
        lead_size=size if isinstance(size, Size | Unknown) else None,
        lead_m=length if isinstance(length, float) else UNKNOWN,
    )


def load_problems(said: Said) -> Iterator[Finding]:
    """What a load draws is said in one way, and how long it runs in a day in one."""
    spans = [said.facts.span(key) for key in ("current", "power", "resistance")]
    yield from _twice(spans, "what the load draws is said twice", "keep the one on its plate")
    spans = [said.facts.span(key) for key in ("hours", "of_day")]
    yield from _twice(spans, "how long it runs in a day is said twice", "keep one of them")
    at = said.facts.span("start_time")
    if at is not None and not said.facts.has("starts"):
        yield error(
            "fact-missing", at, "`for` tells how long a start lasts, and none is told",
            fix="say what it starts at, as in `starts at 3 times for 3 min`; how long it runs in a "
            "day is `20 min/day`",
        )  # fmt: skip


def _twice(spans: Sequence[Span | None], headline: str, fix: str) -> Iterator[Finding]:
    stated = [span for span in spans if span is not None]
    if len(stated) > 1:
        yield error("said-twice", stated[1], headline, fix=fix)


def inverter_said(said: Said) -> LoadSaid:
    """The DC side of an inverter: its AC watts over its efficiency, or the amperes it states."""
    given = said.facts
    draws = given.number("draws")
    value: float | Unknown = given.needed("power")
    kind: LoadKind = "power"
    if draws is not None:
        kind, value = "current", draws
    elif isinstance(value, float):
        value /= given.known("efficiency") or inverter_efficiency().value
    return replace(_common(said, kind, value, "inverter"), stated_w=given.known("power"))


def _common(said: Said, kind: LoadKind, value: float | Unknown, nature: str) -> LoadSaid:
    """What may be said of a load and of an inverter alike."""
    given = said.facts
    return LoadSaid(
        about=said.about,
        kind=kind,
        value=value,
        duty=_duty(given),
        runs_on=given.word("duty") == USUAL_DUTY,
        always_on=given.has("always"),
        critical=given.has("critical"),
        drop_share=given.known("drop"),
        day_share=_day_share(given),
        nature=nature,
        rest_a=given.number("rest"),
        made_for_v=given.known("made_for"),
    )


def _day_share(given: Facts) -> float | None:
    """The share of a day that a load runs [-]; None where it is not said."""
    share = given.known("of_day")
    return given.known("hours") if share is None else share


def _duty(given: Facts) -> Duty:
    word = given.word("duty")
    return next((duty for duty in DUTIES if duty == word), USUAL_DUTY)


def _value(given: Facts) -> tuple[LoadKind, float | Unknown]:
    """The kind and the figure of a load: amperes, watts or ohms, one of them."""
    kinds: tuple[LoadKind, ...] = ("power", "resistance", "current")
    for kind in kinds:
        if given.has(kind) and isinstance(given.number(kind), float):
            return kind, given.needed(kind)
    return "current", UNKNOWN
