"""It gets colder than a battery may be charged at, and something charges it.

Lithium is harmed by a charge in frost, whatever its volts. Where its own electronics refuse it, as
the text may say, `no charge below 0 degC`, it is not harmed: it stays empty, and what drove into it
loses its battery at that moment. It is judged by the `coldest` that the text tells of the rig; a
battery that is heated, or stands where it does not freeze, may be accepted as it is.

*Why:* metal grows in the cells, which are never what they were; and the sun of a frosty morning
asks nobody.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.operating import ColdBank, cold_banks
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import show
from rigfolio.wording import joined_words, listed

RULE = Rule(
    "charge-in-cold",
    Severity.ADVICE,
    Citation("coldest against what a chemistry may be charged at", "seen"),
)
_STATED = Citation("as stated for this battery, from its maker", "seen")


def check(study: Study) -> Iterator[Finding]:
    """Every battery that something charges and that gets colder than it may be charged at."""
    return (_finding(one) for one in cold_banks(study))


def _finding(one: ColdBank) -> Finding:
    battery, chargers = one.battery, one.chargers
    coldest_c, least_c, source = one.coldest_c, one.least_c, one.source
    name, limit = battery.about.name, show(least_c, "°C")
    names = listed(one.about.name for one in chargers)
    charge = "charges" if len(chargers) == 1 else "charge"
    if source is None:
        may = f"`{name}` takes no charge below {limit}"
        way = (
            f"keep it above {limit}, or reckon with none of that charge on such days; ask what "
            f"{joined_words([f'`{one.about.name}`' for one in chargers], by='or')} does where the "
            "battery is gone at once"
        )
    else:
        may = f"{battery.chemistry} `{name}` may not be charged below {limit}"
        way = (
            f"keep it above {limit}, or what charges it off below that; where its own electronics "
            f"see to it, say so: `no charge below {show(least_c, 'degC')}`"
        )
    return RULE.finding(
        f"{may}, it gets as cold as {show(coldest_c, '°C')}: {names} {charge} it",
        battery.about.span,
        others=[(one.about.span, "charges it") for one in chargers],
        source=source or _STATED,
        fix=Fix(way),
        numbers=(("coldest_c", coldest_c), ("least_c", least_c)),
    )
