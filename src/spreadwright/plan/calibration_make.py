"""Make a calibration: readings, Bayes' rule, the lures' depths before and after, and what to read next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from spreadwright.faults import Fault, Faults
from spreadwright.plan.calibration import (
    Calibration,
    Coefficient,
    Depth,
    Fitted,
    LureScores,
    Narrowed,
    Next,
    Scores,
    Unit,
)
from spreadwright.plan.calibration_file import read_readings
from spreadwright.plan.calibration_model import WHAT, Moment, fished, shown_by
from spreadwright.plan.calibration_next import Feasible, worth
from spreadwright.plan.calibration_prior import SURE, Prior, number_at, prior_of
from spreadwright.plan.calibration_update import Posterior, misfits, update
from spreadwright.plan.calibration_words import NOTES, sentences
from spreadwright.plan.rig_choice import pick_rig
from spreadwright.plan.value import Estimate, Plan
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import USUAL, Doubts
from spreadwright.spread.motions import Progress
from spreadwright.tackle.trip import Trip
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight

Floats = NDArray[np.float64]

SHOWN_NEXT = 8  # readings worth naming
AXES = [
    Doubts(**{name: end}) for name in ("line_across", "line_along", "weight", "lure") for end in (-1.0, 1.0)
]  # one doubt at one end each, as the plan tries them
FITTING, FINDING = "fitting drag to the readings", "looking for the next reading"


class CalibrationStopped(Exception):  # noqa: N818 (the captain's wish is no error)
    """The captain asked to stop."""


def measure(trip: Trip, readings: Path, plan: Plan | None = None, progress: Progress | None = None) -> Calibration:
    """The calibration that a readings file gives. Raises Faults for what is wrong with the file."""
    moments = read_readings(readings, trip)
    return calibrate(trip, moments, rigs_of(trip, moments, plan), progress)


def rigs_of(trip: Trip, moments: Sequence[Moment], plan: Plan | None = None) -> list[FishedRig]:
    """The rig of every rod whose lure's depth is asked for: the plan's; else the last one read; else the first that
    passes the checks."""
    last = {} if plan is not None else {moment.rod: moment.rig for moment in moments}
    return [last[i] if i in last else pick_rig(trip, i, plan).rig for i in range(len(trip.outfits))]


def calibrate(
    trip: Trip,
    moments: Sequence[Moment],
    rigs: Sequence[FishedRig],
    progress: Progress | None = None,
    grading: Grading | None = None,
) -> Calibration:
    """Moments read with a trip's gear turned into a calibration; `rigs` are those whose lures' depths count."""

    def tell(words: str, done: int, of: int) -> None:
        if progress is not None and not progress(words, done, of):
            raise CalibrationStopped

    prior, sea, mesh = prior_of(trip), Sea(density=trip.water.density), grading or Grading()
    found = update(prior, moments, sea, mesh, lambda done, of: tell(FITTING, done, of))
    if isinstance(found, Failure):
        rule, step = "every reading's line must find a steady shape", "check its mark, weight and speed"
        raise Faults([Fault("the readings", found.reason, rule, step)])
    speed = trip.pattern.speed
    feasible, now = worth(prior, found, rigs, speed, sea, mesh, lambda done, of: tell(FINDING, done, of))
    best = _best_next(feasible, len(rigs))
    names = tuple(outfit.name for outfit in trip.outfits)
    made = Calibration(
        title=trip.title, boat=trip.boat.name, units=trip.units, speed=speed,
        coefficients=_coefficients(prior, found), readings=_fitted(moments, found, names), depths=(),
        doubt_now=_doubt(now, len(rigs)), next=tuple(_next(each, names, len(rigs)) for each in best),
        chance=found.chance, settled=found.settled, sentences=(), notes=NOTES, scores=_scores(prior, found),
    )  # fmt: skip
    made = _one_doubt(made.model_copy(update={"depths": _depths(trip, made, rigs, sea, mesh)}))
    return made.model_copy(update={"sentences": sentences(made)})


def _one_doubt(made: Calibration) -> Calibration:
    """The doubt over all rods as the depths beside it show it: their mean, each worked out at both ends of every range.

    What another reading would leave is known from slopes only, as a share of that.
    """
    if not made.depths or made.doubt_now <= 0.0:
        return made
    mean = sum(each.after.doubt for each in made.depths) / len(made.depths)
    share = mean / made.doubt_now
    then = tuple(each.model_copy(update={"doubt": share * each.doubt}) for each in made.next)
    return made.model_copy(update={"doubt_now": mean, "next": then})


def _coefficients(prior: Prior, found: Posterior) -> tuple[Narrowed, ...]:
    plain: tuple[tuple[Coefficient, Unit], ...] = (("line across", "-"), ("line along", "-"), ("weight", "-"))
    made = []
    for at in prior.coefficients:
        what, unit = plain[at] if at < 3 else ("lure", "m2")
        span, score = prior.span(at), float(found.scores[at])
        error = math.sqrt(float(found.covariance[at, at]))
        after = [number_at(span, score + end * SURE * error) for end in (-1.0, 0.0, 1.0)]
        made.append(
            Narrowed(
                what=what, lures=() if at < 3 else prior.kinds[at - 4].names, unit=unit,
                before=Estimate(low=span.low, usual=span.usual, high=span.high),
                after=Estimate(low=after[0], usual=after[1], high=after[2]), known=max(0.0, 1.0 - error),
            )
        )  # fmt: skip
    return tuple(made)


def _fitted(moments: Sequence[Moment], found: Posterior, names: Sequence[str]) -> tuple[Fitted, ...]:
    off = iter(misfits(moments, found.after))
    return tuple(
        Fitted(
            place=moment.place, rod=names[moment.rod], what=WHAT[i], speed=moment.speed, given=moment.values[WHAT[i]],
            error=moment.errors[WHAT[i]], before=float(before.shown[i]), after=float(after.shown[i]),
            off=float(next(off)),
        )
        for moment, before, after in zip(moments, found.before, found.after, strict=True)
        for i in moment.read
    )  # fmt: skip


def _scores(prior: Prior, found: Posterior) -> Scores:
    first = found.covariance[:3, :3]
    factors = np.linalg.cholesky(first)
    lures = []
    for i, kind in enumerate(prior.kinds):
        row = found.covariance[4 + i, :3]
        follows = np.linalg.solve(factors, row)
        own = math.sqrt(max(float(found.covariance[4 + i, 4 + i] - follows @ follows), 0.0))
        a, b, c = (float(each) for each in follows)
        lures.append(LureScores(lures=kind.names, mean=float(found.scores[4 + i]), factors=(a, b, c), own=own))
    mean = tuple(float(each) for each in found.scores[:3])
    rows = tuple(tuple(float(each) for each in row) for row in factors)
    return Scores(mean=mean, factors=rows, lures=tuple(lures))


def _depths(trip: Trip, made: Calibration, rigs: Sequence[FishedRig], sea: Sea, mesh: Grading) -> tuple[Depth, ...]:
    """Each lure's depth as it was thought and as it is known now, every doubt of drag at its ends, added as squares."""
    depths = []
    for rig in rigs:
        cases = [USUAL, *AXES]
        both = [*cases, *(made.narrowed(each, rig.lure.name) for each in cases)]
        towed = [fished(rig, each) for each in both]
        shapes = steady_straight([each.line for each in towed], trip.pattern.speed, sea, mesh)
        shown = [
            None
            if isinstance(shape, Failure)
            else float(shown_by(shape, towed[0].weight_joint)[WHAT.index("lure_depth")])
            for shape in shapes
        ]
        before, after = _ranged(shown[: len(cases)]), _ranged(shown[len(cases) :])
        if before is not None and after is not None:
            depths.append(
                Depth(rod=rig.outfit.name, mark=rig.mark, weight=rig.weight.name, lure=rig.lure.name, before=before,
                      after=after)
            )  # fmt: skip
    return tuple(depths)


