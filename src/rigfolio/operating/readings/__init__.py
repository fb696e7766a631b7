"""What a meter should show, and where it is put: the points of the tests, stage by stage.

It knows the operating point in a scenario. It may not know what was read, nor how a sheet looks.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.operating.readings.bounds import (
        with_contacts as with_contacts,
    )
    from rigfolio.operating.readings.expected import (
        DEAD_AS_WIRED as DEAD_AS_WIRED,
        shut_words as shut_words,
        stages as stages,
        stages_of as stages_of,
    )
    from rigfolio.operating.readings.in_use import (
        KEPT_DEAD as KEPT_DEAD,
    )
    from rigfolio.operating.readings.probes import (
        probed as probed,
    )
    from rigfolio.operating.readings.short_test import (
        circuit_step as circuit_step,
        short_stages as short_stages,
    )
    from rigfolio.operating.readings.test_points import (
        FEED_ALONE as FEED_ALONE,
        MeterPoint as MeterPoint,
        Stage as Stage,
        StageStep as StageStep,
        bounds_words as bounds_words,
        is_small as is_small,
        judged_bounds as judged_bounds,
        numbered_points as numbered_points,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        bounds="with_contacts",
        expected="DEAD_AS_WIRED shut_words stages stages_of",
        in_use="KEPT_DEAD",
        probes="probed",
        short_test="circuit_step short_stages",
        test_points="FEED_ALONE MeterPoint Stage StageStep bounds_words is_small judged_bounds "
        "numbered_points",
    )
