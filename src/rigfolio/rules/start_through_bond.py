"""A part of an engine's start comes back through a wire that is no cranking cable.

Where the minus of a starter has more ways back than its own cable, current takes all of them, each
by its resistance. It is told of wires that are not declared as `cranking`, where their part of the
start is more than they may carry; as a danger where the copper does not take that for seconds.

*Why:* when the engine's own strap loosens, the thin bond beside it carries the whole start. So burn
throttle cables, and the minus of a depth sounder.
"""

from collections.abc import Iterator

from rigfolio.books import longest_s
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.protection import burns_in_a_start, start_shares
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import Size, apart, show
from rigfolio.wording import bears, name_of

RULE = Rule(
    "start-through-bond",
    Severity.FAULT,
    Citation("a start comes back by cable that is made for it alone", "common practice"),
    also=(Severity.DANGER,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every wire of the minus side that shares the way back of a start."""
    for name, (current_a, load) in start_shares(study).items():
        wire = study.rig.conductor(name)
        if not isinstance(wire.size, Size):
            continue
        limit = study.carries_at_most(wire, wire.size)
        if limit is None or not limit.is_broken_by(current_a):
            continue
        burns = burns_in_a_start(study, wire, current_a)
        yield RULE.finding(
            f"{apart(current_a, limit.value, 'A')} of the start of `{load.about.name}` come back "
            f"through {name_of(wire)}, it may carry {bears(limit)}",
            wire.size_span,
            others=[(load.about.span, "starts here")],
            fix=Fix(
                f"bond at the minus post itself, so that no start runs through {name_of(wire)}, or "
                "make it as thick as the starter's cable and write `cranking`"
            ),
            severity=Severity.DANGER if burns else None,
            here=f"takes that for less than {show(longest_s().value, 's')}" if burns else "",
            numbers=(("start_a", current_a), ("limit_a", limit.value)),
        )
