"""Bayes' rule for drag: the scores that fit prior and readings best, and how sure they are then.

Gauss-Newton to the most probable scores, and a normal distribution around them with the slopes found there (Laplace's
method; Gelman and others, Bayesian Data Analysis, 3rd ed. 2013, section 4.1; for slopes that do not change it is exact,
and the same as least squares with the prior as further readings, Theil and Goldberger 1961). What nobody asks for (the
error of each speed, each mark, the stiffness of lines) is estimated along and then left out, which widens the rest.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from spreadwright.plan.calibration_model import WHAT, Answer, Moment, answers
from spreadwright.plan.calibration_prior import SURE, Prior
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.mesh import Grading

Floats = NDArray[np.float64]

MOST_ROUNDS = 12
ENOUGH = 0.02  # of a score: nobody could tell the difference
LONGEST_STEP = 1.5  # of a score
FARTHEST = 3.5  # scores beyond which nothing is believed
NOISE = 0.02  # of the sum of squares: a mesh that changes by a segment moves it by less


@dataclass(frozen=True)
class Posterior:
    """What is known after the readings.

    scores (n) and covariance (n, n) in the order of Prior [-]; answers at the start and at the end, one a moment;
    speeds: the scores of the moments' own speeds; cost: sum of squares left; chance: of a worse fit than this, were
    all errors as stated; rounds: of Gauss-Newton; settled: it stood still at the end.
    """

    scores: Floats
    covariance: Floats
    before: tuple[Answer, ...]
    after: tuple[Answer, ...]
    speeds: Floats
    cost: float
    chance: float
    rounds: int
    settled: bool


def update(
    prior: Prior,
    moments: Sequence[Moment],
    sea: Sea,
    grading: Grading,
    tell: Callable[[int, int], object] | None = None,
) -> Posterior | Failure:
    """Prior and readings together. A Failure if a moment's line finds no shape."""
    inverse = np.linalg.inv(prior.covariance())
    n, m = prior.count, len(moments)
    whole = np.zeros((n + m, n + m))
    whole[:n, :n], whole[n:, n:] = inverse, np.eye(m)
    place, share, step = np.zeros(n + m), 1.0, np.zeros(n + m)
    best: tuple[float, Floats, tuple[Answer, ...]] | None = None
    first: tuple[Answer, ...] = ()
    rounds, settled = 0, False
    while rounds < MOST_ROUNDS:
        if tell is not None:
            tell(rounds, MOST_ROUNDS)
        found = answers(prior, moments, place[:n], place[n:], sea, grading)
        fine = tuple(each for each in found if isinstance(each, Answer))
        rounds += 1
        if len(fine) < m and best is None:
            return next(each for each in found if isinstance(each, Failure))
        cost = _cost(whole, moments, place, fine) if len(fine) == m else math.inf
        if best is None or cost <= best[0] + NOISE:
            first = first or fine
            best, share = (cost, place, fine), 1.0
            step = np.clip(place + _step(whole, moments, place, fine), -FARTHEST, FARTHEST) - place
            settled = bool(np.abs(step).max(initial=0.0) < ENOUGH)
            if settled:
                break
        else:
            share *= 0.4
            if share < 0.05:
                break
        place = best[1] + share * step
    assert best is not None
    cost, place, fine = best
    covariance = np.array(np.linalg.inv(whole + _weighed(moments, fine, n).T @ _weighed(moments, fine, n)))
    readings = sum(len(moment.read) for moment in moments)
    return Posterior(
        place[:n], covariance[:n, :n], first, fine, place[n:], cost, float(chi2.sf(cost, max(readings, 1))), rounds,
        settled,
    )  # fmt: skip


def misfits(moments: Sequence[Moment], found: Sequence[Answer]) -> Floats:
    """What was read less what should show, each over its standard error [-]."""
    parts = [
        (moment.values[name] - each.shown[i]) / (moment.errors[name] / SURE)
        for moment, each in zip(moments, found, strict=True)
        for i, name in _read(moment)
    ]
    return np.array(parts)


def _read(moment: Moment) -> list[tuple[int, str]]:
    return [(i, WHAT[i]) for i in moment.read]


def _weighed(moments: Sequence[Moment], found: Sequence[Answer], scores: int) -> Floats:
    """Slopes of all readings by all scores and speeds, each row over its reading's standard error [-]."""
    rows = []
    for at, (moment, each) in enumerate(zip(moments, found, strict=True)):
        for i, name in _read(moment):
            row = np.zeros(scores + len(moments))
            row[:scores], row[scores + at] = each.slopes[i], each.by_speed[i]
            rows.append(row / (moment.errors[name] / SURE))
    return np.array(rows).reshape(-1, scores + len(moments))


def _cost(whole: Floats, moments: Sequence[Moment], place: Floats, found: Sequence[Answer]) -> float:
    return float(np.sum(misfits(moments, found) ** 2) + place @ whole @ place)


def _step(whole: Floats, moments: Sequence[Moment], place: Floats, found: Sequence[Answer]) -> Floats:
    slopes = _weighed(moments, found, len(place) - len(moments))
    wanted = slopes.T @ misfits(moments, found) - whole @ place
    step = np.linalg.solve(whole + slopes.T @ slopes, wanted)
    return np.asarray(step) * min(1.0, LONGEST_STEP / max(float(np.abs(step).max(initial=0.0)), 1e-12))
