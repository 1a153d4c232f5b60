"""Which reading would help most next: how much of the doubt of the lures' depths each feasible one would take away.

For slopes that do not change, a reading y with slopes j and variance r takes (S j . t)^2 / (j . S j + r) from the
variance of a depth with slopes t, whatever it will show (S the covariance now; the rank-one step of Kalman's filter,
Kalman 1960). What is added up over the rods is the variance of each lure's depth from drag alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.calibration_file import ANGLE_ERROR, DEPTH_ERROR, PULL_LEAST, PULL_SHARE, SPEED_ERROR
from spreadwright.plan.calibration_model import WHAT, Answer, Moment, answers
from spreadwright.plan.calibration_prior import SURE, Prior
from spreadwright.plan.calibration_update import Posterior
from spreadwright.rig.strike import FishedRig
from spreadwright.tow.line import Sea
from spreadwright.tow.mesh import Grading

Floats = NDArray[np.float64]

SLOWER = 0.6  # of the trolling speed: gear hangs deeper then, and tells other things


@dataclass(frozen=True)
class Feasible:
    """A reading that could be taken: its moment, what is read, its error [N, rad, m], and what it would do.

    gain: share of the depths' summed variance that it takes away [-]; left: that variance after it [m2], summed.
    """

    moment: Moment
    what: str
    error: float
    gain: float
    left: float


def variance_taken(covariance: Floats, slopes: Floats, variance: float, wanted: Floats) -> float:
    """What one reading takes from the summed variance of the wanted quantities [any].

    covariance (n, n) now; slopes (n) of the reading; its variance [any]; wanted (k, n) slopes of what is wanted.

    >>> variance_taken(np.eye(1), np.ones(1), 1.0, np.ones((1, 1)))
    0.5
    """
    along = covariance @ slopes
    return float(np.sum((wanted @ along) ** 2) / (slopes @ along + variance))


def depth_slopes(prior: Prior, found: Sequence[Answer]) -> Floats:
    """How each lure's depth changes with the scores of drag alone (rods, scores) [m]."""
    slopes = np.array([each.slopes[WHAT.index("lure_depth")] for each in found]).reshape(-1, prior.count)
    only = np.zeros(prior.count)
    only[prior.coefficients] = 1.0
    drag: Floats = slopes * only
    return drag


def moments_of(rigs: Sequence[FishedRig], speeds: Sequence[float]) -> list[Moment]:
    """Every rod's rig at each of its marks and at each speed [m/s], to be read or not."""
    return [
        Moment(rod, replace(rig, mark=mark), speed, SPEED_ERROR, {}, {})
        for rod, rig in enumerate(rigs)
        for mark in rig.outfit.marks
        for speed in speeds
    ]


def worth(
    prior: Prior,
    posterior: Posterior,
    rigs: Sequence[FishedRig],
    speed: float,
    sea: Sea,
    grading: Grading,
    tell: Callable[[int, int], object] | None = None,
) -> tuple[list[Feasible], float]:
    """Every feasible reading, the one that helps most first, and the depths' summed variance now [m2].

    speed [m/s] that the spread is fished at; a moment whose line finds no shape is left out.
    """
    targets = [Moment(rod, rig, speed, SPEED_ERROR, {}, {}) for rod, rig in enumerate(rigs)]
    at = posterior.scores
    fished = answers(prior, targets, at, np.zeros(len(targets)), sea, grading)
    wanted = depth_slopes(prior, [each for each in fished if isinstance(each, Answer)])
    now = float(np.sum(wanted @ posterior.covariance * wanted))
    feasible = []
    moments = moments_of(rigs, (speed, SLOWER * speed))
    for done, moment in enumerate(moments):
        if tell is not None:
            tell(done, len(moments))
        (found,) = answers(prior, [moment], at, np.zeros(1), sea, grading)
        if isinstance(found, Answer):
            feasible += [_feasible(moment, found, i, posterior.covariance, wanted, now) for i in range(len(WHAT))]
    return sorted(feasible, key=lambda each: -each.gain), now


def _feasible(moment: Moment, found: Answer, place: int, covariance: Floats, wanted: Floats, now: float) -> Feasible:
    what = WHAT[place]
    usual = {"pull": max(PULL_SHARE * found.shown[0], PULL_LEAST), "angle": ANGLE_ERROR}
    error = float(usual.get(what, DEPTH_ERROR))
    variance = (error / SURE) ** 2 + float(found.by_speed[place]) ** 2
    taken = variance_taken(covariance, found.slopes[place], variance, wanted)
    return Feasible(moment, what, error, taken / now if now > 0.0 else 0.0, max(now - taken, 0.0))
