"""Readings of a meter and what was seen, as people write them down, tied to parts of a rig.

It knows the rig and how a person names its parts. It may not know what should have been read.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.reading.logs.entries import (
        date_of as date_of,
    )
    from rigfolio.reading.logs.meter import (
        read_log as read_log,
    )
    from rigfolio.reading.logs.readings_table import (
        ENTRY as ENTRY,
        READ as READ,
        UNIT as UNIT,
        entries_of as entries_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        entries="date_of",
        meter="read_log",
        readings_table="ENTRY READ UNIT entries_of",
    )
