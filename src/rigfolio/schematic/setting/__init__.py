"""Words of the diagram with their room, and the place of everything from left to right.

It answers what is written at each piece, and how far apart things stand. It draws nothing.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.schematic.setting.columns import (
        Columns as Columns,
        columns_of as columns_of,
        pin_name as pin_name,
    )
    from rigfolio.schematic.setting.courses import (
        ASIDE_MM as ASIDE_MM,
        Course as Course,
        Stop as Stop,
        edge_of as edge_of,
        extents as extents,
        is_pin as is_pin,
    )
    from rigfolio.schematic.setting.facts import (
        device_symbol as device_symbol,
        end_text as end_text,
        load_symbol as load_symbol,
    )
    from rigfolio.schematic.setting.notes import (
        Notes as Notes,
        notes_of as notes_of,
    )
    from rigfolio.schematic.setting.packing import (
        LONG_MM as LONG_MM,
        Extent as Extent,
        packed as packed,
    )
    from rigfolio.schematic.setting.ruler import (
        AFTER_MM as AFTER_MM,
        BEFORE_MM as BEFORE_MM,
        BOX_MM as BOX_MM,
        FUSE_MM as FUSE_MM,
        HALF_MM as HALF_MM,
        NAME_MM as NAME_MM,
        PAD_MM as PAD_MM,
        PANEL_LEFT_MM as PANEL_LEFT_MM,
        PIN_WORDS_MM as PIN_WORDS_MM,
        Ruler as Ruler,
        Set as Set,
        is_slot_piece as is_slot_piece,
    )
    from rigfolio.schematic.setting.speaker import (
        Speaker as Speaker,
        speaker_of as speaker_of,
        warned_of as warned_of,
    )
    from rigfolio.schematic.setting.spoken import (
        words_at as words_at,
    )
    from rigfolio.schematic.setting.style import (
        FLAG_PAD_MM as FLAG_PAD_MM,
        STYLES as STYLES,
        Words as Words,
        WordStyle as WordStyle,
        broken as broken,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        columns="Columns columns_of pin_name",
        courses="ASIDE_MM Course Stop edge_of extents is_pin",
        facts="device_symbol end_text load_symbol",
        notes="Notes notes_of",
        packing="Extent LONG_MM packed",
        ruler="AFTER_MM BEFORE_MM BOX_MM FUSE_MM HALF_MM NAME_MM PAD_MM PANEL_LEFT_MM "
        "PIN_WORDS_MM Ruler Set is_slot_piece",
        speaker="Speaker speaker_of warned_of",
        spoken="words_at",
        style="FLAG_PAD_MM STYLES WordStyle Words broken",
    )
