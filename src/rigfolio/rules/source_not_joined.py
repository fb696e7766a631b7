"""A battery or another source has a pole that is joined to nothing.

What follows from a minus that is off is not told beside it: all else is judged as it would be with
that pole on the bar where the rest comes back to.

*Why:* it gives nothing, or it does by some bolt, hinge or throttle cable that was never meant to
carry it.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.network import OpenPole
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import listed, with_kind

RULE = Rule(
    "source-not-joined",
    Severity.FAULT,
    Citation("current leaves a source by one pole and comes back by the other", "common practice"),
)
_POLE = {"+": "plus", "-": "minus"}


def check(study: Study) -> Iterator[Finding]:
    """Every source with an open pole, once."""
    held: dict[str, list[OpenPole]] = {}
    for pole in study.open_poles:
        held.setdefault(pole.source.about.name, []).append(pole)
    for poles in held.values():
        yield _finding(poles)


def _finding(poles: list[OpenPole]) -> Finding:
    source = poles[0].source
    what = with_kind(source.kind, source.about.name)
    posts = listed(pole.end for pole in poles)
    wires = f"a wire from {posts} to where it belongs"
    if [pole.sign for pole in poles] == ["-"]:
        wires = f"a wire from {posts} to the negative bar"
    words = f"nothing is joined to {posts}, the {_POLE[poles[0].sign]} of {what}"
    if len(poles) > 1:
        words = f"nothing is joined to {posts}: {what} stands in no circuit"
    elif not poles[0].is_bare:
        pole = f"{posts}, the {_POLE[poles[0].sign]} of {what}"
        words = f"{pole}, ends at a device with nothing behind it"
    return RULE.finding(
        words,
        source.about.span,
        here="gives nothing, or by ways that are not in the text",
        fix=Fix(f"{wires}; if it is there, it is missing in the text"),
    )
