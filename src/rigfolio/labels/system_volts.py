"""The volts of what hangs at some terminals, where a rig has several systems or a sun side."""

from collections.abc import Iterable

from rigfolio.protection import sun_volts
from rigfolio.study import Study, once
from rigfolio.units import show, show_load


def volts_at(study: Study, terminals: Iterable[str]) -> str:
    """The volts of some terminals in a rig of several systems; empty in all others.

    A source that is within a sixth of the system is said to be at its volts: a bank of 51.2 V is
    `48 V`. What modules alone feed has words of its own: `daylight_words`.
    """
    terminals = tuple(terminals)
    if not _has_levels(study) or not study.sunlit.isdisjoint(terminals):
        return ""
    found = [_level_v(study, study.volts[end]) for end in terminals if end in study.volts]
    return show(max(found), "V") if found else ""


@once
def _has_levels(study: Study) -> bool:
    """Whether a rig has several voltages; the sun side is told by words of its own."""
    volts = (volts for end, volts in study.volts.items() if end not in study.sunlit)
    return len({_level_v(study, each) for each in volts}) > 1


def daylight_words(study: Study, terminals: Iterable[str]) -> str:
    """What is minded where modules alone feed: `live in daylight, 54.4 V cold`; else empty."""
    ends = [end for end in terminals if end in study.sunlit]
    known = [sun_volts(study)[end] for end in ends if end in sun_volts(study)]
    volts = f", {show_load(max(known), 'V')} cold" if known else ""
    return f"live in daylight{volts}" if ends else ""


def _level_v(study: Study, volts: float) -> float:
    system_v = study.rig.system_v
    return system_v if abs(volts - system_v) * 6.0 <= system_v else volts
