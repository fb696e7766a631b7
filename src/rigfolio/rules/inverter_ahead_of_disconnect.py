"""An inverter stays live with every battery disconnect open.

*Why:* in a boat the switch is turned when nobody is aboard, or in a fire. An inverter ahead of it
drains the bank meanwhile, and makes mains voltage behind a switch that says off.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.network import Edge
from rigfolio.rule import Rule
from rigfolio.study import Study
from rigfolio.wording import label_of, listed

RULE = Rule(
    "inverter-ahead-of-disconnect",
    Severity.ADVICE,
    Citation("the battery switch of a boat takes the inverter off as well", "common practice"),
    frozenset({"boat"}),
)


def check(study: Study) -> Iterator[Finding]:
    """Every inverter that a battery feeds with all disconnects and selectors open."""
    switches = [device for device in study.rig.devices if device.traits.parts_rig]
    inverters = [
        load for load in study.rig.loads if load.nature == "inverter" and not load.always_on
    ]
    if not switches or not inverters:
        return
    batteries = [one for one in study.rig.sources if one.stores]
    out = study.net.walk([one.plus for one in batteries], _is_switch)
    back = study.net.walk([one.minus for one in batteries], _is_switch)
    names = list(dict.fromkeys(device.about.name for device in switches))
    for load in inverters:
        if load.plus in out and load.minus in back:
            yield RULE.finding(
                f"inverter `{label_of(load)}` stays live with {listed(names)} open",
                load.about.span,
                others=[(switches[0].about.span, "does not take it off")],
                fix=Fix("feed it from behind the disconnect, if that is made for what it draws"),
            )


def _is_switch(edge: Edge) -> bool:
    return isinstance(edge, Device) and edge.traits.parts_rig
