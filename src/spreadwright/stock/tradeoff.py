"""What more spares would buy: the chance that nothing runs out, against what all of them cost or weigh.

Causes take several kinds at once, so running out of one goes with running out of another. The product of the kinds'
chances is then a lower bound of the chance that none runs out (Esary, Proschan and Walkup 1967, Association of random
variables, with applications: sums of independent losses are associated), and is what is shown.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spreadwright.stock.spares import MOST_SPARES, SpareNeed


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One point of the curve: spares by kind, the chance (at least) that none runs out, and what they cost or weigh."""

    spares: Mapping[str, int]
    chance: float
    cost: float


def lasts(need: SpareNeed, spares: int) -> float:
    """The chance [-] that so many spares of a kind last."""
    return need.chances[min(spares, len(need.chances) - 1)] if spares >= 0 else 0.0


def kind_curve(need: SpareNeed, until: float = 0.999) -> tuple[tuple[int, float], ...]:
    """Spares of one kind, from none on, and the chance that they last, until that is nearly sure."""
    points = []
    for spares in range(len(need.chances)):
        points.append((spares, need.chances[spares]))
        if need.chances[spares] >= until:
            break
    return tuple(points)


def curve(needs: Sequence[SpareNeed], cost: Mapping[str, float], until: float = 0.995) -> tuple[CurvePoint, ...]:
    """From no spares on, one more at a time, always where it buys most chance for its cost (or weight).

    cost   of one spare by kind, any unit, more than zero
    Where the logarithm of each kind's chance is concave in its number, as for Poisson losses and for a single cause,
    every point has the best chance that its cost can buy (Fox 1966, Discrete optimization via marginal analysis).
    """
    if any(not cost[need.kind] > 0.0 for need in needs):
        raise ValueError("every kind costs or weighs more than nothing")
    spares = {need.kind: 0 for need in needs}
    points = [_point(needs, spares, cost)]
    while points[-1].chance < until and max(spares.values(), default=MOST_SPARES) < MOST_SPARES:
        best = max(needs, key=lambda need: _gain(need, spares[need.kind]) / cost[need.kind])
        if not _gain(best, spares[best.kind]) > 0.0:
            break
        spares[best.kind] += 1
        points.append(_point(needs, spares, cost))
    return tuple(points)


def _gain(need: SpareNeed, spares: int) -> float:
    """What one more adds to the logarithm of the chance."""
    before = lasts(need, spares)
    return math.inf if before <= 0.0 else math.log(lasts(need, spares + 1)) - math.log(before)


def _point(needs: Sequence[SpareNeed], spares: Mapping[str, int], cost: Mapping[str, float]) -> CurvePoint:
    chance = math.prod(lasts(need, spares[need.kind]) for need in needs)
    return CurvePoint(dict(spares), chance, sum(cost[kind] * number for kind, number in spares.items()))
