"""The findings as the page shows them, each with the thing that it is about."""

from rigfolio.findings import RANK, Finding, Severity
from rigfolio.judgement import Result
from rigfolio.page.content import PageFinding
from rigfolio.page.places import Texts, keys_of
from rigfolio.rule import is_unguarded
from rigfolio.wording import name_and_words_at


def findings_of(result: Result, texts: Texts) -> tuple[PageFinding, ...]:
    """What was found, the gravest first; a way out only where it was tried.

    Of dangers those come first that nothing ends: the first lines are all that some read.
    """
    rig = result.study.rig if result.study is not None else None
    keys = keys_of(rig) if rig is not None else {}

    def shown(one: Finding) -> PageFinding:
        name, where = name_and_words_at(rig, one.at.span) if rig is not None else ("", "")
        is_edit = one.fix is not None and one.fix.is_edit
        return PageFinding(
            one.rule,
            one.severity.value,
            one.headline,
            where,
            keys.get(name, ""),
            texts.of(one.at),
            tuple(texts.of(other) for other in one.others),
            str(one.source) if one.source is not None else "",
            one.way_out,
            bool(one.way_out) and (is_edit or one.severity is Severity.ERROR),
        )

    gravest = sorted(result.findings, key=lambda one: (RANK[one.severity], not is_unguarded(one)))
    return tuple(map(shown, gravest))
