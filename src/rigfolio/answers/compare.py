"""What changed between two versions of a rig, and what has to be printed again."""

from collections.abc import Iterator, Mapping

from rigfolio.compare import Change, ChangeKind, Comparison
from rigfolio.findings import Finding
from rigfolio.job import Again
from rigfolio.natural_order import natural
from rigfolio.reports import (
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
)
from rigfolio.study import Study

_TITLES: Mapping[ChangeKind, str] = {
    "new": "New",
    "gone": "Gone",
    "moved": "Moved",
    "renamed": "Renamed",
    "identified": "Identified: for that alone nothing is bought or moved, label it",
    "fused anew": "Fused anew",
    "rewired": "Rewired",
    "loads changed": "Loads changed",
    "changed": "Changed otherwise",
}


_COLUMNS = (
    ReportColumn("name", most=14),
    ReportColumn("label", most=34),
    ReportColumn("facts", most=46),
)


def changes_report(
    comparison: Comparison, again: Again, old: str, new: str, study: Study
) -> Report:
    """The comparison of two versions that are called `old` and `new`; `study` is the later one."""
    parts: list[Part] = []
    found = (comparison.gained, comparison.learnt, comparison.cured)
    if not (comparison.changes or any(found)):
        parts.append(Paragraph("Both say the same of the rig.", gap=True))
    parts += _changes(comparison)
    gained, learnt, cured = (tuple(map(_finding, each)) for each in found)
    parts.append(Listing("Findings gained", gained, "gained"))
    parts.append(Listing("Found, was not known; the rig is as it was", learnt, "learnt"))
    parts.append(Listing("Findings cured", cured, "cured"))
    parts += _again(again)
    return Report(
        f"{old} against {new}",
        (JUDGED,),
        tuple(parts),
        gap=False,
        of=AnswerOf("compare", study.rig.name, study.book.name),
    )


def _changes(comparison: Comparison) -> Iterator[Part]:
    """What changed, a table for each kind of change."""
    yield Field("changes", [_change(one) for one in comparison.changes])
    for kind, title in _TITLES.items():
        rows = tuple(_row(change) for change in comparison.changes if change.kind == kind)
        yield ReportTable(title, _COLUMNS, rows)


def _change(one: Change) -> Mapping[str, Value]:
    return {
        "kind": one.kind,
        "thing": one.thing,
        "before": one.before or None,
        "after": one.after or None,
        "label": one.label,
        "facts": one.facts,
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


def _finding(finding: Finding) -> Item:
    facts: Mapping[str, Value] = {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "headline": finding.headline,
        "book": finding.book,
    }
    return Item(f"{finding.severity.value}[{finding.rule}]: {finding.headline}", facts)


def _again(again: Again) -> Iterator[Part]:
    lines = [
        f"{title}: {', '.join(sorted(names, key=natural))}"
        for title, names in (("labels", again.labels), ("tags", again.tags))
        if names
    ]
    if again.sheets:
        lines.append(f"sheets: {', '.join(again.sheets)}")
    facts = {"labels": again.labels, "tags": again.tags, "sheets": again.sheets}
    yield Field("print_again", facts)
    yield Listing("To be printed again", items(lines))
    yield Field("take_off", again.taken_off)
    yield Field("tags_off", [{"tag": was, "now": now or None} for was, now in again.tags_off])
    off = (
        ("labels", sorted(again.taken_off, key=natural)),
        ("tags", tags_off_words(again)),
    )
    lines = [f"{title}: {'; '.join(names)}" for title, names in off if names]
    yield Listing("Old labels and tags to be taken off", items(lines))


def tags_off_words(again: Again) -> list[str]:
    """Each tag that is no longer true, with the name on the one that goes in its place.

    Examples
    --------
    >>> again = Again((), (), (), tuple, tags_off=(("W3", "W3"), ("W4", "W9"), ("W5", "")))
    >>> tags_off_words(again)
    ['W3', 'W4 (now W9)', 'W5 (gone)']
    """
    return [
        was if was == now else f"{was} ({f'now {now}' if now else 'gone'})"
        for was, now in sorted(again.tags_off, key=lambda pair: natural(pair[0]))
    ]
