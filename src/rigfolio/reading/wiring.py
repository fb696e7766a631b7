"""What wires, circuits and returns share: conductor facts, and a fuse said within a line."""

from collections.abc import Mapping

from rigfolio.books.fuses import fuse_families
from rigfolio.findings import UNKNOWN
from rigfolio.lang.facts import Facts, Given, facts
from rigfolio.model.draft import FuseSaid, WireFacts
from rigfolio.model.graph import DeviceKind
from rigfolio.reading.word import Said
from rigfolio.values import Place

CONDUCTOR = facts(
    "size!: <size>",
    "colour!: <colour>",
    "length!: <length>",
    "tag: tag <name>",
    "insulation: insulation <temperature>",
    "ambient: ambient <temperature>",
    "bundle: bundle of <n wires>",
    "engine: engine space",
    "sheathed: sheathed",
    "count: <n conductors> in parallel",
    "ends: ends ring|fork|blade|ferrule|butt",
    "stud: stud <stud>",
    "note: note <label>",
    "condition: scorched|loose|corroded|melted",
)
"""What may be said of any conductor."""

FAMILIES = "|".join(family.replace(" ", "-") for family in fuse_families())
FUSE = facts(
    "fuse: fuse <current>",
    "breaker: breaker <current>",
    "interrupts: interrupts <current>",
    f"family: {FAMILIES}",
    "rated: rated <voltage>",
)
"""What may be said of a fuse within a wire or a circuit."""


def merged(shared: Facts, own: Facts) -> Facts:
    """Facts of a block of wires, with what one wire says of itself put over them."""
    given: dict[str, tuple[Given, ...]] = dict(shared.given)
    for key, values in own.given.items():
        unknown = len(values) == 1 and values[0].value is UNKNOWN
        if not (unknown and key in given):
            given[key] = values
    return Facts(given)


def wire_facts(said: Said, given: Facts) -> WireFacts:
    """The conductor that a line describes."""
    size = given.size()
    length = given.number("length")
    return WireFacts(
        span=said.span,
        size=UNKNOWN if size is None else size,
        colour=UNKNOWN if given.colour() is None else given.colour(),
        length_m=UNKNOWN if length is None else length,
        size_span=given.span("size"),
        tag=given.word("tag"),
        insulation_c=given.known("insulation"),
        ambient_c=given.known("ambient"),
        bundle=int(given.known("bundle") or 1),
        engine_space=given.has("engine"),
        sheathed=given.has("sheathed"),
        count=int(given.known("count") or 1),
        cranking=given.has("cranking"),
        note=given.word("note"),
        condition=given.word("condition"),
    )


def fuse_said(given: Facts, places: Mapping[str, tuple[Place | None, float]]) -> FuseSaid | None:
    """The fuse or breaker within a line; `places` tells where it sits, by key of the fact."""
    kinds: tuple[DeviceKind, ...] = ("fuse", "breaker")
    for kind in kinds:
        span = given.span(kind)
        if span is None:
            continue
        at, after_m = next(iter(places.values()), (None, 0.0))
        return FuseSaid(
            kind=kind,
            rating_a=given.needed(kind),
            span=span,
            at=at,
            after_m=after_m,
            interrupts_a=given.number("interrupts"),
            family=given.word("family").replace("-", " "),
            rated_v=given.known("rated"),
        )
    return None
