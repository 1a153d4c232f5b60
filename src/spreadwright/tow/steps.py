"""The steps of a march, compiled: eight lines side by side through one manoeuvre (the method is told in march.py)."""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.forces import forces_between, segment_forces
from spreadwright.tow.lanes import (
    CHANGE,
    COMPILE,
    LANES,
    LEVEL,
    PULL,
    RECORD,
    ROW,
    SHARE,
    VX,
    WATER_NODE,
    WATER_SEGMENT,
    X,
    Y,
    Z,
)  # fmt: skip
from spreadwright.tow.system import newton_correction
from spreadwright.tow.taut import show_held, start_holding, taut_correction
from spreadwright.tow.time_rule import correct, predict, remember
from spreadwright.tow.water import Flow, flow_velocity, water_level

Floats = NDArray[np.float64]

MOST_CORRECTIONS = 12
SMALL_STEPS = 16


@njit(**COMPILE)
def _stir(count: int, t: Floats, flow: Flow, time: float) -> None:
    """Set the water's velocity at every node and segment middle, at the places just guessed."""
    for k in range(count + 1):
        c = k * RECORD
        n = c + RECORD
        for w in range(LANES):
            x, y, z = t[c + X + w], t[c + Y + w], t[c + Z + w]
            u, v, q = flow_velocity(flow, x, y, z, time)
            t[c + LEVEL + w] = water_level(flow, x, y, time)
            t[c + WATER_NODE + w] = u
            t[c + WATER_NODE + ROW + w] = v
            t[c + WATER_NODE + 2 * ROW + w] = q
            if k < count:
                u, v, q = flow_velocity(
                    flow, 0.5 * (x + t[n + X + w]), 0.5 * (y + t[n + Y + w]), 0.5 * (z + t[n + Z + w]), time
                )
                t[c + WATER_SEGMENT + w] = u
                t[c + WATER_SEGMENT + ROW + w] = v
                t[c + WATER_SEGMENT + 2 * ROW + w] = q


@njit(**COMPILE)
def _step(
    count: int, t: Floats, bodies: NDArray[np.int64], tips: Floats, time: float, h: float, second: bool,
    flow: Flow, density: float, air: float, gravity: float, ramp: float, tolerance: float, alive: Floats, held: Floats,
) -> int:  # fmt: skip
    """One step to `time` [s] of length h [s]; tips (6, lanes) are places and velocities of the rod tips there.

    held: the carried pulls of lines that hardly stretch (taut.py), or empty.
    Returns the corrections used, -1 without convergence.
    """
    now, then, gamma = (4.0 / 3.0, 1.0 / 3.0, 2.0 * h / 3.0) if second else (1.0, 0.0, h)
    predict(count, t, now, then, gamma, 1.0 if then > 0.0 else 0.0)
    for i in range(6):
        for w in range(LANES):
            t[X + i * ROW + w] = tips[i, w]
    if flow.moves:
        _stir(count, t, flow, time)
    for i in range(MOST_CORRECTIONS):
        if held.shape[0] > 0:
            taut_correction(count, t, bodies, density, air, gravity, ramp, gamma, held)
        else:
            newton_correction(count, t, bodies, density, air, gravity, ramp, gamma, 1.0, 1.0 / gamma, 0.0, 0.0, 0.0)
        worst = correct(count, t, gamma, alive)
        if worst < tolerance:
            return i + 1
        if not np.isfinite(worst) or worst > 1e4:
            return -1
    return -1


@njit(**COMPILE)
def _between(first: Floats, last: Floats, h: float, share: float, out: Floats) -> None:
    """Tips between two steps by Hermite's cubic."""
    s = share
    for i in range(3):
        for w in range(LANES):
            a, b = first[i, w], last[i, w]
            va, vb = h * first[3 + i, w], h * last[3 + i, w]
            d = b - a
            out[i, w] = a + s * (va + s * (3.0 * d - 2.0 * va - vb + s * (va + vb - 2.0 * d)))
            out[3 + i, w] = (va + s * (2.0 * (3.0 * d - 2.0 * va - vb) + 3.0 * s * (va + vb - 2.0 * d))) / h


@njit(**COMPILE)
def _mend(
    count: int, t: Floats, bodies: NDArray[np.int64], first: Floats, last: Floats, time: float, h: float,
    flow: Flow, density: float, air: float, gravity: float, ramp: float, tolerance: float, alive: Floats,
    tips: Floats, held: Floats,
) -> bool:  # fmt: skip
    """Take a step that failed again in small ones of backward Euler, smaller each time."""
    small = SMALL_STEPS
    for _ in range(3):
        fine = True
        keep, keep_held = t.copy(), held.copy()
        for i in range(small):
            share = (i + 1.0) / small
            _between(first, last, h, share, tips)
            used = _step(
                count, t, bodies, tips, time - h + share * h, h / small, False, flow, density, air, gravity, ramp,
                tolerance, alive, held,
            )  # fmt: skip
            if used < 0:
                fine = False
                break
            remember(count, t)
        if fine:
            return True
        t[:] = keep
        held[:] = keep_held
        small *= 8
    return False


