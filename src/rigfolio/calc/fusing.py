"""When a fuse opens: between the gates that its standard sets."""

import math
from collections.abc import Sequence

from rigfolio.record import record


@record
class Gate:
    """At `share` times its rating a fuse opens no sooner than `min_s` and no later than `max_s`.

    `max_s` is infinite where it may carry that current for good.
    """

    share: float
    min_s: float
    max_s: float


@record
class Window:
    """The least and the greatest time in which a fuse opens [s]; infinite where it need not."""

    min_s: float
    max_s: float


def opening_window(current_a: float, rating_a: float, gates: Sequence[Gate]) -> Window | None:
    """The time in which a fuse opens at a current.

    Between two gates both times are read on logarithmic scales. Above the last gate a fuse opens no
    later than there, and nothing says how much sooner.

    Parameters
    ----------
    current_a : float
        Current, not negative [A].
    rating_a : float
        Rating of the fuse, above 0 [A].
    gates : Sequence[Gate], shape (n,)
        The gates of its standard, smallest share first.

    Returns
    -------
    Window | None
        Least and greatest time [s]; None below the first gate, where nothing is set.

    Raises
    ------
    ValueError
        `rating_a` is not above 0, or there are no gates.

    Source
    ------
    Gates as in ISO 8820-3, straight lines between them on logarithmic scales (common practice).

    Examples
    --------
    >>> gates = (Gate(1.35, 0.75, 600.0), Gate(2.0, 0.15, 5.0))
    >>> opening_window(20.0, 10.0, gates)
    Window(min_s=0.15, max_s=5.0)
    """
    if rating_a <= 0.0 or not gates:
        raise ValueError(f"rating {rating_a} A with {len(gates)} gates")
    share = current_a / rating_a
    # A current that is a gate but for rounding is that gate.
    exact = next((gate for gate in gates if math.isclose(gate.share, share, rel_tol=1e-9)), None)
    if exact is not None:
        return Window(exact.min_s, exact.max_s)
    if share < gates[0].share:
        return None
    if share > gates[-1].share:
        return Window(0.0, gates[-1].max_s)
    high = next(place for place, gate in enumerate(gates) if share < gate.share)
    low, up = gates[high - 1], gates[high]
    way = math.log(share / low.share) / math.log(up.share / low.share)
    return Window(_between(low.min_s, up.min_s, way, up.min_s), _between(low.max_s, up.max_s, way))


def _between(low_s: float, up_s: float, way: float, unset_s: float = math.inf) -> float:
    if math.isinf(low_s) or up_s == 0.0:
        return unset_s
    return math.exp(math.log(low_s) + way * math.log(up_s / low_s))
