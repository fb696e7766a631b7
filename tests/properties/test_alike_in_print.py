"""A figure that is read on two papers reads alike on both."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.home import EXAMPLES, HOME
from helpers.studies import checked
from rigfolio.answers.demand import demand_report
from rigfolio.answers.size import size_report
from rigfolio.demand import demand_by_level
from rigfolio.editor.numbers import numbers_of
from rigfolio.figures import calculation_report
from rigfolio.record import replace
from rigfolio.reports import Amount, Report, ReportTable
from rigfolio.reports.cells import in_words
from rigfolio.study import Study
from rigfolio.units import show_added

RIGS = (
    *sorted(EXAMPLES.glob("*.rig")),
    *(HOME / "tests" / "corpus" / f"{name}.rig" for name in ("cruiser", "field-hut", "work-boat")),
)


def study_of(file: Path) -> Study:
    study = checked(file).study
    assert study is not None
    return study


def drawn(report: Report) -> Iterator[Amount]:
    """The amperes that are drawn, of all tables of a report but those of shorts."""
    for table in report.parts:
        if isinstance(table, ReportTable) and "hort" not in table.title:
            for row in table.rows:
                yield from (
                    cell
                    for cell in row
                    if isinstance(cell, Amount) and (cell.unit, cell.side) == ("A", "load")
                )


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_amperes_that_are_drawn_read_alike_in_every_answer(file: Path) -> None:
    study = study_of(file)
    seen: dict[str, str] = {}
    for report in (demand_report(study), size_report(study), calculation_report(study)):
        for cell in drawn(report):
            if cell.value is not None:
                # What stands beside it is another figure.
                words = in_words(replace(cell, beside=""))
                assert seen.setdefault(f"{cell.value:.9g}", words) == words, report.title
    assert len(seen) > 5


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_an_editor_tells_the_demand_as_the_command_does(file: Path) -> None:
    study = study_of(file)
    told = 0
    for one in demand_by_level(study):
        device = study.rig.by_name.devices.get(one.name)
        if one.level != "device" or device is None or one.unknown:
            continue
        said = "\n".join(numbers_of(study, device.about.span, one.name))
        told += f"demand: {show_added(one.simultaneous_a, 'A')} at one time" in said
    assert told
