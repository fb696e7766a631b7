"""A filled survey: its headings, its cells as people write them, and what it does to a text.

It knows the words of the language. It may not know files or commands.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.surveys.columns import (
        COLUMNS as COLUMNS,
        Column as Column,
    )
    from rigfolio.surveys.filling import (
        Filled as Filled,
        fill as fill,
    )
    from rigfolio.surveys.rows import (
        Survey as Survey,
        read_survey as read_survey,
    )
    from rigfolio.surveys.slots import (
        written_slot as written_slot,
    )
    from rigfolio.surveys.told import (
        Spelt as Spelt,
        Surveyed as Surveyed,
        Trouble as Trouble,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        columns="COLUMNS Column",
        filling="Filled fill",
        rows="Survey read_survey",
        slots="written_slot",
        told="Spelt Surveyed Trouble",
    )
