"""Which batteries get colder than they may be charged at, while something charges them."""

from rigfolio.books import charge_least_c
from rigfolio.findings import Citation
from rigfolio.isolation import in_use
from rigfolio.model import Source
from rigfolio.record import record
from rigfolio.study import Study, once


@record
class ColdBank:
    """A battery that gets as cold as `coldest_c`, and bears no charge below `least_c` [°C].

    `source` says where the limit is from; None where the text states it of this battery: then its
    own electronics refuse the charge.
    """

    battery: Source
    chargers: tuple[Source, ...]
    coldest_c: float
    least_c: float
    source: Citation | None


@once
def cold_banks(study: Study) -> tuple[ColdBank, ...]:
    """Every battery that something charges and that gets colder than it may be charged at.

    None where the text does not say how cold it gets.
    """
    coldest_c = study.rig.coldest_c
    if coldest_c is None:
        return ()
    bars = in_use(study.rig).bars
    found = []
    for battery in study.rig.sources:
        usual = charge_least_c(battery.chemistry) if battery.stores else None
        least_c, source = battery.charge_least_c, None
        if least_c is None and usual is not None:
            least_c, source = usual.value, usual.source
        if not battery.stores or least_c is None or coldest_c >= least_c:
            continue
        reached = study.net.walk([battery.plus], bars)
        charging = (one for one in study.rig.sources if one.traits.charges)
        if chargers := tuple(one for one in charging if one.plus in reached):
            found.append(ColdBank(battery, chargers, coldest_c, least_c, source))
    return tuple(found)
