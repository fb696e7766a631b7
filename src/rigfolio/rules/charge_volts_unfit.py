"""A charger gives more volts than the chemistry of the battery takes.

*Why:* gel dries out for good, the electronics of a lithium battery switch it off under charge, and
an alternator that loses its battery so burns its diodes. AGM takes it only now and then.
"""

from collections.abc import Iterator

from rigfolio.books import ChargeVolts, are_one_system, charge_volts
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Source
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.units import is_over, show_limit, show_load

RULE = Rule(
    "charge-volts-unfit",
    Severity.FAULT,
    Citation("set points of chargers against what a chemistry takes", "computed"),
    also=(Severity.ADVICE,),
)


def check(study: Study) -> Iterator[Finding]:
    """Every charging source against every bank that it is joined to, of the same system."""
    banks = [one for one in study.rig.sources if one.stores]
    for source in study.rig.sources:
        reached = study.net.walk([source.plus]) if source.traits.charges else {}
        for bank in banks:
            takes = charge_volts(bank.chemistry, bank.voltage_v)
            is_one = are_one_system(source.voltage_v, bank.voltage_v)
            if takes is None or bank.plus not in reached or not is_one:
                continue
            if is_over(source.voltage_v, takes.usual_v):
                yield _finding(source, bank, takes)


def _finding(source: Source, bank: Source, takes: ChargeVolts) -> Finding:
    name = bank.about.name
    gives = show_load(source.voltage_v, "V")
    most, usual = show_limit(takes.highest_v, "V"), show_limit(takes.usual_v, "V")
    is_advice = not is_over(source.voltage_v, takes.highest_v)
    words = f"{usual} for hours" if is_advice else f"{most} at most"
    return RULE.finding(
        f"`{source.about.name}` gives {gives}, {bank.chemistry} `{name}` takes {words}",
        source.about.span,
        others=[(bank.about.span, f"takes {words}")],
        source=takes.source,
        fix=Fix(
            f"set `{source.about.name}` for {bank.chemistry}, {usual} or less, or as the sheet of "
            f"`{name}` says"
        ),
        numbers=(("charge_v", source.voltage_v), ("usual_v", takes.usual_v),
                 ("highest_v", takes.highest_v)),
        severity=Severity.ADVICE if is_advice else None,
    )  # fmt: skip
