"""What a person asks at the panel, each answered by one report.

Each answer asks the home of its question and works nothing out by itself.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.answers.compare import (
        changes_report as changes_report,
        tags_off_words as tags_off_words,
    )
    from rigfolio.answers.demand import (
        demand_report as demand_report,
        levels_shown as levels_shown,
    )
    from rigfolio.answers.filled_survey import (
        put_in as put_in,
    )
    from rigfolio.answers.isolate import (
        isolate_report as isolate_report,
    )
    from rigfolio.answers.live import (
        live_report as live_report,
    )
    from rigfolio.answers.logbook import (
        day_of as day_of,
        doubts as doubts,
        hear as hear,
        log_lines as log_lines,
        log_path as log_path,
        log_with as log_with,
        logged as logged,
        not_taken as not_taken,
        today as today,
    )
    from rigfolio.answers.naming import (
        naming_of as naming_of,
        naming_told as naming_told,
    )
    from rigfolio.answers.odd_readings import (
        odd_words as odd_words,
    )
    from rigfolio.answers.questions import (
        answer as answer,
        arranging as arranging,
        diagnosis as diagnosis,
        report_of as report_of,
        sized as sized,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        compare="changes_report tags_off_words",
        demand="demand_report levels_shown",
        filled_survey="put_in",
        isolate="isolate_report",
        live="live_report",
        logbook="day_of doubts hear log_lines log_path log_with logged not_taken today",
        naming="naming_of naming_told",
        odd_readings="odd_words",
        questions="answer arranging diagnosis report_of sized",
    )
