"""A name or a terminal that nothing in the text defines.

*Why:* a wire to nowhere is a slip of the pen, or a part that the survey left out.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Edit, Finding, Fix, Severity
from rigfolio.model import Problem
from rigfolio.rule import Rule
from rigfolio.study import Study

RULE = Rule(
    "name-not-defined", Severity.FAULT, Citation("every name is defined", "common practice")
)


def check(study: Study) -> Iterator[Finding]:
    """Every place that cannot be found."""
    for problem in study.rig.problems:
        if problem.kind in _HEADLINES:
            yield RULE.finding(
                _HEADLINES[problem.kind].format(name=problem.name, near=problem.near),
                problem.at,
                others=[(problem.other, _other(problem))] if problem.other else [],
                fix=_fix(problem),
            )


_HEADLINES = {
    "not-defined": "nothing is called `{name}`",
    "no-terminal": "`{name}` is no terminal, there are: {near}",
    "end-not-plain": "which end of `{name}` this wire lands on is not plain",
    "fuse-not-on-wire": "the fuse sits at `{name}`, and the wire does not end there",
    "which-position": "behind `{name}` nothing says in which of its positions this is fed",
    "no-position": "`{name}`: it has no such position, there are: {near}",
    "splice-without-wire": "no wire of the circuit leads to splice `{name}`",
}


def _other(problem: Problem) -> str:
    return "excepted here" if problem.kind == "not-defined" else "defined here"


def _fix(problem: Problem) -> Fix:
    if problem.kind == "not-defined" and problem.other:
        return Fix(
            f"except the statement that names `{problem.name}`, too, and write it anew without it"
        )
    if problem.kind == "end-not-plain":
        return Fix(f"write the end: {problem.near}")
    if problem.kind == "not-defined" and problem.near:
        return _nearest(problem)
    if problem.kind == "not-defined":
        return Fix(f"a line that says what `{problem.name}` is")
    if problem.kind == "which-position":
        return Fix(f"a wire that says from where: `wire from {problem.near}`")
    if problem.kind == "no-position":
        return Fix("one of those positions; `centre off` gives it one in which nothing is made")
    if problem.kind == "fuse-not-on-wire":
        return Fix("name one of the two places that the wire joins")
    if problem.kind == "splice-without-wire":
        return Fix("a `wire` above it in the circuit")
    return Fix("one of those terminals")


def _nearest(problem: Problem) -> Fix:
    """The nearest name in its place, to be tried, where that is a slip and no other part.

    Parts of a kind differ by their figures: `F7` is no slip for `F1`, nor `BN` one for `B1`.
    """
    otherwise = f"a line that says what `{problem.name}` is"
    text = f"the nearest name is `{problem.near}`"
    is_slip = _figures(problem.name) == _figures(problem.near)
    if not is_slip or problem.at.end - problem.at.start != len(problem.name):
        return Fix(otherwise)
    return Fix(text, "ask", edits=(Edit(problem.at, problem.near),), otherwise=otherwise)


def _figures(name: str) -> str:
    return "".join(filter(str.isdigit, name))
