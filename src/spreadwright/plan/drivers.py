"""Which input drives a result: first-order Sobol indices from samples that are there anyhow.

The result is fitted by a sum of Legendre polynomials of each input alone; orthogonal as they are over evenly spread
inputs, the variance of each input's part over that of the result is its first-order index (Sudret 2008, Reliability
Engineering and System Safety 93, 964-979, eq. 38 ff., without the mixed terms). What chance adds to each coefficient is
taken off. What the sum does not explain is inputs acting together, steeper bends than a cubic, and chance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DEGREE = 3
RESAMPLED = 60  # times, for the range of an index


@dataclass(frozen=True)
class Share:
    """An input's share of the variance, with the range that 90 % of resamplings stay in [-]."""

    name: str
    usual: float
    low: float
    high: float


def first_order(at: Floats, result: Floats) -> Floats:
    """Share of the variance of `result` (samples) that each input in `at` (samples, inputs, -1 to 1) explains alone."""
    variance = float(np.var(result))
    inputs = at.shape[1]
    if variance <= 1e-18 or len(result) <= 2 * DEGREE * inputs:
        return np.zeros(inputs)
    terms = [np.ones(len(result))]
    for i in range(inputs):
        x = at[:, i]
        terms += [x, 1.5 * x**2 - 0.5, 2.5 * x**3 - 1.5 * x]
    matrix = np.stack(terms, axis=1)
    coefficients, *_ = np.linalg.lstsq(matrix, result, rcond=None)
    left = result - matrix @ coefficients
    noise = float(left @ left) / (len(result) - matrix.shape[1])
    spread = np.linalg.pinv(matrix.T @ matrix)
    shares = np.zeros(inputs)
    for i in range(inputs):
        for k in range(DEGREE):
            place = 1 + DEGREE * i + k
            own = (coefficients[place] ** 2 - noise * spread[place, place]) * float(np.var(matrix[:, place]))
            shares[i] += own / variance
    return np.clip(shares, 0.0, 1.0)


def ranked(names: tuple[str, ...], at: Floats, result: Floats, seed: int) -> tuple[Share, ...]:
    """All inputs, the strongest first, each with its range from resampling."""
    usual = first_order(at, result)
    random = np.random.default_rng(seed)
    again = []
    for _ in range(RESAMPLED):
        picked = random.integers(0, len(result), len(result))
        again.append(first_order(at[picked], result[picked]))
    low, high = np.quantile(np.array(again), [0.05, 0.95], axis=0)
    order = np.argsort(-usual, kind="stable")
    return tuple(
        Share(names[i], float(usual[i]), float(min(low[i], usual[i])), float(max(high[i], usual[i]))) for i in order
    )
