"""A rule, and how all rules of a book are asked about a rig."""

from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache
from importlib import import_module
from pathlib import Path

from rigfolio.faces import page_of
from rigfolio.findings import (
    RANK,
    Accepted,
    Citation,
    Finding,
    Fix,
    Label,
    Severity,
    Span,
    Unknown,
    in_order,
)
from rigfolio.model import Acceptance, Conductor, Rig, in_place, is_other
from rigfolio.network import joined, net_of, open_poles, turned
from rigfolio.record import record, replace
from rigfolio.study import Study, as_it_is, once
from rigfolio.wording import gauge_words, in_a_row, spans_of

_CAUSES = ("source-reversed", "source-not-joined")
"""Rules that tell of slips from which much else follows."""
_FOLDER = Path(__file__).resolve().parent / "rules"
EVERY_BOOK = frozenset({"rv", "boat", "vehicle"})


@record
class Rule:
    """One thing that is forbidden; what and why is the docstring of its module.

    `severity` is how bad it mostly is, `also` are those of the cases that are more or less so, or
    that cannot be judged: nothing else is ever found by it. `of_plan` is said of the wires that the
    text says belong there; what others that were found in their place do, `wrong-wire-found` tells.
    `unguarded` is what nothing ends before copper burns: where some dangers are shown, that is.
    """

    name: str
    severity: Severity
    source: Citation
    books: frozenset[str] = EVERY_BOOK
    also: tuple[Severity, ...] = ()
    of_plan: bool = False
    unguarded: bool = False

    @property
    def severities(self) -> str:
        """How bad it is, in words, the gravest first: `fault or advice`."""
        every = [one.value for one in sorted((self.severity, *self.also), key=RANK.__getitem__)]
        return " or ".join(filter(None, (", ".join(every[:-1]), every[-1])))

    def finding(
        self,
        headline: str,
        at: Span,
        *,
        here: str = "",
        others: Iterable[tuple[Span, str]] = (),
        fix: Fix | None = None,
        source: Citation | None = None,
        numbers: tuple[tuple[str, float], ...] = (),
        severity: Severity | None = None,
    ) -> Finding:
        """A finding of this rule.

        Raises
        ------
        ValueError
            The rule does not say that it may be so bad.
        """
        if severity not in (None, self.severity, *self.also):
            raise ValueError(f"{self.name} does not say that it may be {severity}")
        return Finding(
            rule=self.name,
            severity=severity or self.severity,
            headline=headline,
            at=Label(at, here),
            others=tuple(Label(span, text) for span, text in others),
            source=source or self.source,
            fix=fix,
            numbers=numbers,
        )

    def cannot_judge(
        self,
        what: str,
        at: Span,
        *,
        fix: str = "",
        here: str = "",
        others: Iterable[tuple[Span, str]] = (),
        severity: Severity = Severity.UNKNOWN,
    ) -> Finding:
        """A finding that this rule has nothing to judge by."""
        return self.finding(
            f"cannot judge: {what}",
            at,
            here=here,
            others=others,
            fix=Fix(fix) if fix else None,
            severity=severity,
        )


Check = Callable[[Study], Iterator[Finding]]


@cache
def rule_names() -> tuple[str, ...]:
    """Every rule that has a file in the folder of rules, by the alphabet."""
    stems = sorted(file.stem for file in _FOLDER.glob("*.py") if file.stem != "__init__")
    return tuple(stem.replace("_", "-") for stem in stems)


@cache
def rule(name: str) -> tuple[Rule, Check, str]:
    """A rule, its check, and its manual page."""
    module = import_module(f"rigfolio.rules.{name.replace('-', '_')}")
    found: Rule = module.RULE
    check: Check = module.check
    return found, check, page_of(module)


def is_unguarded(finding: Finding) -> bool:
    """Whether nothing ends what a finding tells of, whatever is switched off."""
    return finding.severity is Severity.DANGER and rule(finding.rule)[0].unguarded


