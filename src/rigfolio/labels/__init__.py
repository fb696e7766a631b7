"""Labels, tags, tapes and photographs as marks, and the rows of what stands outside panels.

It knows a rig and how text is fitted. It may not know pages or files.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.labels.by_coils import (
        coil_words as coil_words,
    )
    from rigfolio.labels.content import (
        DEFAULT_PITCH_MM as DEFAULT_PITCH_MM,
        SlotLabel as SlotLabel,
        changed_labels as changed_labels,
        every_label as every_label,
        gone_devices as gone_devices,
        labelled_as as labelled_as,
        labels_of as labels_of,
        loose_labels as loose_labels,
        slots_now as slots_now,
        with_note as with_note,
    )
    from rigfolio.labels.devices import (
        DeviceRow as DeviceRow,
        brake_words as brake_words,
        device_rows as device_rows,
        undeviced_circuits as undeviced_circuits,
    )
    from rigfolio.labels.face import (
        drawn as drawn,
        is_whole as is_whole,
        lacking as lacking,
        note_labels as note_labels,
        rating_pt as rating_pt,
    )
    from rigfolio.labels.miniature import (
        small_face as small_face,
        small_slot_mm as small_slot_mm,
    )
    from rigfolio.labels.panels import (
        feed_words as feed_words,
        panel_title as panel_title,
    )
    from rigfolio.labels.photo import (
        colour_words as colour_words,
        depth_mm as depth_mm,
        mark_words as mark_words,
        named_beside as named_beside,
        parted as parted,
        picture_marks as picture_marks,
    )
    from rigfolio.labels.system_volts import (
        volts_at as volts_at,
    )
    from rigfolio.labels.tag_faces import (
        LENGTH_MM as LENGTH_MM,
        TagCut as TagCut,
        cut_of as cut_of,
        drawn_tag as drawn_tag,
    )
    from rigfolio.labels.tags import (
        GRAVE as GRAVE,
        TaggedWire as TaggedWire,
        changed_tags as changed_tags,
        guard_told as guard_told,
        tagged_wires as tagged_wires,
    )
    from rigfolio.labels.tape import (
        Band as Band,
        TapeLength as TapeLength,
        TapePiece as TapePiece,
        band_of as band_of,
        printed as printed,
    )
    from rigfolio.labels.tapes import (
        panel_strips as panel_strips,
        tape_labels as tape_labels,
        tape_pieces as tape_pieces,
        tape_strips as tape_strips,
    )
    from rigfolio.labels.type import (
        FLOOR_PT as FLOOR_PT,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        by_coils="coil_words",
        content="DEFAULT_PITCH_MM SlotLabel changed_labels every_label gone_devices "
        "labelled_as labels_of loose_labels slots_now with_note",
        devices="DeviceRow brake_words device_rows undeviced_circuits",
        face="drawn is_whole lacking note_labels rating_pt",
        panels="feed_words panel_title",
        photo="colour_words depth_mm mark_words named_beside parted picture_marks",
        miniature="small_face small_slot_mm",
        system_volts="volts_at",
        tag_faces="LENGTH_MM TagCut cut_of drawn_tag",
        tags="GRAVE TaggedWire changed_tags guard_told tagged_wires",
        tape="Band TapePiece TapeLength band_of printed",
        tapes="panel_strips tape_labels tape_pieces tape_strips",
        type="FLOOR_PT",
    )
