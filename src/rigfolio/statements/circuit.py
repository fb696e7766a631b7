"""What one slot or terminal feeds: its fuse, its wires in order, its loads, its way back."""

from collections.abc import Iterator

from rigfolio.findings import UNKNOWN, Finding
from rigfolio.kinds import in_circuits
from rigfolio.lang import facts
from rigfolio.model import CircuitSaid, Draft, Junction, LoadSaid, ReturnSaid, RunSaid, SeriesSaid
from rigfolio.reading import (
    CONDITION,
    FUSE,
    Said,
    Word,
    fuse_problems,
    fuse_said,
    inverter_said,
    load_problems,
    load_said,
    problem,
    series_said,
    wire_facts,
)
from rigfolio.values import Place

WORD = Word(
    "circuit",
    ("<place>",),
    (
        *facts(
            "label: <label>",
            "after: after <length>",
            "always: always on",
            "found: found <current>",
            "marked: marked <current>",
            "stays: stays put",
            "beside: beside <place>",
            "note: note <label>",
            CONDITION,
        ),
        *FUSE,
    ),
    inside=("wire", "load", "inverter", *in_circuits(), "splice", "return"),
)

Member = RunSaid | LoadSaid | SeriesSaid | Junction


def add(said: Said, draft: Draft) -> None:
    """Add the circuit as it is written; it is expanded when all names are known."""
    given = said.facts
    draft.found += fuse_problems(said, places=("after",))
    for one in said.inside:
        if one.word == "load":
            draft.found += load_problems(one)
    draft.found += _returns_nothing(said)
    beside = given.place("beside")
    draft.circuits.append(
        CircuitSaid(
            place=said.place,
            label=given.word("label"),
            span=said.span,
            fuse=fuse_said(given, {"after": (None, given.known("after") or 0.0)}),
            members=tuple(_member(one) for one in said.inside if one.word != "return"),
            returns=tuple(_return(one) for one in said.inside if one.word == "return"),
            always_on=given.has("always"),
            note=given.word("note"),
            condition=given.word("condition"),
            found_a=given.number("found"),
            marked_a=given.number("marked"),
            stays=given.has("stays"),
            beside=beside if isinstance(beside, Place) else None,
        )
    )


def _returns_nothing(said: Said) -> Iterator[Finding]:
    """A return of a circuit that leads to nothing."""
    heads = {one.word for one in said.inside}
    leads = any(one.facts.has("to") for one in said.inside if one.word == "wire")
    if "return" in heads and not heads & {"load", "inverter", "splice"} and not leads:
        span = next(one.span for one in said.inside if one.word == "return")
        yield problem(
            "fact-missing", span, "a `return`, and the circuit leads to nothing",
            "add its `load`, or end its wire at something: `wire 10 AWG red 12 ft to P2`",
        )  # fmt: skip


def _member(said: Said) -> Member:
    if said.word == "wire":
        start, end = said.facts.place("from"), said.facts.place("to")
        return RunSaid(
            wire_facts(said, said.facts),
            start if isinstance(start, Place) else None,
            end if isinstance(end, Place) else None,
        )
    if said.word == "load":
        return load_said(said)
    if said.word == "inverter":
        return inverter_said(said)
    if said.word == "splice":
        return Junction(said.about, "splice", said.facts.number("rating"))
    return series_said(said, said.word)


def _return(said: Said) -> ReturnSaid:
    given = said.facts
    to = given.place("to")
    # A lone `?` stands for the first thing a wire needs, its size: nobody knows how it returns.
    asked = set(given.given) == {"size"} and given.size() is UNKNOWN
    has_wire = any(key != "to" for key in given.given) and not asked
    return ReturnSaid(
        span=said.span,
        facts=wire_facts(said, given) if has_wire else None,
        to=to if isinstance(to, Place) else None,
        unknown=asked,
    )
