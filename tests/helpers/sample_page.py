"""One page with every kind of mark, for the tests of all writers."""

from rigfolio.draw.lettering import Style, block
from rigfolio.draw.page import Circle, Group, Line, Page, Pen, Text, rect
from rigfolio.draw.rulers import ruler
from rigfolio.draw.striped import conductor, patch


def sample_page() -> Page:
    """Letter landscape with every kind of mark."""
    label = rect(20, 30, 25.4, 9.0)
    marks = (
        label,
        *block("Galley lamp", (20, 30, 25.4, 9.0), Style(9, 5, 2, bold=True)),
        Group(
            "P1.2",
            "Water pump",
            (
                *conductor(((60, 40), (120, 40), (120, 60)), "#d40000", "#000000"),
                *patch(130, 38, 8, 5, "#ffffff", "#d40000"),
                Text((140, 42), "16 AWG rd/bk", 8.0),
            ),
        ),
        Line(((60, 100), (100, 100), (80, 130)), Pen(2.0, "#0000ff"), "#ffee88", closed=True),
        Circle((150, 100), 8.0, Pen(0.5, dash_mm=(2.0, 1.0)), "#ccffcc"),
        Text((200, 100), "turned 90°", 9.0, "middle", turn=90.0),
        Text((220, 100), "turned 30°", 9.0, "end", bold=True, turn=30.0),
        *ruler(20, 180, 100),
    )
    return Page(279.4, 215.9, marks, "Sample")
