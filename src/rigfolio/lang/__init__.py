"""Lines of text into items, facts and edits, with true places.

It knows the shape of a line. It may not know what a word means to a rig.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.lang.amounts import (
        SIZE_UNITS as SIZE_UNITS,
    )
    from rigfolio.lang.diagnostics import (
        instead as instead,
        taken as taken,
    )
    from rigfolio.lang.edits import (
        apply as apply,
        edited as edited,
        still_holds as still_holds,
    )
    from rigfolio.lang.fact import (
        Context as Context,
        Fact as Fact,
        Facts as Facts,
        Given as Given,
        One as One,
        Value as Value,
        facts as facts,
        moved as moved,
    )
    from rigfolio.lang.lines import (
        Block as Block,
        TextLine as TextLine,
        Token as Token,
        blocks as blocks,
        error as error,
        is_deeper as is_deeper,
    )
    from rigfolio.lang.parser import (
        BLANKS as BLANKS,
        grammar_page as grammar_page,
        parse as parse,
    )
    from rigfolio.lang.passage import (
        READING_FORMS as READING_FORMS,
        NotReadError as NotReadError,
        Passage as Passage,
        bare as bare,
        entry_lines as entry_lines,
        hidden as hidden,
        outside as outside,
    )
    from rigfolio.lang.patterns import (
        STUDS as STUDS,
        TERMINALS as TERMINALS,
        match as match,
    )
    from rigfolio.lang.reader import (
        Reader as Reader,
        parted as parted,
    )
    from rigfolio.lang.readings import (
        bare_readings as bare_readings,
        reading_amount as reading_amount,
    )
    from rigfolio.lang.typed_reading import (
        BLANK_UNITS as BLANK_UNITS,
        OPEN as OPEN,
        meter_figure as meter_figure,
        spellings as spellings,
        tidied as tidied,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        amounts="SIZE_UNITS",
        edits="apply edited still_holds",
        fact="Context Fact Facts Given One Value facts moved",
        lines="Block TextLine Token blocks error is_deeper",
        typed_reading="BLANK_UNITS OPEN meter_figure spellings tidied",
        parser="BLANKS grammar_page parse",
        patterns="STUDS TERMINALS match",
        reader="Reader parted",
        readings="bare_readings reading_amount",
        passage="NotReadError READING_FORMS Passage bare entry_lines hidden outside",
        diagnostics="instead taken",
    )
