"""What is taken for granted where the head of the text is silent."""

from collections.abc import Iterator

from rigfolio.findings import Span
from rigfolio.model.asides import Assumption
from rigfolio.model.draft import Draft, RigSaid
from rigfolio.units import show

SYSTEM_V = 12.0
BOOK = "rv"


def head_of(draft: Draft) -> RigSaid:
    """The head of the file, or one without a name at the first thing that the text says."""
    if draft.rig is not None:
        return draft.rig
    spans = [one.about.span for one in draft.sources] + [one.about.span for one in draft.series]
    spans += [one.about.span for one in draft.junctions]
    spans += [one.about.span for one in draft.panels] + [one.about.span for one in draft.loads]
    spans += [one.facts.span for one in draft.wires] + [one.span for one in draft.circuits]
    spans += [one.span for one in draft.slots] + [one.span for one in draft.notes]
    spans += [one.span for one in draft.ac] + [state.span for state, _ in draft.states]
    return RigSaid("Unnamed rig", min(spans, default=Span("", 0, 0)))


def of_head(head: RigSaid) -> Iterator[Assumption]:
    """The system voltage and the rule book, where the text does not say them."""
    if head.system_v is None:
        text = f"the system voltage is not stated and taken as {show(SYSTEM_V, 'V')}"
        yield Assumption(text, head.span)
    if not head.book:
        yield Assumption(f"no rule book is stated, `{BOOK}` is taken", head.span)
