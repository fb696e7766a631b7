"""A report in the form that was asked for."""

from rigfolio.reports.parts import Report


def printed(report: Report, *, is_json: bool = False) -> str:
    """A report as lines for people or as JSON; ends in a line break."""
    if is_json:
        from rigfolio.reports.objects import as_json

        return as_json(report)
    from rigfolio.reports.terminal import as_text

    return as_text(report)
