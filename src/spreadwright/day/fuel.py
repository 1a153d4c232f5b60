"""Fuel for the day: crossing out, hours on the pattern, crossing home, and a reserve untouched.

The boat's own burn curve is what counts: fuel per hour as read at several speeds, with the load
and the sea that she usually has. The trade plans by thirds: a third out, a third home, a third in
reserve (common practice, no source). Tank gauges, weed, weather and a tow burn more than any plan.
Volumes are m3, rates m3/s, speeds m/s, times s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from spreadwright.day.ranges import Range
from spreadwright.day.wording import Number, Sentence

RESERVE = 1.0 / 3.0
# Assumed, no source: a head sea, a foul bottom or a heavy load against the readings of the curve.
BURN_DOUBT = 0.15


@dataclass(frozen=True, slots=True)
class OffCurve:
    """A speed [m/s] that the burn curve does not reach; nothing is guessed beyond what was read."""

    speed: float
    lowest: float
    highest: float

    @property
    def reason(self) -> Sentence:
        """What was given, the rule, the next step."""
        return Sentence.of(
            "The burn curve runs from {lowest} to {highest} and the plan asks for {speed}: "
            "add a reading at that speed, or plan at a speed on the curve.",
            lowest=Number(self.lowest, "speed"),
            highest=Number(self.highest, "speed"),
            speed=Number(self.speed, "speed"),
        )


@dataclass(frozen=True, slots=True)
class BurnCurve:
    """Fuel rate at several speeds, as read on the boat: ((speed, rate), ...), slowest first.

    Raises ValueError with fewer than two readings, a repeated or falling speed, a rate that is not
    above zero, or anything that is not finite.
    """

    readings: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.readings) < 2:
            raise ValueError(f"a burn curve needs two readings or more, given {len(self.readings)}")
        for speed, rate in self.readings:
            if not (math.isfinite(speed) and speed >= 0.0 and math.isfinite(rate) and rate > 0.0):
                raise ValueError(f"a reading is a speed from zero and a rate above zero: {speed}, {rate}")
        if any(b[0] <= a[0] for a, b in pairwise(self.readings)):
            raise ValueError("the readings of a burn curve go from slow to fast, each speed once")

    def rate(self, speed: float) -> float | OffCurve:
        """Fuel per second at a speed, on the straight line between its two neighbours.

        >>> BurnCurve(((5.0, 10.0), (10.0, 30.0))).rate(7.5)
        20.0
        """
        lowest, highest = self.readings[0][0], self.readings[-1][0]
        slack = 1e-9 * highest
        if not lowest - slack <= speed <= highest + slack:
            return OffCurve(speed, lowest, highest)
        for (slow, less), (fast, more) in pairwise(self.readings):
            if speed <= fast:
                return less + (more - less) * (speed - slow) / (fast - slow)
        return self.readings[-1][1]


@dataclass(frozen=True, slots=True)
class Leg:
    """A part of the day under way: a name, a speed [m/s] and how long [s]."""

    name: str
    speed: float
    time: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.speed) and self.speed >= 0.0):
            raise ValueError(f"the speed of '{self.name}' is zero or more, given {self.speed}")
        if not (math.isfinite(self.time) and self.time >= 0.0):
            raise ValueError(f"the time of '{self.name}' is zero or more, given {self.time}")

    @classmethod
    def over(cls, name: str, distance: float, speed: float) -> Leg:
        """A leg over a distance [m]. Raises ValueError for a speed that never gets there."""
        if not speed > 0.0:
            raise ValueError(f"'{name}' needs a speed above zero to cover a distance")
        return cls(name, speed, distance / speed)


def a_day(
    distance_out: float,
    crossing_speed: float,
    pattern_time: float,
    pattern_speed: float,
    distance_home: float | None = None,
) -> tuple[Leg, ...]:
    """The usual three legs: out, the pattern, home (as far as out, if not given).

    Distances [m], speeds [m/s], the time on the pattern [s].
    """
    home = distance_out if distance_home is None else distance_home
    return (
        Leg.over("crossing out", distance_out, crossing_speed),
        Leg("on the pattern", pattern_speed, pattern_time),
        Leg.over("crossing home", home, crossing_speed),
    )


class Enough(StrEnum):
    """How the fuel stands against the plan and the reserve."""

    ENOUGH = "enough"
    DOUBTFUL = "doubtful"
    SHORT = "short"


@dataclass(frozen=True, slots=True)
class FuelPlan:
    """What the day burns and what is left [m3].

    burns     fuel of each leg by name, without doubt
    burn      of all legs
    reserve   that the plan may not touch
    margin    left over once the legs are run and the reserve set aside; negative is short
    left      in the tanks at the dock
    """

    on_board: float
    burns: tuple[tuple[str, float], ...]
    burn: Range
    reserve: float
    margin: Range
    left: Range

    def in_steps_of(self, step: float) -> FuelPlan:
        """The same plan in full steps [m3], such as whole litres, whose figures add up as they are printed."""
        burns = tuple((name, step * round(burnt / step)) for name, burnt in self.burns)
        low, high, reserve, on_board = (
            step * round(volume / step) for volume in (self.burn.low, self.burn.high, self.reserve, self.on_board)
        )
        usual = sum(burnt for _, burnt in burns)
        burn = Range(min(low, usual), usual, max(high, usual))
        return FuelPlan(on_board, burns, burn, reserve, burn.taken_from(on_board - reserve), burn.taken_from(on_board))

    @property
    def verdict(self) -> Enough:
        """Enough even at the worst of the doubt, doubtful within it, or short as planned."""
        if self.margin.low >= 0.0:
            return Enough.ENOUGH
        return Enough.DOUBTFUL if self.margin.usual >= 0.0 else Enough.SHORT

    @property
    def reason(self) -> Sentence:
        """The sum in one sentence."""
        return Sentence.of(
            "On board {on_board}; the day burns {burn} (up to {most}); {reserve} stays in reserve; "
            "that leaves {margin} to spare (at worst {worst}).",
            on_board=Number(self.on_board, "volume"),
            burn=Number(self.burn.usual, "volume"),
            most=Number(self.burn.high, "volume"),
            reserve=Number(self.reserve, "volume"),
            margin=Number(self.margin.usual, "volume"),
            worst=Number(self.margin.low, "volume"),
        )


def plan_fuel(
    on_board: float,
    curve: BurnCurve,
    legs: Sequence[Leg],
    reserve: float = RESERVE,
    doubt: float = BURN_DOUBT,
) -> FuelPlan | OffCurve:
    """Fuel for the legs with a share `reserve` of what is on board kept back.

    on_board  usable fuel at the dock [m3]
    doubt     of the burn, as a share of it
    Raises ValueError for a share outside 0 to 1 or fuel that is not finite or negative.
    """
    if not (math.isfinite(on_board) and on_board >= 0.0):
        raise ValueError(f"the fuel on board is zero or more, given {on_board} m3")
    if not (0.0 <= reserve < 1.0 and 0.0 <= doubt < 1.0):
        raise ValueError(f"reserve and doubt are shares from 0 to 1, given {reserve}, {doubt}")
    burns: list[tuple[str, float]] = []
    for leg in legs:
        rate = curve.rate(leg.speed)
        if isinstance(rate, OffCurve):
            return rate
        burns.append((leg.name, rate * leg.time))
    burn = Range.about(sum(fuel for _, fuel in burns), doubt)
    kept = reserve * on_board
    return FuelPlan(on_board, tuple(burns), burn, kept, burn.taken_from(on_board - kept), burn.taken_from(on_board))


def pattern_time_left(
    on_board: float,
    curve: BurnCurve,
    legs: Sequence[Leg],
    pattern_speed: float,
    reserve: float = RESERVE,
    doubt: float = BURN_DOUBT,
) -> float | OffCurve:
    """How long the boat can stay on the pattern [s] beside the other `legs`, at the worst burn.

    Zero when the crossings alone take what the reserve leaves.
    """
    rate = curve.rate(pattern_speed)
    if isinstance(rate, OffCurve):
        return rate
    others = plan_fuel(on_board, curve, legs, reserve, doubt)
    if isinstance(others, OffCurve):
        return others
    return max(0.0, others.margin.low / (rate * (1.0 + doubt)))
