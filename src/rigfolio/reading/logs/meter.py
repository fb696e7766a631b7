"""Readings from a meter as a person writes them down, one a line.

    2026-03-14  P1.3 = 11.2 V
    Porch lamp = 3.1 V, with Porch lamp on
    P1 to P1.3 = 40 mV, with Pump, Radio on
    across Pump = 11.9 V, with Pump and Radio on, in shore
    P1 to N1 = 12.4 V, with all off, S1 open
    B1 = 12.3 V at rest
    B1 = 11.8 V at 7.5 A
    P1 = 11.4 V, with Radio on and Pump starting
    P1.3 to N1 = open
    Porch lamp flickers
    fuse blows P1.2
    Pump 9.6 V
    2026-03-15  done "ring terminal at N1 made again"

A date may stand before any of them, `#` starts a comment. A place is a terminal, or the name or
label of a part; quotes round it are needed only where it holds `=`, ` to ` or a symptom. A reading
without its `=` is taken as if it had one.
"""

import re
from collections.abc import Callable, Collection, Sequence
from typing import get_args

from rigfolio.findings import Finding, Span
from rigfolio.kinds import DEVICES
from rigfolio.lang import (
    READING_FORMS,
    NotReadError,
    Passage,
    bare,
    bare_readings,
    entry_lines,
    error,
    hidden,
    outside,
    reading_amount,
)
from rigfolio.model import Done, Log, Measure, Reading, Rig, Unplaced
from rigfolio.reading.logs.entries import date_of, dated, is_entry, work_done
from rigfolio.reading.logs.spots import (
    Spot,
    Spots,
    loads_said,
    no_symptom,
    state_said,
    turned_round,
    when_said,
)
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError
from rigfolio.wording import Complaint, complaint, in_a_row

MOST_ERRORS = 100
_LEAD = re.compile(
    r"(?:across|along|return,|current (?:through|of)|(?:holder|contact)s?,|"
    rf"(?:{'|'.join(DEVICES)}),)\s+",
    re.IGNORECASE,
)
"""What the test sheet says before a place."""
_AND = re.compile(r"[\s,;]*(?:and\s+)?", re.IGNORECASE)
_LEAD_IN = re.compile(r"(?:with|while|when|as)\s+", re.IGNORECASE)
_STARTS = re.compile(r"\s(?:(?:is|are)\s+)?start(?:s|ing)?\b(?=\s*(?:[,;]|and\b|$))", re.IGNORECASE)
_SETTING = re.compile(r"(?P<name>.+?)\s+(?P<position>open|closed|on|off|1|2|both)", re.IGNORECASE)
_DRAWN = re.compile(r"(?:at|drawing|with)\s+(?=[\d.]+\s*(?:A|mA|amps?|amperes?)\b)", re.IGNORECASE)
_MEASURES: dict[str, Measure] = {str(one): one for one in get_args(Measure)}


@record
class _Circumstances:
    """What was on when a reading was taken, and how the rig stood."""

    on: tuple[str, ...] | None = None
    state: str = ""
    set_to: tuple[tuple[str, str], ...] = ()
    at_a: float | None = None
    starting: tuple[str, ...] = ()


def read_log(
    text: str,
    file: str,
    rig: Rig,
    states: Callable[[], Collection[str]] = tuple,
    *,
    is_history: bool = False,
) -> tuple[Log, tuple[Finding, ...]]:
    """Readings and work from a text, and what was not understood; never raises.

    Parameters
    ----------
    text : str
        One reading or piece of work a line.
    file : str
        Its name.
    rig : Rig
        Whose parts are meant.
    states : Callable
        The names of its states, where some are supplied besides those of the text; asked for when
        a reading names one that the text does not.
    is_history : bool
        Whether it was written of the rig as it once was: what names a part that is no longer there
        is then left aside, and no error.
    """
    spots = Spots(rig, states)
    readings: list[Reading] = []
    done: list[Done] = []
    found: list[Finding] = []
    aside: list[Unplaced] = []
    for said in entry_lines(text):
        span = Span(file, said.start, said.start + len(said.text))
        try:
            one = _read(said, span, spots)
        except NotReadError as problem:
            if is_history and is_entry(said):
                aside.append(Unplaced(date_of(said.text), said.text, problem.headline, span))
                continue
            at = Span(file, problem.start, problem.end)
            found.append(error("reading-not-understood", at, problem.headline, fix=problem.fix))
            if len(found) >= MOST_ERRORS:
                break
        else:
            if isinstance(one, Done):
                done.append(one)
            else:
                readings.append(one)
    return Log(tuple(readings), tuple(done), tuple(aside)), tuple(found)


