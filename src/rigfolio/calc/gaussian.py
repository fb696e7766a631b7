"""How well readings with known spread agree with what was expected."""

import math
from collections.abc import Iterator, Sequence
from operator import mul

_LOG_2_PI = math.log(2.0 * math.pi)


def log_density(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]] = ()
) -> float:
    """Logarithm of the density of a normal distribution with mean 0 [-].

    Parameters
    ----------
    off : Sequence[float], shape (n,)
        Readings less what was expected, in any unit.
    spread : Sequence[float], shape (n,)
        Standard deviation of each reading by itself, in its unit; above 0.
    common : Sequence[Sequence[float]], shape (m, n)
        For each cause that moves several readings together: by how much it moves each of them
        for one standard deviation of the cause.

    Returns
    -------
    float
        Logarithm of the density; 0 where there is no reading [-].

    Raises
    ------
    ValueError
        A spread is not above 0.

    Source
    ------
    Multivariate normal density with covariance diag(spread²) + common' common, by the matrix
    determinant lemma and the Woodbury identity (common practice).

    Examples
    --------
    >>> log_density([0.0], [1.0])
    -0.9189385332
    """
    return log_densities(off, spread, common)[0]


def log_densities(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]] = ()
) -> tuple[float, tuple[float, ...]]:
    """Logarithm of the density of all readings, and of all but each one of them in turn [-].

    Parameters
    ----------
    off, spread, common : Sequence
        As for `log_density`.

    Returns
    -------
    tuple[float, tuple[float, ...]]
        The density of all n; the n densities of the n - 1 others, in the order of the readings.

    Raises
    ------
    ValueError
        A spread is not above 0.

    Source
    ------
    As for `log_density`; a reading is left out by dividing by its density given the others, which
    is normal with the variance 1 / P_ii and lies (P off)_i / P_ii from its mean, P being the
    inverse of the covariance (common practice).

    Examples
    --------
    >>> log_densities([0.0, 3.0], [1.0, 1.0])
    (-6.3378770664, (-5.4189385332, -0.9189385332))
    """
    if any(not each > 0.0 for each in spread):
        raise ValueError(f"spread {min(spread)}, expected above 0")
    # Of the two ways to the same figures the one with the smaller matrix is taken.
    if len(off) <= len(common):
        return _by_covariance(off, spread, common)
    return _by_causes(off, spread, common)


def likeliest(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]]
) -> tuple[float, ...]:
    """The amount of each common cause that is the likeliest after all readings [-].

    Parameters
    ----------
    off, spread, common : Sequence
        As for `log_density`.

    Returns
    -------
    tuple[float, ...], shape (m,)
        In standard deviations of each cause.

    Source
    ------
    Mean of a normal posterior, (I + C S⁻² C')⁻¹ C S⁻² off, C being `common` and S the diagonal of
    the spreads (common practice).

    Examples
    --------
    >>> likeliest([2.0, 2.0], [1.0, 1.0], [[1.0, 1.0]])
    (1.3333333333,)
    """
    whitened, causes = _whitened(off, spread, common)
    lower = _lower(_core(causes))
    return tuple(_back(lower, _forward(lower, [_dot(cause, whitened) for cause in causes])))


def _whitened(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]]
) -> tuple[list[float], list[list[float]]]:
    return (
        [value / sd for value, sd in zip(off, spread, strict=True)],
        [[a / sd for a, sd in zip(row, spread, strict=True)] for row in common],
    )


def _by_covariance(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]]
) -> tuple[float, tuple[float, ...]]:
    """The densities by the covariance itself, L L' with as many rows as there are readings."""
    lower: list[list[float]] = []
    white: list[float] = []
    log_det = 0.0
    columns = list(zip(*common, strict=True))
    for i, (value, sd) in enumerate(zip(off, spread, strict=True)):
        row: list[float] = []
        own = columns[i]
        variance, rest = sd * sd + _dot(own, own), value
        for j in range(i):
            other = lower[j]
            shared = _dot(own, columns[j])
            for k in range(j):
                shared -= row[k] * other[k]
            step = shared / other[j]
            row.append(step)
            variance -= step * step
            rest -= step * white[j]
        root = math.sqrt(variance)
        row.append(root)
        lower.append(row)
        white.append(rest / root)
        log_det += math.log(root)
    whole = -0.5 * (_dot(white, white) + len(white) * _LOG_2_PI) - log_det
    return whole, tuple(whole - one for one in _given_by_inverse(lower, white))


