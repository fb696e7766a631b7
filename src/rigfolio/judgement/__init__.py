"""A rig file read and judged under a rule book, and what was found as text or JSON.

It asks every rule. It may not know commands, sheets or where documents go.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.judgement.report import (
        CAUTION as CAUTION,
        as_json as as_json,
        as_text as as_text,
        one_message as one_message,
        summary as summary,
    )
    from rigfolio.judgement.result import (
        Result as Result,
        check as check,
        check_many as check_many,
        job_of as job_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        report="CAUTION as_json as_text one_message summary",
        result="Result check check_many job_of",
    )
