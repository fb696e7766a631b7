"""Readings from a meter as a person writes them down, one a line.

    2026-03-14  P1.3 = 11.2 V
    Porch lamp = 3.1 V, with Porch lamp on
    P1 to P1.3 = 40 mV, with Pump, Radio on
    across Pump = 11.9 V, with Pump and Radio on, in shore
    P1 to N1 = 12.4 V, with all off, S1 open
    B1 = 12.3 V at rest
    B1 = 11.8 V at 7.5 A
    P1.3 to N1 = open
    Porch lamp flickers
    2026-03-15  done "ring terminal at N1 made again"

A date may stand before any of them, `#` starts a comment. A place is a terminal, or the name or
label of a part; quotes round it are needed only where it holds `=`, ` to ` or a symptom.
"""

import datetime
import re
from collections.abc import Iterator, Mapping
from typing import get_args

from rigfolio.books import symptom_of, symptom_pattern
from rigfolio.findings import Finding, Span
from rigfolio.lang import SMALL, error
from rigfolio.model import DEVICES, Done, Log, Measure, Reading, Rig, Symptom
from rigfolio.reading.spots import Spot, Spots
from rigfolio.record import record, replace
from rigfolio.refusal import RefusalError
from rigfolio.units import MEANT, UNITS, to_si
from rigfolio.wording import one_of

MOST_ERRORS = 100
_DATE = re.compile(r"(\d{4}-\d{2}-\d{2})(?=\s|$)\s*")
_AMOUNT = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\W\d_°][\w°]*)?", re.UNICODE)
_COMMA = re.compile(r"[+-]?\d+,\d")
_SYMPTOMS: Mapping[str, Symptom] = {one: one for one in get_args(Symptom)}
_LEAD = re.compile(
    r"(?:across|along|return,|current (?:through|of)|(?:holder|contact)s?,|"
    rf"(?:{'|'.join(DEVICES)}),)\s+",
    re.IGNORECASE,
)
"""What the test sheet says before a place."""
_BETWEEN = re.compile(r"\s*[,;]\s*(?:and\s+)?|\s+and\s+")
_SETTING = re.compile(r"(?P<name>.+?)\s+(?P<position>open|closed|on|off|1|2|both)", re.IGNORECASE)
_DRAWN = re.compile(r"(?:at|drawing|with)\s+(?=[\d.]+\s*(?:A|mA|amps?|amperes?)\b)", re.IGNORECASE)
_MEASURES: dict[str, Measure] = {
    "voltage": "voltage", "current": "current", "resistance": "resistance",
}  # fmt: skip
_FORMS = "`P1.3 = 11.2 V`, `P1 to P1.3 = 40 mV` or `Porch lamp dead`"


class _NotReadError(Exception):
    """Part of a line that cannot be read: from where to where, and what to say."""

    def __init__(self, start: int, end: int, headline: str, fix: str) -> None:
        super().__init__(headline)
        self.start, self.end, self.headline, self.fix = start, end, headline, fix


@record
class _Said:
    """A stretch of a line: its text and where that starts in the file."""

    text: str
    start: int

    def part(self, start: int, end: int | None = None) -> "_Said":
        """Some of it, without the blanks around."""
        piece = self.text[start:end]
        lead = len(piece) - len(piece.lstrip())
        return _Said(piece.strip(), self.start + start + lead)

    def wrong(self, headline: str, fix: str) -> _NotReadError:
        return _NotReadError(self.start, self.start + max(1, len(self.text)), headline, fix)


@record
class _Taken:
    """What was on when a reading was taken, and how the rig stood."""

    on: tuple[str, ...] | None = None
    state: str = ""
    set_to: tuple[tuple[str, str], ...] = ()
    at_a: float | None = None


def read_log(text: str, file: str, rig: Rig) -> tuple[Log, tuple[Finding, ...]]:
    """Readings and work from a text, and what was not understood; never raises.

    Parameters
    ----------
    text : str
        One reading or piece of work a line.
    file : str
        Its name.
    rig : Rig
        Whose parts are meant.
    """
    spots = Spots(rig)
    readings: list[Reading] = []
    done: list[Done] = []
    found: list[Finding] = []
    for said in _lines(text):
        span = Span(file, said.start, said.start + len(said.text))
        try:
            one = _read(said, span, spots)
        except _NotReadError as problem:
            at = Span(file, problem.start, problem.end)
            found.append(error("reading-not-understood", at, problem.headline, fix=problem.fix))
            if len(found) >= MOST_ERRORS:
                break
        else:
            if isinstance(one, Done):
                done.append(one)
            else:
                readings.append(one)
    return Log(tuple(readings), tuple(done)), tuple(found)


def date_of(line: str) -> str:
    """The day that an entry begins with; empty where it begins with none."""
    dated = _DATE.match(line)
    return dated.group(1) if dated else ""


def _lines(text: str) -> Iterator[_Said]:
    at = 0
    for line in text.split("\n"):
        said = _Said(line[: _comment(line)], at).part(0)
        if said.text:
            yield said
        at += len(line) + 1


