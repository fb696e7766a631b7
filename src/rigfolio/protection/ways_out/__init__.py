"""Ways out that serve the wire and the load: another rating, copper, a fuse further on.

It knows what wires bear and what their loads ask for. It may not know rules, nor what else a way
out would break: who offers one has it tried.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.protection.ways_out.choice import (
        fuse_or_copper as fuse_or_copper,
    )
    from rigfolio.protection.ways_out.left import (
        OUTSIDE as OUTSIDE,
        copper_left as copper_left,
        fuse_left as fuse_left,
        led_elsewhere as led_elsewhere,
        or_parted as or_parted,
        parted as parted,
        section_left as section_left,
    )
    from rigfolio.protection.ways_out.own_fuse import (
        fuse_near as fuse_near,
        near_a as near_a,
        own_fuse_words as own_fuse_words,
    )
    from rigfolio.protection.ways_out.rating import (
        other_rating as other_rating,
        smaller_device as smaller_device,
    )
    from rigfolio.protection.ways_out.refit import (
        refit_words as refit_words,
    )
    from rigfolio.protection.ways_out.thicker import (
        copper as copper,
        need_of as need_of,
        other_gauge as other_gauge,
        unread_source as unread_source,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        choice="fuse_or_copper",
        left="OUTSIDE copper_left fuse_left led_elsewhere or_parted parted section_left",
        own_fuse="fuse_near near_a own_fuse_words",
        rating="other_rating smaller_device",
        refit="refit_words",
        thicker="copper need_of other_gauge unread_source",
    )
