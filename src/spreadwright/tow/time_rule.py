"""What every implicit step does beside solving: guess from the steps before, add a correction, remember (see march.py).

For the compiler to turn a loop over lanes into vector instructions it must see that no index is negative (so loops run
from 0 and the first node is added on), and a short loop must not look like one to be written out eight times (so its
length is the smaller of two numbers of which it knows one). Both were seen: without them a step took three times as
long.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import (
    BEFORE_LAST,
    CHANGE,
    COMPILE,
    LANES,
    LAST,
    OLD_PLACE,
    OLD_PUSH,
    RECORD,
    RIGHT,
    ROW,
    VX,
    VY,
    VZ,
    X,
    Y,
    Z,
)  # fmt: skip

Floats = NDArray[np.float64]


@njit(**COMPILE)
def predict(count: int, t: Floats, now: float, then: float, gamma: float, carry: float) -> None:
    """First guess of a step from the last two: `now` and `then` weigh them, gamma [s] is what velocity adds.

    `carry` is 1 where the velocity is taken to go on changing as it did, 0 where it is taken to stay.
    """
    per = 1.0 / gamma
    rows = min(3 * LANES, t.size)  # a place's three rows lie one behind the other
    for k in range(count):
        c = k * RECORD + RECORD
        for w in range(rows):
            r = t[c + LAST + w]
            v = t[c + LAST + 3 * ROW + w]
            v_before = t[c + BEFORE_LAST + 3 * ROW + w]
            old = now * r - then * t[c + BEFORE_LAST + w]
            guess = v + (v - v_before) * carry
            t[c + OLD_PLACE + w] = old
            t[c + OLD_PUSH + w] = per * (now * v - then * v_before)
            t[c + VX + w] = guess
            t[c + X + w] = old + gamma * guess


@njit(**COMPILE)
def remember(count: int, t: Floats) -> None:
    """The step just taken becomes the last one."""
    rows = min(6 * LANES, t.size)
    for k in range(count + 1):
        c = k * RECORD
        for w in range(rows):
            t[c + BEFORE_LAST + w] = t[c + LAST + w]
            t[c + LAST + w] = t[c + X + w]


@njit(**COMPILE)
def correct(count: int, t: Floats, gamma: float, alive: Floats) -> float:
    """Add the correction to the velocities of living lanes; returns the largest [m/s], NaN where one diverged."""
    for w in range(LANES):
        if alive[w] <= 0.0:
            for k in range(count):
                for i in range(3):
                    t[k * RECORD + RECORD + CHANGE + i * ROW + w] = 0.0
    width = min(LANES, t.size)
    worst = 0.0
    for k in range(count):
        c = k * RECORD + RECORD
        for w in range(width):
            x = t[c + CHANGE + w]
            y = t[c + CHANGE + ROW + w]
            z = t[c + CHANGE + 2 * ROW + w]
            t[c + VX + w] += x
            t[c + VY + w] += y
            t[c + VZ + w] += z
            t[c + X + w] += gamma * x
            t[c + Y + w] += gamma * y
            t[c + Z + w] += gamma * z
            t[c + RIGHT + w] = x * x + y * y + z * z  # a row that is free now
        for w in range(LANES):
            size = t[c + RIGHT + w]
            if worst == worst and not (size <= worst):  # a NaN stays
                worst = size
    return math.sqrt(worst)