def _comment(line: str) -> int:
    quoted = False
    for at, letter in enumerate(line):
        if letter == '"':
            quoted = not quoted
        elif letter == "#" and not quoted:
            return at
    return len(line)


def _read(said: _Said, span: Span, spots: Spots) -> Reading | Done:
    date, body = _dated(said)
    if re.match(r"done\b", body.text):
        work = body.part(4).text.strip('"').strip()
        if not work:
            raise body.wrong("`done` and nothing that was done", '`done "what was done"`')
        return Done(date, work, span)
    equals = _outside(body.text, "=")
    if equals is not None:
        return _measured(body, equals, date, span, spots)
    seen = symptom_pattern().match(_hidden(body.text.replace("’", "'")))
    if seen is None:
        raise body.wrong("neither a reading nor a symptom", f"write it as {_FORMS}")
    spot = _spot(body.part(0, seen.end("place")), spots)
    taken = _suffix(body.part(seen.start("rest")), spots)
    symptom = _SYMPTOMS[symptom_of(seen.group("word"))]
    return Reading(
        "symptom", spot.name, spot.kind, spot.a, spot.b, 0.0, symptom, taken.on, taken.state, date,
        span, body.text, taken.set_to,
    )  # fmt: skip


def _dated(said: _Said) -> tuple[str, _Said]:
    """The day of an entry, and the rest of it."""
    date = date_of(said.text)
    if date:
        try:
            datetime.date.fromisoformat(date)
        except ValueError:
            broken = said.part(0, len(date))
            raise broken.wrong(f"`{date}` is in no calendar", "`2026-03-14`") from None
    return date, said.part(len(date))


def _measured(body: _Said, equals: int, date: str, span: Span, spots: Spots) -> Reading:
    left, right = body.part(0, equals), body.part(equals + 1)
    if not right.text:
        raise body.wrong("no number behind `=`", f"write it as {_FORMS}")
    measure, value, end = _amount(right)
    taken = _suffix(right.part(end), spots)
    left = _place(left, spots)
    whole = spots.find(_bare(left.text))
    parts = [left] if whole else _pair(left)
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
        measure, name, kind, a, b, value, "", taken.on, taken.state, date, span, body.text,
        taken.set_to, taken.at_a,
    )  # fmt: skip


def _place(left: _Said, spots: Spots) -> _Said:
    """A place without what the sheet says before it: `current through P1.3`, `across Pump`."""
    lead = _LEAD.match(left.text)
    if lead is None or spots.find(_bare(left.text)) is not None:
        return left
    return left.part(lead.end())


def _amount(right: _Said) -> tuple[Measure, float, int]:
    """What is measured, how much [V, A, ohm], and where the rest of the line starts."""
    opened = re.match(r"(open|OL)\b", right.text)
    if opened:
        return "resistance", float("inf"), opened.end()
    number = _AMOUNT.match(right.text)
    if number is None:
        raise right.wrong("no number behind `=`", f"write it as {_FORMS}")
    figure, unit = number.group(1), number.group(2) or ""
    here = right.part(0, number.end())
    if _COMMA.match(right.text):
        raise right.wrong("a decimal comma", "write it with a point: `11.2 V`")
    unit = MEANT.get(unit.lower(), SMALL.get(unit, unit))
    if not unit:
        raise here.wrong(f"`{figure}` without a unit", f"`{figure} V`, if volts are meant")
    kind = UNITS[unit].kind if unit in UNITS else ""
    if kind not in _MEASURES:
        raise here.wrong(f"`{unit}` found, expected V, mV, A, mA, ohm or mohm", f"`{figure} V`")
    value = to_si(float(figure), unit)
    if kind == "resistance" and value < 0.0:
        raise here.wrong("ohms below zero", "swap the probes: there is current in the part")
    return _MEASURES[kind], value, number.end()


def _suffix(rest: _Said, spots: Spots) -> _Taken:
    """What was on and how the rig stood: `, with A and B on, in shore, S1 open`, in any order."""
    taken = _Taken()
    while rest.text:
        said = rest.part(len(rest.text) - len(rest.text.lstrip(", ")))
        if not said.text:
            break
        rest, taken = _one_more(said, taken, spots)
    return taken


def _one_more(said: _Said, taken: _Taken, spots: Spots) -> tuple[_Said, _Taken]:
    """What is left behind the next of these, and what is known with it."""
    if re.match(r"with\s+(?!\d)", said.text) or re.match(r"at\s+rest\b", said.text):
        end, on = _with(said, spots)
        return said.part(end), replace(taken, on=on)
    drawn = _DRAWN.match(said.text)
    if drawn:
        _, at_a, end = _amount(said.part(drawn.end()))
        return said.part(drawn.end() + end), replace(taken, at_a=at_a)
    if re.match(r"in\s", said.text):
        end, state = _state(said, spots)
        return said.part(end), replace(taken, state=state)
    end = _hidden(said.text).find(",")
    clause = said.part(0, end) if end >= 0 else said
    setting = _setting(clause, spots)
    if setting is None:
        raise said.wrong(f"`{said.text}` is not understood", "`, with Pump on` or `, in shore`")
    return said.part(len(said.text) if end < 0 else end), replace(
        taken, set_to=(*taken.set_to, setting)
    )


