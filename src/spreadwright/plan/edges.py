"""A quick look at doubt: each uncertain input at its edges, one at a time, for answers that must come at once.

What each end does to a result is taken as independent of the others, and the effects are added in quadrature, upward
and downward apart. First order only: it does not see inputs acting together, as the plan's samples do (doubt.py).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.inputs import RADIUS_DOUBT, SPEED_DOUBT
from spreadwright.plan.value import Estimate
from spreadwright.rig.tow_model import USUAL, Doubts


@dataclass(frozen=True)
class Case:
    """One input at one of its ends: its name, -1 or +1, and what it changes."""

    what: str
    end: int
    doubts: Doubts = USUAL
    speed: float = 0.0
    radius: float = 1.0


def cases() -> list[Case]:
    """Every input at both ends."""
    found = []
    for name in ("line_across", "line_along", "weight", "lure", "stiffness", "mark"):
        found += [Case(name, end, Doubts(**{name: float(end)})) for end in (-1, 1)]
    for end in (-1, 1):
        found.append(Case("speed", end, speed=end * SPEED_DOUBT))
        found.append(Case("radius", end, radius=1.0 + end * RADIUS_DOUBT))
    return found


@dataclass(frozen=True)
class Edges:
    """The cases that converged, in their order."""

    cases: tuple[Case, ...]

    def estimate(self, value: float, of: NDArray[np.float64] | Sequence[float], usual: float) -> Estimate:
        """`value` with the range that follows from the results `of` the cases, compared with `usual`."""
        up: dict[str, float] = {}
        down: dict[str, float] = {}
        for case, result in zip(self.cases, of, strict=True):
            change = float(result) - usual
            up[case.what] = max(up.get(case.what, 0.0), change)
            down[case.what] = max(down.get(case.what, 0.0), -change)
        high = math.sqrt(sum(each**2 for each in up.values()))
        low = math.sqrt(sum(each**2 for each in down.values()))
        return Estimate(usual=value, low=value - low, high=value + high)
