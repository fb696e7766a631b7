"""A rule, and how all rules of a book are asked about a rig."""

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from importlib import import_module
from pathlib import Path

from rigfolio.findings import Citation, Finding, Fix, Label, Severity, Span
from rigfolio.manual import page_of
from rigfolio.network import turned
from rigfolio.record import record, replace
from rigfolio.study import Study

_REVERSED = "source-reversed"
_FOLDER = Path(__file__).resolve().parent / "rules"
EVERY_BOOK = frozenset({"rv", "boat", "vehicle"})


@record
class Rule:
    """One thing that is forbidden; what and why is the docstring of its module."""

    name: str
    severity: Severity
    source: Citation
    books: frozenset[str] = EVERY_BOOK

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
        """A finding of this rule."""
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
        severity: Severity = Severity.UNKNOWN,
    ) -> Finding:
        """A finding that this rule has nothing to judge by."""
        return self.finding(
            f"cannot judge: {what}",
            at,
            here=here,
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


def judge(study: Study) -> Iterator[Finding]:
    """Everything that the rules of the book find; a rule that fails becomes a finding.

    Where one source is joined the wrong way round, that is told, and of all else what there would
    be with its wires changed over: nothing is said many times of what one mistake made.
    """
    source = study.reversed_source
    righted = study if source is None else Study(turned(study.rig, source), study.book.name)
    for name in rule_names():
        one, check, _ = rule(name)
        if study.book.name not in one.books:
            continue
        try:
            found = list(check(study if name == _REVERSED else righted))
        except Exception as problem:  # noqa: BLE001
            text = f"rule `{name}` failed: {type(problem).__name__}: {problem}"
            found = [one.cannot_judge(text, study.rig.span)]
        for finding in found:
            yield replace(finding, book=study.book.name)
