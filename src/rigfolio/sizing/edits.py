"""Proposals written into the text: tokens of gauge and rating, and nothing else."""

import re
from collections.abc import Iterable, Iterator, Mapping

from rigfolio.findings import Span
from rigfolio.lang import Edit
from rigfolio.record import record
from rigfolio.sizing.proposals import FuseSize, Proposal, WireSize
from rigfolio.study import Study
from rigfolio.units import Size

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
    proposals: Iterable[Proposal],
    *,
    also_unread: bool = False,
) -> Writing:
    """The edits that write proposals into the texts of a rig.

    A gauge that a block of wires shares is edited there only if all of its wires get the same; else
    a wire that changes gets a gauge of its own at the end of its line, before the comment. A `?` is
    left alone: what is fitted there was never read, and a gauge written over it would pass for a
    reading.

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
    wires: list[WireSize] = []
    edits: list[Edit] = []
    by_hand: list[str] = []
    for proposal in proposals:
        for wire in proposal.wires:
            if wire.verdict == "change" or (wire.verdict == "unread" and also_unread):
                wires.append(wire)
            elif wire.verdict == "unread":
                by_hand.append(f"`{wire.fit.text}` for `{wire.name}`, whose gauge was never read")
        for fuse in proposal.fuses:
            if fuse.verdict == "change" or (fuse.verdict == "unread" and also_unread):
                edits.append(_rated(fuse, texts))
            elif fuse.verdict == "unread":
                by_hand.append(
                    f"`{fuse.kind} {_figure(fuse.fit_a)} A` for `{fuse.name}`, whose rating was "
                    "never read"
                )
    edits += _sized(study, texts, wires)
    files: dict[str, list[Edit]] = {}
    for edit in dict.fromkeys(edits):
        files.setdefault(edit.span.file, []).append(edit)
    return Writing({file: tuple(held) for file, held in files.items()}, tuple(by_hand))


def _figure(rating_a: float) -> str:
    return f"{rating_a:.10g}"


def _rated(fuse: FuseSize, texts: Mapping[str, str]) -> Edit:
    """The edit of a rating; a fuse that is not written is added to its line."""
    if fuse.at is None:
        end = fuse.line.end
        return Edit(Span(fuse.line.file, end, end), f" {fuse.kind} {_figure(fuse.fit_a)} A")
    text = texts[fuse.at.file][fuse.at.start : fuse.at.end]
    found = list(_CURRENT.finditer(text))
    if found:
        last = found[-1]
        gap = last[2] if last[3] == "A" else " "
        return _within(fuse.at, last.start(), last.end(), f"{_figure(fuse.fit_a)}{gap}A")
    asked = text.rindex("?")
    unit = "" if text[asked + 1 :].strip() == "A" else " A"
    return _within(fuse.at, asked, asked + 1, f"{_figure(fuse.fit_a)}{unit}")


def _within(span: Span, start: int, end: int, text: str) -> Edit:
    return Edit(Span(span.file, span.start + start, span.start + end), text)


def _sized(study: Study, texts: Mapping[str, str], wires: list[WireSize]) -> Iterator[Edit]:
    fits: dict[str, Size] = {name: wire.fit for wire in wires for name in wire.names}
    sharing: dict[Span, list[str]] = {}
    for conductor in study.rig.conductors:
        sharing.setdefault(conductor.size_span, []).append(conductor.name)
    for wire in wires:
        if wire.at == wire.line:
            yield _added(wire, "?")
            continue
        text = texts[wire.at.file][wire.at.start : wire.at.end]
        alike = {fits[name].text if name in fits else "" for name in sharing[wire.at]}
        if _is_inside(wire.at, wire.line) or len(alike) == 1:
            yield Edit(wire.at, written(wire.fit, text))
        else:
            yield _added(wire, text)


def _is_inside(inner: Span, outer: Span) -> bool:
    same = inner.file == outer.file
    return same and outer.start <= inner.start and inner.end <= outer.end


def _added(wire: WireSize, like: str) -> Edit:
    """A gauge of its own at the end of a wire's line, before the comment."""
    end = wire.line.end
    return Edit(Span(wire.line.file, end, end), f" {written(wire.fit, like)}")


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
