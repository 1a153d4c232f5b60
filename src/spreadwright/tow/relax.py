"""Bringing eight lines to rest side by side, compiled (the method is told in steady.py)."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import (
    CHANGE,
    COMPILE,
    LANES,
    LAST,
    OLD_PUSH,
    RECORD,
    ROW,
    VX,
    VY,
    VZ,
    X,
    Y,
    Z,
)  # fmt: skip
from spreadwright.tow.system import newton_correction

Floats = NDArray[np.float64]

LAST_PSEUDO_TIME = 1e4  # [s]


@njit(**COMPILE)
def _set_motion(count: int, t: Floats, speed: float, turn: float, per: float) -> None:
    """Velocity of every node: that of the frame, and that of the pseudo-step under way (`per` is 1/h [1/s])."""
    for k in range(count + 1):
        c = k * RECORD
        for w in range(LANES):
            t[c + VX + w] = speed - turn * t[c + Y + w] + per * (t[c + X + w] - t[c + LAST + w])
            t[c + VY + w] = turn * t[c + X + w] + per * (t[c + Y + w] - t[c + LAST + ROW + w])
            t[c + VZ + w] = per * (t[c + Z + w] - t[c + LAST + 2 * ROW + w])


@njit(**COMPILE)
def _begin(count: int, t: Floats, push: float) -> None:
    """Start a pseudo-step from the present places."""
    for k in range(count + 1):
        c = k * RECORD
        for i in range(3):
            for w in range(LANES):
                t[c + LAST + i * ROW + w] = t[c + X + i * ROW + w]
                t[c + OLD_PUSH + i * ROW + w] = push * t[c + X + i * ROW + w]


@njit(**COMPILE)
def _restore(count: int, t: Floats) -> None:
    for k in range(count + 1):
        c = k * RECORD
        for i in range(3):
            for w in range(LANES):
                t[c + X + i * ROW + w] = t[c + LAST + i * ROW + w]


@njit(**COMPILE)
def _swing(count: int, t: Floats, limit: float, largest: Floats) -> None:
    """Apply the correction segment by segment: turn each by its part across, stretch it by its part along.

    Adding the correction to the places as it is would stretch a segment that only turns by half the square of the
    angle, which a stiff line answers with a huge pull: Newton's method then fails on wire and braid. Turning first
    differs from it only in second order, so the quadratic convergence stays.
    `limit` is the largest turn [rad]; `largest` gets the largest correction of each lane [m], NaN where it diverged.
    """
    for w in range(LANES):
        largest[w] = 0.0
        steepest = 0.0
        for k in range(count):
            c = k * RECORD
            n = c + RECORD
            first = 0.0 if k == 0 else 1.0
            x = t[n + CHANGE + w]
            y = t[n + CHANGE + ROW + w]
            z = t[n + CHANGE + 2 * ROW + w]
            size = np.sqrt(x * x + y * y + z * z)
            if largest[w] == largest[w] and not (size <= largest[w]):  # a NaN stays
                largest[w] = size
            x -= first * t[c + CHANGE + w]
            y -= first * t[c + CHANGE + ROW + w]
            z -= first * t[c + CHANGE + 2 * ROW + w]
            dx = t[n + X + w] - t[c + X + w]
            dy = t[n + Y + w] - t[c + Y + w]
            dz = t[n + Z + w] - t[c + Z + w]
            steepest = max(steepest, np.sqrt((x * x + y * y + z * z) / (dx * dx + dy * dy + dz * dz)))
        if not np.isfinite(largest[w]):
            continue
        share = min(1.0, limit / max(steepest, 1e-30))
        ox, oy, oz = t[X + w], t[Y + w], t[Z + w]  # the segment's start before
        px, py, pz = ox, oy, oz  # and after
        cx, cy, cz = 0.0, 0.0, 0.0
        for k in range(count):
            n = (k + 1) * RECORD
            dx, dy, dz = t[n + X + w] - ox, t[n + Y + w] - oy, t[n + Z + w] - oz
            ox, oy, oz = t[n + X + w], t[n + Y + w], t[n + Z + w]
            x = share * (t[n + CHANGE + w] - cx)
            y = share * (t[n + CHANGE + ROW + w] - cy)
            z = share * (t[n + CHANGE + 2 * ROW + w] - cz)
            cx, cy, cz = t[n + CHANGE + w], t[n + CHANGE + ROW + w], t[n + CHANGE + 2 * ROW + w]
            length = np.sqrt(dx * dx + dy * dy + dz * dz)
            along = (x * dx + y * dy + z * dz) / length
            x -= along * dx / length
            y -= along * dy / length
            z -= along * dz / length
            grow = max(length + along, 0.1 * length) / np.sqrt(length * length + x * x + y * y + z * z)
            px += grow * (dx + x)
            py += grow * (dy + y)
            pz += grow * (dz + z)
            t[n + X + w] = px
            t[n + Y + w] = py
            t[n + Z + w] = pz


@njit(**COMPILE)
def relax(
    count: int, t: Floats, bodies: NDArray[np.int64], speed: float, turn: float,
    density: float, air: float, gravity: float, ramp: float, length: float, press: float,
    first: float, tolerance: float, most: int, largest: Floats,
) -> int:  # fmt: skip
    """Bring the places to rest; returns the corrections used, or -1 when `most` did not do.

    speed [m/s] along x for a straight tow (turn 0), turn [rad/s] about the origin, length of the lines [m], press [N]
    as in `segment_forces`, first pseudo-time [s], tolerance [m]; `largest` gets each lane's last correction [m].
    """
    h = first
    used = 0
    while used < most:
        per = 1.0 / h
        push = per * per
        _begin(count, t, push)
        last = h >= LAST_PSEUDO_TIME
        goal = tolerance if last else 2e-5 * length
        landed = False
        settled = False  # did the pseudo-step move the line at all?
        for i in range(10):
            _set_motion(count, t, speed, turn, per)
            newton_correction(count, t, bodies, density, air, gravity, ramp, 1.0, per, push, turn, 1.0, press)
            _swing(count, t, 0.5, largest)
            used += 1
            worst = 0.0
            for w in range(LANES):
                if worst == worst and not (largest[w] <= worst):
                    worst = largest[w]
            if not np.isfinite(worst):
                break
            settled = settled or (i == 0 and worst < 100.0 * goal)
            if worst < goal:
                landed = True
                break
        if landed and last and settled:
            return used
        if landed:
            h = h if last else h * 3.0
        else:
            _restore(count, t)
            h *= 0.25
            if h < 1e-6:
                return -1
    return -1
