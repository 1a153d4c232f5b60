"""Good days and bad days taken out of a comparison, and how much strikes come in bunches.

A lure that happened to be fished on the good days looks good. So each day gets a factor: how much better it bit than
the boat's usual day, given what was fished on it. Strikes of level k on day d ~ Poisson(rate_k x day_d x hours_kd);
day factors are gamma with mean 1, drawn towards 1 where a day has few hours (their spread from the data, by the
marginal likelihood), rates and days in turn until they stand still. Hours multiplied by their day's factor then count
as hours on a usual day. (Indirect standardisation, with the days shrunk as in Clayton and Kaldor 1987, Biometrics 43.)

Fish come in schools, and two rods bite at once. Unevenness is measured by the strikes' times (bunches.py), taken about
one standard error up since a short log knows it badly, and by what is left after levels and days (Pearson's
statistic). Where the greater is more than chance, strikes and hours are both divided by it, which leaves rates as they
are and widens their intervals (quasi-likelihood: McCullagh and Nelder 1989, Generalized Linear Models, 6.2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln

Floats = NDArray[np.float64]

FEWEST_DAYS = 3  # fewer say nothing of how days differ
_SHAPES = np.geomspace(0.3, 300.0, 41)  # of the day factors' gamma; the last is: all days alike
_ROUNDS = 60
_FEWEST_CELLS = 20
_TURNS = 4
CHANCE = 1.15  # unevenness up to this is chance for logs of a season or two; assumed


@dataclass(frozen=True, slots=True, eq=False)
class Even:
    """hours (K) [h] on usual days, strikes (K) [-], days (D): the factor of each day; bunches: unevenness, 1 is chance.

    day_spread: standard deviation of the days' factors [-].
    """

    hours: Floats
    strikes: Floats
    days: Floats
    bunches: float
    day_spread: float


def even(hours: Floats, strikes: Floats, bunched: float = 1.0) -> Even:
    """Days taken out and bunches measured, of hours [h] and strikes (levels, days).

    bunched: unevenness that the strikes' times show [-]; 1 where it is chance or nobody looked.
    """
    levels, days = hours.shape
    # A standard error is near twice the excess over the root of the strikes where bunches are of two or three fish.
    unsure = 2.0 / np.sqrt(max(float(strikes.sum()), 1.0))
    least = 1.0 + (bunched - 1.0) * (1.0 + unsure) if bunched > CHANCE else 1.0
    factors, shape, bunches = np.ones(days), np.inf, least
    totals = strikes.sum(axis=1)
    fished = int((hours > 0.0).sum())
    for _ in range(_TURNS):  # bunches look like good days until they are known for bunches
        if days >= FEWEST_DAYS and strikes.sum() > 0.0:
            factors, shape = _day_factors(hours / bunches, strikes / bunches)
        rates = (totals + 0.1) / np.maximum(hours @ factors + 0.1 * hours.sum() / max(strikes.sum(), 1.0), 1e-9)
        expected = rates[:, None] * factors * hours
        by_day = expected.sum(axis=0) / bunches
        # A day's factor that is drawn towards 1 uses up only its share of an observation.
        freedom = fished - levels - (float((by_day / (by_day + shape)).sum()) if np.isfinite(shape) else 0.0)
        if freedom < _FEWEST_CELLS or expected.sum() <= 0.0:
            break
        # Sum over sum: a cell that expects a hundredth of a strike must not decide alone.
        spare = float(((strikes - expected) ** 2).sum() / expected.sum()) * fished / freedom
        bunches = max(least, spare if spare > CHANCE else 1.0)
    spread = 0.0 if not np.isfinite(shape) else float(1.0 / np.sqrt(shape))
    return Even(hours @ factors / bunches, totals / bunches, factors, bunches, spread)


def _day_factors(hours: Floats, strikes: Floats) -> tuple[Floats, float]:
    """Factor of every day, hour-weighted mean 1, and the shape of their gamma."""
    by_day, by_level = strikes.sum(axis=0), strikes.sum(axis=1)
    factors, shape = np.ones(hours.shape[1]), 1.0
    weight = hours.sum(axis=0) / hours.sum()
    c = _SHAPES[:, None]
    fixed = (gammaln(by_day + c) - gammaln(c) + c * np.log(c)).sum(axis=1)
    for _ in range(_ROUNDS):
        rates = (by_level + 0.1) / (hours @ factors + 0.1 * hours.sum() / by_day.sum())
        expected = rates @ hours
        shape = _likeliest_shape(by_day, expected, fixed)
        fresh = (by_day + shape) / (expected + shape)
        fresh /= weight @ fresh
        moved = float(np.abs(fresh - factors).max())
        factors = fresh
        if moved < 1e-6:
            break
    return factors, shape


def _likeliest_shape(counts: Floats, expected: Floats, fixed: Floats) -> float:
    """The shape of the days' gamma under which these counts are likeliest: negative binomial, in two parts.

    fixed (shapes): the part of the logarithm that does not change with what is expected
    """
    c = _SHAPES[:, None]
    return float(_SHAPES[int(np.argmax(fixed - ((counts + c) * np.log(expected + c)).sum(axis=1)))])
