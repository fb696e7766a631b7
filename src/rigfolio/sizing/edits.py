"""Changes of a rig written into its text: tokens of gauge and rating, and nothing else."""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from rigfolio.books import awg_sizes, metric_sizes
from rigfolio.findings import Edit, Refit, Span
from rigfolio.model import Conductor, Device
from rigfolio.record import record
from rigfolio.study import Study
from rigfolio.units import Size, show

if TYPE_CHECKING:
    # A check that tries a way out needs no solver of sizes.
    from rigfolio.sizing.proposals import Proposal

_NUMBER = re.compile(r"\d+/\d+|\d+(?:\.\d+)?|\?")
_CURRENT = re.compile(r"(\d+(?:\.\d+)?)(\s*)(mA|kA|A)\b")


@record
class Writing:
    """Edits by file, and what is left to be written by hand, in words."""

    edits: Mapping[str, tuple[Edit, ...]]
    by_hand: tuple[str, ...]


def edits_for(
    study: Study,
    texts: Mapping[str, str],
    proposals: Iterable["Proposal"],
    *,
    also_unread: bool = False,
) -> Writing:
    """The edits that write proposals into the texts of a rig.

    A `?` is left alone: what is fitted there was never read, and a gauge written over it would pass
    for a reading.

    Parameters
    ----------
    study : Study
        The rig that the proposals were made for.
    texts : mapping of str to str
        The texts of its files, by the name that spans bear.
    proposals : iterable of Proposal
        What `sizes` gives.
    also_unread : bool
        Whether to write over `?`, and to add a gauge or fuse that is not written, as for a rig
        that is being planned.
    """
    changes: list[Refit] = []
    by_hand: list[str] = []
    wanted = ("change", "unread") if also_unread else ("change",)
    for proposal in proposals:
        changes += proposal.added
        for wire in proposal.wires:
            if wire.verdict in wanted:
                changes.append(Refit("gauge", wire.name, wire.fit.text))
            elif wire.verdict == "unread":
                by_hand.append(f"`{wire.fit.text}` for `{wire.name}`, whose gauge was never read")
        for fuse in proposal.fuses:
            if fuse.verdict in wanted:
                changes.append(Refit("rating", fuse.name, _rating(fuse.fit_a)))
            elif fuse.verdict == "unread":
                by_hand.append(
                    f"`{fuse.kind} {_rating(fuse.fit_a)}` for `{fuse.name}`, whose rating was "
                    "never read"
                )
    return Writing(by_file(changed(study, texts, changes)), tuple(by_hand))


def by_file(edits: Iterable[Edit]) -> Mapping[str, tuple[Edit, ...]]:
    """Edits by the file that they are in, none of them twice."""
    files: dict[str, list[Edit]] = {}
    for edit in dict.fromkeys(edits):
        files.setdefault(edit.span.file, []).append(edit)
    return {file: tuple(held) for file, held in files.items()}


def changed(study: Study, texts: Mapping[str, str], changes: Iterable[Refit]) -> tuple[Edit, ...]:
    """The edits that write changes of a rig into its texts.

    A gauge that a block of wires shares is edited there only if all of its wires get the same; else
    a wire that changes gets a gauge of its own at the end of its line, before the comment.

    Raises
    ------
    LookupError
        The rig has no such part, its place holds no rating or gauge, or no such gauge is in stock.
    """
    edits: list[Edit] = []
    gauges: dict[str, Size] = {}
    for change in changes:
        if change.what == "gauge":
            gauges[change.of] = _size(change.to)
        elif change.what == "rating":
            edits.append(_rated(_device(study, change.of), change.to, texts))
        else:
            edits.append(_fused(study.rig.conductor(change.of), change))
    return (*edits, *_sized(study, texts, gauges))


def _rating(rating_a: float) -> str:
    return show(rating_a, "A", 10)


def _size(text: str) -> Size:
    for size in (*awg_sizes(), *metric_sizes()):
        if size.text == text:
            return size
    raise LookupError(text)


def _device(study: Study, name: str) -> Device:
    device = study.device(name)
    if device is None:
        raise LookupError(name)
    return device


def _rated(device: Device, rating: str, texts: Mapping[str, str]) -> Edit:
    """The edit of a rating; a fuse that is not written is added to its line."""
    at, line = device.rating_span, device.about.span
    if at is None:
        return Edit(Span(line.file, line.end, line.end), f" {device.kind} {rating}")
    figure = rating.partition(" ")[0]
    text = texts[at.file][at.start : at.end]
    found = list(_CURRENT.finditer(text))
    if found:
        last = found[-1]
        gap = last[2] if last[3] == "A" else " "
        return _within(at, last.start(), last.end(), f"{figure}{gap}A")
    asked = text.rfind("?")
    if asked < 0:
        raise LookupError(text)
    unit = "" if text[asked + 1 :].strip() == "A" else " A"
    return _within(at, asked, asked + 1, f"{figure}{unit}")


def _fused(wire: Conductor, change: Refit) -> Edit:
    """A fuse at the end of the line of a wire that has none."""
    end = wire.span.end
    return Edit(Span(wire.span.file, end, end), f", fuse {change.to} at {change.at}")


def _within(span: Span, start: int, end: int, text: str) -> Edit:
    return Edit(Span(span.file, span.start + start, span.start + end), text)


def _sized(study: Study, texts: Mapping[str, str], gauges: Mapping[str, Size]) -> Iterator[Edit]:
    """The edits of gauges, one a line: the wires that a line writes have one gauge."""
    fits: dict[Span, Size] = {}
    for name, size in gauges.items():
        fits[study.rig.conductor(name).span] = size
    sharing: dict[Span, set[Span]] = {}
    for wire in study.rig.conductors:
        sharing.setdefault(wire.size_span, set()).add(wire.span)
    at_of = {wire.span: wire.size_span for wire in study.rig.conductors if not wire.lead}
    for line, fit in fits.items():
        at = at_of[line]
        if at == line:
            yield _added(line, fit, "?")
            continue
        text = texts[at.file][at.start : at.end]
        alike = {fits[each].text if each in fits else "" for each in sharing[at]}
        if len(alike) == 1:
            yield Edit(at, written(fit, text))
        else:
            yield _added(line, fit, text)


def _added(line: Span, fit: Size, like: str) -> Edit:
    """A gauge of its own at the end of a wire's line, before the comment."""
    return Edit(Span(line.file, line.end, line.end), f" {written(fit, like)}")


def written(size: Size, like: str) -> str:
    """A size written as another one is: its unit and its blanks kept.

    Examples
    --------
    >>> from rigfolio.units import awg_size, metric_size
    >>> written(awg_size(0), "16 AWG"), written(awg_size(8), "?"), written(metric_size(4.0), "2mm²")
    ('1/0 AWG', '8 AWG', '4mm²')
    """
    name = size.text.partition(" ")[0]
    unit = "AWG" if size.awg is not None else "mm2"
    rest = _NUMBER.sub("", like, count=1)
    same = rest.strip() in (("AWG",) if size.awg is not None else ("mm2", "mm²"))
    return _NUMBER.sub(name, like, count=1) if same else f"{name} {unit}"
