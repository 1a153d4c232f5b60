"""Distances between lines by plain arithmetic on many points: a check of the plan's gaps that shares nothing."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]


def thickened(chain: Points, spacing: float) -> Points:
    """Points along a chain of vertices (V, 3), no farther apart than `spacing` [m]."""
    parts = [chain[:1]]
    for a, b in pairwise(chain):
        count = max(1, int(np.ceil(np.linalg.norm(b - a) / spacing)))
        parts.append(a + np.linspace(0.0, 1.0, count + 1)[1:, None] * (b - a))
    return np.concatenate(parts)


def to_segments(points: Points, chain: Points) -> float:
    """The smallest distance of any of the points (P, 3) from a chain's segments (V, 3) [m]."""
    a, along = chain[:-1], np.diff(chain, axis=0)
    from_a = points[:, None] - a
    share = (from_a * along).sum(axis=2) / np.maximum((along**2).sum(axis=1), 1e-12)
    foot = a + np.clip(share, 0.0, 1.0)[..., None] * along
    return float(np.linalg.norm(points[:, None] - foot, axis=2).min())


def gear_to_line(one: Points, gear: int, other: Points, other_gear: int, spacing: float = 0.05) -> float:
    """The smallest distance from either's gear (its chain from vertex `gear` on) to the other's line [m]."""
    return min(
        to_segments(thickened(one[gear:], spacing), other), to_segments(thickened(other[other_gear:], spacing), one)
    )  # fmt: skip


def line_to_line(one: Points, other: Points, spacing: float = 0.05) -> float:
    """The smallest distance between any parts of two lines [m]."""
    return min(to_segments(thickened(one, spacing), other), to_segments(thickened(other, spacing), one))
