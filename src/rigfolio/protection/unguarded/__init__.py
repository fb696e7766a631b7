"""How far a conductor runs before the device that protects it, and which one fuse serves several.

It knows what can flow into the ends of conductors. It may not know rules.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.protection.unguarded.missing import (
        MissingFuse as MissingFuse,
        behind_a_missing_fuse as behind_a_missing_fuse,
        missing_fuses as missing_fuses,
    )
    from rigfolio.protection.unguarded.ways import (
        FarSide as FarSide,
        FedFrom as FedFrom,
        far_side as far_side,
        fed_from as fed_from,
        is_wire_or_guard as is_wire_or_guard,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        missing="MissingFuse behind_a_missing_fuse missing_fuses",
        ways="FarSide FedFrom far_side fed_from is_wire_or_guard",
    )
