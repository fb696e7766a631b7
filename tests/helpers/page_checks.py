"""What is asked of the marks of a page."""

from itertools import combinations

from rigfolio.draw import Page, Text
from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import printable
from rigfolio.draw.page import texts


def overlaps(page: Page, slack_mm: float = 0.05) -> tuple[tuple[Text, Text], ...]:
    """Pairs of texts whose boxes cover each other by more than a slack in both directions."""
    boxes = [(text_box(text), text) for text in texts(page) if printable(text.text).strip(" ")]
    return tuple(
        (first, second)
        for (a, first), (b, second) in combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > slack_mm
        and min(a[3], b[3]) - max(a[1], b[1]) > slack_mm
    )