def _read(said: Passage, span: Span, spots: Spots) -> Reading | Done:
    date, body = dated(said)
    work = work_done(body)
    if work is not None:
        return Done(date, work, span)
    equals = outside(body.text, "=")
    if equals is not None:
        left, right = body.part(0, equals), body.part(equals + 1)
        return _measured(body, left, right, date, span, spots)
    found = complaint(
        body, lambda name: spots.find(bare(name)) is not None, lambda rest: _is_suffix(rest, spots)
    )
    if found is not None:
        if spots.find(bare(found.place.text)) is None or not _is_suffix(found.rest, spots):
            _one_a_line(body, span, spots)
        return _seen(found, body, date, span, spots)
    for left, right in bare_readings(body):
        if _is_place(left, spots):
            return _measured(body, left, right, date, span, spots)
    raise body.wrong(*no_symptom(body.text, spots))


def _one_a_line(body: Passage, span: Span, spots: Spots) -> None:
    """Refuse two things that are said in one line, where each by itself is understood.

    Raises
    ------
    NotReadError
        They are.
    """
    for found in re.finditer(r"\s*(?:;|[,;]?\s(?:but|and|while)\s)\s*", hidden(body.text)):
        parts = body.part(0, found.start()), body.part(found.end())
        try:
            for part in parts:
                _read(part, span, spots)
        except NotReadError:
            continue
        raise body.wrong(
            "two things in one line", f"one a line: `{parts[0].text}`, `{parts[1].text}`"
        )


def _seen(found: Complaint, body: Passage, date: str, span: Span, spots: Spots) -> Reading:
    """A symptom with its place and with how the rig stood."""
    taken = _suffix(found.rest, spots)
    spot = spots.whose_fuse(found.place.text, taken.on or ()) or _spot(found.place, spots)
    spot, symptom = turned_round(spot, found.symptom)
    return Reading(
        "symptom", spot.name, spot.kind, spot.a, spot.b, 0.0, symptom, taken.on, taken.state,
        date, span, body.text, taken.set_to, starting=taken.starting,
    )  # fmt: skip


def _is_suffix(rest: Passage, spots: Spots) -> bool:
    try:
        _suffix(rest, spots)
    except NotReadError:
        return False
    return True


def _is_place(left: Passage, spots: Spots) -> bool:
    """Whether something is called so, or both of two places are."""
    left = _place(left, spots)
    if spots.find(bare(left.text)) is not None:
        return True
    parts = _pair(left)
    return len(parts) == 2 and all(spots.find(bare(part.text)) is not None for part in parts)


