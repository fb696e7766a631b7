"""Where at the panel findings are, worked out once a study."""

from collections.abc import Iterable, Sequence

from rigfolio.findings import Finding, Severity
from rigfolio.study import Study, once
from rigfolio.wording import PanelPlaces, how_many, on_paper

_GRAVE = (Severity.ERROR, Severity.DANGER)


@once
def places_of(study: Study) -> PanelPlaces:
    """The parts of a rig by where its text speaks of them."""
    return PanelPlaces(study.rig)


def place_at(study: Study | None, finding: Finding) -> str:
    """Where at the panel a finding is, in words; empty for one of a text that is not understood."""
    return places_of(study).at(finding.at.span) if study is not None else ""


def placed_headline(place: str, finding: Finding) -> str:
    """What was found, behind its place at the panel if it has one."""
    return f"{place}: {finding.headline}" if place else finding.headline


def by_place(study: Study, findings: Iterable[Finding]) -> tuple[tuple[str, list[Finding]], ...]:
    """Findings by where they are, each place once; those of slots of panels first."""
    rig, at = study.rig, places_of(study).at
    slots = {circuit.place for circuit in rig.circuits if circuit.slot}
    spans = {c.span for c in rig.circuits if c.place in slots}
    spans |= {wire.span for wire in rig.conductors if wire.circuit in slots}
    spans |= {load.about.span for load in rig.loads if load.circuit in slots}
    found: dict[tuple[bool, str], list[Finding]] = {}
    for one in findings:
        # What has no place stands by itself.
        where = at(one.at.span) or one.headline
        is_in_slot = one.at.span in spans or where.split(" ")[0] in slots
        found.setdefault((not is_in_slot, where), []).append(one)
    ordered = sorted(found.items(), key=lambda each: each[0][0])
    return tuple((at(some[0].at.span), some) for _, some in ordered)


def danger_lines(study: Study, findings: Iterable[Finding], most: int) -> list[str]:
    """The dangers by name, a line a place; those of the slots first, and how many are left out.

    Parameters
    ----------
    study : Study
        The rig.
    findings : Iterable[Finding]
        What was found in it.
    most : int
        How many places are told where there are more.
    """
    dangers = [one for one in findings if one.severity in _GRAVE]
    groups = by_place(study, dangers)
    told = groups if len(groups) <= most + 1 else groups[:most]
    more = len(dangers) - sum(len(some) for _, some in told)
    left = [f"{how_many(more, 'danger')} more: see the sheet of findings"] if more else []
    return [*(_danger(where, some) for where, some in told), *left]


def _danger(where: str, found: Sequence[Finding]) -> str:
    """The dangers of one place in a line: where it is, and what."""
    told = (f"{f.headline}. Accepted: {f.accepted}" if f.accepted else f.headline for f in found)
    words = on_paper("; ".join(dict.fromkeys(told)))
    gravest = min(found, key=lambda one: _GRAVE.index(one.severity)).severity.value.upper()
    return f"{gravest}: {where}: {words}" if where else f"{gravest}: {words}"
