"""Whether sizing is enough once and leaves nothing worse, on a rig made by chance.

What is compared is what a reader of the printed messages could compare: rules by line.
`tests/benchmarks/size.py` asks it of a thousand rigs.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from helpers.forgotten import lately
from rigfolio.demand import drops_of
from rigfolio.findings import Severity
from rigfolio.judgement.result import Result, check
from rigfolio.lang.edits import apply
from rigfolio.sizing.edits import edits_for
from rigfolio.sizing.groups import sections
from rigfolio.sizing.order import feeds_before
from rigfolio.sizing.proposals import Proposal
from rigfolio.sizing.settled import left_words, sizes
from rigfolio.study import Study
from sizing.rigs import made

RANK = {one: place for place, one in enumerate(Severity)}
MENDED = frozenset({
    "bright-sun", "fuse-near-limit", "fuse-over-panel", "fuse-over-slot", "fuse-over-wire",
    "fuse-overloaded", "return-overloaded", "return-too-thin", "starting-opens-fuse",
    "wire-overloaded",
})  # fmt: skip
"""Rules that speak of a rating or a gauge that another one mends."""


@lately(8)
def judged(text: str) -> Result:
    """What is found in a rig made by chance; of the last few it is kept what they are asked."""
    return check("made.rig", text=text)


def wrong(seed: int, tally: Counter[str] | None = None) -> Iterator[str]:
    """What is wrong with the proposals for a rig; nothing where all is well."""
    text = made(seed).text
    result = judged(text)
    assert result.study is not None, result.findings
    found = sizes(result.study)
    edits = edits_for(result.study, result.texts, found).edits.get("made.rig", ())
    again = judged(apply(text, edits))
    if again.study is None:
        yield "the text is not understood any more"
        return
    then = sizes(again.study)
    if any(one.changes for one in then):
        yield "a second run changes more"
    yield from _left(again, then)
    was = _worst(result)
    for (rule, line), (rank, headline) in _worst(again).items():
        if rule == "feeder-drop" and _lost_before(result.study, again.study):
            continue
        if (rule, line) not in was:
            yield f"new: {rule} in line {line}: {headline}"
        elif rank < was[rule, line][0]:
            yield f"graver: {rule} in line {line}: {headline}"
    unsized = {one.place for one in found if one.missing or one.problem}
    held = sections(result.study)
    open_ends = {one.place for one in held if one.missing and not one.is_part_known}
    before = feeds_before(result.study, held)
    for one in found:
        if one.changes and before[one.place] & open_ends:
            yield f"{one.place} changes behind {sorted(before[one.place] & open_ends)}"
    if tally is not None:
        tally["changes"] += sum(len(one.changes) for one in found)
        tally["rigs that change"] += any(one.changes for one in found)
        tally["rigs in which something stays"] += bool(unsized)
        tally["dangers and faults before"] += _grave(result)
        tally["dangers and faults after"] += _grave(again)


def above_what_stays(study: Study) -> list[str]:
    """The fuses that are enough, of which the least is said to be more than what stays."""
    return [
        f"{one.place}: {fuse.name}: {fuse.least_a} A"
        for one in sizes(study)
        for fuse in one.fuses
        if fuse.verdict == "enough" and fuse.least_a is not None and fuse.least_a > fuse.fit_a
    ]


def _lost_before(was: Study, now: Study) -> bool:
    """Whether every feeder lost as much before: of one whose loads are told of nothing is said."""
    pairs = [(drops_of(was).feeder(panel), drops_of(now).feeder(panel)) for panel in now.rig.panels]
    return all(two is None or (one and two.volts <= one.volts * 1.001) for one, two in pairs)


def _left(result: Result, found: Sequence[Proposal]) -> Iterator[str]:
    """What is still said of a fuse or a gauge where all is as it has to be."""
    assert result.study is not None
    settled = {
        one.place for one in found
        if not one.missing and not one.problem and not any(each.strained_a for each in one.fuses)
    }  # fmt: skip
    for section in (one for one in sections(result.study) if one.place in settled):
        spans = {wire.size_span for group in section.groups for wire in group.wires}
        spans |= {one.rating_span or one.about.span for one in section.devices}
        # What turns on a rating that nobody has read is to be read first.
        told = (one for one in result.findings if one.severity is not Severity.UNKNOWN)
        said = "\n".join(left_words(result.study, found))
        for one in told:
            # What a fuse is to mend and no copper is said beside the sizes.
            wants_fuse = one.fix is not None and "a fuse of its own" in one.fix.text
            if wants_fuse and one.headline in said:
                continue
            if one.rule in MENDED and one.at.span in spans:
                yield f"left in {section.place}: {one.rule}: {one.headline}"


def _worst(result: Result) -> dict[tuple[str, int], tuple[int, str]]:
    """The gravest finding of each rule in each line, with its words."""
    found: dict[tuple[str, int], tuple[int, str]] = {}
    for one in result.findings:
        line = result.texts[one.at.span.file].count("\n", 0, one.at.span.start) + 1
        here = (RANK[one.severity], one.headline)
        found[one.rule, line] = min(here, found.get((one.rule, line), here))
    return found


def _grave(result: Result) -> int:
    return sum(one.severity in (Severity.DANGER, Severity.FAULT) for one in result.findings)