def _measured(
    body: Passage, left: Passage, right: Passage, date: str, span: Span, spots: Spots
) -> Reading:
    text = body.text if outside(body.text, "=") is not None else f"{left.text} = {right.text}"
    if not right.text:
        raise body.wrong("no number behind `=`", f"write it as {READING_FORMS}")
    kind_of, value, end = reading_amount(right)
    measure = _MEASURES[kind_of]
    taken = _suffix(right.part(end), spots)
    left = _place(left, spots)
    parts = _pair(left)
    # A wire is called by its two ends, too: a current is in it, volts and ohms lie between them.
    is_between = measure != "current" and all(spots.find(bare(part.text)) for part in parts)
    parts = [left] if not is_between and spots.find(bare(left.text)) else parts
    found = [_spot(part, spots) for part in parts]
    first = found[0]
    if first.kind == "rig":
        raise left.wrong("a reading of everything", "name the place: `B1 = 12.4 V`")
    a, b = first.a, first.b
    if len(found) == 2:
        a, b = (_point(spot, part, spots) for spot, part in zip(found, parts, strict=True))
        if measure == "current":
            raise left.wrong("a current between two places", "name the wire, fuse or load")
    elif measure == "voltage" and first.kind in ("device", "wire"):
        raise left.wrong(
            f"a voltage at `{first.name}`, which has two ends",
            f"`{spots.end(a)} to {spots.end(b)} = ...` across it, or `{spots.end(a)} = ...` "
            "against minus",
        )
    elif measure == "resistance" and not (first.a and first.b):
        raise left.wrong("ohms from one place only", f"`{spots.end(a) or first.name} to N1 = ...`")
    name = first.name if len(found) == 1 else f"{spots.end(a)} to {spots.end(b)}"
    kind = first.kind if len(found) == 1 else "terminal"
    return Reading(
        measure, name, kind, a, b, value, "", taken.on, taken.state, date, span, text,
        taken.set_to, taken.at_a, taken.starting,
    )  # fmt: skip


def _place(left: Passage, spots: Spots) -> Passage:
    """A place without what the sheet says before it: `current through P1.3`, `across Pump`."""
    lead = _LEAD.match(left.text)
    if lead is None or spots.find(bare(left.text)) is not None:
        return left
    return left.part(lead.end())


def _suffix(rest: Passage, spots: Spots) -> _Circumstances:
    """What was on and how the rig stood: `, with A and B on, in shore, S1 open`, in any order."""
    taken = _Circumstances()
    while rest.text:
        said = rest.part(_AND.match(rest.text).end())  # type: ignore[union-attr]
        if not said.text:
            break
        rest, taken = _one_more(said, taken, spots)
    return taken


def _one_more(said: Passage, taken: _Circumstances, spots: Spots) -> tuple[Passage, _Circumstances]:
    """What is left behind the next of these, and what is known with it."""
    starting = _starting(said, spots)
    if starting is not None:
        end, loads = starting
        on = tuple(dict.fromkeys((*(taken.on or ()), *loads)))
        return said.part(end), replace(taken, on=on, starting=(*taken.starting, *loads))
    if re.match(r"with\s+(?!\d)", said.text) or re.match(r"at\s+rest\b", said.text):
        end, on = _with(said, spots)
        on = tuple(dict.fromkeys((*on, *taken.starting)))
        return said.part(end), replace(taken, on=on)
    drawn = _DRAWN.match(said.text)
    if drawn:
        _, at_a, end = reading_amount(said.part(drawn.end()))
        return said.part(drawn.end() + end), replace(taken, at_a=at_a)
    if re.match(r"in\s", said.text):
        end, state = state_said(said, spots)
        return said.part(end), replace(taken, state=state)
    end = hidden(said.text).find(",")
    clause = said.part(0, end) if end >= 0 else said
    rest = said.part(len(said.text) if end < 0 else end)
    when = when_said(clause, spots)
    if when is not None and when.state:
        return rest, replace(taken, state=when.state)
    if when is not None:
        return rest, replace(taken, on=tuple(dict.fromkeys((*(taken.on or ()), *when.on))))
    setting = _setting(clause, spots)
    if setting is None:
        raise said.wrong(f"`{said.text}` is not understood", spots.examples)
    return rest, replace(taken, set_to=(*taken.set_to, setting))


def _with(said: Passage, spots: Spots) -> tuple[int, tuple[str, ...]]:
    """Where `with ... on` or `with all off` ends, and which loads were on."""
    off = re.match(r"(?:with\s+all\s+off|at\s+rest)\b", said.text)
    if off:
        return off.end(), ()
    ends = list(re.finditer(r"\bon\b(?=\s*(?:[,;]|and\b|$))", hidden(said.text)))
    if not ends:
        raise said.wrong(f"`{said.text}` is not understood", spots.examples)
    return _first_known(said, ends, len("with"), spots)