def _ranged(shown: Sequence[float | None]) -> Estimate | None:
    """The first with the range that the others, in pairs, leave it; None where one found no shape."""
    fine = [each for each in shown if each is not None]
    if len(fine) < len(shown):
        return None
    usual, changes = fine[0], [each - fine[0] for each in fine[1:]]
    pairs = list(zip(changes[::2], changes[1::2], strict=True))
    up = math.sqrt(sum(max(0.0, *pair) ** 2 for pair in pairs))
    down = math.sqrt(sum(max(0.0, *(-each for each in pair)) ** 2 for pair in pairs))
    return Estimate(low=usual - down, usual=usual, high=usual + up)


def _best_next(feasible: Sequence[Feasible], rods: int) -> list[Feasible]:
    """The best reading of each kind on each rod, best first, as many as are worth naming."""
    seen: set[tuple[int, str]] = set()
    best = []
    for each in feasible:
        if (each.moment.rod, each.what) not in seen:
            seen.add((each.moment.rod, each.what))
            best.append(each)
    return best[: min(SHOWN_NEXT, 4 * rods)]


def _next(each: Feasible, names: Sequence[str], rods: int) -> Next:
    moment = each.moment
    return Next(
        rod=names[moment.rod], mark=moment.rig.mark, weight=moment.rig.weight.name, lure=moment.rig.lure.name,
        what=each.what, speed=moment.speed, error=each.error, gain=each.gain, doubt=_doubt(each.left, rods),
    )  # fmt: skip


def _doubt(variance: float, rods: int) -> float:
    """Half of the range that nine of ten lie in, in the mean over the rods, from their summed variance [m2]: [m]."""
    return SURE * math.sqrt(max(variance, 0.0) / max(rods, 1))
