"""What is asked of the marks of a page."""

from rigfolio.draw import Page, Text
from rigfolio.draw.extents import text_box
from rigfolio.draw.lettering import printable
from rigfolio.draw.page import texts


def overlaps(page: Page, slack_mm: float = 0.05) -> tuple[tuple[Text, Text], ...]:
    """Pairs of texts whose boxes cover each other by more than a slack in both directions.

    From the top down: a text is held against those above that reach below its top.
    """
    boxes = [(text_box(text), text) for text in texts(page) if printable(text.text).strip(" ")]
    found: list[tuple[int, int]] = []
    reaching: list[int] = []
    for at in sorted(range(len(boxes)), key=lambda one: boxes[one][0][1]):
        left, top, right, bottom = boxes[at][0]
        reaching = [one for one in reaching if boxes[one][0][3] - top > slack_mm]
        if bottom - top > slack_mm:
            found += [
                (min(one, at), max(one, at))
                for one in reaching
                if min(right, boxes[one][0][2]) - max(left, boxes[one][0][0]) > slack_mm
            ]
            reaching.append(at)
    return tuple((boxes[one][1], boxes[other][1]) for one, other in sorted(found))
