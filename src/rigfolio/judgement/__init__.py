"""A rig file read and judged under a rule book, and what was found as text or JSON.

It asks every rule. It may not know commands, sheets or where documents go.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.judgement.crowding import (
        see_weighed as see_weighed,
    )
    from rigfolio.judgement.excerpt import (
        Lines as Lines,
    )
    from rigfolio.judgement.folders import (
        INCLUDE as INCLUDE,
        included_path as included_path,
        rig_files as rig_files,
    )
    from rigfolio.judgement.kept import (
        kept_verdicts as kept_verdicts,
    )
    from rigfolio.judgement.many import (
        FIRST as FIRST,
        WORTH_A_PROCESS as WORTH_A_PROCESS,
        check_many as check_many,
        each_in_turn as each_in_turn,
    )
    from rigfolio.judgement.mending import (
        combined as combined,
        difference as difference,
        differences as differences,
        mended as mended,
        refuse_types as refuse_types,
        written_files as written_files,
    )
    from rigfolio.judgement.objects import (
        as_json as as_json,
        joined_json as joined_json,
        object_of_file as object_of_file,
        refused_json as refused_json,
    )
    from rigfolio.judgement.places import (
        by_place as by_place,
        places_of as places_of,
    )
    from rigfolio.judgement.report import (
        CAUTION as CAUTION,
        as_text as as_text,
        one_message as one_message,
        summary as summary,
    )
    from rigfolio.judgement.result import (
        Result as Result,
        check as check,
        digest as digest,
        job_of as job_of,
        understood as understood,
    )
    from rigfolio.judgement.sarif import (
        as_sarif as as_sarif,
    )
    from rigfolio.judgement.short import (
        as_lines as as_lines,
        as_summary as as_summary,
    )
    from rigfolio.judgement.trial import (
        proved as proved,
        tried as tried,
    )
    from rigfolio.judgement.verdict import (
        Asking as Asking,
        RigVerdict as RigVerdict,
        VerdictForm as VerdictForm,
        total as total,
        verdict_of as verdict_of,
    )
    from rigfolio.judgement.whole import (
        whole_of as whole_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        crowding="see_weighed",
        excerpt="Lines",
        folders="INCLUDE included_path rig_files",
        kept="kept_verdicts",
        many="FIRST WORTH_A_PROCESS check_many each_in_turn",
        mending="combined difference differences mended refuse_types written_files",
        places="by_place places_of",
        objects="as_json joined_json object_of_file refused_json",
        report="CAUTION as_text one_message summary",
        result="Result check digest job_of understood",
        sarif="as_sarif",
        short="as_lines as_summary",
        trial="proved tried",
        verdict="Asking RigVerdict VerdictForm total verdict_of",
        whole="whole_of",
    )
