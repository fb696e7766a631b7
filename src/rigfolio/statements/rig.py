"""The rig itself: what it is called, its system voltage, the rule book it is judged under."""

from rigfolio.books import book_names
from rigfolio.lang import Facts, error, facts
from rigfolio.model import Draft, RigSaid, wire_number
from rigfolio.reading import Said, Word

WORD = Word(
    "rig",
    ("<label>",),
    facts(
        "system: system <voltage>",
        f"rules: rules {'|'.join(book_names())}",
        "ambient: ambient <temperature>",
        "coldest: coldest <temperature>",
        "insulation: insulation <temperature>",
        "revised: revised <date>",
        "revision: revision <label>",
        "paper: paper letter|a4",
        "tags: tags used to <tag>",
        "sun: sun <duty>",
        "note: note <label>",
    ),
)


def add(said: Said, draft: Draft) -> None:
    """Set the head of the file; a second one is an error."""
    if draft.rig is not None:
        fix = "keep one of them"
        if said.span.file != draft.rig.span.file:
            fix = "keep one of them: `except rig` below an `include` leaves out the one there"
        draft.found.append(error("two-rigs", said.span, "a second `rig` in one text", fix=fix))
        return
    given = said.facts
    draft.rig = RigSaid(
        name=said.name,
        span=said.span,
        system_v=given.known("system"),
        book=given.word("rules"),
        ambient_c=given.known("ambient"),
        coldest_c=given.known("coldest"),
        sun_share=given.known("sun"),
        insulation_c=given.known("insulation"),
        revised=given.word("revised"),
        revision=given.word("revision"),
        paper=given.word("paper") or "letter",
        note=given.word("note"),
        used_to=_used_to(given, draft),
        used_at=given.span("tags"),
    )


def _used_to(given: Facts, draft: Draft) -> int:
    """The number in `tags used to W57`; what is no such number is noted as an error."""
    text, span = given.word("tags"), given.span("tags")
    number = wire_number(text)
    if span is not None and not number:
        fix = "the greatest that was ever given: `tags used to W57`"
        draft.found.append(error("tag-not-read", span, f"`{text}` is no W number", fix=fix))
    return number
