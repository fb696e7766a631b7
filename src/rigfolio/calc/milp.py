"""Linear programs with whole numbers, solved to the optimum; the only door to highspy."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING

from rigfolio.record import record

if TYPE_CHECKING:
    import highspy

_NODES, _ITERATIONS = 20_000, 1_000_000
"""Steps and not seconds, so that a busy machine gives the same answer."""


class UnprovedError(Exception):
    """The optimum was not proved within the steps that a search may take."""


@record
class Bound:
    """A sum of variables, by place, that lies between two values."""

    terms: tuple[tuple[int, float], ...]
    least: float = -inf
    most: float = inf


def least(
    costs: Sequence[float],
    whole: Sequence[bool],
    upper: Sequence[float],
    bounds: Sequence[Bound],
) -> tuple[float, ...] | None:
    """Values of all variables for which their costs add up to the least.

    Parameters
    ----------
    costs, whole, upper : Sequence, shape (n,)
        Cost of each variable in any unit, whether it is a whole number, its largest value; the
        smallest is 0.
    bounds : Sequence[Bound]
        What must hold.

    Returns
    -------
    tuple[float, ...] | None
        None where nothing satisfies all bounds.

    Raises
    ------
    UnprovedError
        The optimum was not proved within the steps that a search may take.

    Source
    ------
    Branch and bound by the HiGHS library (common practice).

    Examples
    --------
    >>> least([1.0, 2.0], [True, True], [1.0, 1.0], [Bound(((0, 1.0), (1, 1.0)), 1.0)])
    (1.0, 0.0)
    """
    return _least(tuple(costs), tuple(whole), tuple(upper), tuple(bounds))


@lru_cache(maxsize=256)
def _least(
    costs: tuple[float, ...],
    whole: tuple[bool, ...],
    upper: tuple[float, ...],
    bounds: tuple[Bound, ...],
) -> tuple[float, ...] | None:
    """Kept, since a page is tried and then drawn, and panels are often built alike."""
    solver = _solver()
    _set_up(solver, costs, whole, upper)
    for bound in bounds:
        places, factors = [term[0] for term in bound.terms], [term[1] for term in bound.terms]
        solver.addRow(bound.least, bound.most, len(places), places, factors)
    solver.run()
    if not _is_solved(solver):
        return None
    found = solver.getSolution().col_value
    return tuple(
        float(round(value)) if is_whole else float(value)
        for value, is_whole in zip(found, whole, strict=True)
    )


def _set_up(
    solver: "highspy._core._Highs",
    costs: Sequence[float],
    whole: Sequence[bool],
    upper: Sequence[float],
) -> None:
    import highspy

    for cost, most, is_whole in zip(costs, upper, whole, strict=True):
        solver.addCol(cost, 0.0, most, 0, [], [])
        if is_whole:
            solver.changeColIntegrality(solver.getNumCol() - 1, highspy.HighsVarType.kInteger)


def _is_solved(solver: "highspy._core._Highs") -> bool:
    """Whether there is an optimum; false where nothing satisfies all bounds."""
    import highspy

    states = highspy.HighsModelStatus
    status = solver.getModelStatus()
    if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
        return False
    if status != states.kOptimal:
        raise UnprovedError(f"no proof of the optimum within {_NODES} steps")
    return True


def _solver() -> "highspy._core._Highs":
    import highspy

    # Its wrapper greets on standard output when it is made, before it can be told not to.
    solver = highspy._core._Highs()
    options: Mapping[str, bool | int | float | str] = {
        "output_flag": False, "threads": 1, "random_seed": 0, "mip_rel_gap": 0.0,
        "mip_abs_gap": 1e-9, "mip_max_nodes": _NODES, "simplex_iteration_limit": _ITERATIONS,
    }  # fmt: skip
    for name, value in options.items():
        solver.setOptionValue(name, value)
    return solver