def judge(study: Study, asked: Collection[str] = ()) -> Iterator[Finding]:
    """Everything that the rules of the book find; a rule that fails becomes a finding.

    `asked` are the rules to ask, all of them where none is named.
    Where a source is joined the wrong way round or by its plus alone, that is told, and of all else
    what there would be with its wires right: nothing is said many times of what one mistake made.
    Where wires were found that do not belong there, the rig as it is is judged as well: it is used
    so until they are pulled.
    """
    righted = _righted(study)
    there = as_it_is(righted)
    for name in rule_names():
        one, check, _ = rule(name)
        if study.book.name not in one.books or (asked and name not in asked):
            continue
        try:
            found = list(check(study if name in _CAUSES else righted))
            if there is not righted and name not in _CAUSES and not one.of_plan:
                found = list(_as_it_is(righted.rig, found, check(there)))
        except Exception as problem:  # noqa: BLE001
            text = f"rule `{name}` failed: {type(problem).__name__}: {problem}"
            found = [_failed(one, text, study.rig.span)]
        for finding in found:
            yield replace(finding, book=study.book.name, accepted=_accepted(study.rig, finding))


@once
def judged(study: Study) -> tuple[Finding, ...]:
    """All that `judge` finds, the gravest first; it is asked once of a study."""
    return in_order(list(judge(study)))


def _as_it_is(rig: Rig, planned: Iterable[Finding], now: Iterable[Finding]) -> Iterator[Finding]:
    """What is found with the wires that are there, each with what mends it once they are pulled.

    What the wires that belong there have no part in is told as it is.
    """
    waiting: dict[Span, list[Finding]] = {}
    for one in planned:
        waiting.setdefault(one.at.span, []).append(one)
    for one in now:
        then = waiting.get(one.at.span)
        mends = then.pop(0) if then else None
        if mends is not None and mends.headline == one.headline:
            yield mends
            continue
        wires = _found_for(rig, one)
        others = (*one.others, *(Label(wire.span, _found_words(wire)) for wire in wires))
        if mends is not None:
            yield replace(one, others=others, fix=mends.fix)
        elif any(isinstance(wire.size, Unknown) for wire in wires):
            yield replace(one, others=others)
        else:
            do = in_a_row([f"{gauge_words(wire)} for `{wire.name}`" for wire in wires])
            fix = Fix(f"pull {do}, as the text has it")
            yield replace(one, others=others, fix=fix, until_pulled=True)
    yield from (one for each in waiting.values() for one in each)


def _found_for(rig: Rig, finding: Finding) -> tuple[Conductor, ...]:
    """The wires that were found in place of others and may have a part in a finding.

    Where it is said of a circuit these are its own, and those that feed more than one.
    """
    found = [wire for wire in rig.conductors if is_other(wire) and not wire.assumed]
    at = finding.at.span
    parts = [(load.circuit, load.about.span) for load in rig.loads]
    parts += [(wire.circuit, wire.span) for wire in rig.conductors]
    of = next((circuit for circuit, span in parts if circuit and span.holds(at)), "")
    own = tuple(wire for wire in found if not of or wire.circuit in ("", of))
    return own or tuple(found)


def _found_words(wire: Conductor) -> str:
    return f"{gauge_words(in_place(wire))} was found there"


def _failed(one: Rule, text: str, at: Span) -> Finding:
    """What is said of a rule that broke down: nothing was judged by it."""
    return Finding(
        one.name, Severity.UNKNOWN, f"cannot judge: {text}", Label(at), source=one.source
    )


def accepts(rig: Rig, one: Acceptance, finding: Finding) -> bool:
    """Whether a finding is what a line of the text accepts: of its rule, at its part."""
    if finding.rule != one.rule:
        return False
    at = finding.at.span
    return any(span.holds(at) for span in spans_of(rig, one.place))


def _accepted(rig: Rig, finding: Finding) -> Accepted | None:
    """Why the text accepts a finding; None where it does not."""
    for one in rig.accepted:
        if accepts(rig, one, finding):
            return Accepted(one.reason, one.date)
    return None


def _righted(study: Study) -> Study:
    """The study of a rig whose sources are joined as they were meant, as far as that is plain."""
    source = study.reversed_source
    rig = study.rig if source is None else turned(study.rig, source)
    poles = study.open_poles if source is None else open_poles(rig, net_of(rig))
    rig = joined(rig, poles)
    return study if rig is study.rig else Study(rig, study.book.name)
