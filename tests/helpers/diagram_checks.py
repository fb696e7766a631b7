"""What must hold of every page of a diagram, as a reader sees it."""

from itertools import pairwise

import networkx

from helpers.page_checks import overlaps
from rigfolio.draw.extents import text_box
from rigfolio.draw.frame import body
from rigfolio.draw.page import Circle, Group, Line, flat, texts


def is_planar(blocks):
    """Whether bars and units can be drawn without a crossing, by another library."""
    graph = networkx.Graph()
    for block in blocks:
        for unit in block.units:
            if unit.b:
                graph.add_edge(unit.a, unit.b)
    return networkx.check_planarity(graph)[0]


def groups_of(marks):
    """All groups, those inside others too."""
    for mark in marks:
        if isinstance(mark, Group):
            yield mark
            yield from groups_of(mark.marks)


def struck(page, slack=0.05):
    """Texts that a line runs through, with the line."""
    boxes = _by_height((text, text_box(text)) for text in texts(page) if text.text.strip())
    found = []
    for line in (mark for mark in flat(page.marks) if isinstance(mark, Line) and mark.pen):
        ends = line.points + (line.points[:1] if line.closed else ())
        for one, two in pairwise(ends):
            left, right = sorted((one[0], two[0]))
            top, bottom = sorted((one[1], two[1]))
            is_level = left == right or top == bottom
            thick = line.pen.width_mm / 2
            half, tall = thick * (left == right), thick * (top == bottom)
            for text, box in _between(boxes, top - tall, bottom + tall):
                if (
                    left - half < box[2] - slack
                    and right + half > box[0] + slack
                    and top - tall < box[3] - slack
                    and bottom + tall > box[1] + slack
                    and (is_level or _cuts(one, two, box))
                ):
                    found.append((text.text, line.points))
    return found


def _by_height(boxes):
    """Texts with their boxes by each millimetre down the page that they reach into."""
    found = {}
    for number, (text, box) in enumerate(boxes):
        for down in range(int(box[1]) - 1, int(box[3]) + 2):
            found.setdefault(down, []).append((number, (text, box)))
    return found


def _between(boxes, top, bottom):
    """Those that may reach between two heights, in the order of the page."""
    near = {}
    for down in range(int(top) - 1, int(bottom) + 2):
        near |= dict(boxes.get(down, ()))
    return [near[number] for number in sorted(near)]


def _cuts(one, two, box):
    """Whether a slanted line passes through a box: some of its points lie within."""
    for step in range(41):
        x = one[0] + (two[0] - one[0]) * step / 40
        y = one[1] + (two[1] - one[1]) * step / 40
        if box[0] < x < box[2] and box[1] < y < box[3]:
            return True
    return False


def wire_groups(page, rig):
    """The group of each conductor on a page."""
    names = {wire.name for wire in rig.conductors}
    return [group for group in groups_of(page.marks) if group.ident in names]


def bends(page, rig):
    """Conductors that do not run level and straight."""
    bent = []
    for group in wire_groups(page, rig):
        # The box about the number of a note is no part of the wire.
        for line in (mark for mark in group.marks if isinstance(mark, Line) and not mark.closed):
            if len({y for _, y in line.points}) > 1:
                bent.append(group.ident)
    return bent


def off_page(page):
    """Texts and circles beyond the room for the drawing."""
    left, top, wide, high = body(page.width_mm, page.height_mm)
    whole = next(g for g in page.marks if getattr(g, "ident", "").startswith("schematic"))
    found = []
    for mark in flat(whole.marks):
        if isinstance(mark, Circle):
            (x, y), r = mark.centre, mark.radius_mm
            box = (x - r, y - r, x + r, y + r)
        elif isinstance(mark, Line):
            xs, ys = zip(*mark.points, strict=True)
            box = (min(xs), min(ys), max(xs), max(ys))
        else:
            box = text_box(mark)
        if not (
            left - 0.3 <= box[0] and box[2] <= left + wide + 0.3
            and top - 0.3 <= box[1] and box[3] <= top + high + 0.3
        ):  # fmt: skip
            found.append(mark)
    return found


def missing(pages, rig):
    """Conductors and loads that no page shows, and conductors that are shown more than once."""
    shown = [group.ident for page in pages for group in groups_of(page.marks)]
    counts = {name: shown.count(name) for name in {wire.name for wire in rig.conductors}}
    lost = [name for name, count in counts.items() if not count]
    lost += [load.about.name for load in rig.loads
             if not {load.about.name, f"load {load.about.name}"} & {*shown}
             and not load.about.name.endswith(".in")]  # fmt: skip
    lost += [source.about.name for source in rig.sources if source.about.name not in shown]
    twice = [name for name, count in counts.items() if count > 1]
    return lost, twice


def faults(job, made):
    """All that is wrong with a diagram, by kind."""
    found = {"overlap": 0, "struck": 0, "bend": 0, "off": 0, "small": 0, "paper": 0, "lost": 0}
    for page in made.pages:
        found["overlap"] += len(overlaps(page))
        found["struck"] += len(struck(page))
        found["bend"] += len(bends(page, job.rig))
        found["off"] += len(off_page(page))
        found["small"] += sum(text.size_pt < 7.0 for text in texts(page))
        paper = (job.paper.height_mm, job.paper.width_mm)
        found["paper"] += (page.width_mm, page.height_mm) != paper
    lost, twice = missing(made.pages, job.rig)
    found["lost"] = len(lost) + len(twice)
    return found
