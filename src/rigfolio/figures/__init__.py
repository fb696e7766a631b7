"""Every figure of a rig with what it takes to repeat it by hand, as one report.

It asks the homes of demand, protection, sizing and shorts, and adds up nothing itself. It may not
know how the figures are set on paper.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.figures.calculation import (
        LoadLine as LoadLine,
        line_of_load as line_of_load,
    )
    from rigfolio.figures.report import (
        calculation_report as calculation_report,
        loads_table as loads_table,
        sections_table as sections_table,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        calculation="LoadLine line_of_load",
        report="calculation_report loads_table sections_table",
    )
