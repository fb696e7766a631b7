"""Pages as lists of marks, text that fits, tables and frames.

It knows millimetres and type. It may not know rigs, nor any file format.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.draw.boxes import (
        boxes_of as boxes_of,
    )
    from rigfolio.draw.closer import (
        flow_close as flow_close,
    )
    from rigfolio.draw.extents import (
        extent as extent,
        turn_of as turn_of,
    )
    from rigfolio.draw.fonts import (
        font_data as font_data,
        font_face as font_face,
    )
    from rigfolio.draw.frame import (
        FLOOR_PT as FLOOR_PT,
        MARGIN_MM as MARGIN_MM,
        STRIP_MM as STRIP_MM,
        body as body,
        first_uncut as first_uncut,
        numbered as numbered,
    )
    from rigfolio.draw.lettering import (
        ANCHORS as ANCHORS,
        LINE_HEIGHT as LINE_HEIGHT,
        Box as Box,
        Style as Style,
        block as block,
        fit as fit,
        holds as holds,
        ink_mm as ink_mm,
        plain as plain,
        printable as printable,
        width_mm as width_mm,
    )
    from rigfolio.draw.links import (
        link_areas as link_areas,
        link_goals as link_goals,
        link_places as link_places,
    )
    from rigfolio.draw.page import (
        FIGURE as FIGURE,
        MITRE_LIMIT as MITRE_LIMIT,
        MM_PER_PT as MM_PER_PT,
        PAPERS as PAPERS,
        Circle as Circle,
        Group as Group,
        Line as Line,
        Mark as Mark,
        Page as Page,
        Paper as Paper,
        Pen as Pen,
        Picture as Picture,
        Point as Point,
        Text as Text,
        contrast as contrast,
        corrected as corrected,
        flat as flat,
        groups as groups,
        quarter_turned as quarter_turned,
        rect as rect,
        rgb as rgb,
        scale_page as scale_page,
        shift as shift,
        spoken_as as spoken_as,
    )
    from rigfolio.draw.paragraphs import (
        pieces as pieces,
    )
    from rigfolio.draw.report_table import (
        Setting as Setting,
        columns_of as columns_of,
        rows_of as rows_of,
    )
    from rigfolio.draw.roles import (
        CellPlace as CellPlace,
        Kind as Kind,
        Role as Role,
    )
    from rigfolio.draw.rulers import (
        FULL_SIZE as FULL_SIZE,
        measure as measure,
        ruler as ruler,
    )
    from rigfolio.draw.striped import (
        conductor as conductor,
        patch as patch,
    )
    from rigfolio.draw.stroke import (
        dashes as dashes,
        outlines as outlines,
        upright_box as upright_box,
    )
    from rigfolio.draw.symbols import (
        BAR as BAR,
        PLUS_RIGHT as PLUS_RIGHT,
        STROKE as STROKE,
        SYMBOLS as SYMBOLS,
        chassis as chassis,
        dot as dot,
        minus_sign as minus_sign,
        mirrored as mirrored,
        plus_sign as plus_sign,
        reference as reference,
        terminal as terminal,
        unknown_end as unknown_end,
    )
    from rigfolio.draw.table import (
        Cell as Cell,
        Column as Column,
        Row as Row,
        Swatch as Swatch,
        Table as Table,
        flow as flow,
        flow_on as flow_on,
        holds_all as holds_all,
        prose as prose,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        boxes="boxes_of",
        fonts="font_data font_face",
        frame="FLOOR_PT MARGIN_MM STRIP_MM body first_uncut numbered",
        closer="flow_close",
        extents="extent turn_of",
        lettering="ANCHORS Box LINE_HEIGHT Style block fit holds ink_mm plain printable width_mm",
        links="link_areas link_goals link_places",
        page="Circle FIGURE Group Line MITRE_LIMIT MM_PER_PT Mark PAPERS Page Paper Pen Picture "
        "Point Text contrast corrected flat groups quarter_turned rect rgb scale_page "
        "shift spoken_as",
        paragraphs="pieces",
        report_table="Setting columns_of rows_of",
        roles="CellPlace Kind Role",
        rulers="FULL_SIZE measure ruler",
        striped="conductor patch",
        stroke="dashes outlines upright_box",
        symbols="BAR PLUS_RIGHT STROKE SYMBOLS chassis dot minus_sign mirrored "
        "plus_sign reference terminal unknown_end",
        table="Cell Column Row Swatch Table flow flow_on holds_all prose",
    )
