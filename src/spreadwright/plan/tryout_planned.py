"""The plan's own spread on the page: it has been sampled already, so its ranges are the plan's and cost nothing."""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.plan.tryout_hand import hand_of_plan
from spreadwright.plan.tryout_value import HandSpread, TriedPair, TriedRange, TriedRanges
from spreadwright.plan.value import Plan
from spreadwright.tackle.trip import Trip


def planned_ranges(trip: Trip, plan: Plan, spread: HandSpread, pairs: Sequence[TriedPair]) -> TriedRanges | None:
    """The plan's ranges for its own spread, put to the run's pairs; None for another spread, or a plan without them."""
    if plan.in_doubt is None or plan.turn_depths is None or set(spread.rods) != set(hand_of_plan(trip, plan).rods):
        return None
    gaps = {frozenset((pair.first, pair.second)): pair.gear_gap for pair in plan.pairs}
    told = [pair.model_copy(update={"range": gaps.get(frozenset((pair.first, pair.second)))}) for pair in pairs]
    return TriedRanges(
        pairs=tuple(told),
        rods=tuple(
            TriedRange(rod=rod.rod, weight_depth=rod.weight_depth, lure_depth=rod.lure_depth, pull=rod.pull,
                       angle=rod.angle)
            for rod in plan.rods
        ),
        depths=plan.turn_depths, samples=plan.in_doubt.samples, of_plan=True,
    )  # fmt: skip
