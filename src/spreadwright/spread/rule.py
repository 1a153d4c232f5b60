"""The trade's rule as a spread: short lines carry the heaviest weights, long lines the lightest. And its reverse.

Common practice, no source. Marks are spread from near to far over the rods, the lowest rod tips fishing the shortest
lines; leader and lure are those of the spread it is compared with, so that only the rule differs.
"""

from __future__ import annotations

from collections.abc import Sequence

from spreadwright.rig.tow_model import TowedRig, towed_rig
from spreadwright.spread.candidates import Candidate
from spreadwright.tackle.trip import Trip


def rule_spread(trip: Trip, rigs: Sequence[Candidate], heaviest_short: bool = True) -> list[TowedRig]:
    """Towed lines, a rod each in the order of `rigs`, with the marks of `rigs` and weights by the rule."""
    shelf = trip.shelf
    weights = sorted(
        (weight for weight in shelf.weights for _ in range(weight.count)), key=lambda weight: -weight.mass
    )
    weights = (weights + [min(shelf.weights, key=lambda weight: weight.mass)] * len(rigs))[: max(len(rigs), 1)]
    by_distance = sorted(range(len(rigs)), key=lambda i: (rigs[i].mark, trip.boat.stations[rigs[i].station].up))
    if not heaviest_short:
        by_distance.reverse()
    spread: list[TowedRig | None] = [None] * len(rigs)
    for weight, i in zip(weights, by_distance, strict=True):
        rig = rigs[i]
        spread[i] = towed_rig(
            trip.outfits[rig.rod], trip.boat.stations[rig.station], rig.mark, weight,
            shelf.shock_leaders[rig.shock], shelf.bite_leaders[rig.bite], shelf.lures[rig.lures[0]],
        )  # fmt: skip
    return [rig for rig in spread if rig is not None]
