"""The trade's rule as a spread: short lines carry the heaviest weights, long lines the lightest. And its reverse.

Common practice, no source. Marks are spread from near to far over the rods, the lowest rod tips fishing the shortest
lines; leader and lure are those of the spread it is compared with, so that only the rule differs.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.rig.tow_model import USUAL, Narrow, TowedRig, as_stated, towed_rig
from spreadwright.spread.candidates import Candidate
from spreadwright.tackle.trip import Trip

Cost = tuple[int, int, float]  # marks shared, rods nearer than one before them, metres off an even spread
MOST_CHOICES = 5000  # beginnings carried on with; six rods with four marks each have 4096


def rule_spread(
    trip: Trip, rigs: Sequence[Candidate], heaviest_short: bool = True, narrow: Narrow = as_stated
) -> list[TowedRig]:
    """Towed lines, a rod each in the order of `rigs`: marks from near to far, weights by the rule or its reverse."""
    shelf = trip.shelf
    order = sorted(range(len(rigs)), key=lambda i: (trip.boat.stations[rigs[i].station].up, i))
    marks = _near_to_far(trip, [rigs[i].rod for i in order])
    weights = sorted((weight for weight in shelf.weights for _ in range(weight.count)), key=lambda weight: -weight.mass)
    lightest = min(shelf.weights, key=lambda weight: weight.mass)
    weights = (weights + [lightest] * len(rigs))[: len(rigs)]
    if not heaviest_short:
        weights.reverse()
    spread: list[TowedRig | None] = [None] * len(rigs)
    for weight, (mark, i) in zip(weights, sorted(zip(marks, order, strict=True)), strict=True):
        rig = rigs[i]
        spread[i] = towed_rig(
            trip.outfits[rig.rod], trip.boat.stations[rig.station], mark, weight,
            shelf.shock_leaders[rig.shock], shelf.bite_leaders[rig.bite], shelf.lures[rig.lures[0]],
            narrow(USUAL, shelf.lures[rig.lures[0]].name),
        )  # fmt: skip
    return [rig for rig in spread if rig is not None]


def _near_to_far(trip: Trip, rods: Sequence[int]) -> list[float]:
    """A mark for each rod: as few shared as can be, seldom a later rod nearer than one before it, evenly spread."""
    tied = [trip.outfits[rod].marks for rod in rods]
    near, far = min(map(min, tied)), max(map(max, tied))
    wanted = [near + (far - near) * (place / max(len(rods) - 1, 1)) for place in range(len(rods))]
    kept: list[tuple[Cost, tuple[float, ...]]] = [((0, 0, 0.0), ())]
    for marks, place in zip(tied, wanted, strict=True):
        kept = [_with(each, mark, place) for each in kept for mark in marks]
        kept = sorted(kept)[:MOST_CHOICES]
    return list(kept[0][1])


def _with(so_far: tuple[Cost, tuple[float, ...]], mark: float, wanted: float) -> tuple[Cost, tuple[float, ...]]:
    (shared, nearer, off), marks = so_far
    shared += mark in marks
    nearer += any(mark < before for before in marks)
    return (shared, nearer, off + abs(mark - wanted)), (*marks, mark)
