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
