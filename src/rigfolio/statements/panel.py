"""A fuse or breaker panel with numbered slots that share one feed."""

from rigfolio.findings import UNKNOWN
from rigfolio.lang import facts
from rigfolio.model import Draft, FuseSaid, PanelSaid
from rigfolio.reading import COMMON, Said, Word, needs, problem
from rigfolio.units import show
from rigfolio.values import Place

MOST_SLOTS = 120
MOST_COLUMNS = 8
LEAST_PITCH_M = 3e-3
"""From one slot to the next; the smallest fuses that are made are thicker [m]."""
LEAST_WINDOW_M = 3e-3
"""Either side of an opening for a label; smaller print could not be read in it [m]."""
_EDGE = 1.0 + 1e-9
"""Lets a window be as high as the slots are apart, whatever unit each is written in."""

WORD = Word(
    "panel",
    ("<name>",),
    (
        *facts(
            "slots: <n slots>",
            "slot: of <current>",
            "total: <current> in all",
            "breakers: breakers",
            "main: main fuse|breaker <current>",
            "negative: negative <place>",
            "pitch: pitch <length>",
            "window: window <length> by <length>",
            "columns: <n columns>",
            "across: numbered across",
            "side: <current> a side",
            "last: feed last",
            "interrupts: interrupts <current>",
        ),
        *COMMON,
    ),
    also=("fusebox, fuse box, fuse block, fuse board, distribution: with slots",),
)


def add(said: Said, draft: Draft) -> None:
    """Add the panel; its slots are filled by circuits and `slot` lines."""
    if not needs(said, draft, "slots", "its slots, such as `12 slots`; `? slots` if not counted"):
        return
    given = said.facts
    slots = said.count("slots")
    if slots > MOST_SLOTS:
        span = given.span("slots") or said.span
        draft.found.append(
            problem(
                "slot-count",
                span,
                f"a panel of {slots} slots, {MOST_SLOTS} are read",
                "count the slots again, or write two panels",
            )
        )
        # Whatever names the panel keeps its meaning.
        slots = MOST_SLOTS
    negative = given.place("negative")
    draft.panels.append(
        PanelSaid(
            about=said.about,
            slots=slots,
            slot_a=given.number("slot"),
            total_a=given.number("total"),
            pitch_m=_pitch_m(said, draft),
            columns=_columns(said, draft),
            across=given.has("across"),
            side_a=given.number("side"),
            feed_last=given.has("last"),
            interrupts_a=given.number("interrupts"),
            holds="breaker" if given.has("breakers") else "fuse",
            negative=negative if isinstance(negative, Place) else None,
            main=_main(said),
            window_m=_window(said, draft),
        )
    )


def _columns(said: Said, draft: Draft) -> int:
    """How many columns the slots stand in; labels of more would have no width."""
    columns = said.count("columns", 1)
    if columns > MOST_COLUMNS:
        draft.found.append(
            problem(
                "column-count",
                said.facts.span("columns") or said.span,
                f"slots in {columns} columns, {MOST_COLUMNS} are read",
                "count the columns again, or write several panels",
            )
        )
    return min(columns, MOST_COLUMNS)


def _pitch_m(said: Said, draft: Draft) -> float | None:
    """How far the slots are apart; no label could be made for less than the least."""
    pitch_m = said.facts.known("pitch")
    if pitch_m is None or pitch_m >= LEAST_PITCH_M / _EDGE:
        return pitch_m
    draft.found.append(
        problem(
            "pitch-too-small",
            said.facts.span("pitch") or said.span,
            f"slots {show(pitch_m, 'mm')} apart, {show(LEAST_PITCH_M, 'mm')} are the least",
            "measure over several slots and divide by their number",
        )
    )
    return None


def _window(said: Said, draft: Draft) -> tuple[float, float] | None:
    """Width and height of the opening before each slot; no higher than the slots are apart.

    None could be read in one that is smaller than the least.
    """
    given = said.facts.all("window")
    if not given or not isinstance(given[0].value, tuple):
        return None
    wide_m, high_m = given[0].value
    if not (isinstance(wide_m, float) and isinstance(high_m, float)):
        return None
    if min(wide_m, high_m) < LEAST_WINDOW_M / _EDGE:
        size = f"{show(wide_m, 'mm')} by {show(high_m, 'mm')}"
        draft.found.append(
            problem(
                "window-too-small",
                given[0].span,
                f"a window of {size}, {show(LEAST_WINDOW_M, 'mm')} are the least either way",
                "measure the opening that the label is seen through, and write its unit",
            )
        )
        return None
    pitch_m = said.facts.known("pitch")
    if pitch_m is not None and high_m > pitch_m * _EDGE:
        draft.found.append(
            problem(
                "window-too-high",
                given[0].span,
                f"a window {show(high_m, 'mm')} high, the slots are {show(pitch_m, 'mm')} apart",
                "the width comes first, then the height along the row of slots",
            )
        )
        return None
    return wide_m, high_m


def _main(said: Said) -> FuseSaid | None:
    given = said.facts.all("main")
    if not given or not isinstance(given[0].value, tuple):
        return None
    kind, rating = given[0].value
    return FuseSaid(
        kind="breaker" if kind == "breaker" else "fuse",
        rating_a=rating if isinstance(rating, float) else UNKNOWN,
        span=given[0].span,
    )
