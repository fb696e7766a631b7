"""What changed between two versions as lines for people, and as plain values for programs."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from rigfolio.compare import Change, ChangeKind, Comparison
from rigfolio.findings import Finding
from rigfolio.job import Again
from rigfolio.reports import CAUTIONS, columns, listed, wrapped
from rigfolio.wording import natural

Plain: TypeAlias = "str | Sequence[Plain] | Mapping[str, Plain] | None"

_TITLES: Mapping[ChangeKind, str] = {
    "new": "New",
    "gone": "Gone",
    "moved": "Moved",
    "renamed": "Renamed",
    "fused anew": "Fused anew",
    "rewired": "Rewired",
    "loads changed": "Loads changed",
    "changed": "Changed otherwise",
}


def changes_lines(comparison: Comparison, again: Again, old: str, new: str) -> Iterator[str]:
    """The comparison of two versions that are called `old` and `new`."""
    yield f"{old} against {new}"
    yield from wrapped(CAUTIONS[0])
    if not (comparison.changes or comparison.gained or comparison.cured):
        yield ""
        yield "Both say the same of the rig."
        return
    for kind, title in _TITLES.items():
        rows = [_row(change) for change in comparison.changes if change.kind == kind]
        if rows:
            yield ""
            yield title
            yield from (f"  {line}" for line in columns(rows, (14, 34, 46)))
    yield from listed("Findings gained", [_finding(one) for one in comparison.gained])
    yield from listed("Findings cured", [_finding(one) for one in comparison.cured])
    yield from _printed(again)


def changes_plain(comparison: Comparison, again: Again) -> Mapping[str, Plain]:
    """What `changes_lines` says, for programs."""
    return {
        "changes": [
            {
                "kind": one.kind,
                "thing": one.thing,
                "before": one.before or None,
                "after": one.after or None,
                "label": one.label,
                "facts": list(one.facts),
            }
            for one in comparison.changes
        ],
        "gained": [_plain(one) for one in comparison.gained],
        "cured": [_plain(one) for one in comparison.cured],
        "print_again": {
            "labels": list(again.labels),
            "tags": list(again.tags),
            "sheets": list(again.sheets),
        },
        "take_off": list(again.taken_off),
    }


def _row(change: Change) -> tuple[str, str, str]:
    name = change.after or change.before
    facts = "; ".join(change.facts)
    match change.thing:
        case "circuit":
            return (name, change.label, facts)
        case "wire":
            return (name, f"wire {change.label}", facts)
        case "rig" | "AC breaker":
            return (change.thing, name, facts)
        case _:
            return (f"{change.thing} {name}", change.label, facts)


def _finding(finding: Finding) -> str:
    return f"{finding.severity.value}[{finding.rule}]: {finding.headline}"


def _plain(finding: Finding) -> Mapping[str, Plain]:
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "headline": finding.headline,
        "book": finding.book,
    }


def _printed(again: Again) -> Iterator[str]:
    lines = [
        f"{title}: {', '.join(sorted(names, key=natural))}"
        for title, names in (("labels", again.labels), ("tags", again.tags))
        if names
    ]
    if again.sheets:
        lines.append(f"sheets: {', '.join(again.sheets)}")
    yield from listed("To be printed again", lines)
    if again.taken_off:
        places = ", ".join(sorted(again.taken_off, key=natural))
        yield from listed("Old labels and tags to be taken off", [places])
