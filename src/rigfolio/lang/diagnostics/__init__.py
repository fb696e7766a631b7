"""What is said of a line that was not understood: what was found, what was expected, a likely fix.

It knows items, facts and the patterns of words. It reads nothing itself and may not know what a
word means.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.lang.diagnostics.meant import (
        instead as instead,
    )
    from rigfolio.lang.diagnostics.misread import (
        taken as taken,
    )
    from rigfolio.lang.diagnostics.replies import (
        reply as reply,
    )
    from rigfolio.lang.diagnostics.turned import (
        turned_round as turned_round,
        two_lengths as two_lengths,
    )
    from rigfolio.lang.diagnostics.unread import (
        decimal_comma as decimal_comma,
        gauge_in_comment as gauge_in_comment,
        not_read as not_read,
        out_of_bounds as out_of_bounds,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        meant="instead",
        misread="taken",
        replies="reply",
        turned="turned_round two_lengths",
        unread="decimal_comma gauge_in_comment not_read out_of_bounds",
    )
