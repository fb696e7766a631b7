"""The usual cautions, each worded once: what a reader must know before a wire is touched."""

DEFERS = "Not a safety certificate: local code and licensed practice come first."
"""The short form; it stands at the foot of every page and below every help text."""
MEASURE = "The text was judged, not the rig: measure before you touch a wire."
"""What was looked at, and what was not."""
JUDGED = f"{MEASURE} {DEFERS}"
"""The long form; it stands above every answer and below every verdict."""
HANDS = (
    "Take off rings and watch, use insulated tools, cover the posts of every battery: they are "
    "live whatever is opened."
)
"""What is added where somebody is about to open a panel."""
SLIPPED = (
    "Low voltage is not low danger: a battery can drive thousands of amperes through a slipped "
    "tool."
)
"""Why; it stands before `HANDS` on papers that are read by people who have not heard it."""
DEAD = "Dead is what a meter says: try it on something live, measure, try it again."
"""What proves a part dead."""
FIRST = (
    "Try the meter on something live before and after you prove a panel dead. Stop at the first "
    "reading that does not fit."
)
"""What stands above readings that are taken in turn."""
REASONED = "Worked out from the text, not measured."
"""At the foot of what nobody has read off a meter."""
SIGNED = "+ and − come from the wiring, never from a colour."
"""Where a sign stands beside a colour."""
COLOUR_TELLS = "A colour is evidence, never proof: measure before you cut or join."
"""At the foot of what leads from a colour to a wire."""
_DIFFERS = (
    "Where the panel differs from the {paper}, the {paper} is wrong until it has been surveyed "
    "again."
)
PAPER_DIFFERS, PAGE_DIFFERS = (_DIFFERS.format(paper=word) for word in ("paper", "page"))
"""Which of the two is right, on paper and on a page without paper."""
