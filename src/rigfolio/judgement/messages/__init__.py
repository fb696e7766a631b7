"""What was found as messages: text with the lines that show it, JSON, a line a finding, SARIF.

It knows a result and the places of findings at the panel. It judges nothing and tries no way out
but by asking for those that were tried.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.judgement.messages.excerpt import (
        Lines as Lines,
    )
    from rigfolio.judgement.messages.objects import (
        as_json as as_json,
        joined_json as joined_json,
        json_of_file as json_of_file,
        object_of_file as object_of_file,
        refused_json as refused_json,
    )
    from rigfolio.judgement.messages.places import (
        danger_lines as danger_lines,
        places_of as places_of,
    )
    from rigfolio.judgement.messages.report import (
        CAUTION as CAUTION,
        as_text as as_text,
        closing_lines as closing_lines,
        messages as messages,
        number_words as number_words,
        one_message as one_message,
        summary as summary,
    )
    from rigfolio.judgement.messages.sarif import (
        as_sarif as as_sarif,
    )
    from rigfolio.judgement.messages.short import (
        as_lines as as_lines,
        as_summary as as_summary,
        summary_lines as summary_lines,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        excerpt="Lines",
        objects="as_json joined_json json_of_file object_of_file refused_json",
        places="danger_lines places_of",
        report="CAUTION as_text closing_lines messages number_words one_message summary",
        sarif="as_sarif",
        short="as_lines as_summary summary_lines",
    )
