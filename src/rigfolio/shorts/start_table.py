"""What is said of starts, a line each, for demand and for the calculation."""

from rigfolio.books import lasting_start_s
from rigfolio.reports import ReportColumn, ReportTable, Value, added_up
from rigfolio.shorts.starts import StartLine, least_words, may_open, opening_words, starts_of
from rigfolio.study import Study
from rigfolio.units import show_limit, time_words
from rigfolio.wording import fitted_there, load_words

_COLUMNS = (
    ReportColumn("load"),
    ReportColumn("label", "load", 22),
    ReportColumn("circuit", "circuit", 9),
    ReportColumn("running_a", "runs at", 8),
    ReportColumn("start_a", "starts at", 9),
    ReportColumn("least_s"),
    ReportColumn("lasts", "for", 16, given=False),
    ReportColumn("device"),
    ReportColumn("through", "through", 22, given=False),
    ReportColumn("held_against", "held against", 40),
)
STARTS_NOTE = (
    "Starts: what flows through the device while the load starts, with what runs on beside it in "
    "its circuit, against the times of the standard of its family. What starts for seconds counts "
    "in no demand."
)


def starts_table(study: Study, title: str = "Starts") -> ReportTable:
    """Every load that starts at more than it runs at: amperes, seconds, what is held against it."""
    rows = tuple(_row(study, one) for one in starts_of(study))
    return ReportTable(title, _COLUMNS, rows, "starts")


def _row(study: Study, one: StartLine) -> tuple[Value, ...]:
    load, current = one.load, one.current
    start_a = None if current is None else current.current_a
    lasts = "" if current is None else current.lasts
    device = one.device
    through = ""
    if device is not None:
        rated = device.rating_a
        figure = show_limit(rated, "A") if isinstance(rated, float) else "?"
        through = f"{device.kind} {fitted_there(study.rig, device, figure)}"
    return (
        load.about.name,
        load_words(study.rig, load),
        load.circuit,
        added_up(one.running_a),
        added_up(start_a),
        None if current is None else current.least_s,
        lasts,
        None if device is None else device.about.name,
        through,
        _held_against(one),
    )


def _held_against(one: StartLine) -> str:
    """What a start is compared with, and how that ends."""
    if one.current is None:
        return "what it draws is not known"
    time_s, lasting_s = one.load.start_s, lasting_start_s().value
    also = "; counts for drop and heat of its wires" if (time_s or 0.0) >= lasting_s else ""
    return f"{_opening(one)}{also}"


def _opening(one: StartLine) -> str:
    if one.blow is None or one.current is None:
        return "no device of its own"
    if one.blow.speed == "no rating":
        return "the rating is not known"
    if one.blow.speed == "holds":
        return "its rating, not passed"
    window = one.blow.window
    if window is None:
        return "no standard sets its times"
    if may_open(one.blow.device, one.current):
        return f"its times: {opening_words(window, one.current)}"
    if window.min_s > 0.0:
        return f"its times: no sooner than {least_words(window.min_s)}"
    return f"its times: opens within {time_words(window.max_s)}, no least is set"
