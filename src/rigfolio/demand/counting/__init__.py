"""What loads put on each edge, one load after the other, in amperes that can be expected.

It knows ways, meshes and what a load draws at the volts that it gets. It may not know what a day
takes, what is allowed to be lost, or what is bought.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.demand.counting.apart import (
        OneAtATime as OneAtATime,
    )
    from rigfolio.demand.counting.charges import (
        charges_of as charges_of,
    )
    from rigfolio.demand.counting.counts import (
        Counts as Counts,
        counted_a as counted_a,
    )
    from rigfolio.demand.counting.expected import (
        ExpectedDraws as ExpectedDraws,
        lost_at_once as lost_at_once,
        on_trial as on_trial,
    )
    from rigfolio.demand.counting.parted import (
        count_apart as count_apart,
    )
    from rigfolio.demand.counting.split import (
        Fed as Fed,
        Settled as Settled,
    )
    from rigfolio.demand.counting.systems import (
        Systems as Systems,
    )
    from rigfolio.demand.counting.tally import (
        Tally as Tally,
        count_load as count_load,
    )
    from rigfolio.demand.counting.unread import (
        unread_circuits as unread_circuits,
        unread_on as unread_on,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        apart="OneAtATime",
        charges="charges_of",
        counts="Counts counted_a",
        expected="ExpectedDraws lost_at_once on_trial",
        parted="count_apart",
        split="Fed Settled",
        systems="Systems",
        tally="Tally count_load",
        unread="unread_circuits unread_on",
    )
