"""What one more mark would gain: each rod moved in turn to a mark that only other rods have, the others left alone.

The rod keeps its leaders and lure and takes any weight that lies free. As the others stay as they are, the gain told is
the least that the new mark brings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from spreadwright.plan.others import LEAST_GAIN
from spreadwright.plan.value import Gain
from spreadwright.plan.worded import twins, worded
from spreadwright.quantity import System, show
from spreadwright.rig.tow_model import USUAL, Narrow, TowedRig, towed_rig
from spreadwright.spread.candidates import Candidate
from spreadwright.spread.choose import Decision
from spreadwright.spread.kept import Kept, Refusals
from spreadwright.spread.motions import Passage, Progress
from spreadwright.spread.worth import different_water, pair_scores
from spreadwright.tackle.trip import Trip
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.clearance.winding import WRAP, pair_winding
from spreadwright.tow.line import Failure, Sea

SAME_MARK = 0.5  # [m]
LEFT_ON_SPOOL = 0.5  # share of the line that a mark leaves on the spool at least


@dataclass(frozen=True)
class Moved:
    """One rod on a new mark."""

    rod: int
    rig: Candidate
    towed: TowedRig


def more_marks(
    trip: Trip, rigs: Sequence[Candidate], lures: Sequence[int], decision: Decision, passages: Sequence[Passage],
    refused: Refusals, narrow: Narrow, kept: Kept, tell: Progress | None = None,
) -> tuple[Gain, ...]:  # fmt: skip
    """The best new mark of each rod, if it gains anything; rigs, lures and passages are those of the chosen spread."""
    moved = [each for rod in range(len(rigs)) for each in _moves(trip, rigs, lures, rod, refused, narrow)]
    towed = kept.passages([each.towed for each in moved], trip.pattern, Sea(density=trip.water.density), tell)
    best: dict[int, tuple[float, float, Moved]] = {}
    for each, passage in zip(moved, towed, strict=True):
        if isinstance(passage, Failure) or passage.pulls[:, 0].max() > trip.outfits[each.rig.rod].strike_drag:
            continue
        gap, coverage = _judged([*passages[: each.rod], passage, *passages[each.rod + 1 :]], trip.wishes.enough_gap)
        if each.rod not in best or (gap, coverage) > best[each.rod][:2]:
            best[each.rod] = (gap, coverage, each)
    gains = [_gain(trip, decision, *found) for found in best.values()]
    return tuple(sorted((gain for gain in gains if gain is not None), key=lambda gain: (-gain.wider, -gain.more_apart)))


def _moves(
    trip: Trip, rigs: Sequence[Candidate], lures: Sequence[int], rod: int, refused: Refusals, narrow: Narrow
) -> Iterator[Moved]:
    rig, shelf = rigs[rod], trip.shelf
    outfit = trip.outfits[rig.rod]
    if trip.lock(outfit.name) is not None:
        return
    others = sorted({mark for other in trip.outfits for mark in other.marks})
    new = [
        mark
        for mark in others
        if all(abs(mark - own) > SAME_MARK for own in outfit.marks) and mark < LEFT_ON_SPOOL * outfit.line.length
    ]
    taken = np.bincount([other.weight for i, other in enumerate(rigs) if i != rod], minlength=len(shelf.weights))
    for mark in new:
        for weight, piece in enumerate(shelf.weights):
            key = (rig.rod, weight, rig.shock, rig.bite, lures[rod])
            if taken[weight] < piece.count and key not in refused:
                lure = shelf.lures[lures[rod]]
                line = towed_rig(
                    outfit, trip.boat.stations[rig.station], mark, piece, shelf.shock_leaders[rig.shock],
                    shelf.bite_leaders[rig.bite], lure, narrow(USUAL, lure.name),
                )  # fmt: skip
                yield Moved(rod, replace(rig, mark=mark, weight=weight), line)


def _judged(passages: Sequence[Passage], enough: float) -> tuple[float, float]:
    """Smallest gap [m] up to enough, and share of pairs in different water."""
    gap = enough
    for i, first in enumerate(passages):
        for second in passages[:i]:
            found = gear_gap(first.outline, second.outline, enough).distance
            gap = min(gap, 0.0 if abs(pair_winding(first.outline, second.outline)) >= WRAP else found)
    pairs = max(len(passages) * (len(passages) - 1) / 2.0, 1.0)
    return gap, float(np.triu(pair_scores(different_water(passages)), 1).sum()) / pairs


def _gain(trip: Trip, decision: Decision, gap: float, coverage: float, moved: Moved) -> Gain | None:
    wider, more = gap - decision.gap, coverage - decision.coverage
    with_it = f"with {trip.shelf.weights[moved.rig.weight].name}"
    if wider < LEAST_GAIN and (wider <= -LEAST_GAIN or more < LEAST_GAIN):
        return None

    def piece_in(system: System) -> str:
        mark = show(moved.rig.mark, "length", system, figures=3)
        return f"mark at {mark} on {trip.outfits[moved.rig.rod].name}"

    def say(system: System) -> str:
        words = f"no wider gap, but {100 * more:.0f} % more of the pairs in different water, {with_it}"
        if wider >= LEAST_GAIN:
            gain = show(wider, "length", system, figures=1)
            words = f"the smallest gap would be wider by {gain} or more, {with_it}"
        return f"one more {piece_in(system)}: {words}"

    piece, words = worded(trip.units, piece_in), worded(trip.units, say)
    return Gain(piece=piece, wider=max(0.0, wider), more_apart=max(0.0, more), words=words,
                other_units=twins([piece, words]))  # fmt: skip
