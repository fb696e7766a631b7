"""The faces of the panels: every slot where it lies, with what its label says."""

from collections.abc import Iterable, Iterator, Mapping

from rigfolio.job import Job
from rigfolio.labels import feed_words, panel_title, slots_now
from rigfolio.model import Panel
from rigfolio.page.content import FaceSlot, PageFinding, PanelFace
from rigfolio.page.places import Texts
from rigfolio.page.wires import colour_shown
from rigfolio.swap import notes_about
from rigfolio.wording import both_words, slot_holders


def faces_of(job: Job, texts: Texts, findings: Iterable[PageFinding]) -> tuple[PanelFace, ...]:
    """The face of each panel, in the order of the text."""
    gravest = _gravest(findings)
    return tuple(_face(job, texts, panel, gravest) for panel in job.rig.panels)


def _gravest(findings: Iterable[PageFinding]) -> Mapping[str, str]:
    """The severity of the gravest finding about each thing; they come with the gravest first."""
    held: dict[str, str] = {}
    for one in findings:
        held.setdefault(one.key, one.severity)
    return held


def _face(job: Job, texts: Texts, panel: Panel, gravest: Mapping[str, str]) -> PanelFace:
    return PanelFace(
        panel.about.name,
        panel_title(panel),
        feed_words(job.rig, panel),
        panel.columns,
        panel.rows,
        tuple(_slots(job, texts, panel, gravest)),
        tuple(note.words for note in notes_about(panel.about)),
        texts.place(panel.about.span),
    )


def _slots(job: Job, texts: Texts, panel: Panel, gravest: Mapping[str, str]) -> Iterator[FaceSlot]:
    labels = dict(slots_now(job, panel))
    for number, circuits, kept in slot_holders(job.rig, panel):
        label = labels[number]
        said = [one.span for one in circuits] + ([kept.span] if kept is not None else [])
        wires = [job.rig.conductor(one.wires[0]) for one in circuits if one.wires]
        yield FaceSlot(
            number,
            label.place,
            *panel.cell(number),
            tuple(one.place for one in circuits),
            label.name,
            both_words(label.found, label.ratings[0], is_warned=label.is_warned),
            label.shade,
            tuple(colour_shown(wire) for wire in wires),
            any(one.always_on for one in circuits),
            label.stays,
            label.is_warned,
            label.mind,
            gravest.get(label.place, ""),
            texts.place(said[0]) if said else None,
        )
