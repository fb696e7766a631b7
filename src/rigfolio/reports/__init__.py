"""What an answer says, typed once and printed as lines for a terminal or as JSON for programs.

It knows words and amounts, and neither rigs nor the answers that are given.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.reports.cautions import (
        COLOUR_TELLS as COLOUR_TELLS,
        DEAD as DEAD,
        DEFERS as DEFERS,
        FIRST as FIRST,
        HANDS as HANDS,
        JUDGED as JUDGED,
        MEASURE as MEASURE,
        PAGE_DIFFERS as PAGE_DIFFERS,
        PAPER_DIFFERS as PAPER_DIFFERS,
        REASONED as REASONED,
        SIGNED as SIGNED,
        SLIPPED as SLIPPED,
    )
    from rigfolio.reports.cells import (
        Amount as Amount,
        PlaceName as PlaceName,
        Plain as Plain,
        Value as Value,
        Wording as Wording,
        added_up as added_up,
        in_words as in_words,
        plain as plain,
    )
    from rigfolio.reports.escapes import (
        clean as clean,
        clean_lines as clean_lines,
        unheaped as unheaped,
        width as width,
        written_words as written_words,
    )
    from rigfolio.reports.objects import (
        facts_of as facts_of,
        json_text as json_text,
        object_of as object_of,
        object_text as object_text,
    )
    from rigfolio.reports.parts import (
        AnswerOf as AnswerOf,
        Chapter as Chapter,
        Field as Field,
        Item as Item,
        Listing as Listing,
        Paragraph as Paragraph,
        Part as Part,
        Report as Report,
        ReportColumn as ReportColumn,
        ReportTable as ReportTable,
        Sections as Sections,
        items as items,
        remarks as remarks,
    )
    from rigfolio.reports.printing import (
        printed as printed,
    )
    from rigfolio.reports.terminal import (
        WIDE as WIDE,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        cautions="COLOUR_TELLS DEAD DEFERS FIRST HANDS JUDGED MEASURE PAGE_DIFFERS "
        "PAPER_DIFFERS REASONED SIGNED SLIPPED",
        cells="Amount PlaceName Plain Value Wording in_words plain added_up",
        escapes="clean clean_lines unheaped width written_words",
        objects="facts_of json_text object_of object_text",
        parts="AnswerOf Chapter Field Item Listing Paragraph Part Report ReportColumn "
        "ReportTable Sections items remarks",
        printing="printed",
        terminal="WIDE",
    )
