"""How well readings with known spread agree with what was expected."""

import math
from collections.abc import Sequence


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
    if any(not each > 0.0 for each in spread):
        raise ValueError(f"spread {min(spread)}, expected above 0")
    whitened = [value / sd for value, sd in zip(off, spread, strict=True)]
    causes = [[a / sd for a, sd in zip(row, spread, strict=True)] for row in common]
    size = len(causes)
    # I + C C', and C times the whitened readings.
    core = [
        [_dot(causes[i], causes[j]) + (1.0 if i == j else 0.0) for j in range(size)]
        for i in range(size)
    ]
    right = [_dot(cause, whitened) for cause in causes]
    log_det, quadratic = _solved(core, right)
    squares = _dot(whitened, whitened) - quadratic
    log_det += 2.0 * sum(math.log(sd) for sd in spread)
    return -0.5 * (squares + log_det + len(whitened) * math.log(2.0 * math.pi))


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
    return sum(a * b for a, b in zip(one, two, strict=True))


def _solved(matrix: list[list[float]], right: list[float]) -> tuple[float, float]:
    """Logarithm of the determinant, and right' matrix⁻¹ right, of a positive definite matrix."""
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            lower[i][j] = math.sqrt(rest) if i == j else rest / lower[j][j]
    forward: list[float] = []
    for i in range(size):
        rest = right[i] - sum(lower[i][k] * forward[k] for k in range(i))
        forward.append(rest / lower[i][i])
    return 2.0 * sum(math.log(lower[i][i]) for i in range(size)), _dot(forward, forward)