def _starting(said: Passage, spots: Spots) -> tuple[int, tuple[str, ...]] | None:
    """Where `with ... starting` ends, and which loads started; None where nothing does."""
    lead = _LEAD_IN.match(said.text)
    start = lead.end() if lead else 0
    text = hidden(said.text)
    on = re.search(r"\bon\b(?=\s*(?:[,;]|and\b|$))", text)
    ends = list(_STARTS.finditer(text, start, on.start() if on else len(text)))
    if not ends:
        return None
    try:
        end, loads = _first_known(said, ends, start, spots)
    except NotReadError:
        # What stands before the word may be something else: `in home, Pump starting`.
        if lead is None:
            return None
        raise
    by_name = spots.rig.by_name.loads
    found = tuple(name for name in loads if by_name[name].times_at_start > 1.0)
    if not found:
        raise said.wrong(
            f"no start is known of {in_a_row(f'`{by_name[name].about}`' for name in loads)}",
            "say it in the text of the rig, as in `starts at 3 times`",
        )
    return end, found


def _first_known(
    said: Passage, ends: Sequence[re.Match[str]], start: int, spots: Spots
) -> tuple[int, tuple[str, ...]]:
    """Where a list of loads ends, and these.

    A name may hold the word that ends it: the first end that leaves known names counts.
    """
    trouble: NotReadError | None = None
    for end in ends:
        names = said.part(start, end.start())
        try:
            return end.end(), tuple(
                load for each in spots.listed(names.text) for load in loads_said(each, said, spots)
            )
        except NotReadError as problem:
            trouble = trouble or problem
    raise trouble or said.wrong(f"`{said.text}` is not understood", spots.examples)


def _setting(said: Passage, spots: Spots) -> tuple[str, str] | None:
    """A switch and how it stood: `S1 open`, `X1 2`; None where it is nothing of the kind."""
    found = _SETTING.fullmatch(said.text)
    if found is None:
        return None
    name, position = bare(found["name"]), found["position"].lower()
    spot = spots.find(name)
    if spot is not None and spot.loads and position == "on":
        raise said.wrong(f"`{name}` draws: it takes its `with`", f"`with {said.text}`")
    if spot is None:
        near = spots.finder.near(name, lambda part: spots.may_stand(part, position))
        raise said.wrong(f"no switch is called `{name}`", near)
    device = spots.device_of(spot)
    if not device:
        raise said.wrong(*spots.not_switched_on(spot, position))
    may = spots.positions_of(device)
    if may and position not in may:
        headline = f"`{name}` has no position `{position}`"
        raise said.wrong(headline, f"say how it stood: `, {name} {may[0]}`; it has {in_a_row(may)}")
    return device, position


def _spot(said: Passage, spots: Spots) -> Spot:
    name = bare(said.text)
    if not name:
        raise said.wrong("no place before the reading", f"write it as {READING_FORMS}")
    spot = spots.find(name)
    if spot is not None:
        return spot
    try:
        spots.finder.the(name)
    except RefusalError as problem:
        raise said.wrong(problem.headline, problem.fix) from None
    raise said.wrong(f"nothing is read at `{name}`", f"write it as {READING_FORMS}")


def _point(spot: Spot, said: Passage, spots: Spots) -> str:
    """The one terminal that a place means where two places are named."""
    if spot.kind in ("terminal", "panel", "circuit") or spot.name == spot.a:
        return spot.a
    raise said.wrong(
        f"`{spot.name}` has two ends",
        f"name one: `{spots.end(spot.a)}` or `{spots.end(spot.b or spot.a)}`",
    )


def _pair(left: Passage) -> list[Passage]:
    """The two sides of `A to B`, or the whole where there is no ` to `."""
    found = re.search(r"\s+to\s+", hidden(left.text))
    return [left.part(0, found.start()), left.part(found.end())] if found else [left]
