"""What makes a fuse or breaker unfit for where it stands, and which of them are not put to use.

Labels, sheets, plans and readings ask here, so that none of them shows one as if it belonged there.
"""

from collections.abc import Iterator

from rigfolio.findings import Severity, Unknown
from rigfolio.model import Device
from rigfolio.network import edge_name
from rigfolio.protection import is_device_too_large, is_unproven, kind_too_low, rated_too_low
from rigfolio.record import record
from rigfolio.rule import judged
from rigfolio.shorts.firsts import firsts_of
from rigfolio.shorts.in_turn import faults_of
from rigfolio.shorts.sources import knows_shorts
from rigfolio.study import Study, once
from rigfolio.units import show_limit, show_load
from rigfolio.wording import rating_and_kind

_WEAK = frozenset({"interrupt-too-low", "branch-interrupt-low"})
_VOLTS = frozenset({"voltage-rating-low"})
_LITTLE, _FEW = "BREAKS TOO LITTLE", "FOR TOO FEW VOLTS"
UNFIT_MARKS = (_LITTLE, _FEW)
"""What stands on labels and tags of a device that is not fit for where it is."""


@record
class Unfit:
    """What a device is not fit for, whatever its rating.

    `mark` stands on labels, `why` says it with its figures; `is_danger` of one that may not go in.
    """

    mark: str
    why: str
    is_danger: bool


@once
def unfit_of(study: Study, device: Device) -> tuple[Unfit, ...]:
    """What a fuse or breaker itself is not fit for; nothing of what somebody accepted.

    That it breaks too little is no danger where another one that opens stands before it.
    """
    return tuple(_unfit(study, device)) if device.protects else ()


def _unfit(study: Study, device: Device) -> Iterator[Unfit]:
    little = breaks_too_little_words(study, device)
    if little:
        yield Unfit(_LITTLE, little, _is_first(study, device))
    few = _too_few_volts_words(study, device)
    if few and not _is_accepted(study, device, _VOLTS):
        yield Unfit(_FEW, few, is_danger=True)


def breaks_too_little_words(study: Study, device: Device) -> str:
    """That a device outside panels interrupts less than can flow beside it; empty where not.

    Of one of which somebody accepted that, nothing is said.
    """
    if device.in_slot or not device.protects or not knows_shorts(study):
        return ""
    found = faults_of(study).interrupt(device)
    if found is None or found.may is not False or found.rating is None:
        return ""
    if _is_accepted(study, device, _WEAK):
        return ""
    return f"interrupts {show_limit(found.rating.value, 'A')}, {found.flows} can flow"


def _is_accepted(study: Study, device: Device, rules: frozenset[str]) -> bool:
    places = (device.about.span, device.rating_span)
    return any(
        one.accepted is not None and one.rule in rules and one.at.span in places
        for one in judged(study)
    )


def _is_first(study: Study, device: Device) -> bool:
    """Whether nothing that opens stands before a device that breaks too little."""
    first = firsts_of(study).get(edge_name(device))
    if first is None:
        return False
    found = faults_of(study).interrupt(device, first.beyond)
    is_weak = found is not None and found.may is False
    return is_weak and any(
        one.rule in _WEAK and one.severity is Severity.DANGER and one.accepted is None
        for one in judged(study)
    )


def _too_few_volts_words(study: Study, device: Device) -> str:
    """That a device is rated or made for fewer volts than its circuit has; empty where not."""
    for low in rated_too_low(study):
        if low.about == device.about and low.about.rated_v is not None:
            return _volts_words("rated", low.about.rated_v, low.system_v)
    kind = kind_too_low(study, device)
    return "" if kind is None else _volts_words("made for", kind.made.rated_v, kind.system_v)


def _volts_words(how: str, rated_v: float, system_v: float) -> str:
    return f"{how} {show_limit(rated_v, 'V')}, its circuit has {show_load(system_v, 'V')}"


def warning_marks(study: Study, device: Device) -> tuple[str, ...]:
    """What stands behind the rating of a device that does not belong where it is."""
    large = ("TOO LARGE",) if is_device_too_large(study, device) else ()
    return (*large, *(one.mark for one in unfit_of(study, device)))


def is_barred(study: Study, device: Device) -> bool:
    """Whether a device is not put to use: too large, a danger itself, or not known yet.

    What guards more than a circuit and has not been read is in use: it is to be read.
    """
    if is_unproven(study, device) or is_device_too_large(study, device):
        return True
    return any(one.is_danger for one in unfit_of(study, device))


def barred_words(study: Study, device: Device) -> str:
    """What stands in place of a device that is not put to use, wherever it would be."""
    barred = "THE BREAKER STAYS OFF" if device.traits.resets else "NO FUSE GOES IN"
    if isinstance(device.rating_a, Unknown):
        return f"{barred} until its wire and load are known"
    if is_device_too_large(study, device):
        return f"{barred}: {rating_and_kind(device)} is too large for its slot or its wire"
    grave = [one.why for one in unfit_of(study, device) if one.is_danger]
    if grave:
        return f"{barred}: {rating_and_kind(device)}, {'; '.join(grave)}"
    return f"{barred} until the size of its wire is known"
