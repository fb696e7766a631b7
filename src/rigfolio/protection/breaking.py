"""What a fuse or breaker has to break, and what may go in where one is taken out."""

from collections.abc import Iterable, Iterator

from rigfolio.books import (
    Limit,
    RatedVolts,
    are_one_system,
    fuse_families,
    fuse_series,
    interrupt_a,
    rated_volts,
)
from rigfolio.findings import Citation, Unknown
from rigfolio.model import About, Device
from rigfolio.network import edge_name
from rigfolio.operating import returning_by
from rigfolio.protection.sun_side import sun_volts
from rigfolio.record import record
from rigfolio.study import Study, once
from rigfolio.units import show, show_limit, show_load
from rigfolio.wording import joined_words

_UNREAD_FAMILY = "regular"
"""By the volts of which a fuse is judged that names no kind: those of the least of all kinds."""

_KILO = 1000.0


@record
class Replacement:
    """What a fuse or breaker must be that goes in where another one is taken out.

    `family` is empty where it names no kind and `rating_a` None where the rating is not known [A].
    `volts_v` are stated only where its kind is not made for them anyhow [V]: those that the text
    states, or the least that its circuit asks for, `is_least`, where these are too low or none.
    `breaks_a` is what the text states that it interrupts [A].
    """

    family: str
    rating_a: float | None
    volts_v: float | None = None
    is_least: bool = False
    breaks_a: float | None = None

    @property
    def volts(self) -> str:
        """Its volts where they have to be asked for: `1000 V`, `at least 54.4 V`; else empty."""
        if self.volts_v is None:
            return ""
        if self.is_least:
            return f"at least {show_load(self.volts_v, 'V')}"
        return show_limit(self.volts_v, "V")

    @property
    def breaks(self) -> str:
        """What it interrupts where that is stated: `interrupts 20 kA`; else empty."""
        if self.breaks_a is None:
            return ""
        return f"interrupts {show_limit(self.breaks_a, 'kA' if self.breaks_a >= _KILO else 'A')}"


def interrupts(device: Device, system_v: float) -> Limit | None:
    """The largest current that a device may break: as stated, else what its family does [A]."""
    if isinstance(device.interrupts_a, Unknown):
        return None
    if device.interrupts_a is not None:
        return Limit(device.interrupts_a, Citation("as stated for this device", "seen"))
    family = device.fitted_family
    return interrupt_a(family, system_v) if family else None


def replacement_of(study: Study, device: Device) -> Replacement:
    """What must go in where a fuse or breaker is taken out, as far as the text tells it."""
    usual_v = _usual_v(device)
    stated_v, asked_v = device.about.rated_v, broken_v(study, device)
    rating_a, breaks_a = device.rating_a, device.interrupts_a
    # What is rated too low for its circuit is not asked for again.
    is_enough = stated_v is not None and stated_v >= asked_v
    told_v = stated_v if stated_v is not None and is_enough else asked_v
    return Replacement(
        device.fitted_family,
        rating_a if isinstance(rating_a, float) else None,
        told_v if told_v > usual_v else None,
        not is_enough,
        None if isinstance(breaks_a, Unknown) else breaks_a,
    )


def stated_volts(device: Device) -> str:
    """The volts that the text states of a device, where its kind is not made for them anyhow."""
    stated_v = device.about.rated_v
    return show_limit(stated_v, "V") if stated_v is not None and stated_v > _usual_v(device) else ""


def _usual_v(device: Device) -> float:
    """The volts that a device is made for by its kind; 0 where these are not known [V]."""
    usual = rated_volts(device.fitted_family or _UNREAD_FAMILY)
    return usual.rated_v if usual is not None else 0.0


def broken_v(study: Study, device: Device) -> float:
    """The volts that a device breaks when it opens, those of modules as `sun_volts` [V]."""
    lit = sun_volts(study)
    ends = broken_ends(study, device)
    return max((lit.get(end, study.volts.get(end, 0.0)) for end in ends), default=0.0)


def broken_ends(study: Study, device: Device) -> tuple[str, ...]:
    """The terminals whose volts a device breaks: in a minus lead those of what comes back by it."""
    if study.side.get(device.line) != "-" or device.line in sun_volts(study):
        return device.line, device.load
    return returning_by(study).get(edge_name(device), ())


@record
class TooFewVolts:
    """A part that is rated for fewer volts than stand at its `ends`: those of its circuit [V]."""

    about: About
    ends: tuple[str, ...]
    system_v: float


@once
def rated_too_low(study: Study) -> tuple[TooFewVolts, ...]:
    """Every part with a stated voltage rating that is too low for its circuit."""
    found = []
    for about, ends in _rated(study):
        system_v = max((_most_v(study, end) for end in ends), default=0.0)
        if about.rated_v is not None and about.rated_v < system_v:
            found.append(TooFewVolts(about, ends, system_v))
    return tuple(found)


@record
class KindTooLow:
    """The volts that a kind is made for, and the higher ones of its circuit [V]."""

    made: RatedVolts
    system_v: float


def kind_too_low(study: Study, device: Device) -> KindTooLow | None:
    """That a device of a kind that surely is made for fewer volts says nothing of its own."""
    system_v, family = broken_v(study, device), device.family
    if device.about.rated_v is not None or not family:
        return None
    made = rated_volts(family)
    if made is None or not made.is_firm or made.rated_v >= system_v:
        return None
    return KindTooLow(made, system_v)


def _most_v(study: Study, end: str) -> float:
    """The highest volts of a source of the system that a terminal belongs to.

    Another system that is joined to it by a slip is told as that, and not part by part.
    """
    own_v, most_v = study.volts.get(end, 0.0), study.most_volts.get(end, 0.0)
    if end in sun_volts(study):
        return sun_volts(study)[end]
    return most_v if are_one_system(most_v, own_v) else own_v


def _rated(study: Study) -> Iterator[tuple[About, tuple[str, ...]]]:
    rig = study.rig
    yield from ((device.about, broken_ends(study, device)) for device in rig.devices)
    yield from ((panel.about, (panel.feed, panel.bus)) for panel in rig.panels)
    yield from ((load.about, (load.plus,)) for load in rig.loads)
    yield from ((bar.about, (bar.terminal,)) for bar in rig.junctions)


def kinds_that_break(current_a: float, volts: float, devices: Iterable[Device]) -> str:
    """The kinds that break a current at a voltage, with the ratings that they come in.

    Only those that come as small and as large as the devices in whose place they are to stand;
    empty where none does.
    """
    ratings = [one.rating_a for one in devices if isinstance(one.rating_a, float)]
    words = []
    for family in fuse_families():
        figure = interrupt_a(family, volts)
        if figure is not None and figure.value >= current_a:
            series = fuse_series(family)
            if any(not series[0] <= rating_a <= series[-1] for rating_a in ratings):
                continue
            span = f"{show(series[0], 'A')} to {show(series[-1], 'A')}"
            words.append(f"`{family.replace(' ', '-')}` ({span})")
    return joined_words(words) if words else ""
