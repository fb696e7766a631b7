"""What wires, circuits and returns share: conductor facts, and a fuse said within a line."""

from collections.abc import Collection, Iterator, Mapping

from rigfolio.books import fuse_families
from rigfolio.findings import UNKNOWN, Finding
from rigfolio.kinds import DEVICES, guards
from rigfolio.lang import Facts, error, facts
from rigfolio.model import FuseSaid, WireFacts
from rigfolio.reading.word import CONDITION, Said
from rigfolio.values import Place

CONDUCTOR = facts(
    "size!: <size>",
    "colour!: <colour>",
    "length!: <length>",
    "tag: tag <tag>",
    "insulation: insulation <temperature>",
    "type: insulation <name>",
    "ambient: ambient <temperature>",
    "bundle: bundle of <n wires>",
    "engine: engine space",
    "sheathed: sheathed",
    "count: <n conductors> in parallel",
    "ends: ends <terminal>",
    "both: ends <terminal> and <terminal>",
    "tail: tail <length>",
    "breakout: breakout <length>",
    "found: found <size>",
    "note: note <label>",
    CONDITION,
)
"""What may be said of any conductor."""

_OWN = frozenset(family for kind in DEVICES.values() for family in kind.families)
FAMILIES = "|".join(family.replace(" ", "-") for family in fuse_families() if family not in _OWN)
FUSE = facts(
    *(f"{guard}: {guard} <current>" for guard in guards()),
    "interrupts: interrupts <current>",
    f"family: {FAMILIES}",
    "rated: rated <voltage>",
    "resets: resets by itself",
)
"""What may be said of a fuse within a wire or a circuit."""


def merged(shared: Facts, own: Facts) -> Facts:
    """Facts of a block of wires, with what one wire says of itself put over them."""
    return Facts({**shared.given, **own.given})


def wire_facts(said: Said, given: Facts) -> WireFacts:
    """The conductor that a line describes."""
    size = given.size()
    length = given.number("length")
    return WireFacts(
        span=said.span,
        size=UNKNOWN if size is None else size,
        colour=UNKNOWN if given.colour() is None else given.colour(),
        length_m=UNKNOWN if length is None else length,
        length_unit=given.unit("length"),
        size_span=given.span("size"),
        tag=given.word("tag"),
        insulation_c=given.known("insulation"),
        ambient_c=given.known("ambient"),
        bundle=int(given.known("bundle") or 1),
        engine_space=given.has("engine"),
        sheathed=given.has("sheathed"),
        count=int(given.known("count") or 1),
        cranking=given.has("cranking"),
        insulation=given.word("type"),
        ends=_terminals(given),
        tail_m=given.known("tail"),
        breakout_m=given.known("breakout"),
        note=given.word("note"),
        condition=given.word("condition"),
        found=given.size("found"),
    )


def _terminals(given: Facts) -> tuple[str, str]:
    """What is crimped to the first and to the second end of a wire."""
    both = given.all("both")
    if both and isinstance(both[0].value, tuple):
        one, two = (value if isinstance(value, str) else "?" for value in both[0].value)
        return one, two
    return given.word("ends"), given.word("ends")


def fuse_problems(said: Said, *, places: Collection[str]) -> Iterator[Finding]:
    """Facts of a fuse where there is none, and two of them where there is room for one."""
    given = said.facts
    kinds = [kind for kind in guards() if given.has(kind)]
    span = given.span(kinds[-1]) if len(kinds) > 1 else None
    if span is not None:
        yield error(
            "said-twice",
            span,
            "a fuse and a breaker in one statement",
            fix="keep one of them, or give one a name and a line of its own",
        )
    for key in ("interrupts", "family", "rated", "resets", "was", *places):
        span = given.span(key)
        if span is not None and not kinds:
            yield error(
                "fact-missing",
                span,
                f"this is said of a fuse, and `{said.word}` has none",
                fix="add `fuse 7.5 A`, or take this out",
            )


def fuse_said(given: Facts, places: Mapping[str, tuple[Place | None, float]]) -> FuseSaid | None:
    """The fuse or breaker within a line; `places` tells where it sits, by key of the fact."""
    for kind in guards():
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
            resets_itself=given.has("resets"),
            found_a=given.number("was"),
        )
    return None
