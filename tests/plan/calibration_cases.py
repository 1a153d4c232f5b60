"""Synthetic readings: a true boat drawn from the stated ranges, and what a scale, a gauge and a logger show on it."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from tests.plan.trips import BULLET, JET, small_trip

from spreadwright.plan.calibration_model import WHAT, Moment, doubts_at, fished, shown_by
from spreadwright.plan.calibration_prior import SURE, Prior, prior_of
from spreadwright.plan.rig_choice import pick_rig
from spreadwright.rig.strike import FishedRig
from spreadwright.tackle import Trip
from spreadwright.tow.line import Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import Shape, steady_straight

Floats = NDArray[np.float64]

SEA = Sea()
COARSE = Grading().scaled(4.0)  # some seventeen segments a line: enough for truth and model alike
ERRORS = {"pull": 8.0, "angle": 0.03, "weight_depth": 0.2, "lure_depth": 0.2}
SPEED_ERROR = 0.25


@lru_cache(maxsize=1)
def trip() -> Trip:
    return small_trip(lures=(JET, BULLET))


@lru_cache(maxsize=1)
def rigs() -> tuple[FishedRig, ...]:
    """A jet on the first rod, a bullet behind a heavier weight on the second."""
    shelf = trip().shelf
    found = [pick_rig(trip(), rod).rig for rod in range(3)]
    found[1] = replace(found[1], lure=shelf.lures[1], weight=shelf.weights[2])
    return tuple(found)


def prior() -> Prior:
    return prior_of(trip())


def draw(random: np.random.Generator) -> Floats:
    """The scores of a boat drawn from the stated ranges."""
    return np.linalg.cholesky(prior().covariance()) @ random.standard_normal(prior().count)


def true_shape(scores: Floats, rod: int, speed: float) -> tuple[Shape, int]:
    rig = rigs()[rod]
    towed = fished(rig, doubts_at(prior(), scores, rod, rig.lure.name))
    (shape,) = steady_straight([towed.line], speed, SEA, COARSE)
    assert isinstance(shape, Shape)
    return shape, towed.weight_joint


def observed(
    scores: Floats, random: np.random.Generator, runs: tuple[tuple[int, float], ...], names: tuple[str, ...] = WHAT
) -> list[Moment]:
    """What is read on a boat with these scores, on runs of (rod, speed shown), errors of speed and reading drawn."""
    moments: list[Moment] = []
    for rod, speed in runs:
        true_speed = speed + random.standard_normal() * SPEED_ERROR / SURE
        shown = shown_by(*true_shape(scores, rod, true_speed))
        values = {
            name: float(shown[i] + random.standard_normal() * ERRORS[name] / SURE)
            for i, name in enumerate(WHAT)
            if name in names
        }
        moments.append(Moment(rod, rigs()[rod], speed, SPEED_ERROR, values, ERRORS, f"run {len(moments) + 1}"))
    return moments
