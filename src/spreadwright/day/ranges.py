"""A number with stated doubt: low, usual and high, in SI units; it may be negative.

A sea, a boat's motion and a fuel margin are never known to a digit. Every estimate of this room
carries its doubt, so that a verdict can say "not sure" where a single number would pretend.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """low <= usual <= high [any], finite: the limits of what will be met, not standard deviations.

    Raises ValueError when the three are out of order or not finite.

    >>> Range(1.0, 2.0, 4.0).scaled(0.5)
    Range(low=0.5, usual=1.0, high=2.0)
    """

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        values = (self.low, self.usual, self.high)
        if not all(math.isfinite(value) for value in values):
            raise ValueError(f"a range needs three finite numbers, given {values}")
        if not self.low <= self.usual <= self.high:
            raise ValueError(f"a range needs low <= usual <= high, given {values}")

    @classmethod
    def exactly(cls, value: float) -> Range:
        """A value without doubt."""
        return cls(value, value, value)

    @classmethod
    def about(cls, usual: float, fraction: float) -> Range:
        """`usual` give or take `fraction` of its size (0.1 means 10 %)."""
        width = abs(usual) * fraction
        return cls(usual - width, usual, usual + width)

    @classmethod
    def by_factors(cls, usual: float, low: float, high: float) -> Range:
        """`usual`, not negative, between `low` times and `high` times itself."""
        return cls(usual * low, usual, usual * high)

    def scaled(self, factor: float) -> Range:
        """All three times a factor that is not negative."""
        return Range(self.low * factor, self.usual * factor, self.high * factor)

    def plus(self, other: Range) -> Range:
        """Sum, worst with worst and best with best."""
        return Range(self.low + other.low, self.usual + other.usual, self.high + other.high)

    def taken_from(self, total: float) -> Range:
        """What is left of `total` once this is taken away: the most taken leaves the least.

        >>> Range(1.0, 2.0, 4.0).taken_from(10.0)
        Range(low=6.0, usual=8.0, high=9.0)
        """
        return Range(total - self.high, total - self.usual, total - self.low)
