"""A number with stated doubt: low, usual and high, all in SI.

Strengths of knots, wet line and wire are known as ranges, not as single numbers. Carrying
the range through the sums keeps the answer honest: a margin is then a range too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """A range `low <= usual <= high` [any], none of them negative, NaN or infinite.

    The bounds are judged limits of what will be met, not standard deviations. Products and
    quotients below take the worst and the best case, which is wider than the true spread if the
    doubts are independent: on the safe side for a margin.

    Raises ValueError when the three are out of order, negative or not finite.

    >>> Span(0.85, 0.875, 0.90) * Span.exactly(100.0)
    Span(low=85.0, usual=87.5, high=90.0)
    """

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        values = (self.low, self.usual, self.high)
        if not all(math.isfinite(value) for value in values):
            raise ValueError(f"a range needs three finite numbers, given {values}")
        if not 0.0 <= self.low <= self.usual <= self.high:
            raise ValueError(f"a range needs 0 <= low <= usual <= high, given {values}")

    @classmethod
    def exactly(cls, value: float) -> Span:
        """A value [any] without doubt: low, usual and high are the same."""
        return cls(value, value, value)

    @classmethod
    def about(cls, usual: float, fraction: float) -> Span:
        """`usual` [any] give or take `fraction` [1] of it (0.1 means 10 %)."""
        return cls(usual * (1.0 - fraction), usual, usual * (1.0 + fraction))

    def __mul__(self, other: Span | float) -> Span:
        by = other if isinstance(other, Span) else Span.exactly(other)
        return Span(self.low * by.low, self.usual * by.usual, self.high * by.high)

    def over(self, other: Span) -> Span:
        """This divided by `other`: worst case low/high, best case high/low.

        Raises ZeroDivisionError if `other` reaches zero.

        >>> Span(90.0, 100.0, 110.0).over(Span(50.0, 50.0, 100.0))
        Span(low=0.9, usual=2.0, high=2.2)
        """
        return Span(self.low / other.high, self.usual / other.usual, self.high / other.low)

    def weaker(self, other: Span) -> Span:
        """The lesser of the two, place by place: what a chain of both can carry.

        >>> Span(1.0, 5.0, 9.0).weaker(Span(2.0, 3.0, 10.0))
        Span(low=1.0, usual=3.0, high=9.0)
        """
        return Span(min(self.low, other.low), min(self.usual, other.usual), min(self.high, other.high))