def _given_by_inverse(lower: list[list[float]], white: list[float]) -> Iterator[float]:
    """Logarithm of the density of each reading given all others, from a triangle L."""
    for i in range(len(white)):
        column = [1.0 / lower[i][i]]
        for k in range(i + 1, len(white)):
            row = lower[k]
            column.append(-_dot(row[i:k], column) / row[k])
        own = _dot(column, column)
        rest = _dot(column, white[i:])
        yield 0.5 * (math.log(own) - _LOG_2_PI - rest * rest / own)


def _by_causes(
    off: Sequence[float], spread: Sequence[float], common: Sequence[Sequence[float]]
) -> tuple[float, tuple[float, ...]]:
    """The densities by a matrix with as many rows as there are causes."""
    whitened, causes = _whitened(off, spread, common)
    lower = _lower(_core(causes))
    right = _forward(lower, [_dot(cause, whitened) for cause in causes])
    left = _back(lower, right)
    log_det = 2.0 * sum(math.log(lower[i][i]) for i in range(len(causes)))
    log_det += 2.0 * sum(math.log(sd) for sd in spread)
    squares = _dot(whitened, whitened) - _dot(right, right)
    whole = -0.5 * (squares + log_det + len(whitened) * _LOG_2_PI)
    alone = (
        _given_others(value, [cause[at] for cause in causes], lower, left) - math.log(spread[at])
        for at, value in enumerate(whitened)
    )
    return whole, tuple(whole - one for one in alone)


def _core(causes: list[list[float]]) -> list[list[float]]:
    """The lower half of I + C C' of the whitened causes C."""
    return [
        [_dot(one, two) + (1.0 if i == j else 0.0) for j, two in enumerate(causes[: i + 1])]
        for i, one in enumerate(causes)
    ]


def _given_others(
    value: float, column: list[float], lower: list[list[float]], left: list[float]
) -> float:
    """Logarithm of the density of a whitened reading, given all others."""
    half = _forward(lower, column)
    own = 1.0 - _dot(half, half)
    rest = value - _dot(column, left)
    return -0.5 * (rest * rest / own + _LOG_2_PI) + 0.5 * math.log(own)


def log_sum(values: Sequence[float]) -> float:
    """Logarithm of a sum of which the logarithms of the terms are known [-].

    Parameters
    ----------
    values : Sequence[float]
        Logarithms of the terms; -inf for a term of 0 [-].

    Returns
    -------
    float
        -inf where there is no term, or none above 0 [-].

    Source
    ------
    The largest term is taken out, so that nothing overflows (common practice).

    Examples
    --------
    >>> log_sum([0.0, 0.0])
    0.6931471806
    """
    most = max(values, default=-math.inf)
    if most == -math.inf:
        return most
    return most + math.log(sum(math.exp(value - most) for value in values))


def _dot(one: Sequence[float], two: Sequence[float]) -> float:
    total: float = sum(map(mul, one, two))
    return total


def _lower(matrix: list[list[float]]) -> list[list[float]]:
    """The lower triangle L of a positive definite matrix L L'."""
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            lower[i][j] = math.sqrt(rest) if i == j else rest / lower[j][j]
    return lower


def _forward(lower: list[list[float]], right: list[float]) -> list[float]:
    """The x of L x = right."""
    found: list[float] = []
    for i, row in enumerate(lower):
        rest = right[i]
        for k in range(i):
            rest -= row[k] * found[k]
        found.append(rest / row[i])
    return found


def _back(lower: list[list[float]], right: list[float]) -> list[float]:
    """The x of L' x = right."""
    found = list(right)
    for i in reversed(range(len(lower))):
        for k in range(i + 1, len(lower)):
            found[i] -= lower[k][i] * found[k]
        found[i] /= lower[i][i]
    return found
