"""A state of the rig in words."""

from rigfolio.isolation.conditions import Condition
from rigfolio.isolation.set_to import ANY
from rigfolio.model import OPENS, Rig
from rigfolio.wording import position_words


def settings_words(rig: Rig, condition: Condition) -> str:
    """How the parts that matter stand: `S1 open, C1 off, U1 perhaps on, J1 unplugged`."""
    always = {s.about.name for s in rig.sources if s.stores}
    plugs = {d.about.name for d in rig.devices if d.traits.is_plug}
    words = []
    for one in condition.settings:
        if one.part in always and not one.is_stated:
            continue
        shown = position_words(rig, one.part, one.position)
        if one.part in plugs:
            shown = "unplugged" if shown in OPENS else "plugged in"
        if shown == ANY:
            words.append(f"{one.part} in any position")
            continue
        words.append(f"{one.part} {shown if one.is_sure else f'perhaps {shown}'}")
    return ", ".join(words) or "nothing switched"
