"""The diagram of the page as SVG, and which of its parts lead to a card."""

from collections.abc import Iterable, Iterator, Mapping

from rigfolio.draw import Mark, groups
from rigfolio.job import Job
from rigfolio.model import Rig
from rigfolio.page.content import DiagramPage, DrawnPart
from rigfolio.page.places import keys_of
from rigfolio.render import write_svg
from rigfolio.schematic import diagram


def diagram_of(job: Job) -> tuple[DiagramPage, ...]:
    """Every page of the diagram, its ids told apart by the number of the page."""
    keys = _by_drawn_name(job)
    return tuple(
        DiagramPage(
            page.name,
            tuple(_parts(page.marks, keys)),
            write_svg(page, prefix=f"d{number}-", in_html=True),
        )
        for number, page in enumerate(diagram(job).pages, start=1)
    )


def _by_drawn_name(job: Job) -> Mapping[str, str]:
    """What the groups of the drawing are called, and the key that each leads to."""
    keys = dict(keys_of(job.rig))
    for terminal, key in _posts(job.rig, keys):
        for words in ("at", "end"):
            keys.setdefault(f"{words} {terminal}", key)
    return keys | {f"load {load.about.name}": keys[load.about.name] for load in job.rig.loads}


def _posts(rig: Rig, keys: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Where wires meet, and whose place that is: a source, a device or load, else a wire."""
    for source in rig.sources:
        for post in (source.plus, source.minus):
            yield post, source.about.name
    for device in rig.devices:
        for end in (device.line, device.load):
            if end.startswith(f"{device.about.name}."):
                yield end, keys[device.about.name]
    for load in rig.loads:
        for end in (load.plus, load.minus):
            yield end, keys[load.about.name]
    for wire in rig.conductors:
        for end in (wire.a, wire.b):
            yield end, keys[wire.name]


def _parts(marks: Iterable[Mark], keys: Mapping[str, str]) -> Iterator[DrawnPart]:
    seen: set[str] = set()
    for group in groups(marks):
        name = group.ident
        if name in keys and name not in seen:
            seen.add(name)
            yield DrawnPart(name, keys[name])