def _with(said: _Said, spots: Spots) -> tuple[int, tuple[str, ...]]:
    """Where `with ... on` or `with all off` ends, and which loads were on."""
    off = re.match(r"(?:with\s+all\s+off|at\s+rest)\b", said.text)
    if off:
        return off.end(), ()
    ends = list(re.finditer(r"\bon\b(?=\s*(?:,|$))", _hidden(said.text)))
    if not ends:
        raise said.wrong(f"`{said.text}` is not understood", "`, with Pump on` or `, in shore`")
    trouble = None
    for end in ends:
        # A name may hold the word itself: the first end that leaves known names counts.
        names = said.part(len("with"), end.start())
        try:
            return end.end(), tuple(
                load for each in _names(names.text, spots) for load in _loads(each, said, spots)
            )
        except _NotReadError as problem:
            trouble = trouble or problem
    raise trouble or said.wrong(f"`{said.text}` is not understood", "`, with Pump on`")


def _names(text: str, spots: Spots) -> Iterator[str]:
    """The names of a list with commas, semicolons or `and`, any of which a name may hold."""
    cuts = [found.span() for found in _BETWEEN.finditer(_hidden(text))]
    starts, ends = [0, *(end for _, end in cuts)], [*(start for start, _ in cuts), len(text)]
    at = 0
    while at < len(starts):
        longest = range(len(ends) - 1, at, -1)
        last = next((n for n in longest if spots.finder.find(text[starts[at] : ends[n]])), at)
        name = text[starts[at] : ends[last]].strip()
        if name:
            yield name
        at = last + 1


def _state(said: _Said, spots: Spots) -> tuple[int, str]:
    """Where `in shore` or `in state laid up` ends, and the state."""
    lead = re.match(r"in\s+(?:state\s+)?", said.text)
    start = lead.end() if lead else 0
    rest = said.text[start:]
    for name in sorted(spots.states, key=len, reverse=True):
        for written in (f'"{name}"', name):
            tail = rest[len(written) :].lstrip()
            if rest.casefold().startswith(written.casefold()) and tail[:1] in ("", ","):
                return start + len(written), name
    named = _bare(rest.partition(",")[0])
    listed = ", ".join(f"`{name}`" for name in spots.states)
    headline = f"no state is called `{named}`"
    raise said.wrong(headline, f"there are {listed}" if listed else "the rig names none")


def _setting(said: _Said, spots: Spots) -> tuple[str, str] | None:
    """A switch and how it stood: `S1 open`, `X1 2`; None where it is nothing of the kind."""
    found = _SETTING.fullmatch(said.text)
    if found is None:
        return None
    spot = spots.find(_bare(found["name"]))
    if spot is None or spot.kind != "device":
        raise said.wrong(
            f"no switch is called `{_bare(found['name'])}`", "`, S1 open`, or name a state of it"
        )
    return spot.name, found["position"].lower()


def _loads(name: str, rest: _Said, spots: Spots) -> tuple[str, ...]:
    if _bare(name) == "all":
        return spots.all_loads
    spot = spots.find(_bare(name))
    if spot is None or not spot.loads:
        raise rest.wrong(f"no load is called `{_bare(name)}`", _else(_bare(name), spots))
    return spot.loads


def _else(name: str, spots: Spots) -> str:
    """Which loads may be meant where one name fits none of them, or several."""
    several = [one for one in spots.finder.find(name) if one.kind == "load"]
    return one_of(several) if len(several) > 1 else spots.finder.near(name)


def _spot(said: _Said, spots: Spots) -> Spot:
    name = _bare(said.text)
    if not name:
        raise said.wrong("no place before the reading", f"write it as {_FORMS}")
    spot = spots.find(name)
    if spot is not None:
        return spot
    try:
        spots.finder.the(name)
    except RefusalError as problem:
        raise said.wrong(problem.headline, problem.fix) from None
    raise said.wrong(f"nothing is read at `{name}`", f"write it as {_FORMS}")


def _point(spot: Spot, said: _Said, spots: Spots) -> str:
    """The one terminal that a place means where two places are named."""
    if spot.kind in ("terminal", "panel", "circuit") or spot.name == spot.a:
        return spot.a
    raise said.wrong(
        f"`{spot.name}` has two ends",
        f"name one: `{spots.end(spot.a)}` or `{spots.end(spot.b or spot.a)}`",
    )


def _pair(left: _Said) -> list[_Said]:
    """The two sides of `A to B`, or the whole where there is no ` to `."""
    found = re.search(r"\s+to\s+", _hidden(left.text))
    return [left.part(0, found.start()), left.part(found.end())] if found else [left]


def _bare(text: str) -> str:
    return text.strip().strip('"').strip()


def _outside(text: str, letter: str) -> int | None:
    at = _hidden(text).find(letter)
    return None if at < 0 else at


def _hidden(text: str) -> str:
    """The text with what stands in quotes blotted out, as long as before."""
    return re.sub(r'"[^"]*"?', lambda quoted: "_" * len(quoted.group()), text)
