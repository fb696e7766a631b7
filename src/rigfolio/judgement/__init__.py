"""A rig file read and judged under a rule book, and what was found as text or JSON.

It asks every rule. It may not know commands, sheets or where documents go.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.judgement.many import (
        FIRST as FIRST,
        check_many as check_many,
    )
    from rigfolio.judgement.mending import (
        difference as difference,
        mended as mended,
        written_files as written_files,
    )
    from rigfolio.judgement.report import (
        CAUTION as CAUTION,
        as_json as as_json,
        as_summary as as_summary,
        as_text as as_text,
        one_message as one_message,
        summary as summary,
    )
    from rigfolio.judgement.result import (
        Result as Result,
        check as check,
        digest as digest,
        job_of as job_of,
    )
    from rigfolio.judgement.trial import (
        tried as tried,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        many="FIRST check_many",
        mending="difference mended written_files",
        report="CAUTION as_json as_summary as_text one_message summary",
        result="Result check digest job_of",
        trial="tried",
    )
