"""What an answer says, typed once and printed as lines for a terminal or as JSON for programs.

It knows words and amounts, and neither rigs nor the answers that are given.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.reports.cautions import (
        DEFERS as DEFERS,
        HANDS as HANDS,
        JUDGED as JUDGED,
        MEASURE as MEASURE,
    )
    from rigfolio.reports.cells import (
        Amount as Amount,
        Place as Place,
        Value as Value,
        Wording as Wording,
        in_words as in_words,
        plain as plain,
    )
    from rigfolio.reports.escapes import (
        clean as clean,
    )
    from rigfolio.reports.objects import (
        FORMAT as FORMAT,
        as_json as as_json,
        json_text as json_text,
    )
    from rigfolio.reports.parts import (
        Column as Column,
        Fact as Fact,
        Item as Item,
        Listing as Listing,
        Part as Part,
        Remark as Remark,
        Report as Report,
        Section as Section,
        Sections as Sections,
        Table as Table,
        items as items,
        remarks as remarks,
    )
    from rigfolio.reports.printing import (
        printed as printed,
    )
    from rigfolio.reports.terminal import (
        WIDE as WIDE,
        as_lines as as_lines,
        as_text as as_text,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        cautions="DEFERS HANDS JUDGED MEASURE",
        cells="Amount Place Value Wording in_words plain",
        escapes="clean",
        objects="FORMAT as_json json_text",
        parts="Column Fact Item Listing Part Remark Report Section Sections Table items remarks",
        printing="printed",
        terminal="WIDE as_lines as_text",
    )