@njit(**COMPILE)
def run(
    count: int, t: Floats, bodies: NDArray[np.int64], joints: NDArray[np.int64], tips: Floats, origins: Floats,
    start: float, h: float, every: int, flow: Flow, density: float, air: float, gravity: float, ramp: float,
    tolerance: float, alive: Floats, places: NDArray[np.float32], speeds: NDArray[np.float32],
    pulls: NDArray[np.float32], stop: NDArray[np.int64], held: Floats,
) -> int:  # fmt: skip
    """March a batch through all its steps; returns the Newton corrections used.

    tips (steps + 1, 6, lanes): places [m] and velocities [m/s] of the rod tips; origins (steps + 1, 2): the boat.
    Stored every `every` steps: places (stores, N + 1, 3, lanes) relative to the boat's origin [m], speeds of the
    joints (stores, joints, 3, lanes) [m/s], pulls at the tip and just above each joint (stores, 1 + joints, lanes)
    [N]. `alive` (lanes) is set to 0 for a lane that failed, `stop[0]` other than 0 ends the run. `held` (N, lanes):
    room for the pulls of lines that hardly stretch, of no length where there are none.
    """
    scratch = np.zeros((6, LANES))
    corrections = 0
    steps = tips.shape[0] - 1
    second = True
    gamma = 2.0 * h / 3.0
    segment_forces(count, t, density, air, gravity, ramp, gamma, 1.0, 0.0)
    taut = held.shape[0] > 0
    if taut:
        start_holding(count, t, held)
    _store(count, t, joints, origins[0], places[0], speeds[0], pulls[0])
    for n in range(1, steps + 1):
        if stop[0] != 0:
            return corrections
        time = start + n * h
        used = _step(
            count, t, bodies, tips[n], time, h, second, flow, density, air, gravity, ramp, tolerance, alive, held
        )
        if used > 0:
            corrections += used
            remember(count, t)
            second = True
        else:
            while not _mend(
                count, t, bodies, tips[n - 1], tips[n], time, h, flow, density, air, gravity, ramp, tolerance, alive,
                scratch, held,
            ):  # fmt: skip
                if not _drop_worst(count, t, alive):
                    return corrections
            second = False
        if n % every == 0:
            i = n // every
            # the forces in the table are those before the last correction: bring those up to date that are stored
            forces_between(0, 1, t, density, air, gravity, ramp, gamma, 1.0, 0.0)
            for j in range(joints.size):
                forces_between(joints[j] - 1, joints[j], t, density, air, gravity, ramp, gamma, 1.0, 0.0)
            if taut:
                show_held(count, t, held)
            _store(count, t, joints, origins[n], places[i], speeds[i], pulls[i])
    return corrections


@njit(**COMPILE)
def _drop_worst(count: int, t: Floats, alive: Floats) -> bool:
    """Give up the lane whose last correction was largest or no number; False when none is left."""
    worst, lane = -1.0, -1
    for w in range(LANES):
        if alive[w] > 0.0:
            size = 0.0
            for k in range(1, count + 1):
                for i in range(3):
                    part = abs(t[k * RECORD + CHANGE + i * ROW + w])
                    if size == size and not (part <= size):
                        size = part
            if not np.isfinite(size):
                size = np.inf
            if size > worst:
                worst, lane = size, w
    if lane < 0:
        return False
    alive[lane] = 0.0
    return bool(alive.max() > 0.0)


@njit(**COMPILE)
def _store(
    count: int, t: Floats, joints: NDArray[np.int64], origin: Floats, places: NDArray[np.float32],
    speeds: NDArray[np.float32], pulls: NDArray[np.float32],
) -> None:  # fmt: skip
    for k in range(count + 1):
        c = k * RECORD
        for w in range(LANES):
            places[k, 0, w] = t[c + X + w] - origin[0]
            places[k, 1, w] = t[c + Y + w] - origin[1]
            places[k, 2, w] = t[c + Z + w]
    for w in range(LANES):
        total = 0.0
        for i in range(3):
            part = t[PULL + i * ROW + w] + t[SHARE + i * ROW + w]
            total += part * part
        pulls[0, w] = math.sqrt(total)
    for j in range(joints.size):
        c = joints[j] * RECORD
        p = c - RECORD
        for w in range(LANES):
            total = 0.0
            for i in range(3):
                speeds[j, i, w] = t[c + VX + i * ROW + w]
                part = t[p + PULL + i * ROW + w] - t[p + SHARE + i * ROW + w]
                total += part * part
            pulls[j + 1, w] = math.sqrt(total)
