"""A load that must stay on goes dead in some state of the rig.

It is held against every state of the text, and against the usual ones that the text does not
name: stored, towing, on shore power, with the engine running, in the sun. A tow vehicle, an
alternator, a charger and the sun are there at times only, and a plug may be unplugged, so none of
them keeps anything on; the way back to the battery counts as much as the way there.

What waits for a switch that rests open, as brakes do for the pin of a breakaway switch, is to be
fed up to that switch: it counts as closed here, and what it starts is never to be fed past it.

*Why:* a gas detector, a bilge pump or breakaway brakes die when someone turns the battery off to be
careful, or when the trailer breaks away.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity, Span
from rigfolio.isolation import Kept, in_words, must_stay_on
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import joined_words, listed

RULE = Rule(
    "always-on-behind-disconnect",
    Severity.DANGER,
    Citation("detectors, bilge pumps and breakaway brakes keep their supply", "common practice"),
    also=(Severity.ADVICE, Severity.UNKNOWN),
)


def check(study: Study) -> Iterator[Finding]:
    """Every load that must stay on, by its words or by its name, and does not in some state."""
    for one in must_stay_on(study):
        if one.dead_in:
            yield _finding(study, one)


def _finding(study: Study, one: Kept) -> Finding:
    label = one.load.about.label or one.load.about.name
    severity, must = Severity.DANGER, "must stay on"
    if not one.is_stated:
        must = "by its name must stay on" if one.is_plain else "by its name may have to stay on"
        severity = Severity.DANGER if one.is_plain else Severity.ADVICE
    dead_in = _in_states(one)
    if one.not_said and len(one.dead_in) == len(one.states):
        return RULE.cannot_judge(
            f"`{label}` {must}, and {one.not_said}",
            one.load.about.span,
            here=f"nothing is known to feed it {dead_in}",
            fix="follow its wires to where they land, and write that into the text",
        )
    return RULE.finding(
        f"`{label}` {must} and {_dead(one)}",
        one.load.about.span,
        here=f"dead {dead_in}",
        others=[
            *_circuit(study, one),
            *((device.about.span, "cuts it off") for device in one.cuts),
            *((source.about.span, f"feeds it only while {source.traits.live_when}")
              for source in one.only),
        ],
        fix=_fix(study, one),
        source=None if one.is_stated else one.source,
        severity=severity,
    )  # fmt: skip


def _circuit(study: Study, one: Kept) -> Iterator[tuple[Span, str]]:
    """The line that says where it is fed from."""
    circuit = study.circuit(one.load.circuit)
    if circuit is not None and circuit.span != one.load.about.span:
        yield circuit.span, "its circuit"


def _dead(one: Kept) -> str:
    if one.cuts:
        plugs = [d.about.name for d in one.cuts if d.traits.is_plug]
        others = [d.about.name for d in one.cuts if not d.traits.is_plug]
        words = [_stands(others, "open"), _stands(plugs, "unplugged")]
        return f"is dead when {' or '.join(filter(None, words))}"
    if one.only:
        named = [f"`{s.about.name}` while {s.traits.live_when}" for s in one.only]
        return f"is fed only by {joined_words(named)}"
    if len(one.dead_in) == len(one.states):
        return "nothing keeps it on"
    return f"is dead {_in_states(one)}"


def _in_states(one: Kept) -> str:
    """In which states it is dead."""
    return in_words(joined_words(one.dead_in, len(one.dead_in)))


def _stands(names: list[str], how: str) -> str:
    if len(names) < 2:
        return f"{listed(names)} is {how}" if names else ""
    return f"{listed(names)} are {how}, any of them"


def _fix(study: Study, one: Kept) -> Fix:
    back = [device for device in one.cuts if study.side.get(device.line) == "-"]
    also = "" if one.is_stated else ", and say `always on` of it"
    if one.cuts and len(back) == len(one.cuts):
        names = listed(device.about.name for device in back)
        return Fix(f"lead its way back to the battery past {names}{also}")
    what, by = "it", ""
    if one.starts:
        what = f"{listed(device.about.name for device in one.starts)}, which starts it,"
    elif one.waits:
        # Brakes that are fed for good drag: what is fed ahead of the disconnect is their switch.
        by = ", by way of the switch that starts it and of nothing else"
    if one.only or not one.cuts:
        return Fix(f"feed {what} from a battery of the rig, with a fuse of its own{by}{also}")
    return Fix(f"feed {what} ahead of the disconnect, with a fuse of its own{by}{also}")
