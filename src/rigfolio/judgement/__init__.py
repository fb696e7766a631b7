"""A rig file read and judged under a rule book, and what was found as text or JSON.

It asks every rule. It may not know commands, sheets or where documents go.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.judgement.crowding import (
        see_weighed as see_weighed,
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
        tried_for_print as tried_for_print,
    )
    from rigfolio.judgement.mending import (
        combined as combined,
        difference as difference,
        differences as differences,
        mended as mended,
        refuse_types as refuse_types,
        written_files as written_files,
    )
    from rigfolio.judgement.messages import (
        CAUTION as CAUTION,
        Lines as Lines,
        as_json as as_json,
        as_lines as as_lines,
        as_sarif as as_sarif,
        as_summary as as_summary,
        as_text as as_text,
        danger_lines as danger_lines,
        joined_json as joined_json,
        object_of_file as object_of_file,
        one_message as one_message,
        places_of as places_of,
        refused_json as refused_json,
        summary as summary,
    )
    from rigfolio.judgement.result import (
        Result as Result,
        check as check,
        digest as digest,
        job_of as job_of,
        understood as understood,
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
        folders="INCLUDE included_path rig_files",
        kept="kept_verdicts",
        many="FIRST WORTH_A_PROCESS check_many each_in_turn tried_for_print",
        mending="combined difference differences mended refuse_types written_files",
        result="Result check digest job_of understood",
        trial="proved tried",
        verdict="Asking RigVerdict VerdictForm total verdict_of",
        whole="whole_of",
        messages="CAUTION Lines as_json as_lines as_sarif as_summary as_text danger_lines "
        "joined_json object_of_file one_message places_of refused_json summary",
    )
