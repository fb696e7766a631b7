"""Files, includes and tables as what the words of the language share.

It knows lines and drafts. It may not know answers.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.reading.files import (
        LARGEST_FILE as LARGEST_FILE,
        MOST_ERRORS as MOST_ERRORS,
        MOST_FILES as MOST_FILES,
        SHOWN_STDIN as SHOWN_STDIN,
        STDIN as STDIN,
        RigTexts as RigTexts,
        first_errors as first_errors,
        plain_bytes as plain_bytes,
        read_alone as read_alone,
        read_rig as read_rig,
    )
    from rigfolio.reading.hints import (
        in_our_words as in_our_words,
        trade_words as trade_words,
    )
    from rigfolio.reading.loads import (
        INVERTER as INVERTER,
        LOAD as LOAD,
        inverter_said as inverter_said,
        load_problems as load_problems,
        load_said as load_said,
    )
    from rigfolio.reading.logs import (
        ENTRY as ENTRY,
        READ as READ,
        UNIT as UNIT,
        date_of as date_of,
        entries_of as entries_of,
        read_log as read_log,
    )
    from rigfolio.reading.series import (
        FAMILY as FAMILY,
        FOUND as FOUND,
        INTERRUPTS as INTERRUPTS,
        POLES as POLES,
        POSITIONS as POSITIONS,
        RESETS as RESETS,
        RESTS as RESTS,
        SERIES as SERIES,
        series_said as series_said,
    )
    from rigfolio.reading.sources import (
        OUTPUT as OUTPUT,
        source_said as source_said,
    )
    from rigfolio.reading.spelling import (
        one_spelling as one_spelling,
    )
    from rigfolio.reading.tables import (
        LARGEST as LARGEST,
        not_read as not_read,
        plain_text as plain_text,
        read_table as read_table,
        stored as stored,
    )
    from rigfolio.reading.text import (
        context as context,
        goes_on as goes_on,
        known_word as known_word,
        own_name as own_name,
        read_blocks as read_blocks,
        reference as reference,
        statement as statement,
    )
    from rigfolio.reading.wires import (
        add_wire as add_wire,
    )
    from rigfolio.reading.wiring import (
        CONDUCTOR as CONDUCTOR,
        FUSE as FUSE,
        fuse_problems as fuse_problems,
        fuse_said as fuse_said,
        merged as merged,
        wire_facts as wire_facts,
    )
    from rigfolio.reading.word import (
        CALLED as CALLED,
        COMMON as COMMON,
        CONDITION as CONDITION,
        Said as Said,
        Word as Word,
        needs as needs,
        problem as problem,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        files="LARGEST_FILE MOST_ERRORS MOST_FILES RigTexts SHOWN_STDIN STDIN first_errors "
        "plain_bytes read_alone read_rig",
        hints="in_our_words trade_words",
        loads="INVERTER LOAD inverter_said load_problems load_said",
        series="FAMILY FOUND INTERRUPTS POLES POSITIONS RESETS RESTS SERIES series_said",
        sources="OUTPUT source_said",
        spelling="one_spelling",
        tables="LARGEST not_read plain_text read_table stored",
        text="context goes_on known_word own_name read_blocks reference statement",
        wires="add_wire",
        wiring="CONDUCTOR FUSE fuse_problems fuse_said merged wire_facts",
        word="CONDITION CALLED COMMON Said Word needs problem",
        logs="ENTRY READ UNIT date_of entries_of read_log",
    )
