"""The work at a panel: slot order, what to buy, what to cut and crimp, work plan, rows of a survey.

It knows the rig and its answers. It may not know paper.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.swap.changed import (
        work_since as work_since,
    )
    from rigfolio.swap.connection import (
        Connection as Connection,
        connections as connections,
    )
    from rigfolio.swap.notes import (
        notes_about as notes_about,
        notes_at as notes_at,
        notes_elsewhere as notes_elsewhere,
        notes_of as notes_of,
    )
    from rigfolio.swap.plan import (
        CAUTIONS as CAUTIONS,
        work as work,
        work_in_hand as work_in_hand,
    )
    from rigfolio.swap.power import (
        Task as Task,
        WorkPart as WorkPart,
    )
    from rigfolio.swap.purchases import (
        Marks as Marks,
        Pick as Pick,
        picks as picks,
        picks_in_turn as picks_in_turn,
    )
    from rigfolio.swap.readings import (
        ReadingLine as ReadingLine,
        ReadingStage as ReadingStage,
        ReadingStep as ReadingStep,
        how_to_read as how_to_read,
        is_off as is_off,
        off_remarks as off_remarks,
        point_of as point_of,
        reading_stages as reading_stages,
        readings_remarks as readings_remarks,
        readings_rest_on as readings_rest_on,
        readings_table as readings_table,
        told_by_part as told_by_part,
        told_of_circuit as told_of_circuit,
    )
    from rigfolio.swap.repairs import (
        work_elsewhere as work_elsewhere,
    )
    from rigfolio.swap.retest import (
        wanted_since as wanted_since,
    )
    from rigfolio.swap.roof import (
        every_stage as every_stage,
        sheet_stages as sheet_stages,
    )
    from rigfolio.swap.rows import (
        SurveyRow as SurveyRow,
        all_rows as all_rows,
        other_rows as other_rows,
        panel_rows as panel_rows,
    )
    from rigfolio.swap.slots import (
        DEFAULT_PITCH_M as DEFAULT_PITCH_M,
        Arrangement as Arrangement,
        Places as Places,
        Seat as Seat,
        arrange as arrange,
        arranged as arranged,
    )
    from rigfolio.swap.spares import (
        spares_to_carry as spares_to_carry,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        changed="work_since",
        connection="Connection connections",
        notes="notes_about notes_at notes_elsewhere notes_of",
        plan="CAUTIONS work work_in_hand",
        power="Task WorkPart",
        purchases="Marks Pick picks picks_in_turn",
        spares="spares_to_carry",
        readings="ReadingLine ReadingStage ReadingStep how_to_read is_off off_remarks "
        "point_of reading_stages readings_remarks readings_rest_on readings_table "
        "told_of_circuit told_by_part",
        repairs="work_elsewhere",
        retest="wanted_since",
        roof="every_stage sheet_stages",
        rows="SurveyRow all_rows other_rows panel_rows",
        slots="Arrangement DEFAULT_PITCH_M Places Seat arrange arranged",
    )
